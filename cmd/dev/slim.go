package main

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/build"
	"go/format"
	"go/parser"
	"go/token"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// The template library brings net/http and html/template with it: handlers and
// bridges that a phone never uses, and a third of the program that it has to
// download. The build of the phone's program replaces the library by a copy
// without the declarations that need them; nothing else changes, and the
// server's program keeps the whole. What the phone draws is tested in a browser
// with the program built this way.
const templates = "github.com/a-h/templ"

// slimmable are the libraries that are copied so. That for ids brings hashes that none
// of our ids is made of.
var slimmable = []string{templates, "github.com/google/uuid"}

// heavy are the packages that must not reach the phone.
var heavy = map[string]bool{"net/http": true, "html/template": true, "crypto/md5": true, "crypto/sha1": true}

// flusher stands for http.Flusher, the one use of net/http in a declaration
// that drawing needs.
const flusher = "interface{ Flush() }"

// slimFolder is where the copies are while the phone's program is built. Its name is
// in the program.
const slimFolder = "./.slim"

// slimmed writes into folder a go.mod that replaces each library by its slim copy,
// for -modfile, and returns its name.
func slimmed(folder string) (string, error) {
	list := exec.Command("go", "list", "-deps", "./cmd/phone")
	list.Env = append(os.Environ(), wasm...)
	needed, err := list.Output()
	if err != nil {
		return "", fmt.Errorf("list what the phone needs: %w", err)
	}
	ours, err := os.ReadFile("go.mod")
	if err != nil {
		return "", err
	}
	for _, library := range slimmable {
		slim := filepath.Join(folder, filepath.Base(library))
		if err := slimLibrary(library, slim, strings.Fields(string(needed))); err != nil {
			return "", fmt.Errorf("slim %s: %w", library, err)
		}
		ours = fmt.Appendf(ours, "\nreplace %s => %s/%s\n", library, folder, filepath.Base(library))
	}
	if err := addOurs(filepath.Join(folder, filepath.Base(templates))); err != nil {
		return "", err
	}
	if err := copyFile("go.sum", filepath.Join(folder, "go.sum")); err != nil {
		return "", err
	}
	name := filepath.Join(folder, "go.mod")
	return name, os.WriteFile(name, ours, 0o600)
}

// slimLibrary copies what is needed of a library.
func slimLibrary(library, slim string, needed []string) error {
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", library).Output()
	if err != nil {
		return err
	}
	whole := strings.TrimSpace(string(out))
	for _, pkg := range needed {
		if part, ok := strings.CutPrefix(pkg+"/", library+"/"); ok {
			if err := slimPackage(filepath.Join(whole, part), filepath.Join(slim, part)); err != nil {
				return err
			}
		}
	}
	return copyFile(filepath.Join(whole, "go.mod"), filepath.Join(slim, "go.mod"))
}

// never stands for packages, together a tenth of the program, that the library
// uses where styles and scripts are made from values, to tell what is safe. This
// app makes neither, and here nothing counts as safe.
var never = map[string]string{
	"regexp": `package regexp

type Regexp struct{}

func MustCompile(string) *Regexp { return nil }

func (*Regexp) MatchString(string) bool { return false }
`,
	"net/url": `package url

import "errors"

type URL struct{ Scheme string }

func (*URL) IsAbs() bool { return true }

func Parse(string) (*URL, error) { return nil, errors.New("no address is safe here") }
`,
}

// addOurs adds to the slim copy what stands for something larger.
func addOurs(slim string) error {
	ours := map[string]string{"runtime/drawn.go": drawn}
	for path, code := range never {
		ours["never/"+path+"/never.go"] = code
	}
	for name, code := range ours {
		name = filepath.Join(slim, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(name), 0o700); err != nil {
			return err
		}
		if err := os.WriteFile(name, []byte(code), 0o600); err != nil {
			return err
		}
	}
	return nil
}

func copyFile(from, to string) error {
	data, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	return os.WriteFile(to, data, 0o600)
}

// target is the machine that the copy is for.
var target = build.Context{GOOS: "js", GOARCH: "wasm", Compiler: "gc"}

// slimPackage writes a slim copy of a package without its tests.
func slimPackage(from, to string) error {
	if err := os.MkdirAll(to, 0o700); err != nil {
		return err
	}
	entries, err := os.ReadDir(from)
	if err != nil {
		return err
	}
	set, files := token.NewFileSet(), map[string]*ast.File{}
	for _, e := range entries {
		name := e.Name()
		fits, err := target.MatchFile(from, name)
		if err != nil {
			return err
		}
		if !fits || strings.HasSuffix(name, "_test.go") {
			continue
		}
		if files[name], err = parser.ParseFile(set, filepath.Join(from, name), nil, parser.SkipObjectResolution); err != nil {
			return err
		}
	}
	slimFiles(files)
	for _, f := range files {
		for _, spec := range f.Imports {
			path, _ := strconv.Unquote(spec.Path.Value)
			if _, ok := never[path]; ok {
				spec.Path.Value = strconv.Quote(templates + "/never/" + path)
			}
		}
	}
	for name, f := range files {
		var b bytes.Buffer
		if err := format.Node(&b, set, f); err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(to, name), b.Bytes(), 0o600); err != nil {
			return err
		}
	}
	return nil
}

// slimFiles drops what needs a heavy package, and then what needs what was
// dropped, until nothing is left to drop.
func slimFiles(files map[string]*ast.File) {
	mentioned := map[*ast.File]map[string]bool{}
	for _, f := range files {
		mentioned[f] = mentions(f)
	}
	gone := map[string]bool{}
	for before := -1; len(gone) != before; {
		before = len(gone)
		for _, f := range files {
			names := heavyNames(f)
			var keep []ast.Decl
			for _, d := range f.Decls {
				if !needs(d, names, gone) {
					keep = append(keep, d)
					continue
				}
				for _, name := range declared(d) {
					gone[name] = true
				}
			}
			f.Decls = keep
		}
	}
	for _, f := range files {
		dropImports(f, mentioned[f])
	}
}

// heavyNames are the names under which a file knows heavy packages.
func heavyNames(f *ast.File) map[string]bool {
	out := map[string]bool{}
	for _, spec := range f.Imports {
		if path, _ := strconv.Unquote(spec.Path.Value); heavy[path] {
			out[path[strings.LastIndex(path, "/")+1:]] = true
		}
	}
	return out
}

// needs reports whether a declaration mentions a heavy package or a name that
// is gone. A use of http.Flusher is replaced instead.
func needs(d ast.Decl, names, gone map[string]bool) bool {
	if g, ok := d.(*ast.GenDecl); ok && g.Tok == token.IMPORT {
		return false
	}
	found := false
	ast.Inspect(d, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.TypeAssertExpr:
			if s, ok := n.Type.(*ast.SelectorExpr); ok && isName(s.X, "http") && s.Sel.Name == "Flusher" {
				n.Type = ast.NewIdent(flusher)
			}
		case *ast.SelectorExpr:
			if id, ok := n.X.(*ast.Ident); ok && names[id.Name] {
				found = true
			}
		case *ast.Ident:
			if gone[n.Name] {
				found = true
			}
		}
		return !found
	})
	return found
}

func isName(e ast.Expr, name string) bool {
	id, ok := e.(*ast.Ident)
	return ok && id.Name == name
}

// declared are the names that are gone with a declaration. A method takes none
// with it: what calls it must itself hold the type.
func declared(d ast.Decl) []string {
	var out []string
	switch d := d.(type) {
	case *ast.FuncDecl:
		if d.Recv == nil {
			out = append(out, d.Name.Name)
		}
	case *ast.GenDecl:
		for _, s := range d.Specs {
			switch s := s.(type) {
			case *ast.TypeSpec:
				out = append(out, s.Name.Name)
			case *ast.ValueSpec:
				for _, n := range s.Names {
					out = append(out, n.Name)
				}
			}
		}
	}
	return out
}

// mentions are the names before a dot in a file: those of packages among them.
func mentions(f *ast.File) map[string]bool {
	out := map[string]bool{}
	ast.Inspect(f, func(n ast.Node) bool {
		if s, ok := n.(*ast.SelectorExpr); ok {
			if id, ok := s.X.(*ast.Ident); ok {
				out[id.Name] = true
			}
		}
		return true
	})
	return out
}

// dropImports takes away the imports that were mentioned and no longer are.
func dropImports(f *ast.File, before map[string]bool) {
	now := mentions(f)
	for _, d := range f.Decls {
		g, ok := d.(*ast.GenDecl)
		if !ok || g.Tok != token.IMPORT {
			continue
		}
		g.Specs = slices.DeleteFunc(g.Specs, func(s ast.Spec) bool {
			path, _ := strconv.Unquote(s.(*ast.ImportSpec).Path.Value)
			name := path[strings.LastIndex(path, "/")+1:]
			return before[name] && !now[name]
		})
	}
}
