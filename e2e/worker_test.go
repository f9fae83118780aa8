package e2e

import (
	"bytes"
	"context"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/playwright-community/playwright-go"

	"strutcard/pwa"
	"strutcard/server"
)

// journal keeps what a server logs.
type journal struct {
	mu  sync.Mutex
	buf bytes.Buffer
}

func (j *journal) Write(p []byte) (int, error) {
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.buf.Write(p)
}

func (j *journal) String() string {
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.buf.String()
}

// serve starts a demo server with a handler around everything.
func serve(t *testing.T, wrap func(http.Handler) http.Handler) *shopServer {
	t.Helper()
	s, _ := serveLogged(t, wrap)
	return s
}

func serveLogged(t *testing.T, wrap func(http.Handler) http.Handler) (*shopServer, *journal) {
	t.Helper()
	log := &journal{}
	s := &shopServer{t: t, dir: t.TempDir()}
	srv, err := server.New(server.Config{Addr: "127.0.0.1:0", DataDir: s.dir, Demo: true, Wrap: wrap, Log: slog.New(slog.NewTextHandler(log, nil))})
	if err != nil {
		t.Fatalf("make server: %v", err)
	}
	if err := srv.Start(); err != nil {
		t.Fatalf("start server: %v", err)
	}
	s.srv, s.url, s.demo, s.invite = srv, srv.URL(), srv.Demo(), srv.InvitationURL()
	t.Cleanup(s.stop)
	return s, log
}

// TestServedFiles asks the server for every file of the app as built: its type,
// its hash as a strong tag that answers 304, and no keeping without asking.
func TestServedFiles(t *testing.T) {
	t.Parallel()
	shop := serve(t, nil)
	assets, err := pwa.Assets()
	if err != nil {
		t.Fatal(err)
	}
	get := func(path, tag string) (*http.Response, []byte) {
		t.Helper()
		req, err := http.NewRequestWithContext(context.Background(), "GET", shop.url+path, nil)
		if err != nil {
			t.Fatal(err)
		}
		req.Header.Set("Accept-Encoding", "identity")
		if tag != "" {
			req.Header.Set("If-None-Match", tag)
		}
		res, err := http.DefaultClient.Do(req)
		if err != nil {
			t.Fatal(err)
		}
		defer func() { _ = res.Body.Close() }()
		body, err := io.ReadAll(res.Body)
		if err != nil {
			t.Fatal(err)
		}
		return res, body
	}
	for _, a := range assets {
		res, body := get(a.Path, "")
		sum := sha256.Sum256(body)
		if a.Path == pwa.Worker { // nothing may stand in for it
			if h := res.Header; hex.EncodeToString(sum[:]) != a.Hash || h.Get("ETag") != "" || h.Get("Cache-Control") != "no-store" {
				t.Errorf("%s: %v", a.Path, h)
			}
			continue
		}
		if h := res.Header; res.StatusCode != 200 || hex.EncodeToString(sum[:]) != a.Hash || h.Get("ETag") != `"`+a.Hash+`"` || h.Get("Cache-Control") != "no-cache" || h.Get("Content-Type") != a.Type {
			t.Errorf("%s: status %d, %v", a.Path, res.StatusCode, h)
		}
		if res, body := get(a.Path, `"`+a.Hash+`"`); res.StatusCode != http.StatusNotModified || len(body) != 0 {
			t.Errorf("%s: asked with its hash it gives %d and %d bytes, want 304 and none", a.Path, res.StatusCode, len(body))
		}
	}
	for path, kind := range map[string]string{"/app.wasm": "application/wasm", "/sw.js": "text/javascript; charset=utf-8", "/manifest.webmanifest": "application/manifest+json"} {
		if res, _ := get(path, ""); res.StatusCode != 200 || res.Header.Get("Content-Type") != kind {
			t.Errorf("%s: status %d, type %q, want %q", path, res.StatusCode, res.Header.Get("Content-Type"), kind)
		}
	}
}

// TestSameProgramAnywhere: nothing of the machine or of the one build stands in the
// program. Else the same tree, built again, would be an update for every phone.
func TestSameProgramAnywhere(t *testing.T) {
	t.Parallel()
	program, ok := pwa.Lookup("/app.wasm")
	if !ok {
		t.Fatal("the app was not built")
	}
	root, err := filepath.Abs("..")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(program.Body, []byte("dep\tgithub.com/a-h/templ\t")) {
		t.Error("the program does not name its libraries: this test would find nothing")
	}
	for _, trace := range []string{root + "/", os.TempDir() + "/", "go:buildid"} {
		if bytes.Contains(program.Body, []byte(trace)) {
			t.Errorf("%q stands in the program", trace)
		}
	}
}

// TestWorkerLeavesOthersAlone: what is not a file of the app goes to the server
// untouched, and comes from there, also when the worker holds the same path.
func TestWorkerLeavesOthersAlone(t *testing.T) {
	t.Parallel()
	var mu sync.Mutex
	got := map[string]string{}
	shop := serve(t, func(next http.Handler) http.Handler {
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if r.Header.Get("X-Test") != "" {
				body, err := io.ReadAll(r.Body)
				if err != nil {
					t.Errorf("%s: %v", r.URL.Path, err)
				}
				sum := sha256.Sum256(body)
				mu.Lock()
				got[r.Method+" "+r.URL.Path] = hex.EncodeToString(sum[:])
				mu.Unlock()
				w.Header().Set("Content-Type", "text/plain")
				fmt.Fprint(w, "from the server")
				return
			}
			next.ServeHTTP(w, r)
		})
	})
	p := newPhone(t, shop)
	p.open("/")
	p.offlineReady()
	p.open("/") // now the worker stands between page and server
	if p.eval(`() => navigator.serviceWorker.controller !== null`) != true {
		t.Fatal("no worker stands between page and server: the test shows nothing")
	}
	if got := p.eval(`async () => (await navigator.serviceWorker.getRegistration()).updateViaCache`); got != "none" {
		t.Errorf("the worker's own file may come from a cache: %v", got)
	}
	body := make([]byte, 300_000)
	if _, err := rand.Read(body); err != nil {
		t.Fatal(err)
	}
	sum := sha256.Sum256(body)
	empty := sha256.Sum256(nil)
	for _, c := range []struct{ method, path string }{
		{"POST", "/api/v1/sync"}, {"PUT", "/api/v1/sheets/x"}, {"POST", "/"}, {"POST", "/app.css"}, {"PUT", "/app.wasm"}, {"GET", "/api/v1/sheets"}, {"GET", "/api/v1/photos/x"}, {"GET", "/shop"},
	} {
		said := p.eval(`async ([method, path, hex]) => {
			const bytes = Uint8Array.from(hex.match(/../g), (h) => parseInt(h, 16));
			// A worker that answered from what it keeps would now answer with this.
			for (const name of await caches.keys()) if (path.startsWith("/api/")) await (await caches.open(name)).put(path, new Response("from the cache"));
			const reply = await fetch(path, { method, headers: { "X-Test": "1" }, body: method === "GET" ? undefined : bytes });
			return reply.text();
		}`, []any{c.method, c.path, hex.EncodeToString(body)})
		want := hex.EncodeToString(sum[:])
		if c.method == "GET" {
			want = hex.EncodeToString(empty[:])
		}
		mu.Lock()
		if said != "from the server" || got[c.method+" "+c.path] != want {
			t.Errorf("%s %s: answered %q; the server saw the body's hash %q, want %q", c.method, c.path, said, got[c.method+" "+c.path], want)
		}
		mu.Unlock()
	}
}

// everywhere is the address and all that a page can leave behind in a browser, but
// for the record and its keepsake, which hold the phone's token.
const everywhere = `async () => {
	const all = [location.href, document.referrer, JSON.stringify({ ...localStorage, "sc-phone": "" }), JSON.stringify({ ...sessionStorage }), document.cookie];
	for (const name of await caches.keys()) {
		const cache = await caches.open(name);
		for (const request of await cache.keys()) all.push(request.url, await (await cache.match(request)).text());
	}
	return all.join("\n");
}`

// TestSecretsLeaveNoTrace opens an invitation and a mentor's link. Their secrets
// stay out of the address, the history, the caches and the server's log.
func TestSecretsLeaveNoTrace(t *testing.T) {
	t.Parallel()
	shop, log := serveLogged(t, nil)
	p := newPhone(t, shop)
	p.open("/")
	p.offlineReady()
	secret := after(shop.invite, "#")
	p.join()
	p.eventually(func() bool { return !strings.Contains(p.eval(`() => localStorage["sc-snapshot"]`).(string), secret) }, "the picture of the last screen still shows the invitation")
	traces := p.eval(everywhere).(string)
	if !strings.Contains(traces, "/app.wasm") {
		t.Fatal("the caches were not read")
	}
	token := p.eval(`() => host.log.meta("shop.token")`).(string)
	if len(token) < 50 {
		t.Fatalf("the phone holds no token: %q", token)
	}
	for name, text := range map[string]string{"invitation": secret, "token": token} {
		if strings.Contains(traces, text) {
			at := strings.Index(traces, text)
			t.Errorf("the phone's browser keeps the %s outside the record: …%s", name, traces[max(0, at-120):at])
		}
		if strings.Contains(log.String(), text) {
			t.Errorf("the server's log holds the %s", name)
		}
	}
	if _, err := p.page.GoBack(); err == nil && strings.Contains(p.page.URL(), secret) {
		t.Error("the step back leads to the secret")
	}

	p.open("/")
	p.eval(`() => strutcard.act("home", "{}")`) // Back led to a place before
	p.openDemo()
	p.next()
	p.nothingWaits()
	desk := shop.staff()
	link := mentorLink(t, desk)
	if _, err := desk.Goto(link); err != nil {
		t.Fatal(err)
	}
	q := &phone{t: t, shop: shop, page: desk}
	q.wait(`() => location.hash === ""`)
	q.fill("input[name=name]", "Ann")
	if err := desk.Locator("form button.action").Click(); err != nil {
		t.Fatal(err)
	}
	q.wait(`() => location.pathname.startsWith("/look/job/")`)
	code := after(link, "#")
	if traces := q.eval(everywhere).(string); strings.Contains(traces, code) {
		t.Error("the mentor's browser keeps the link's secret")
	}
	if strings.Contains(log.String(), code) || !strings.Contains(log.String(), "path=/look") {
		t.Error("the server's log holds the link's secret, or no request at all")
	}
}

// mentorLink makes a link to the first job of the list.
func mentorLink(t *testing.T, desk playwright.Page) string {
	t.Helper()
	if _, err := desk.Reload(); err != nil {
		t.Fatal(err)
	}
	for _, press := range []string{`a[href^="/shop/jobs/"]`, `button:has-text("Make a mentor link")`} {
		if err := desk.Locator(press).First().Click(); err != nil {
			t.Fatalf("press %s: %v", press, err)
		}
	}
	link, err := desk.Locator("input.code").InputValue()
	if err != nil || !strings.Contains(link, "/look#") {
		t.Fatalf("no link was made: %q, %v", link, err)
	}
	return link
}

// violations makes a page count what its policy forbade.
const violations = `(() => {
	globalThis.violated = [];
	document.addEventListener("securitypolicyviolation", (e) => violated.push(e.effectiveDirective + " " + e.blockedURI + " " + e.sourceFile));
})()`

// TestPolicyHolds walks the phone's places and every page of the desk: none needs
// what its own policy forbids.
func TestPolicyHolds(t *testing.T) {
	t.Parallel()
	shop := serve(t, nil)
	p := newPhone(t, shop)
	p.plant(violations)
	p.join()
	p.openDemo()
	p.more()
	p.snap("#photo-own", shot(t, 800, 600, 60))
	p.shows(1)
	for _, place := range []string{"#place-measure", "#place-card", "#strip-tally", "#strip-sync"} {
		p.tap(place)
		p.wait(`() => document.querySelector("#r-main h1")`)
	}
	p.nothingWaits()
	if got := p.eval(`() => violated.join()`); got != "" {
		t.Errorf("on the phone the policy forbade: %v", got)
	}
	// The look itself must see what is forbidden.
	p.eval(`() => { document.body.insertAdjacentHTML("beforeend", '<i style="color:red">x</i>'); }`)
	p.wait(`() => violated.length === 1`)

	desk := shop.staff()
	if err := desk.AddInitScript(playwright.Script{Content: playwright.String(violations)}); err != nil {
		t.Fatal(err)
	}
	q := &phone{t: t, shop: shop, page: desk}
	todo, seen := []string{"/shop", "/sign-in", "/setup", "/look", "/how.html", "/nothing"}, map[string]bool{}
	for len(todo) > 0 && len(seen) < 40 {
		path := todo[0]
		if todo = todo[1:]; seen[path] {
			continue
		}
		seen[path] = true
		if _, err := desk.Goto(shop.url + path); err != nil {
			t.Fatalf("open %s: %v", path, err)
		}
		if got := q.eval(`() => violated.join()`); got != "" {
			t.Errorf("on %s the policy forbade: %v", path, got)
		}
		for _, link := range q.eval(`() => [...document.querySelectorAll("a[href]:not([download])")].filter((a) => a.origin === location.origin && !/\/file$|\/photos\//.test(a.pathname)).map((a) => a.pathname)`).([]any) {
			todo = append(todo, fmt.Sprint(link))
		}
	}
	if len(seen) < 12 {
		t.Errorf("only %d pages were found: %v", len(seen), seen)
	}
}
