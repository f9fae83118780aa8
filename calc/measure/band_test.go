package measure_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

type (
	angle = quantity.Angle
	value = measure.Value[angle]
	band  = measure.Band[angle]
)

// mdeg keeps the cases readable: a value with its expanded uncertainty.
func mdeg(v, expanded int64) value {
	return value{Value: quantity.AngleFromMdeg(v), Standard: quantity.AngleFromMdeg(expanded) / measure.Coverage}
}

func target(t, below, above int64) band {
	return band{Target: quantity.AngleFromMdeg(t), Minus: quantity.AngleFromMdeg(below), Plus: quantity.AngleFromMdeg(above)}
}

func TestJudge(t *testing.T) {
	nan := angle(math.NaN())
	tests := []struct {
		name string
		v    value
		b    band
		want measure.Verdict
	}{
		{"in the middle", mdeg(-1500, 100), target(-1500, 250, 250), measure.Met},
		{"reaches the upper limit", mdeg(-1350, 100), target(-1500, 250, 250), measure.Met},
		{"reaches the lower limit", mdeg(-1650, 100), target(-1500, 250, 250), measure.Met},
		{"over the upper limit with its end", mdeg(-1349, 100), target(-1500, 250, 250), measure.TooClose},
		{"under the lower limit with its end", mdeg(-1651, 100), target(-1500, 250, 250), measure.TooClose},
		{"outside, end inside", mdeg(-1200, 100), target(-1500, 250, 250), measure.TooClose},
		{"outside, end on the limit", mdeg(-1150, 100), target(-1500, 250, 250), measure.TooClose},
		{"outside, end on the lower limit", mdeg(-1850, 100), target(-1500, 250, 250), measure.TooClose},
		{"outside altogether, above", mdeg(-1149, 100), target(-1500, 250, 250), measure.NotMet},
		{"outside altogether, below", mdeg(-1851, 100), target(-1500, 250, 250), measure.NotMet},
		{"wider than the band", mdeg(-1500, 300), target(-1500, 250, 250), measure.TooClose},
		{"one-sided band, inside", mdeg(-1700, 100), target(-1500, 500, 0), measure.Met},
		{"one-sided band, outside", mdeg(-1300, 100), target(-1500, 500, 0), measure.NotMet},
		{"one-sided band, at the target", mdeg(-1500, 100), target(-1500, 500, 0), measure.TooClose},
		{"exact, inside", mdeg(-1500, 0), target(-1500, 250, 250), measure.Met},
		{"exact, on the limit", mdeg(-1250, 0), target(-1500, 250, 250), measure.Met},
		{"exact, outside", mdeg(-1249, 0), target(-1500, 250, 250), measure.NotMet},
		{"uncertainty below zero", mdeg(-1500, -100), target(-1500, 250, 250), measure.TooClose},
		{"not a number", value{Value: nan, Standard: 1}, target(-1500, 250, 250), measure.TooClose},
		{"uncertainty not a number", value{Value: 0, Standard: nan}, target(0, 250, 250), measure.TooClose},
		{"tolerance below zero", mdeg(0, 100), target(0, -250, 250), measure.TooClose},
		{"tolerance not a number", mdeg(0, 100), band{Plus: nan}, measure.TooClose},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if got := test.b.Judge(test.v); got != test.want {
				t.Errorf("got %s, want %s", got, test.want)
			}
		})
	}
}

func TestBandCheck(t *testing.T) {
	if err := target(-1500, 250, 0).Check(); err != nil {
		t.Errorf("got %v, want none", err)
	}
	inf := angle(math.Inf(1))
	for name, b := range map[string]band{"Minus": {Minus: -1}, "Plus": {Plus: -1}, "Target": {Target: inf}, "InfMinus": {Minus: inf}, "InfPlus": {Plus: inf}} {
		t.Run("Err"+name, func(t *testing.T) { checkRefused(t, 0, b.Check()) })
	}
}

func TestWords(t *testing.T) {
	for v, want := range map[measure.Verdict]string{measure.Met: "met", measure.NotMet: "not met", measure.TooClose: "too close to tell", "": ""} {
		if got := v.Words(); got != want {
			t.Errorf("%q: got %q, want %q", v, got, want)
		}
	}
}

// A verdict other than too close never turns into its opposite, and is never
// lost, when the reading gets better.
func TestJudgeHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Int64Range(-5000, 5000).Draw(t, "value")
		u := rapid.Int64Range(1, 2000).Draw(t, "uncertainty")
		better := rapid.Int64Range(1, u).Draw(t, "better uncertainty")
		b := target(rapid.Int64Range(-5000, 5000).Draw(t, "target"), rapid.Int64Range(0, 2000).Draw(t, "minus"), rapid.Int64Range(0, 2000).Draw(t, "plus"))
		first, then := b.Judge(mdeg(v, u)), b.Judge(mdeg(v, better))
		if first != measure.TooClose && then != first {
			t.Errorf("got %s with a better reading, want %s as before", then, first)
		}
		mirrored := band{Target: -b.Target, Minus: b.Plus, Plus: b.Minus}
		if got := mirrored.Judge(mdeg(-v, u)); got != first {
			t.Errorf("got %s mirrored, want %s", got, first)
		}
	})
}

func TestCombine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := angle(rapid.Float64Range(0, 10).Draw(t, "a"))
		b := angle(rapid.Float64Range(0, 10).Draw(t, "b"))
		got := measure.Combine(a, b)
		if got != measure.Combine(b, a) || got < max(a, b) || got > a+b+1e-12 {
			t.Errorf("got %v, want it the same in any order, from the larger to the sum", got)
		}
	})
}
