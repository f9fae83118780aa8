package main

import (
	"testing"

	"github.com/evanw/esbuild/pkg/api"
)

func TestMinified(t *testing.T) {
	for _, test := range []struct{ name, text, want string }{
		{"a.js", "// of the file\nexport function twice(number) {\n  return number * 2; // behind code\n}\n", "export function twice(t){return t*2}\n"},
		{"a.js", "/*! kept elsewhere */ const words = \"// „Öffnen…“\"; use(words);\n", "const words=\"// „Öffnen…“\";use(words);\n"},
		{"a.css", "/* of the file */\nbody { margin: 0; } /* behind */\n", "body{margin:0}\n"},
	} {
		got, err := minified(test.name, []byte(test.text))
		if err != nil || string(got) != test.want {
			t.Errorf("%s: %q, %v; want %q", test.name, got, err, test.want)
		}
	}
}

func TestErrMinified(t *testing.T) {
	if got, err := minified("a.js", []byte("const a = ;\n")); err == nil {
		t.Errorf("a script that no engine would run was built: %q", got)
	}
}

// TestEnclosed: a script that was cut short, or that came twice, does not run.
func TestEnclosed(t *testing.T) {
	script := string(enclosed([]byte("\"use strict\";const a=1;self.a=a;function b(){return a}\n")))
	runs := func(text string) bool {
		return len(api.Transform(text, api.TransformOptions{}).Errors) == 0
	}
	if !runs(script) {
		t.Fatalf("the whole does not run: %s", script)
	}
	for n := 1; n < len(script)-len("let whole;\n"); n++ {
		if runs(script[:n]) {
			t.Errorf("what runs is %q", script[:n])
		}
	}
	if runs(script + script) {
		t.Error("it runs twice")
	}
}
