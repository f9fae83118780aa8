// memory.js is the log of a browser that refuses to store: the same calls as
// store.js, gone with the page. It lives outside Go, so that a restart of the
// program loses nothing.

/** memoryStore returns an empty log. */
export function memoryStore() {
  const records = [];
  const meta = new Map();
  const lines = (list) => list.map((r) => r.line).join("\n");

  function put(line, pending, received, actor) {
    const { id, job, device, seq } = JSON.parse(line);
    const same = records.find((r) => r.id === id);
    if (same) return same.line === line ? "duplicate" : "conflict:id";
    if (records.some((r) => r.job === job && r.device === device && r.seq === seq)) return "conflict:seq";
    records.push({ pos: records.length + 1, id, job, device, seq, line, pending, received, actor });
    return "stored";
  }

  return {
    append: async (actor, list, pending, received) => list.map((line) => put(line, pending, received, actor)),
    job: async (job) => lines(records.filter((r) => r.job === job)),
    jobs: async () => [...new Set(records.map((r) => r.job))],
    after: async (job, device, pos, limit) => {
      const mine = new Set(records.filter((r) => r.device === device).map((r) => r.job));
      const found = records.filter((r) => r.pos > pos && (!job || r.job === job) && (!device || mine.has(r.job)));
      return `[${found.slice(0, limit).map((r) => `{"event":${r.line},"pos":${r.pos},"received_at":${r.received},"actor":${JSON.stringify(r.actor)}}`).join(",")}]`;
    },
    pending: async (limit) => lines(records.filter((r) => r.pending).slice(0, limit)),
    waiting: async () => records.filter((r) => r.pending).length,
    settle: async (text) => {
      for (const verdict of JSON.parse(text)) {
        const record = records.find((r) => r.id === verdict.id);
        if (!record) continue;
        record.pending = false;
        if (verdict.outcome === "refused") record.refused = verdict;
      }
    },
    adopt: async (text) => {
      for (const r of JSON.parse(text)) put(r.line, false, r.received, r.actor);
    },
    forget: async (device) => {
      for (const record of records.filter((r) => r.device === device)) {
        record.pending = true;
        delete record.refused;
      }
    },
    troubled: async () => JSON.stringify(records.filter((r) => r.refused).map((r) => r.refused)),
    meta: async (key) => meta.get(key) ?? "",
    setMeta: async (key, value) => { meta.set(key, value); },
    lines: async () => records.map((r) => r.line),
  };
}
