package fastener_test

import (
	"errors"
	"strings"
	"testing"

	"strutcard/calc/fastener"
	"strutcard/calc/quantity"
)

func FuzzParse(f *testing.F) {
	for _, s := range []string{"M12", "M12x1.25", "m 10 × 1,25", "1/2-13", "7/16-20 UNF", "M12x", "M-12", "M12x1e9", "", "\xff", "M99999999999999999999"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		thread, err := fastener.Parse(s)
		if fastener.Known(s) != (err == nil) {
			t.Errorf("%q: known %v and error %v", s, fastener.Known(s), err)
		}
		if err != nil {
			var input *quantity.InputError
			if !errors.As(err, &input) || input.What == "" || input.Next == "" {
				t.Errorf("%q: error %v is not fit to show", s, err)
			}
			return
		}
		if a := thread.StressArea(); !quantity.Finite(a) || a <= 0 || thread.Diameter() <= 0 || thread.Pitch() <= 0 {
			t.Errorf("%q: got area %v, diameter %v, pitch %v", s, a, thread.Diameter(), thread.Pitch())
		}
	})
}

func FuzzParseClass(f *testing.F) {
	for _, s := range []string{"8.8", "10,9", "12.9", "Gr5", "grade 8", "", "\xff", "8.8.8"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		class, err := fastener.ParseClass(s)
		var input *quantity.InputError
		if err != nil && (!errors.As(err, &input) || input.What == "" || input.Next == "") {
			t.Errorf("%q: error %v is not fit to show", s, err)
		}
		if err == nil && class == fastener.Unstated && strings.TrimSpace(s) != "" {
			t.Errorf("%q: no class and no error", s)
		}
	})
}
