package e2e

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/playwright-community/playwright-go"

	"strutcard/sync/event"
	"strutcard/sync/exchange"
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
