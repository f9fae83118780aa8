// memory.js is the log of a browser that refuses to store: the same calls as
// store.js, gone with the page. It lives outside Go, so that a restart of the
// program loses nothing.

/** memoryStore returns an empty log. */
export function memoryStore() {
  const records = [];
  const meta = new Map();
  const lines = (list) => list.map((r) => r.line).join("\n");

  function put(line, pending) {
    const { id, job, device, seq } = JSON.parse(line);
    const same = records.find((r) => r.id === id);
    if (same) return same.line === line ? "duplicate" : "conflict:id";
    records.push({ id, job, device, seq, line, pending });
    return "stored";
  }

  function write(line) {
    const { id, job, device, seq } = JSON.parse(line);
    const known = records.some((r) => r.id === id);
    if (!known && records.some((r) => r.job === job && r.device === device && r.seq === seq)) return "conflict:seq";
    return put(line, true);
  }

  function settle(verdict) {
    const record = records.find((r) => r.id === verdict.id);
    if (!record) return;
    record.pending = false;
    if (verdict.outcome === "refused") record.refused = verdict;
  }

  function forget() {
    for (const record of records) {
      record.pending = true;
      delete record.refused;
    }
  }

  return {
    write: async (list) => list.map(write),
    take: async (text) => {
      const change = JSON.parse(text);
      if (Object.entries(change.was).some(([key, value]) => (meta.get(key) ?? "") !== value)) return "moved";
      if (change.forget) forget();
      change.verdicts.forEach(settle);
      for (const [key, value] of Object.entries(change.meta)) meta.set(key, value);
      return change.lines.map((line) => put(line, change.carry));
    },
    job: async (job) => lines(records.filter((r) => r.job === job)),
    jobs: async () => [...new Set(records.map((r) => r.job))],
    pending: async (limit) => lines(records.filter((r) => r.pending).slice(0, limit)),
    waiting: async () => records.filter((r) => r.pending).length,
    troubled: async () => JSON.stringify(records.filter((r) => r.refused).map((r) => r.refused)),
    meta: async (key) => meta.get(key) ?? "",
    setMeta: async (key, value) => { meta.set(key, value); },
    lines: async () => {
      const sheets = [...meta].filter(([key]) => key.startsWith("sheet."));
      return [...sheets.map(([, body]) => `{"sheet":${body}}`), ...records.map((r) => r.line)];
    },
  };
}
