package sheet_test

import (
	"testing"

	"strutcard/sync/sheet"
)

// TestExamples: the list names what is built.
func TestExamples(t *testing.T) {
	for _, e := range append(sheet.Examples, sheet.Minute) {
		s := e.Sheet()
		if e.Hash != s.Hash() || e.Title != s.Title || e.Version != s.Version || !s.Invented {
			t.Errorf("the list says %s, %q, %q; built is %s, %q, %q, invented %t", e.Hash, e.Title, e.Version, s.Hash(), s.Title, s.Version, s.Invented)
		}
	}
}
