package main

import (
	"go/ast"
	"go/format"
	"go/parser"
	"go/token"
	"os"
	"os/exec"
	"strings"
	"testing"
)

// What needs net/http goes, what needs that goes too, and drawing stays.
func TestSlimFiles(t *testing.T) {
	source := `package p
import ("net/http"; "io"; "strings")
type Handler struct{ Next http.Handler }
type Styles struct{ Names []string }
func NewHandler() Handler { return Handler{} }
func (s Styles) ServeHTTP(w http.ResponseWriter, r *http.Request) {}
func Flush(w io.Writer) { if f, ok := w.(http.Flusher); ok { f.Flush() } }
func Draw(w io.Writer, s Styles) { strings.NewReader("").WriteTo(w) }
`
	f, err := parser.ParseFile(token.NewFileSet(), "", source, parser.SkipObjectResolution)
	if err != nil {
		t.Fatal(err)
	}
	slimFiles(map[string]*ast.File{"p.go": f})
	var names []string
	for _, d := range f.Decls {
		names = append(names, declared(d)...)
	}
	if got, want := strings.Join(names, " "), "Styles Flush Draw"; got != want {
		t.Errorf("kept %q, want %q", got, want)
	}
	var text strings.Builder
	if err := format.Node(&text, token.NewFileSet(), f); err != nil || strings.Contains(text.String(), "net/http") || !strings.Contains(text.String(), `"strings"`) {
		t.Errorf("want the heavy import gone and the others there (%v):\n%s", err, text.String())
	}
}

// The program that is built for the phone holds none of the heavy packages.
func TestPhoneIsSlim(t *testing.T) {
	if err := os.Chdir("../.."); err != nil {
		t.Fatal(err)
	}
	defer os.Chdir("cmd/dev")
	folder := t.TempDir()
	modfile, err := slimmed(folder)
	if err != nil {
		t.Fatal(err)
	}
	overlay, err := overlaid(folder)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("go", "list", "-modfile", modfile, "-overlay", overlay, "-deps", "./cmd/phone")
	cmd.Env = append(os.Environ(), wasm...)
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	packages := strings.Fields(string(out))
	if len(packages) < 50 {
		t.Fatalf("only %d packages are listed", len(packages))
	}
	for _, p := range packages {
		if _, stub := never[p]; stub || heavy[p] || p == "net" || p == "crypto/tls" || p == "crypto/cipher" || p == "crypto/internal/fips140/aes" {
			t.Errorf("the phone's program holds %s", p)
		}
	}
}
