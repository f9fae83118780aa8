package e2e

import (
	"fmt"
	"net/http"
	"regexp"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"strutcard/server"
)

// TestFirefox and TestWebKit are the app's promises in the two other families of
// engines: it opens, works and is killed without a connection, and loses nothing.
func TestFirefox(t *testing.T) {
	t.Parallel()
	offlineJob(t, firefox)
}

func TestWebKit(t *testing.T) {
	t.Parallel()
	offlineJob(t, webKit)
}

// TestManyReloads: WebKit has run out of memory on reloads of large programs.
func TestManyReloads(t *testing.T) {
	t.Parallel()
	shop := newShop(t)
	b := newBrowser(t, webKit, shop.url)
	b.open("/")
	filesKept(b)
	shop.stop()
	for range 20 {
		b.reload()
	}
}

// TestPolicyAndWrongType is what the two tests above also ask of their engines.
func TestPolicyAndWrongType(t *testing.T) {
	t.Parallel()
	shop := newShop(t)
	p := newPhone(t, shop)
	p.open("/")
	filesKept(p)
	shop.stop()
	p.reload()
	policyHolds(p)
	wrongType(p)
}

// TestProgramComesOnce: the program is nearly all that the app weighs, and the
// first visit may be over a slow connection. Page and worker share one copy.
func TestProgramComesOnce(t *testing.T) {
	t.Parallel()
	t.Run("Chromium", func(t *testing.T) {
		url, sent := counting(t)
		p := newPhone(t, &shopServer{t: t, url: url})
		p.open("/")
		filesKept(p)
		once(t, sent)
	})
	for _, e := range []engine{firefox, webKit} {
		t.Run(e.name, func(t *testing.T) {
			url, sent := counting(t)
			b := newBrowser(t, e, url)
			b.open("/")
			filesKept(b)
			once(t, sent)
		})
	}
}

// counting is a server that counts how often it is asked for the whole program.
func counting(t *testing.T) (url string, sent *atomic.Int32) {
	t.Helper()
	sent = &atomic.Int32{}
	srv, err := server.New(server.Config{Addr: "127.0.0.1:0", DataDir: t.TempDir(), Wrap: func(next http.Handler) http.Handler {
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if r.URL.Path == "/app.wasm" && r.Header.Get("If-None-Match") == "" {
				sent.Add(1)
			}
			next.ServeHTTP(w, r)
		})
	}})
	if err != nil {
		t.Fatal(err)
	}
	if err := srv.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = srv.Close() })
	return srv.URL(), sent
}

func once(t *testing.T, sent *atomic.Int32) {
	t.Helper()
	if got := sent.Load(); got != 1 {
		t.Errorf("the program was sent %d times, want once", got)
	}
}

func offlineJob(t *testing.T, e engine) {
	shop := newShop(t)
	b := newBrowser(t, e, shop.url)
	b.open("/")
	if got := b.text("#r-main"); strings.Contains(got, "could not be read") {
		t.Fatalf("a phone without any record says: %s", got)
	}
	filesKept(b)
	shop.stop()
	b.reload()
	policyHolds(b)
	wrongType(b)

	b.tap("button[data-do=new_job]")
	b.fill("#f-vehicle", "Ostler Wren (invented)")
	b.tap("#start-form button[type=submit]")
	b.wait(`() => document.querySelector("section.step")`)
	fiveSteps(b)
	b.picture("engine-" + e.name)
	b.restart()

	shop.start(false)
	b.join(strings.TrimPrefix(shop.invite, shop.url))
	b.waitFor(`() => document.querySelector("#strip-sync")?.innerText.includes("All synced")`, 2*time.Minute)
	mine := record(b)
	if got, want := lines(shop.events(mine[0].Job)), lines(mine); got != want {
		t.Errorf("the server has\n%s\nthe phone\n%s", got, want)
	}
}

// fiveSteps presses on until five steps are done and the sixth is begun.
func fiveSteps(h hands) {
	var seen []string
	for i := 0; len(seen) < 6; i++ {
		if i > 150 || !next(h) {
			h.fatalf("after %d presses and the steps %v nothing goes on; on screen: %s", i, seen, h.text("body"))
		}
		if step := stepOf(h); step != "" && !slices.Contains(seen, step) {
			seen = append(seen, step)
		}
	}
	next(h)
}

// stepOf is the step on the screen; "" on a screen between two.
func stepOf(h hands) string {
	return fmt.Sprint(h.eval(`() => document.querySelector("section.step")?.dataset.step ?? ""`))
}

// restart kills the browser and opens the app again, still without a server.
func (b *browser) restart() {
	b.t.Helper()
	step, place, before := stepOf(b), b.text("#r-main h1"), lines(record(b))
	b.kill()
	b.launch()
	b.open("/")
	if got := stepOf(b); got != step {
		b.t.Errorf("after the kill the app is at the step %q, want %q", got, step)
	}
	if got := b.text("#r-main h1"); got != place {
		b.t.Errorf("after the kill the app shows %q, want %q", got, place)
	}
	if got := lines(record(b)); got != before {
		b.t.Errorf("after the kill there is\n%s\nwant\n%s", got, before)
	}
}

// join takes the shop's invitation, whose address has the path.
func (b *browser) join(path string) {
	b.t.Helper()
	b.open(path)
	b.wait(`() => document.querySelector("#join-form")`)
	b.fill("#f-name", "Test phone")
	b.tap("#join-form button[type=submit]")
	b.wait(`() => document.body.innerText.includes("belongs to Bramley Yard")`)
}

// policyHolds: the page runs under the policy that is sent in earnest, and the
// engine enforces it, so that the program was compiled with its leave.
func policyHolds(h hands) {
	policy := fmt.Sprint(h.eval(`async () => (await fetch("/")).headers.get("Content-Security-Policy")`))
	if !regexp.MustCompile(`script-src 'self' 'sha256-[A-Za-z0-9+/=]{44}' 'wasm-unsafe-eval';`).MatchString(policy) {
		h.fatalf("the page's policy is %q", policy)
	}
	if got := h.eval(`async () => {
		await new Promise((later) => setTimeout(later)); // what a driver runs at once may be exempt
		try { window.eval("1"); return "allowed"; } catch (error) { return error.name; }
	}`); got != "EvalError" {
		h.fatalf("the page's policy is not in force: eval is %v", got)
	}
}

// wrongType: the engine will not compile a program of another type as it comes,
// so the app has to start from the bytes that are kept. Its worker then mends
// what is kept, here from a second copy.
func wrongType(h hands) {
	h.eval(`async () => {
		const [name] = (await caches.keys()).filter((n) => n.startsWith("strutcard-"));
		const cache = await caches.open(name);
		const right = await cache.match("/app.wasm");
		await (await caches.open("test-copy")).put("/app.wasm", right.clone());
		await cache.put("/app.wasm", new Response(await right.arrayBuffer(), { headers: { "Content-Type": "application/octet-stream" } }));
	}`)
	got := h.eval(`() => window.WebAssembly.compileStreaming(fetch("/app.wasm")).then(() => "compiled", (error) => error.name)`)
	if got != "TypeError" {
		h.fatalf("a program of the wrong type is taken as it comes: %v", got)
	}
	h.reload()
	filesKept(h)
	h.eval(`async () => { await caches.delete("test-copy"); }`)
}

// filesKept waits until every file is kept whole, which is looked at afresh each
// time: a busy machine takes longer than the page waits for its worker. The driver
// only asks what was found: WebKit's has left a script that waits without an answer.
func filesKept(h hands) {
	h.waitFor(`() => {
		window.looking ??= host.inspect().then(({ files }) => { window.kept = files === "yes"; delete window.looking; });
		return window.kept;
	}`, 2*time.Minute)
}
