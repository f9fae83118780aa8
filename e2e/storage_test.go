package e2e

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/playwright-community/playwright-go"

	"strutcard/server/shop"
	"strutcard/sync/event"
	v1 "strutcard/sync/event/testdata/v1"
	"strutcard/sync/exchange"
	"strutcard/sync/sheet"
)

// tab is another page of the same phone.
func (p *phone) tab() *phone {
	p.t.Helper()
	page, err := p.ctx.NewPage()
	if err != nil {
		p.t.Fatal(err)
	}
	page.SetDefaultTimeout(20_000)
	return &phone{t: p.t, dir: p.dir, shop: p.shop, ctx: p.ctx, page: page, ahead: p.ahead}
}

// aside leaves the app for an address of the same site without it: then nothing
// holds the databases.
func (p *phone) aside() {
	p.t.Helper()
	if _, err := p.page.Goto(p.shop.url + "/schema/fitting-sheet/1.json"); err != nil {
		p.t.Fatal(err)
	}
}

// saves returns the text of the file that a press hands over.
func (p *phone) saves(press func() error) string {
	p.t.Helper()
	got, err := p.page.ExpectDownload(press)
	if err != nil {
		p.t.Fatalf("no file comes: %v\non screen: %s", err, p.text("body"))
	}
	path := filepath.Join(p.t.TempDir(), "copy")
	if err := got.SaveAs(path); err != nil {
		p.t.Fatal(err)
	}
	text, err := os.ReadFile(path)
	if err != nil {
		p.t.Fatal(err)
	}
	return string(text)
}

func (p *phone) savesBy(selector string) string {
	p.t.Helper()
	return p.saves(func() error { return p.page.Locator(selector).First().Tap() })
}

// savesWithoutGo is the copy of the repair message.
func (p *phone) savesWithoutGo() string {
	p.t.Helper()
	return p.saves(func() error {
		_, err := p.page.Evaluate(`async () => { await (await import("/copy.js")).saveCopy(); }`)
		return err
	})
}

// holds wants a saved copy to hold exactly these events, and the sheet of their job.
func holds(t *testing.T, text string, events []event.Event) {
	t.Helper()
	f := exchange.ReadFile([]byte(text))
	if got, want := lines(event.Sort(f.Events)), lines(events); got != want {
		t.Errorf("the copy holds\n%s\nwant\n%s", got, want)
	}
	if len(f.Sheets) != 1 || f.Broken != 0 {
		t.Errorf("the copy holds %d sheets, and %d lines that cannot be read", len(f.Sheets), f.Broken)
	}
}

// repair waits for the message that stands in place of an app that does not start.
func (p *phone) repair() {
	p.t.Helper()
	p.waitFor(`() => !document.getElementById("repair").hidden`, 40*time.Second)
}

// refuse plants a browser that keeps nothing, for as long as the test says so: as
// in a private window, each call for storage fails.
const refuse = `(() => {
	const kind = localStorage.getItem("test-refuse") ?? "%s";
	if (!kind || kind === "no") return;
	const why = () => new DOMException("made by the test", "SecurityError");
	IDBFactory.prototype.open = () => {
		if (kind === "throws") throw why();
		const request = { error: why() };
		setTimeout(() => request.onerror?.());
		return request;
	};
	const real = Storage.prototype.setItem;
	Storage.prototype.setItem = function (key, value) {
		if (!key.startsWith("test-")) throw why();
		real.call(this, key, value);
	};
})()`

// TestStorageRefused: in a private window the app works in memory, says on every
// screen that nothing is kept, and hands over the record (pitfall 13).
func TestStorageRefused(t *testing.T) {
	t.Parallel()
	for _, kind := range []string{"throws", "rejects"} {
		t.Run(kind, func(t *testing.T) {
			p := newPhone(t, newShop(t))
			p.plant(strings.Replace(refuse, "%s", kind, 1))
			p.open("/")
			p.keepsNothing("the list of jobs")
			p.openDemo()
			for _, place := range []string{"#place-work", "#strip-tally", "#place-measure", "#place-card", "#strip-sync", "#to-home", "#methods", `#r-bar [data-do=home]`, "#kit", `#r-bar [data-do=home]`, "#own", `#r-bar [data-do=home]`, `.row[data-do=open_job]`} {
				p.tap(place)
				p.keepsNothing(place)
			}
			for range 3 {
				p.next()
			}
			events := p.log()
			if len(events) < 3 {
				t.Fatalf("%d events were recorded", len(events))
			}
			p.tap("#strip-sync")
			p.pictures("memory-" + kind)
			holds(t, p.savesBy("#export"), events)
			holds(t, p.savesBy("#export-all"), events)
			holds(t, p.savesWithoutGo(), events)
			p.open("/")
			p.keepsNothing("the list of jobs after a reload")
			if p.has(`[data-do=open_job]`) {
				t.Error("a job is listed, though nothing can have been kept")
			}
		})
	}
}

func (p *phone) keepsNothing(screen string) {
	p.t.Helper()
	if got := p.text("#r-strip"); !strings.Contains(got, "This browser keeps nothing. Save a copy") {
		p.t.Errorf("on %s the strip does not warn: %s", screen, got)
	}
	p.narrow(screen)
}

// TestNeverToMemory: a phone that held a record says that it cannot reach it, and
// shows no empty list.
func TestNeverToMemory(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.plant(strings.Replace(refuse, "%s", "", 1))
	p.open("/")
	p.openDemo()
	p.next()
	events := p.log()
	p.eval(`() => localStorage.setItem("test-refuse", "rejects")`)
	p.aside()
	if _, err := p.page.Goto(p.shop.url + "/"); err != nil {
		t.Fatal(err)
	}
	p.repair()
	if got := p.text("#repair"); !strings.Contains(got, "What was saved is still on this phone") {
		t.Errorf("the person is told %q", got)
	}
	if got := p.eval(`() => document.getElementById("r-main").hidden`); got != true {
		t.Error("a screen stands beside the message")
	}
	p.page.Locator("#repair-copy").Tap()
	p.wait(`() => document.getElementById("repair-words").textContent.includes("The copy could not be made. The record is still on this phone.")`)
	p.eval(`() => localStorage.setItem("test-refuse", "no")`)
	if err := p.page.Locator("#repair-reload").Tap(); err != nil {
		t.Fatal(err)
	}
	p.ready()
	if got, want := lines(p.log()), lines(events); got != want {
		t.Errorf("afterwards the record holds\n%s\nwant\n%s", got, want)
	}
}

// TestOpenHangs: a storage that never answers is asked again, in words; one that
// stays silent is no empty record (pitfall 7).
func TestOpenHangs(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.plant(`(() => {
		const real = indexedDB.open.bind(indexedDB);
		let silent = Number(localStorage.getItem("test-silent") ?? 1);
		indexedDB.open = (name, ...rest) => (name === "strutcard" && silent-- > 0 ? {} : real(name, ...rest));
	})()`)
	if _, err := p.page.Goto(p.shop.url + "/"); err != nil {
		t.Fatal(err)
	}
	p.wait(`() => document.getElementById("notice").textContent.includes("has not answered yet. Trying again.")`)
	p.ready()
	if got := p.eval(`() => document.getElementById("notice").hidden && document.getElementById("repair").hidden && host.env().storage`); got != "indexeddb" {
		t.Errorf("at the second try it starts with %v: %s", got, p.text("body"))
	}
	p.eval(`() => localStorage.setItem("test-silent", 99)`)
	if _, err := p.page.Goto(p.shop.url + "/"); err != nil {
		t.Fatal(err)
	}
	p.repair()
}

// unsteady plants a database whose connection the test can break.
const unsteady = `(() => {
	const real = indexedDB.open.bind(indexedDB);
	indexedDB.open = (name, ...rest) => {
		if (name !== "strutcard") return real(name, ...rest);
		if (globalThis.shut) throw new DOMException("made by the test", "UnknownError");
		const request = real(name, ...rest);
		request.addEventListener("success", () => { globalThis.handle = request.result; });
		return request;
	};
})()`

// countForm opens a job at its first count and types one.
func (p *phone) countForm() {
	p.t.Helper()
	p.open("/")
	p.openDemo()
	for !p.has("#count-form") {
		p.next()
	}
	p.fill("#f-found", "7")
}

// drafted waits until a half-typed value is on disk.
func (p *phone) drafted(value string) {
	p.t.Helper()
	p.until("the half-typed value is kept", func() bool {
		return strings.Contains(p.eval(`() => host.log.meta("drafts")`).(string), strconv.Quote(value))
	})
}

// until asks again and again what the page can only answer with a promise.
func (p *phone) until(what string, holds func() bool) {
	p.t.Helper()
	for end := time.Now().Add(20 * time.Second); !holds(); time.Sleep(15 * time.Millisecond) {
		if time.Now().After(end) {
			p.t.Fatalf("waited in vain: %s\non screen: %s", what, p.text("body"))
		}
	}
}

// TestConnectionLost: a connection that broke is opened anew unseen. When that
// fails too, nothing is said to be saved, a fresh page is offered, the record can
// be saved as a file, and the same press works later (pitfalls 4 to 6).
func TestConnectionLost(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.plant(unsteady)
	p.countForm()
	for name, lose := range map[string]string{"closed by the browser": `() => { handle.close(); handle.onclose(); }`, "dead": `() => handle.close()`} {
		n := len(p.log())
		p.eval(lose)
		p.fill("#f-found", "7")
		p.tap("#count-form button[type=submit]")
		if got := len(p.log()); got != n+1 || p.has("#dismiss") {
			t.Fatalf("with a handle that was %s %d events are there, want %d: %s", name, got, n+1, p.text("body"))
		}
	}

	events := p.log()
	p.fill("#f-found", "7")
	before := p.text("#r-main")
	lost := func(then string) {
		p.t.Helper()
		p.eval(`() => { handle.close(); globalThis.shut = true; }`)
		p.tap("#count-form button[type=submit]")
		if got := p.text("#r-sheet"); !strings.Contains(got, "Not saved") {
			t.Errorf("%s: the person is told %q", then, got)
		}
		if got := p.text("#r-strip"); !strings.Contains(got, "Not saved. The last press is not in the record.") {
			t.Errorf("%s: the strip says %q", then, got)
		}
		if got := p.text("#notice"); !strings.Contains(got, "What was saved before is safe") || !strings.Contains(got, "Reload") {
			t.Errorf("%s: no fresh page is offered: %q", then, got)
		}
		if got := p.text("#r-main"); got != before || p.value("#f-found") != "7" {
			t.Errorf("%s: the screen goes on as if it were saved: %s", then, got)
		}
	}
	lost("first")
	p.eval(`() => strutcard.act("dismiss", "{}")`)
	p.eval(`() => strutcard.act("sync_screen", "{}")`)
	p.eval(`() => strutcard.act("dismiss", "{}")`)
	holds(t, p.savesBy("#export"), events)
	p.eval(`() => strutcard.act("work", "{}")`)
	p.eval(`() => { globalThis.shut = false; }`)
	p.fill("#f-found", "7")
	p.tap("#count-form button[type=submit]")
	if got := p.log(); len(got) != len(events)+1 {
		t.Errorf("the same press made %d events, want one", len(got)-len(events))
	}
	if got := p.text("#r-strip"); strings.Contains(got, "Not saved") || p.eval(`() => document.getElementById("notice").hidden`) != true {
		t.Errorf("after a press that was saved it still warns: %s", p.text("body"))
	}

	events = p.log()
	p.fill("#f-found", "6")
	p.drafted("6")
	before = p.text("#r-main")
	p.eval(`() => { handle.close(); globalThis.shut = true; globalThis.before = true; }`)
	p.tap("#count-form button[type=submit]")
	if err := p.page.Locator("#notice button").Tap(); err != nil {
		t.Fatal(err)
	}
	p.wait(`() => !globalThis.before`)
	p.ready()
	if got := p.text("#r-main"); got != before || p.value("#f-found") != "6" {
		t.Errorf("after the reload the screen says %q with %q in its field\nwant %q with 6", got, p.value("#f-found"), before)
	}
	if got, want := lines(p.log()), lines(events); got != want {
		t.Errorf("after the reload the record holds\n%s\nwant\n%s", got, want)
	}
}

// TestTickWaitsForDisk: as long as the transaction is not complete, nothing on the
// screen says that it is (pitfall 3).
func TestTickWaitsForDisk(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.plant(`(() => {
		const { set } = Object.getOwnPropertyDescriptor(IDBTransaction.prototype, "oncomplete");
		globalThis.held = [];
		Object.defineProperty(IDBTransaction.prototype, "oncomplete", { configurable: true, set(done) {
			set.call(this, (event) => {
				if (globalThis.hold && this.db.name === "strutcard" && this.mode === "readwrite") held.push(() => done.call(this, event));
				else done.call(this, event);
			});
		} });
	})()`)
	p.countForm()
	p.drafted("7")
	before, strip := p.text("#r-main"), p.text("#r-strip")
	p.eval(`() => { globalThis.hold = true; }`)
	if err := p.page.Locator("#count-form button[type=submit]").Tap(); err != nil {
		t.Fatal(err)
	}
	p.wait(`() => held.length > 0`)
	if got := p.text("#r-main"); got != before || p.text("#r-strip") != strip {
		t.Errorf("before the disk has it the screen says %s, %s", p.text("#r-strip"), got)
	}
	p.eval(`() => { globalThis.hold = false; for (const done of held.splice(0)) done(); }`)
	p.calm()
	if got := p.text("#r-main"); got == before {
		t.Errorf("once the disk has it the screen still says %s", got)
	}
}

// dropDatabases is what a browser does that runs short of space.
const dropDatabases = `async () => {
	for (const { name } of await indexedDB.databases()) await new Promise((resolve, reject) => {
		const gone = indexedDB.deleteDatabase(name);
		gone.onsuccess = resolve;
		gone.onerror = () => reject(gone.error);
	});
}`

// publish gives the shop a sheet of its own, which no app brings along.
func (s *shopServer) publish(title string) {
	s.t.Helper()
	sh := sheet.Demo()[0]
	sh.Title = title
	db := s.db()
	defer func() { _ = db.Close() }()
	err := db.AddSheet(context.Background(), "demo", shop.Sheet{Hash: sh.Hash(), Title: sh.Title, Version: sh.Version, Vehicle: sh.Vehicle.Name, Published: true, Body: sh.Encode()})
	if err != nil {
		s.t.Fatal(err)
	}
}

// joinedJob is a job on a sheet of the shop's, some steps in.
func (p *phone) joinedJob() {
	p.t.Helper()
	p.shop.publish("Ostler Wren, as this shop fits it")
	p.join()
	p.wait(`() => document.body.innerText.includes("as this shop fits it")`)
	p.tap(`button[data-do=new_job]:has-text("as this shop fits it")`)
	p.fill("#f-vehicle", "Ostler Wren (invented)")
	p.tap("#start-form button[type=submit]")
	for range 4 {
		p.next()
	}
}

// TestRecordCleared: the browser dropped the record of a phone that belongs to a
// shop. The loss is told, what was synced comes back by itself, and the phone
// writes on under another number (pitfalls 8 and 10).
func TestRecordCleared(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.joinedJob()
	p.more()
	p.snap("#photo-own", shot(t, 800, 600, 90))
	p.photos(1)
	p.synced()
	p.sent(1, 1)
	events, device := p.log(), p.eval(`() => host.log.meta("device")`)
	p.offlineReady()
	p.shop.stop()
	p.next() // no shop has this
	unsent := len(p.log()) - len(events)
	if got := p.text("#strip-sync"); unsent == 0 || !strings.Contains(got, "Waiting to sync") {
		t.Fatalf("of %d entries that no shop has the strip says %q", unsent, got)
	}
	p.eval(dropAndReload)
	p.wait(`() => performance.getEntriesByName("sc-ready").length > 0 && document.querySelector("#lost")`)
	lost := p.text("#lost")
	for _, want := range []string{"has cleared the record", "had not reached a shop", "has a copy of what was synced", "Fetch it now"} {
		if !strings.Contains(lost, want) {
			t.Errorf("the loss of %d entries is told without %q: %s", unsent, want, lost)
		}
	}
	if p.has(`[data-do=open_job]`) {
		t.Error("a job is listed")
	}
	p.pictures("lost")

	p.shop.start(false)
	p.waitFor(`() => document.querySelector("#lost")?.innerText.includes("is back") && document.querySelector("[data-do=open_job]")`, 60*time.Second) // by itself
	p.pictures("lost-back")
	p.tap(`[data-do=open_job]`)
	p.wait(`() => document.querySelector("section.step")`)
	if got, want := lines(p.log()), lines(events); got != want {
		t.Errorf("there came back\n%s\nwant\n%s", got, want)
	}
	p.wait(`() => document.querySelector(".photo img")?.dataset.state`)
	if now := p.eval(`() => host.log.meta("device")`); now == device {
		t.Error("the phone writes as before it forgot what it wrote")
	}
	p.next()
	p.synced()
	compare(t, p, p.shop)
	by := map[event.DeviceID]bool{}
	for _, e := range p.shop.events(events[0].Job) {
		by[e.Device] = true
	}
	if len(by) != 2 {
		t.Errorf("the shop has events by %d numbers, want the old and the new", len(by))
	}
	p.eval(`() => strutcard.act("home", "{}")`)
	p.tap("#understood")
	if p.has("#lost") {
		t.Error("what was understood is told on")
	}
}

// dropAndReload drops the databases under the running app, which lets go of them,
// and opens it again.
const dropAndReload = `async () => {
	await (` + dropDatabases + `)();
	location.reload();
}`

// TestRecordClearedWithoutShop: then only a saved copy can bring it back.
func TestRecordClearedWithoutShop(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.open("/")
	p.openDemo()
	for range 3 {
		p.next()
	}
	state := p.state()
	p.tap("#strip-sync")
	file := p.savesBy("#export")
	p.aside()
	p.eval(dropDatabases)
	p.open("/")
	if got := p.text("#lost"); !strings.Contains(got, "has cleared the record") || !strings.Contains(got, "No shop had a copy") {
		t.Errorf("the person is told %q", got)
	}
	if p.has(`[data-do=open_job]`) {
		t.Error("a job is listed")
	}
	p.pictures("lost-alone")
	p.bringIn(file)
	if got := p.state(); got != state {
		t.Errorf("brought in is\n%s\nwant\n%s", got, state)
	}
}

// TestEverythingCleared: without any trace it is a new phone, also to the shop,
// which has to invite it anew.
func TestEverythingCleared(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.join()
	p.openDemo()
	p.synced()
	device := p.eval(`() => host.log.meta("device")`)
	p.aside()
	p.eval(`async () => {
		await (` + dropDatabases + `)();
		localStorage.clear();
		for (const name of await caches.keys()) await caches.delete(name);
		for (const one of await navigator.serviceWorker.getRegistrations()) await one.unregister();
	}`)
	p.open("/")
	if p.has("#lost") || p.has(`[data-do=open_job]`) || p.eval(`() => host.log.meta("device")`) == device {
		t.Errorf("it does not start as a new phone: %s", p.text("body"))
	}
	p.offlineReady()
	p.openDemo()
	p.next()
	p.eval(`(invite) => strutcard.act("join", JSON.stringify({ invite, name: "The same phone" }))`, p.shop.invite)
	if got := p.text("#r-sheet"); !strings.Contains(got, "This invitation was used before") {
		t.Errorf("it is not taken for another phone: %q", got)
	}
}

// TestCacheEntryGone: a file of the app is gone while there is no connection. The
// message stands, the record can be saved, and with a connection the app mends
// itself (pitfall 29).
func TestCacheEntryGone(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.open("/")
	p.offlineReady()
	p.openDemo()
	p.next()
	events := p.log()
	forget := func(path string) {
		p.t.Helper()
		p.eval(`async (path) => { for (const name of await caches.keys()) await (await caches.open(name)).delete(path); }`, path)
	}
	p.shop.stop()
	for _, path := range []string{"/boot.js", "/app.wasm", "/host.js"} {
		forget(path)
		if _, err := p.page.Reload(); err != nil {
			t.Fatalf("without %s: %v", path, err)
		}
		p.repair()
		if path != "/host.js" { // the copy needs that one
			holds(t, p.savesBy("#repair-copy"), events)
		}
		p.shop.start(false)
		if err := p.page.Locator("#repair-reload").Tap(); err != nil {
			t.Fatal(err)
		}
		p.wait(`() => performance.getEntriesByName("sc-ready").length > 0`)
		p.offlineReady()
		p.shop.stop()
		p.reload()
		if got, want := lines(p.log()), lines(events); got != want {
			t.Errorf("afterwards the record holds\n%s\nwant\n%s", got, want)
		}
	}
}

// TestWorkerGone: the worker's registration, or all that it kept, is gone. The
// next open with a connection makes the phone ready again (pitfalls 29 and 30).
func TestWorkerGone(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.open("/")
	p.offlineReady()
	for name, lose := range map[string]string{
		"registration": `async () => { await (await navigator.serviceWorker.getRegistration()).unregister(); }`,
		"caches":       `async () => { for (const name of await caches.keys()) await caches.delete(name); }`,
	} {
		p.eval(lose)
		p.open("/")
		p.offlineReady()
		p.shop.stop()
		p.reload()
		if !p.has("#own") {
			t.Errorf("after the %s had gone the app does not open without a connection: %s", name, p.text("body"))
		}
		p.shop.start(false)
	}
}

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

// TestKeptOnlyWithARecord: the browser is asked to keep the storage when the first
// event is in it, and the answer is shown (pitfall 9).
func TestKeptOnlyWithARecord(t *testing.T) {
	t.Parallel()
	for answer, says := range map[string]string{"true": "The browser has promised to keep", "false": "The browser may clear this app's storage"} {
		t.Run(answer, func(t *testing.T) {
			p := newPhone(t, newShop(t))
			p.plant(`StorageManager.prototype.persisted = async () => false;
				globalThis.asked = 0;
				StorageManager.prototype.persist = async () => { asked++; return ` + answer + `; };`)
			p.open("/")
			p.tap("#methods")
			p.tap(`#r-bar [data-do=home]`)
			if n := p.eval(`() => asked`); n != 0 {
				t.Errorf("without a record it was asked %v times", n)
			}
			p.openDemo()
			p.next()
			if n := p.eval(`() => asked`); n != 1 {
				t.Errorf("with a record it was asked %v times, want once", n)
			}
			p.tap("#strip-sync")
			if got := p.text("#r-main"); !strings.Contains(got, says) {
				t.Errorf("the answer was %s, and the screen says %s", answer, got)
			}
		})
	}
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

// copyOf keeps a phone's disk as it is now; put brings it back later.
func (p *phone) copyOf() (put func()) {
	p.t.Helper()
	p.close()
	kept := filepath.Join(p.t.TempDir(), "disk")
	if err := os.CopyFS(kept, os.DirFS(p.dir)); err != nil {
		p.t.Fatal(err)
	}
	p.launch()
	return func() {
		p.t.Helper()
		p.close()
		if err := os.RemoveAll(p.dir); err != nil {
			p.t.Fatal(err)
		}
		if err := os.CopyFS(p.dir, os.DirFS(kept)); err != nil {
			p.t.Fatal(err)
		}
		p.launch()
	}
}

// bringIn hands the app a saved copy.
func (p *phone) bringIn(text string) {
	p.t.Helper()
	p.calm()
	err := p.page.Locator("#bring-in").SetInputFiles([]playwright.InputFile{{Name: "strutcard-copy.jsonl.txt", MimeType: "text/plain", Buffer: []byte(text)}})
	if err != nil {
		p.t.Fatalf("hand over a copy: %v\non screen: %s", err, p.text("body"))
	}
	p.wait(`() => document.querySelector("#dismiss")`)
	p.calm()
}
