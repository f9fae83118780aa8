package e2e

import (
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
	dir := t.TempDir()
	binary := filepath.Join(dir, "idb.wasm")
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
	defer srv.Close()

	p := &phone{t: t, dir: t.TempDir(), shop: &shopServer{t: t, url: srv.URL}}
	p.launch()
	t.Cleanup(p.close)
	if _, err := p.page.Goto(srv.URL + "/"); err != nil {
		t.Fatal(err)
	}
	p.waitFor(`() => globalThis.__done !== undefined`, 2*time.Minute)
	out, _ := p.eval(`() => String(globalThis.__out)`).(string)
	if code := p.eval(`() => globalThis.__done`); code != 0 && code != float64(0) {
		t.Fatalf("the suite failed in the browser with %v:\n%s", code, out)
	}
	if got := strings.Count(out, "--- PASS"); got < 15 {
		t.Errorf("only %d parts of the suite were seen to pass:\n%s", got, out)
	}
}
