package e2e

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"strings"
	"testing"
	"time"

	"strutcard/pwa"
	"strutcard/sync/fault"
)

// tails are what a later version of a file of each type has at its end: as good
// as it was, and not the same.
var tails = map[string]string{
	"text/html": "<!-- later -->", "text/css": "/* later */", "text/javascript": "// later\n", "image/svg+xml": "\n",
	"application/manifest+json": "\n", "text/plain": "00000000later\n", "application/wasm": "\x00\x06\x05later", // a section that nobody reads
}

// keptFiles lists the files that a phone keeps, as the worker names them.
func keptFiles(t *testing.T) []string {
	t.Helper()
	assets, err := pwa.Assets()
	if err != nil {
		t.Fatal(err)
	}
	var paths []string
	for _, a := range assets {
		if a.Path != "/sw.js" && a.Type != "image/png" {
			paths = append(paths, a.Path)
		}
	}
	return paths
}

// later is a version of the app in which these files differ from those built.
func later(t *testing.T, version string, paths ...string) func(pwa.Asset) pwa.Asset {
	t.Helper()
	built, err := pwa.Version()
	if err != nil {
		t.Fatal(err)
	}
	changed, swaps := map[string]pwa.Asset{}, []string{built, version}
	for _, path := range paths {
		a, _ := pwa.Lookup(path)
		kind, _, _ := strings.Cut(a.Type, ";")
		if tails[kind] == "" {
			t.Fatalf("%s: no later version of a %s is known", path, kind)
		}
		b := another(a, string(a.Body)+tails[kind])
		changed[a.Path], swaps = b, append(swaps, a.Hash, b.Hash)
	}
	return func(a pwa.Asset) pwa.Asset {
		if a.Path == "/sw.js" {
			return another(a, strings.NewReplacer(swaps...).Replace(string(a.Body)))
		}
		if b, ok := changed[a.Path]; ok {
			return b
		}
		return a
	}
}

func another(a pwa.Asset, body string) pwa.Asset {
	sum := sha256.Sum256([]byte(body))
	a.Body, a.Hash, a.Brotli = []byte(body), hex.EncodeToString(sum[:]), nil
	return a
}

// deploy has the server serve another version, and the browser find it.
func (n *network) deploy(version string, paths ...string) {
	n.t.Helper()
	newer := later(n.t, version, paths...)
	n.shop.set(func() { n.shop.newer = newer })
	if got := n.lookForUpdate(fine); got != "waiting" {
		n.t.Fatalf("the new version is %q", got)
	}
}

// runsLater tells whether the page was given the later style sheet.
func (p *phone) runsLater() bool {
	p.t.Helper()
	return p.eval(`async () => (await (await fetch("/app.css")).text()).endsWith("/* later */")`).(bool)
}

// TestUpdateWaits: a new version does not touch the work. It is offered on the
// record screen, and starts when the person says so, at the same step (pitfall 25).
func TestUpdateWaits(t *testing.T) {
	t.Parallel()
	n := newNetwork(t)
	if got := n.eval(`async () => (await navigator.serviceWorker.getRegistration()).updateViaCache`); got != "none" {
		t.Errorf("the worker's own file may come from a cache: %v", got)
	}
	n.act("work", nil)
	for !n.has("#count-form") {
		n.next()
	}
	n.eval(`() => { globalThis.mine = true; }`)
	n.fill("#f-found", "7")
	n.drafted("7")
	step := n.text("body")
	n.deploy("aaaaaaaaaaaaaaaa", "/app.css")
	n.wait(`() => host.env().updateReady`)
	if got := n.text("body"); got != step || n.value("#f-found") != "7" || n.has("#update") || n.eval(`() => globalThis.mine`) != true {
		t.Errorf("the new version disturbs the step:\n%s\nwas\n%s", got, step)
	}

	n.proxy.meet(condition{away: true}, "", "") // the rest of the session has no network
	for range 5 {
		n.next()
	}
	n.reload()
	if n.runsLater() {
		t.Error("the new version started by itself")
	}
	for range 3 {
		n.next()
	}
	n.proxy.pass()

	q := n.tab()
	q.open("/")
	n.eval(`() => { globalThis.mine = true; }`)
	if err := n.page.BringToFront(); err != nil {
		t.Fatal(err)
	}
	n.eval(`() => window.dispatchEvent(new Event("focus"))`)
	n.wait(`() => host.env().leader`)
	n.act("work", nil)
	step, events := n.text("#r-main"), lines(n.log())
	n.tap("#strip-sync")
	n.wait(`() => document.querySelector("#update")`)
	n.pictures("update")
	n.tap("#update")
	n.wait(`() => !globalThis.mine`)
	n.ready()
	if !n.runsLater() {
		t.Error("the page runs the old version on")
	}
	n.act("work", nil)
	if got := n.text("#r-main"); got != step || lines(n.log()) != events {
		t.Errorf("after the update the step is\n%s\nwas\n%s", got, step)
	}
	q.wait(`() => document.getElementById("notice").textContent.includes("Another tab started a newer version of the app. Reload this one")`)
	n.next()
	if got := n.log(); len(lines(got)) <= len(events) {
		t.Error("after the update the job stands still")
	}
}

// TestFailedInstall: with any one file missing, or answered with another page, the
// new version is not installed and the old one works on without a connection
// (pitfalls 23 and 24).
func TestFailedInstall(t *testing.T) {
	t.Parallel()
	n := newNetwork(t)
	old := n.caches()
	served := map[string]condition{"Error": {do: func(w *wire) { w.say("500 Internal Server Error", "text/plain", "no") }},
		"Page": {do: func(w *wire) { w.say("200 OK", "text/html", "<!doctype html><p>Welcome to the guest network.") }}}
	for _, path := range keptFiles(t) {
		n.within(t, strings.Trim(path, "/"), func() {
			for name, f := range served {
				newer := later(n.t, "bbbbbbbbbbbbbbbb", path)
				n.shop.set(func() { n.shop.newer = newer })
				n.proxy.meet(f, "GET", path)
				if got := n.lookForUpdate(f); got != "" {
					n.t.Errorf("%s: the new version is %s", name, got)
				}
				n.keepsOnly(old)
			}
		})
	}
	n.opensAlone()
}

// TestFirstInstallFails: a phone that could not fetch everything says that it is
// not ready, and becomes so later.
func TestFirstInstallFails(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	proxy := newProxy(t, s.addr)
	s.url = proxy.url()
	p := newPhone(t, s)
	proxy.meet(condition{do: func(w *wire) { w.say("500 Internal Server Error", "text/plain", "no") }}, "GET", "/how.html")
	p.open("/")
	p.until("the file is asked for", func() bool { return proxy.hits() > 0 })
	p.tap("#kit")
	p.tap("#strip-sync")
	p.until("no worker is left", func() bool {
		return p.eval(`async () => !(await navigator.serviceWorker.getRegistration())`).(bool)
	})
	if got := p.text("#r-main"); !strings.Contains(got, "Not yet ready for no signal") {
		t.Errorf("without a file the record screen says %s", got)
	}
	proxy.pass()
	p.open("/")
	p.offlineReady()
}

// TestUpdateUnderFetches: a press on "start it now" ends in the new version, or in
// words, also while the page fetches all the time (pitfall 26).
func TestUpdateUnderFetches(t *testing.T) {
	t.Parallel()
	n := newNetwork(t)
	n.deploy("cccccccccccccccc", "/app.css")
	n.wait(`() => document.querySelector("#update")`)
	n.eval(`() => {
		globalThis.mine = true;
		const again = () => fetch("/app.wasm").then((r) => r.arrayBuffer()).then(again, again);
		for (let i = 0; i < 4; i++) again();
	}`)
	n.tap("#update")
	n.waitFor(`() => !globalThis.mine || document.getElementById("notice").textContent.includes("Close every tab of the app")`, time.Minute)
	if still, err := n.page.Evaluate(`() => globalThis.mine === true`); err == nil && still == true {
		t.Logf("the new version did not start under the fetches, and the screen said so")
		n.kill() // as the screen says
		n.launch()
		n.open("/")
	}
	n.ready()
	if !n.runsLater() {
		t.Error("the page reloaded into the old version")
	}
}

// TestUpdateStuck: a browser that keeps the new version waiting is no silence.
func TestUpdateStuck(t *testing.T) {
	t.Parallel()
	n := newNetwork(t)
	n.deploy("dddddddddddddddd", "/app.css")
	n.wait(`() => document.querySelector("#update")`)
	n.eval(`() => { ServiceWorker.prototype.postMessage = () => {}; }`)
	n.tap("#update")
	n.wait(`() => document.getElementById("notice").textContent.includes("The new version has not started yet. Close every tab of the app")`)
}

// TestRepairStartsNewVersion: an app that does not start any more, because the
// browser lost one of its files, gives way to the version that waits.
func TestRepairStartsNewVersion(t *testing.T) {
	t.Parallel()
	n := newNetwork(t)
	events := lines(n.log())
	n.deploy("eeeeeeeeeeeeeeee", "/app.css")
	n.eval(`async () => { const [name] = (await caches.keys()).filter((one) => !one.endsWith("eeee")); await (await caches.open(name)).delete("/boot.js"); }`)
	n.proxy.meet(condition{away: true}, "", "")
	if _, err := n.page.Reload(); err != nil {
		t.Fatal(err)
	}
	n.repair()
	if err := n.page.Locator("#repair-reload").Tap(); err != nil { // there is still no network
		t.Fatal(err)
	}
	n.ready()
	if !n.runsLater() || lines(n.log()) != events {
		t.Error("what starts is not the new version over the same record")
	}
}

// TestOutdated: a server that no longer speaks with this version says so. The
// record stays, the work goes on, and the new version is looked for and offered
// (pitfall 36).
func TestOutdated(t *testing.T) {
	t.Parallel()
	n := newNetwork(t)
	if s := n.act("join", n.invitation()); !s.OK {
		t.Fatalf("join: %+v", s)
	}
	n.synced()
	newer := later(t, "ffffffffffffffff", "/app.css")
	n.shop.set(func() { n.shop.newer = newer })
	body, err := json.Marshal(fault.New(fault.Outdated, "This app is too old for the shop's server. Nothing was sent; everything is still on the phone.",
		"Go on working. When there is a good signal, start the new version of the app, then sync again."))
	if err != nil {
		t.Fatal(err)
	}
	n.proxy.meet(condition{do: func(w *wire) { w.say("426 Upgrade Required", "application/json", string(body)) }}, "POST", "/api/v1/sync")
	for range 3 {
		n.note()
	}
	n.act("sync", nil)
	if got := n.text("#r-main"); !strings.Contains(got, "This app is too old for the shop's server. Nothing was sent") || !strings.Contains(got, "3 entries wait to sync") {
		t.Errorf("the record screen says %s", got)
	}
	if got := n.eval(`() => host.log.waiting()`); got != 3 {
		t.Errorf("%v entries wait, want 3", got)
	}
	n.wait(`() => document.querySelector("#update")`)
	n.proxy.pass()
	n.eval(`() => { globalThis.mine = true; }`)
	n.tap("#update")
	n.wait(`() => !globalThis.mine`)
	n.ready()
	n.synced()
	compare(t, n.phone, n.shop)
}
