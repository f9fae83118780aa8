package e2e

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/playwright-community/playwright-go"

	"strutcard/pwa"
	"strutcard/server"
)

// shopServer is a real server that can be stopped and started again at the same
// address over the same data.
type shopServer struct {
	t      *testing.T
	dir    string
	addr   string
	srv    *server.Server
	demo   server.Demo
	invite string
	url    string

	mu      sync.Mutex
	rough   bool // send every sync twice, lose every third reply
	syncs   int
	lost    int
	twice   int
	hits    int
	without string                    // a path that is not there
	portal  bool                      // answer everything as a captive portal would
	newer   func(pwa.Asset) pwa.Asset // another version of the app; nil is the one that was built
}

func newShop(t *testing.T) *shopServer {
	t.Helper()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	s := &shopServer{t: t, dir: t.TempDir(), addr: listener.Addr().String()}
	if err := listener.Close(); err != nil {
		t.Fatal(err)
	}
	s.start(true)
	t.Cleanup(s.stop)
	return s
}

func (s *shopServer) start(demo bool) {
	s.t.Helper()
	srv, err := server.New(server.Config{Addr: s.addr, DataDir: s.dir, Demo: demo, Wrap: s.wrap, Assets: s.lookup,
		Burst: 1000}) // nobody tries to get in as often as a test
	if err != nil {
		s.t.Fatalf("make server: %v", err)
	}
	if err := srv.Start(); err != nil {
		s.t.Fatalf("start server: %v", err)
	}
	s.srv, s.url = srv, srv.URL()
	if demo {
		s.demo, s.invite = srv.Demo(), srv.InvitationURL()
	}
}

func (s *shopServer) stop() {
	if s.srv == nil {
		return
	}
	if err := s.srv.Close(); err != nil {
		s.t.Errorf("stop server: %v", err)
	}
	s.srv = nil
}

// wrap makes the network rough: it is our own server that misbehaves, since
// routes in the browser do not see the worker's traffic.
func (s *shopServer) wrap(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		s.mu.Lock()
		s.hits++
		rough, portal, gone := s.rough, s.portal, s.without == r.URL.Path
		s.mu.Unlock()
		if gone {
			http.NotFound(w, r)
			return
		}
		if portal {
			w.Header().Set("Content-Type", "text/html")
			fmt.Fprint(w, "<html>Welcome to the guest network. Please sign in.</html>")
			return
		}
		if !rough || r.URL.Path != "/api/v1/sync" {
			next.ServeHTTP(w, r)
			return
		}
		s.roughSync(next, w, r)
	})
}

func (s *shopServer) roughSync(next http.Handler, w http.ResponseWriter, r *http.Request) {
	body, err := io.ReadAll(r.Body)
	if err != nil {
		http.Error(w, "cut", http.StatusBadGateway)
		return
	}
	again := r.Clone(context.WithoutCancel(r.Context()))
	again.Body = io.NopCloser(bytes.NewReader(body))
	next.ServeHTTP(httptest.NewRecorder(), again)
	s.mu.Lock()
	s.syncs++
	s.twice++
	lose := s.syncs%3 == 1 // the very first reply is lost too
	if lose {
		s.lost++
	}
	s.mu.Unlock()
	r.Body = io.NopCloser(bytes.NewReader(body))
	if !lose {
		next.ServeHTTP(w, r)
		return
	}
	next.ServeHTTP(httptest.NewRecorder(), r)
	hijacked, _, err := http.NewResponseController(w).Hijack()
	if err == nil {
		_ = hijacked.Close() // the reply is lost on purpose
	}
}

// lookup serves the app as it was built, or another version of it.
func (s *shopServer) lookup(path string) (pwa.Asset, bool) {
	a, ok := pwa.Lookup(path)
	s.mu.Lock()
	defer s.mu.Unlock()
	if ok && s.newer != nil {
		a = s.newer(a)
	}
	return a, ok
}

func (s *shopServer) set(change func()) {
	s.mu.Lock()
	defer s.mu.Unlock()
	change()
}

// phone is a browser of phone size with touch and a disk of its own.
type phone struct {
	t       *testing.T
	dir     string
	shop    *shopServer
	ctx     playwright.BrowserContext
	page    playwright.Page
	scheme  *playwright.ColorScheme
	console []string
	ahead   int // ms that the page's clock runs ahead
}

func newPhone(t *testing.T, shop *shopServer) *phone {
	t.Helper()
	p := &phone{t: t, dir: t.TempDir(), shop: shop}
	p.launch()
	t.Cleanup(p.close)
	return p
}

var chromiumArgs = []string{"--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
	"--disable-component-update", "--disable-sync", "--disable-dev-shm-usage"}

// runOn lets a test move the page's wall clock ahead: the app asks about work
// that comes faster than hands can do it.
const runOn = `{
	const Real = Date;
	const key = "test-ahead"; // over a reload; a kill may lose it
	let ahead = Math.max(%d, Number(localStorage.getItem(key) ?? 0));
	globalThis.pace = (ms) => { ahead += ms; localStorage.setItem(key, ahead); };
	globalThis.Date = class extends Real {
		constructor(...args) { args.length ? super(...args) : super(Real.now() + ahead); }
		static now() { return Real.now() + ahead; }
	};
}`

// patience is how long the page may take for anything; the machine may be busy.
const patience = time.Minute

func (p *phone) launch() {
	p.t.Helper()
	ctx, err := pw.Chromium.LaunchPersistentContext(p.dir, playwright.BrowserTypeLaunchPersistentContextOptions{
		ExecutablePath: playwright.String("/usr/bin/chromium"), Args: chromiumArgs, Headless: playwright.Bool(true),
		Viewport: &playwright.Size{Width: 390, Height: 844}, HasTouch: playwright.Bool(true), IsMobile: playwright.Bool(true),
		DeviceScaleFactor: playwright.Float(2), Locale: playwright.String("en-GB"), ColorScheme: p.scheme})
	if err != nil {
		p.t.Fatalf("launch browser: %v", err)
	}
	p.ctx, p.page = ctx, ctx.Pages()[0]
	if err := ctx.AddInitScript(playwright.Script{Content: playwright.String(fmt.Sprintf(runOn, p.ahead))}); err != nil {
		p.t.Fatalf("plant the clock: %v", err)
	}
	p.page.SetDefaultTimeout(float64(patience.Milliseconds()))
	p.page.OnConsole(func(m playwright.ConsoleMessage) {
		if m.Type() == "error" {
			p.console = append(p.console, m.Text())
		}
	})
}

func (p *phone) close() {
	if p.ctx != nil {
		_ = p.ctx.Close() // it may have been killed by the test
		p.ctx = nil
	}
}

// kill ends every process of this browser at once, as a phone out of memory does.
func (p *phone) kill() {
	p.t.Helper()
	killed := 0
	for _, pid := range p.processes() {
		if err := syscall.Kill(pid, syscall.SIGKILL); err == nil {
			killed++
		}
	}
	if killed == 0 {
		p.t.Fatal("no process of the browser was found: nothing was killed")
	}
	for range 100 {
		if len(p.processes()) == 0 {
			break
		}
		time.Sleep(20 * time.Millisecond)
	}
	_ = p.ctx.Close() // its browser is gone; this only tidies the driver
	p.ctx = nil
	for _, lock := range []string{"SingletonLock", "SingletonCookie", "SingletonSocket"} {
		_ = os.Remove(filepath.Join(p.dir, lock))
	}
}

// processes lists the live processes that use this phone's folder.
func (p *phone) processes() []int {
	names, _ := filepath.Glob("/proc/[0-9]*/cmdline")
	var out []int
	for _, name := range names {
		line, err := os.ReadFile(name)
		if err != nil || !strings.Contains(string(line), p.dir) {
			continue
		}
		pid, err := strconv.Atoi(filepath.Base(filepath.Dir(name)))
		if err == nil && pid != os.Getpid() {
			out = append(out, pid)
		}
	}
	return out
}

func (p *phone) open(path string) {
	p.t.Helper()
	if _, err := p.page.Goto(p.shop.url + path); err != nil {
		p.t.Fatalf("open %s: %v", path, err)
	}
	p.ready()
}

// ready waits until the app can be pressed.
func (p *phone) ready() {
	p.t.Helper()
	p.wait(`() => performance.getEntriesByName("sc-ready").length > 0`)
	p.calm()
}

// calm waits until no press is under way and the screen has come to rest.
func (p *phone) calm() {
	p.t.Helper()
	p.wait(`() => !("busy" in document.documentElement.dataset) && !("settling" in document.documentElement.dataset)`)
}

// done waits until no press is under way. The new screen may still rest, deaf to taps.
func (p *phone) done() {
	p.t.Helper()
	p.wait(`() => !("busy" in document.documentElement.dataset)`)
}

// wait asks the page until the condition holds. It asks from outside: the page's
// own policy forbids the driver to plant a waiting script.
func (p *phone) wait(condition string) { p.t.Helper(); p.waitFor(condition, patience) }

func (p *phone) waitFor(condition string, patience time.Duration) {
	p.t.Helper()
	var err error
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(25 * time.Millisecond) {
		var got any
		if got, err = p.page.Evaluate(`async () => Boolean(await (` + condition + `)())`); err == nil && got == true {
			return
		}
	}
	p.t.Fatalf("waited in vain for %s: %v\non screen: %s\nconsole: %v", condition, err, p.text("body"), p.console)
}

func (p *phone) text(selector string) string {
	text, err := p.page.Locator(selector).First().InnerText(playwright.LocatorInnerTextOptions{Timeout: playwright.Float(5000)})
	if err != nil {
		return "(" + err.Error() + ")"
	}
	return strings.Join(strings.Fields(text), " ")
}

func (p *phone) has(selector string) bool {
	n, err := p.page.Locator(selector).Count()
	if err != nil {
		p.t.Fatalf("look for %s: %v", selector, err)
	}
	return n > 0
}

func (p *phone) tap(selector string) {
	p.t.Helper()
	p.calm()
	if err := p.page.Locator(selector).First().Tap(); err != nil {
		p.t.Fatalf("tap %s: %v\non screen: %s", selector, err, p.text("body"))
	}
	p.done()
}

func (p *phone) fill(selector, value string) {
	p.t.Helper()
	if err := p.page.Locator(selector).First().Fill(value); err != nil {
		p.t.Fatalf("fill %s: %v\non screen: %s", selector, err, p.text("body"))
	}
}

func (p *phone) eval(script string, arg ...any) any {
	p.t.Helper()
	got, err := p.page.Evaluate(script, arg...)
	if err != nil {
		p.t.Fatalf("evaluate %s: %v", script, err)
	}
	return got
}
