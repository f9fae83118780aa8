package lang_test

import (
	"strings"
	"testing"

	"strutcard/calc/lang"
)

// TestFilled: a text with a placeholder is known as each sheet has it.
func TestFilled(t *testing.T) {
	texts, err := lang.Catalogue(lang.German)
	if err != nil {
		t.Fatal(err)
	}
	for text, want := range map[string]string{
		"Free the strut, front left":   "Federbein freimachen, vorn links",
		"Free the strut, rear right":   "Federbein freimachen, hinten rechts",
		"Raise the rear":               "Hinterachse anheben",
		"Tighten the front wheel nuts": "Radmuttern der Vorderachse festziehen",
	} {
		if got := texts[text]; got != want {
			t.Errorf("%q is %q, want %q", text, got, want)
		}
	}
	for text, other := range texts {
		if strings.Contains(text+other, "{corner") || strings.Contains(text+other, "{axle") {
			t.Errorf("%q holds a placeholder: %q", text, other)
		}
	}
}
