package e2e

import (
	"net/http"
	"strings"
	"sync/atomic"
	"testing"
	"time"
)

// eventually asks until something outside the page has come true.
func (p *phone) eventually(is func() bool, words string) {
	p.t.Helper()
	for end := time.Now().Add(40 * time.Second); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if is() {
			return
		}
	}
	p.t.Fatalf("%s\non screen: %s", words, p.text("body"))
}

// nothingWaits waits until nothing waits for the shop.
func (p *phone) nothingWaits() {
	p.t.Helper()
	p.eventually(func() bool { return p.eval(`() => host.log.waiting()`) == 0 }, "the record does not reach the shop")
}

// idle returns when no sync is under way, which would hide the next.
func (p *phone) idle(syncs *atomic.Int64) {
	p.t.Helper()
	for before := syncs.Load(); syncs.Load() == before; {
		p.eval(`() => strutcard.act("sync", "{}")`)
	}
}

// TestNotSaved: a write whose commit fails, which fires no error but only an
// abort, is never shown as saved; the next press records.
func TestNotSaved(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.open("/")
	p.openDemo()
	before := len(p.log())
	p.eval(`() => {
		const real = IDBDatabase.prototype.transaction;
		globalThis.mend = () => { IDBDatabase.prototype.transaction = real; };
		IDBDatabase.prototype.transaction = function (stores, mode, options) {
			const tx = real.call(this, stores, mode, options);
			if (this.name !== "strutcard" || mode !== "readwrite") return tx;
			const part = tx.objectStore.bind(tx);
			tx.objectStore = (name) => {
				const store = part(name);
				if (name !== "events") return store;
				const add = store.add.bind(store);
				store.add = (value) => {
					const request = add(value);
					request.addEventListener("success", () => tx.abort()); // after it seemed to succeed
					return request;
				};
				return store;
			};
			return tx;
		};
	}`)
	p.fill("#f-found", "1")
	p.tap("#count-form button[type=submit]")
	p.wait(`() => document.getElementById("r-sheet").innerText.includes("Not saved")`)
	if got := p.text("#r-sheet"); !strings.Contains(got, "saved before is safe") {
		t.Errorf("the person is told %q", got)
	}
	if !p.has("#r-strip .warning[role=alert]") || !p.has("#r-sheet [role=alert]") {
		t.Errorf("the strip does not warn: %s", p.text("#r-strip"))
	}
	if got := len(p.log()); got != before {
		t.Errorf("%d events, want %d", got, before)
	}
	if !p.has("#count-form") {
		t.Error("the screen went on as if it were recorded")
	}
	p.eval(`() => mend()`)
	p.tap("#dismiss")
	p.next()
	if got := len(p.log()); got <= before || p.has("#r-strip .warning") {
		t.Errorf("mended, the next press leaves %d events and the strip at %q", got, p.text("#r-strip"))
	}
}

// TestLeaveKeepsTyping: what was typed a moment ago is on disk once the page has
// been hidden, which is the last that a phone is sure to hear.
func TestLeaveKeepsTyping(t *testing.T) {
	t.Parallel()
	for _, last := range []string{
		`() => { Object.defineProperty(document, "visibilityState", { configurable: true, value: "hidden" }); document.dispatchEvent(new Event("visibilitychange")); }`,
		`() => dispatchEvent(new PageTransitionEvent("pagehide"))`,
	} {
		p := newPhone(t, newShop(t))
		p.open("/")
		p.openDemo()
		// The pause after the last letter never ends here: only leaving is left.
		p.eval(`() => { const real = setTimeout; globalThis.setTimeout = (f, ms, ...rest) => (ms === 300 ? 0 : real(f, ms, ...rest)); }`)
		p.fill("#f-found", "73")
		const kept = `() => host.log.meta("drafts").then((text) => text.includes("73"))`
		if p.eval(kept) != false {
			t.Fatal("the typing is kept before anybody leaves: the test shows nothing")
		}
		p.eval(last)
		p.eventually(func() bool { return p.eval(kept) == true }, "what was typed is not kept")
		p.kill()
		p.launch()
		p.open("/")
		if got := p.value("#f-found"); got != "73" {
			t.Errorf("after %s and a kill the field holds %q", last, got)
		}
	}
}

// TestSyncBeginsByItself: with no scheduler of the browser's, the page syncs when
// it starts, when the connection is back, when it is looked at, and now and then.
func TestSyncBeginsByItself(t *testing.T) {
	t.Parallel()
	var syncs atomic.Int64
	shop := serve(t, func(next http.Handler) http.Handler {
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			next.ServeHTTP(w, r)
			if r.URL.Path == "/api/v1/sync" {
				syncs.Add(1)
			}
		})
	})
	p := newPhone(t, shop)
	p.plant(`(() => {
		delete globalThis.SyncManager;
		delete globalThis.PeriodicSyncManager;
		delete ServiceWorkerRegistration.prototype.sync;
		delete ServiceWorkerRegistration.prototype.periodicSync;
		const real = setInterval;
		globalThis.timed = [];
		globalThis.setInterval = (f, ms, ...rest) => (ms >= 10000 ? timed.push([f, ms]) : real(f, ms, ...rest)); // the test says when
	})()`)
	p.join()
	for name, begin := range map[string]string{
		"online":  `() => { dispatchEvent(new Event("online")); }`,
		"looked":  `() => { document.dispatchEvent(new Event("visibilitychange")); }`,
		"back":    `() => { dispatchEvent(new PageTransitionEvent("pageshow", { persisted: true })); }`,
		"timer":   `() => { for (const [f, ms] of timed) if (ms <= 30000) f(); }`,
		"started": "",
	} {
		t.Run(name, func(t *testing.T) {
			p.t = t
			p.idle(&syncs)
			before := syncs.Load()
			if begin == "" {
				p.open("/")
			} else {
				p.eval(begin)
			}
			p.eventually(func() bool { return syncs.Load() > before }, "no sync begins")
		})
	}
	p.t = t
	p.open("/")
	p.openDemo()
	p.next()
	p.eval(`() => { for (const [f, ms] of timed) if (ms <= 30000) f(); }`)
	p.nothingWaits()
}

// TestTypingIsNotUndone: while the app is busy with something else, what it paints
// does not undo a value that it has not heard of yet.
func TestTypingIsNotUndone(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.countForm()
	p.eval(`() => {
		const meta = host.log.meta;
		host.log.meta = async (name) => { await new Promise((resolve) => setTimeout(resolve, 1500)); return meta(name); };
		globalThis.looked = strutcard.act("look", "{}").then(() => { host.log.meta = meta; });
	}`)
	p.fill("#f-found", "8")
	p.eval(`() => looked`)
	p.drafted("8")
	if got := p.value("#f-found"); got != "8" {
		t.Errorf("after a paint from before the typing the field holds %q", got)
	}
}
