package vector

import "testing"

func TestIntegers(t *testing.T) {
	v := []*Vector{{ID: "A", got: []float64{1.2345678, -2}}, {ID: "B"}}
	if got, want := integers(v), "A 1234568 -2000000\nB\n"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	for _, test := range [][2]string{{"A 1\n", "A 2\n"}, {"A 1\n", "A 1\nB 1\n"}, {"A 1\nB 1\n", "A 1\n"}} {
		if differ(test[0], test[1]) == "" {
			t.Errorf("%q and %q: got no difference", test[0], test[1])
		}
	}
	if got := differ("A 1\n", "A 1\n"); got != "" {
		t.Errorf("got %q for the same, want nothing", got)
	}
}
