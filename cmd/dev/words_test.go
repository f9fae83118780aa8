package main

import (
	"slices"
	"testing"

	"strutcard/calc/lang"
)

// TestWords: every text of the app is in the catalogue, with the same slots.
func TestWords(t *testing.T) {
	all, err := texts("../..")
	if err != nil {
		t.Fatal(err)
	}
	if len(all) < 5000 {
		t.Fatalf("only %d texts were found: the rule would check little", len(all))
	}
	german, err := lang.Catalogue(lang.German)
	if err != nil {
		t.Fatal(err)
	}
	for text, at := range all {
		other, ok := german[text]
		if !ok {
			t.Errorf("%s says %q, and the catalogue lacks it", at, text)
			continue
		}
		if got, want := kindsOf(other), kindsOf(text); !slices.Equal(got, want) {
			t.Errorf("%q has the slots %v, its German %q has %v", text, want, other, got)
		}
	}
}

// kindsOf are the verbs of a format, without their numbers and in order of the alphabet.
func kindsOf(format string) (kinds []string) {
	for _, slot := range slots.FindAllString(format, -1) {
		kinds = append(kinds, slot[len(slot)-1:])
	}
	slices.Sort(kinds)
	return kinds
}
