package e2e

import (
	"context"
	"strings"
	"testing"
	"time"

	"strutcard/server/shop"
	"strutcard/sync/event"
	"strutcard/sync/sheet"
)

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

// TestCacheEntryGone: a file of the app is gone while there is no connection, or all
// but the page and the copy. The message stands, the record can be saved, and with a connection the app mends
// itself (pitfall 29).
func TestCacheEntryGone(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.open("/")
	p.offlineReady()
	p.openDemo()
	p.next()
	events := p.log()
	p.shop.stop()
	for _, gone := range []string{"/boot.js", "/app.wasm", "/boot.js /app.css /app.wasm /compile.js /picture.js /edit.js /icon.svg"} {
		p.eval(`async (paths) => {
			for (const name of await caches.keys()) for (const path of paths.split(" ")) await (await caches.open(name)).delete(path);
		}`, gone)
		if _, err := p.page.Reload(); err != nil {
			t.Fatalf("without %s: %v", gone, err)
		}
		p.repair()
		holds(t, p.savesBy("#repair-copy"), events)
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
