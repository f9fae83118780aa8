package method

import (
	"slices"
	"strings"
	"testing"
	"unicode"

	"strutcard/calc/lang"
)

// TestTablesInGerman looks for words of the tables that the catalogue lacks.
func TestTablesInGerman(t *testing.T) {
	german, err := lang.Catalogue(lang.German)
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range slices.Concat(torqueMethods, rideMethods, springMethods, tiltMethods, toeMethods, thrustMethods, tyreMethods) {
		texts := []string{m.Title, m.Words}
		for _, f := range m.Fields {
			texts = append(texts, f.Label, f.Hint)
			for _, o := range f.Options {
				texts = append(texts, o.Label)
			}
		}
		for _, text := range texts {
			if german[text] == "" && strings.ContainsFunc(text, unicode.IsLetter) {
				t.Errorf("%s: no German for %q", m.ID, text)
			}
		}
	}
}
