package main

import (
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Every generated template is respelled, and still is Go. A new version of the
// template compiler that writes something else shows here, not as a larger download.
func TestTerse(t *testing.T) {
	names, err := filepath.Glob("../../templates/*_templ.go")
	if err != nil || len(names) < 10 {
		t.Fatalf("found %d generated templates: %v", len(names), err)
	}
	for _, name := range names {
		code, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		short := terse(string(code))
		if _, err := parser.ParseFile(token.NewFileSet(), name, short, 0); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		for _, left := range []string{"templ.Error{", "JoinStringErrs", "templruntime.WriteString", "RenderCSSItems", "ElementScripts"} {
			if strings.Contains(short, left) {
				t.Errorf("%s still says %s", filepath.Base(name), left)
			}
		}
		if len(short)*10 > len(code)*8 {
			t.Errorf("%s is %d bytes of %d, want at least a fifth less", filepath.Base(name), len(short), len(code))
		}
	}
}
