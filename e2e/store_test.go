package e2e

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// TestStoreInBrowser runs the store's conformance suite over the browser's own
// database: the test program is built for the browser and runs in a page.
func TestStoreInBrowser(t *testing.T) {
	t.Parallel()
	url := serveSuite(t)
	t.Run("Chromium", func(t *testing.T) {
		p := newPhone(t, &shopServer{t: t, url: url})
		if _, err := p.page.Goto(url + "/"); err != nil {
			t.Fatal(err)
		}
		suitePasses(t, p)
	})
	t.Run("Firefox", func(t *testing.T) {
		b := newBrowser(t, firefox, url)
		b.do(navigate, params{URL: url + "/"})
		suitePasses(t, b)
	})
	t.Run("WebKit", func(t *testing.T) {
		b := newBrowser(t, webKit, url)
		b.do(navigate, params{URL: url + "/"})
		suitePasses(t, b)
	})
}

// serveSuite serves a page that runs the suite, and returns its address.
func serveSuite(t *testing.T) string {
	t.Helper()
	binary := filepath.Join(t.TempDir(), "idb.wasm")
	build := exec.Command("go", "test", "-c", "-o", binary, "strutcard/pwa/browser")
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("build the suite: %v\n%s", err, out)
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		t.Fatal(err)
	}
	files := map[string]string{"/": "testdata/idb.html", "/idb.js": "testdata/idb.js", "/browser.test.wasm": binary,
		"/wasm_exec.js": filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "wasm_exec.js")}
	srv := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		name, ok := files[r.URL.Path]
		if !ok {
			name = filepath.Join("..", "pwa", "static", filepath.Base(r.URL.Path))
		}
		http.ServeFile(w, r, name)
	}))
	t.Cleanup(srv.Close)
	return srv.URL
}

func suitePasses(t *testing.T, h hands) {
	t.Helper()
	h.waitFor(`() => globalThis.__done !== undefined`, 2*time.Minute)
	out := fmt.Sprint(h.eval(`() => String(globalThis.__out)`))
	if code := fmt.Sprint(h.eval(`() => globalThis.__done`)); code != "0" {
		t.Fatalf("the suite failed in the browser with %v:\n%s", code, out)
	}
	if got := strings.Count(out, "--- PASS"); got < 15 {
		t.Errorf("only %d parts of the suite were seen to pass:\n%s", got, out)
	}
}
