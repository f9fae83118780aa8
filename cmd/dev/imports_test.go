package main

import (
	"encoding/json"
	"os"
	"os/exec"
	"strings"
	"testing"
)

// ban forbids packages under one path to import, directly, packages under others.
type ban struct {
	from   string
	not    []string
	except string // a path under from that may
	why    string
}

// bans are the project's import rules. To add one, add its reason.
var bans = []ban{
	{from: "strutcard/calc", not: []string{"time", "net", "os", "syscall", "strutcard/sync", "strutcard/server", "strutcard/pwa", "strutcard/templates"}, except: "strutcard/calc/internal",
		why: "a formula depends on its inputs alone, so that phone and server agree for ever"},
	{from: "strutcard/sync/job", not: []string{"strutcard/calc", "strutcard/sync/sheet", "strutcard/sync/guide", "strutcard/sync/method"},
		why: "the fold keeps facts; mending a formula or a sheet must never rewrite history"},
	{from: "strutcard/sync/event", not: []string{"strutcard/calc", "strutcard/sync/job", "strutcard/sync/sheet", "strutcard/sync/guide", "strutcard/sync/method"},
		why: "the log's format stands below everything that reads it"},
	{from: "strutcard/sync", not: []string{"net/http", "database/sql", "syscall/js", "strutcard/server", "strutcard/pwa", "strutcard/templates", "os"},
		why: "what phone and server must agree on knows neither of them"},
	{from: "strutcard/pwa/client", not: []string{"syscall/js", "net/http", "strutcard/server", "strutcard/pwa/browser", "os"},
		why: "screens and actions are tested on the host; the browser is a port"},
	{from: "strutcard/templates", not: []string{"strutcard/server", "strutcard/pwa", "github.com/labstack/echo/v4", "net/http"},
		why: "one set of templates serves phone and desk"},
	{from: "strutcard/pwa", not: []string{"strutcard/sync/field"},
		why: "figures over many jobs are the shop's: a phone knows its own jobs alone, and its program stays small"},
	{from: "strutcard/templates", not: []string{"strutcard/sync/field"},
		why: "the phone's program links the templates: what is counted reaches them as plain data"},
	{from: "strutcard/server/web", not: []string{"strutcard/server/sqlite", "modernc.org/sqlite", "database/sql"},
		why: "handlers speak to interfaces; another store can come without touching them"},
	{from: "strutcard", not: []string{"modernc.org/sqlite"}, except: "strutcard/server/sqlite",
		why: "one place knows the database driver"},
	{from: "strutcard", not: []string{"github.com/golang-jwt/jwt"}, except: "strutcard/server/auth",
		why: "one place knows how tokens are made and checked"},
	{from: "strutcard", not: []string{"syscall/js"}, except: "strutcard/pwa/browser,strutcard/cmd/phone",
		why: "one thin seam between Go and the browser"},
	{from: "strutcard/server", not: []string{"strutcard/pwa/client", "strutcard/pwa/browser"},
		why: "the server serves the phone's files; it never runs the phone's screens"},
}

func TestImports(t *testing.T) {
	for _, target := range [][2]string{{"", ""}, {"js", "wasm"}} {
		name := "host"
		if target[0] != "" {
			name = "js/wasm"
		}
		t.Run(name, func(t *testing.T) {
			packages := list(t, target[0], target[1])
			if len(packages) < 10 {
				t.Fatalf("only %d packages were listed: the rule would check nothing", len(packages))
			}
			for _, b := range bans {
				b.check(t, packages)
			}
		})
	}
}

func (b ban) check(t *testing.T, packages map[string][]string) {
	for path, imports := range packages {
		if !under(path, b.from) || b.excepted(path) {
			continue
		}
		for _, imported := range imports {
			for _, not := range b.not {
				if under(imported, not) {
					t.Errorf("%s imports %s: %s", path, imported, b.why)
				}
			}
		}
	}
}

func (b ban) excepted(path string) bool {
	for _, except := range strings.Split(b.except, ",") {
		if except != "" && under(path, except) {
			return true
		}
	}
	return false
}

// TestBanBites makes sure that a broken rule would be seen.
func TestBanBites(t *testing.T) {
	if !under("net/http", "net/http") || !under("net/http/httptest", "net/http") || under("net/httpx", "net/http") {
		t.Error("under does not tell a package from its neighbour")
	}
	b := ban{from: "a", not: []string{"x"}, except: "a/free"}
	if b.excepted("a/bound") || !b.excepted("a/free/inner") {
		t.Error("exceptions are not read")
	}
}

func under(path, root string) bool { return path == root || strings.HasPrefix(path, root+"/") }

func list(t *testing.T, goos, goarch string) map[string][]string {
	t.Helper()
	cmd := exec.Command("go", "list", "-e", "-json=ImportPath,Imports", "strutcard/...")
	cmd.Dir = "../.."
	cmd.Env = os.Environ()
	if goos != "" {
		cmd.Env = append(cmd.Env, "GOOS="+goos, "GOARCH="+goarch)
	}
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	packages := map[string][]string{}
	dec := json.NewDecoder(strings.NewReader(string(out)))
	for dec.More() {
		var p struct {
			ImportPath string
			Imports    []string
		}
		if err := dec.Decode(&p); err != nil {
			t.Fatalf("go list output: %v", err)
		}
		packages[p.ImportPath] = p.Imports
	}
	return packages
}
