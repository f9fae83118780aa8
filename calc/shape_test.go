package calc_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"strconv"
	"strings"
	"testing"
)

// A formula that takes or gives a bare float64 lets degrees pass for radians
// and inches for millimetres. Only quantity, where units are turned into named
// types, may have one in an exported signature.
func TestNoBareFloat(t *testing.T) {
	checked := 0
	eachFile(t, func(name string, file *ast.File) {
		if dir := path.Dir(name); dir == "quantity" || strings.HasPrefix(dir, "internal/") {
			return
		}
		checked++
		for _, use := range bareFloats(file) {
			t.Errorf("%s: %s has a bare float in its exported shape, want a type of calc/quantity", name, use)
		}
	})
	if checked == 0 {
		t.Error("got no file to check")
	}
}

// The formulas run on the phone and the server alike, and give the same for the
// same input: nothing but arithmetic and text. Only the words depend on the reader's
// language (lang).
func TestImports(t *testing.T) {
	allowed := map[string]bool{"fmt": true, "math": true, "strconv": true, "strings": true, "unicode": true, "unicode/utf8": true,
		"strutcard/calc/quantity": true, "strutcard/calc/measure": true, "strutcard/calc/lang": true}
	eachFile(t, func(name string, file *ast.File) {
		if strings.HasPrefix(name, "internal/") || strings.HasPrefix(name, "lang/") { // tests only; words only
			return
		}
		for _, spec := range file.Imports {
			imported, _ := strconv.Unquote(spec.Path.Value)
			if !allowed[imported] || strings.HasPrefix(name, "quantity/") && strings.HasPrefix(imported, "strutcard/") && imported != "strutcard/calc/lang" {
				t.Errorf("%s imports %s: formulas have no clock, no file, no network and no neighbour", name, imported)
			}
		}
	})
}

// Each package says once what it is for.
func TestPackageComment(t *testing.T) {
	docs := map[string]int{}
	eachFile(t, func(name string, file *ast.File) {
		docs[path.Dir(name)] += 0
		if file.Doc != nil {
			docs[path.Dir(name)]++
		}
	})
	for dir, n := range docs {
		if n != 1 {
			t.Errorf("%s: got %d package comments, want 1", dir, n)
		}
	}
}

func eachFile(t *testing.T, do func(name string, file *ast.File)) {
	t.Helper()
	tree := os.DirFS(".")
	err := fs.WalkDir(tree, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return err
		}
		source, err := fs.ReadFile(tree, name)
		if err != nil {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, source, parser.ParseComments)
		if err == nil {
			do(name, file)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// bareFloats names the exported declarations of a file that mention float64 or
// float32 where a caller meets them: parameters, results, fields, variables and
// type parameters. The type under a named type is not met.
func bareFloats(file *ast.File) []string {
	var found []string
	for _, decl := range file.Decls {
		switch d := decl.(type) {
		case *ast.FuncDecl:
			if d.Name.IsExported() && mentionsFloat(d.Type) {
				found = append(found, d.Name.Name)
			}
		case *ast.GenDecl:
			for _, spec := range d.Specs {
				found = append(found, bareSpec(spec)...)
			}
		}
	}
	return found
}

func bareSpec(spec ast.Spec) []string {
	var found []string
	switch s := spec.(type) {
	case *ast.TypeSpec:
		_, named := s.Type.(*ast.Ident)
		if s.Name.IsExported() && (mentionsFloat(s.TypeParams) || (!named || s.Assign.IsValid()) && mentionsFloat(exportedPart(s.Type))) {
			found = append(found, s.Name.Name)
		}
	case *ast.ValueSpec:
		for _, name := range s.Names {
			if name.IsExported() && s.Type != nil && mentionsFloat(s.Type) {
				found = append(found, name.Name)
			}
		}
	}
	return found
}

// exportedPart leaves the fields that a caller cannot name out of a struct.
func exportedPart(e ast.Expr) ast.Node {
	s, ok := e.(*ast.StructType)
	if !ok {
		return e
	}
	out := &ast.FieldList{}
	for _, f := range s.Fields.List {
		shown := len(f.Names) == 0
		for _, name := range f.Names {
			shown = shown || name.IsExported()
		}
		if shown {
			out.List = append(out.List, f)
		}
	}
	return out
}

func mentionsFloat(n ast.Node) bool {
	found := false
	if list, ok := n.(*ast.FieldList); ok && list == nil {
		return false
	}
	ast.Inspect(n, func(n ast.Node) bool {
		if id, ok := n.(*ast.Ident); ok && (id.Name == "float64" || id.Name == "float32") {
			found = true
		}
		return true
	})
	return found
}

// The guard is seen failing on each shape it is there for.
func TestNoBareFloatGuard(t *testing.T) {
	tests := map[string]bool{
		"func F(x float64) {}":                   true,
		"func F() (n int, x float64) { return }": true,
		"func F(x []float64) {}":                 true,
		"func F(f func(float64)) {}":             true,
		"func F[Q ~float64](q Q) {}":             true,
		"func (t T) F(x float32) {}":             true,
		"type T struct{ X float64 }":             true,
		"type T struct{ X map[string]float64 }":  true,
		"type T interface{ ~float64 }":           true,
		"type T[Q ~float64] struct{ X Q }":       true,
		"type T = float64":                       true,
		"type T []float64":                       true,
		"var X float64":                          true,
		"const X float64 = 1":                    true,
		"func f(x float64) {}":                   false,
		"type T float64":                         false,
		"type T struct{ x float64 }":             false,
		"func F(q Q) { _ = float64(1) }":         false,
		"var x float64":                          false,
	}
	for source, want := range tests {
		t.Run(source, func(t *testing.T) {
			file, err := parser.ParseFile(token.NewFileSet(), "", "package p\n"+source, 0)
			if err != nil {
				t.Fatal(err)
			}
			if got := len(bareFloats(file)) > 0; got != want {
				t.Errorf("got found %t, want %t", got, want)
			}
		})
	}
}
