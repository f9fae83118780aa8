package method

import (
	"slices"
	"testing"

	"strutcard/calc/lang"
)

// Every word of a form is in the catalogue: also those that no scan of the source
// takes for prose, such as the options.
func TestGermanForms(t *testing.T) {
	german, err := lang.Catalogue(lang.German)
	if err != nil {
		t.Fatal(err)
	}
	said := func(where, text string) {
		if _, ok := german[text]; !ok && text != "" && text != "mm" && text != "kg" && text != "lb" && (text < "2" || text > "4") {
			t.Errorf("%s: no German for %q", where, text)
		}
	}
	for _, g := range Groups {
		said("groups", string(g))
	}
	for _, m := range slices.Concat(liftMethods, floorMethods, camberMethods, casterMethods, adjustMethods) {
		said(m.ID, m.Title)
		said(m.ID, m.Words)
		for _, f := range m.Fields {
			said(m.ID+" "+f.Name, f.Label)
			said(m.ID+" "+f.Name, f.Hint)
			for _, o := range f.Options {
				said(m.ID+" "+f.Name, o.Label)
			}
		}
	}
}
