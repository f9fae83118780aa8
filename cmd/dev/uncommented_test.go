package main

import "testing"

func TestUncommented(t *testing.T) {
	for _, test := range []struct{ name, text, want string }{
		{"a.js", "// of the file\n/**\n * of the function\n */\nexport const a = \"// not one\"; // behind code\n\n  // inside\n/* one line */\nb();\n",
			"export const a = \"// not one\"; // behind code\nb();\n"},
		{"a.css", "/* of the file */\nbody { margin: 0; } /* behind */\n", "body { margin: 0; } /* behind */\n"},
		{"a.html", "// text\n", "// text\n"},
	} {
		if got := string(uncommented(test.name, []byte(test.text))); got != test.want {
			t.Errorf("%s: %q, want %q", test.name, got, test.want)
		}
	}
}
