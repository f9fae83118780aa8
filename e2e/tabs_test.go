package e2e

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"strutcard/sync/event"
	v1 "strutcard/sync/event/testdata/v1"
)

// oldDatabase makes the record as version 1 of the database had it, and holds on
// to it: it ignores that a newer version wants in.
const oldDatabase = `(lines) => new Promise((resolve, reject) => {
	const open = indexedDB.open("strutcard", 1);
	open.onerror = () => reject(open.error);
	open.onsuccess = () => { globalThis.old = open.result; resolve(); };
	open.onupgradeneeded = () => {
		const events = open.result.createObjectStore("events", { keyPath: "pos", autoIncrement: true });
		events.createIndex("id", "id", { unique: true });
		events.createIndex("chain", ["job", "device", "seq"], { unique: true });
		events.createIndex("job", "job");
		events.createIndex("device", "device");
		events.createIndex("pending", "pending");
		open.result.createObjectStore("meta").put("01900000-0000-7000-8000-0000000000d1", "device");
		for (const line of lines) {
			const { id, job, device, seq } = JSON.parse(line);
			events.add({ id, job, device, seq, line, pending: 1, received: 0, actor: "" });
		}
	};
})`

// TestOldDatabase: every event of a record that an older app wrote is there after
// the upgrade, and folds into the state that was written down then.
func TestOldDatabase(t *testing.T) {
	t.Parallel()
	for name, log := range v1.Logs() {
		t.Run(name, func(t *testing.T) {
			p := newPhone(t, newShop(t))
			p.aside()
			p.eval(oldDatabase, log)
			p.eval(`() => old.close()`)
			p.open("/")
			if device := p.eval(`() => host.log.meta("device")`); device != "01900000-0000-7000-8000-0000000000d1" {
				t.Errorf("the phone's number became %v", device)
			}
			if got, want := p.eval(`() => host.log.waiting()`), len(log); got != want {
				t.Errorf("%v events wait, want %d", got, want)
			}
			p.tap("[data-do=open_job]")
			var want bytes.Buffer
			if err := json.Compact(&want, []byte(v1.State(name))); err != nil {
				t.Fatal(err)
			}
			if got := p.state(); got != want.String() {
				t.Errorf("the state became\n%s\nwant\n%s", got, want.String())
			}
		})
	}
}

// TestUpgradeBlocked: an old tab that does not let go is named, for as long as it
// takes, and the app goes on by itself once it is closed (pitfall 14).
func TestUpgradeBlocked(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	log := v1.Logs()["work_3"]
	p.aside()
	p.eval(oldDatabase, log)
	q := p.tab()
	p.plant(`globalThis.setTimeout = ((real) => (work, ms, ...rest) => real(work, ms === 20000 ? 5000 : ms, ...rest))(globalThis.setTimeout)`) // the guard's patience is over soon
	if _, err := q.page.Goto(p.shop.url + "/"); err != nil {
		t.Fatal(err)
	}
	blocked := `() => !document.getElementById("notice").hidden && document.getElementById("notice").textContent.includes("Close that tab; this one then goes on by itself")`
	q.wait(blocked)
	q.wait(`() => performance.now() > 12000`) // every patience is over
	q.wait(blocked)
	if q.eval(`() => document.getElementById("repair").hidden`) != true {
		t.Errorf("while it waits it says that it has stopped: %s", q.text("body"))
	}
	if err := p.page.Close(); err != nil {
		t.Fatal(err)
	}
	q.ready()
	if q.eval(`() => document.getElementById("notice").hidden`) != true {
		t.Errorf("it still says %s", q.text("#notice"))
	}
	if got := q.eval(`() => host.log.waiting()`); got != len(log) {
		t.Errorf("%v events wait, want %d", got, len(log))
	}
}

// TestNewerDatabase: the app lets go for a newer one and says that it saves no
// more. Opened again over the newer database it does not start, takes no empty
// memory for the record, and hands the record over.
func TestNewerDatabase(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.countForm()
	events := p.log()
	q := p.tab()
	q.aside()
	q.eval(`() => new Promise((resolve, reject) => {
		const open = indexedDB.open("strutcard", 3);
		open.onsuccess = () => { open.result.close(); resolve(); };
		open.onblocked = () => reject(new Error("the app does not let go"));
	})`)
	p.wait(`() => document.getElementById("notice").textContent.includes("This one no longer saves. Reload it.")`)
	p.tap("#count-form button[type=submit]")
	if got := p.text("#r-strip"); !strings.Contains(got, "Not saved") {
		t.Errorf("the strip says %q", got)
	}
	p.eval(`() => localStorage.removeItem("sc-record")`)
	if _, err := p.page.Reload(); err != nil {
		t.Fatal(err)
	}
	p.repair()
	holds(t, p.savesBy("#repair-copy"), events)
}

// TestFrozenTab: a tab that the browser froze holds up nobody, and finds out when
// it wakes (pitfall 39).
func TestFrozenTab(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.countForm()
	session, err := p.ctx.NewCDPSession(p.page)
	if err != nil {
		t.Fatal(err)
	}
	state := func(name string) {
		t.Helper()
		if _, err := session.Send("Page.setWebLifecycleState", map[string]any{"state": name}); err != nil {
			t.Fatal(err)
		}
	}
	state("frozen")
	q := p.tab()
	q.open("/")
	n := len(q.log())
	q.fill("#f-found", "7")
	q.tap("#count-form button[type=submit]")
	if got := len(q.log()); got != n+1 {
		t.Fatalf("beside a frozen tab %d events were recorded, want one", got-n)
	}
	state("active")
	p.wait(`() => document.getElementById("r-strip").innerText.includes("Open in another tab")`)
	if p.note() {
		t.Error("the tab that was frozen took a press")
	}
	if got := q.log(); len(got) != n+1 || len(event.Gaps(got)) > 0 {
		t.Errorf("%d events with gaps %v", len(got), event.Gaps(got))
	}
}

// TestNoLock: where the browser never gives the lock, and tells no tab of the
// others, both can write: what is right does not hang on either (pitfalls 38, 40).
func TestNoLock(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.plant(`LockManager.prototype.request = () => new Promise(() => {}); BroadcastChannel.prototype.postMessage = () => {};`)
	p.countForm()
	q := p.tab()
	q.open("/")
	n := len(q.log())
	q.fill("#f-found", "7")
	q.tap("#count-form button[type=submit]")
	p.tap("#count-form button[type=submit]")
	if got := p.text("#r-sheet"); !strings.Contains(got, "had grown in another place") || !strings.Contains(got, "was not recorded") {
		t.Errorf("the tab that is behind says %q", got)
	}
	p.tap("#dismiss")
	p.fill("#f-found", "7")
	p.tap("#count-form button[type=submit]")
	if got := p.log(); len(got) != n+2 || len(event.Gaps(got)) > 0 {
		t.Errorf("%d events with gaps %v, want %d", len(got), event.Gaps(got), n+2)
	}
}

// TestHiddenTab: a tab that heard nothing while it was hidden looks when it comes
// back (pitfall 40).
func TestHiddenTab(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.plant(`BroadcastChannel.prototype.postMessage = () => {};`)
	p.countForm()
	seen := func(state string) {
		p.t.Helper()
		p.eval(`(state) => {
			Object.defineProperty(document, "visibilityState", { configurable: true, value: state });
			document.dispatchEvent(new Event("visibilitychange"));
		}`, state)
	}
	seen("hidden")
	q := p.tab()
	q.open("/")
	q.fill("#f-found", "7")
	q.tap("#count-form button[type=submit]")
	state := q.state()
	if p.state() == state {
		t.Fatal("the hidden tab knows already: this test shows nothing")
	}
	seen("visible")
	p.wait(`() => host.env().leader`)
	p.until("the tab that came back shows what the other one wrote", func() bool { return p.state() == state })
}
