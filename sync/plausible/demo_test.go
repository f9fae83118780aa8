package plausible_test

import (
	"testing"

	"strutcard/sync/plausible"
	"strutcard/sync/sheet"
)

// TestDemo: the invented sheets show a whole job, so nothing in them is asked about.
func TestDemo(t *testing.T) {
	for _, s := range sheet.Demo() {
		for _, d := range plausible.Sheet(s) {
			if !d.Unchecked {
				t.Errorf("%s, %s: %s", s.Title, d.Where, d.Text)
			}
		}
	}
}
