package guide_test

import (
	"math"
	"strings"
	"testing"

	"strutcard/calc/lift"
	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/guide/guidetest"
	"strutcard/sync/sheet"
	"strutcard/sync/units"
)

func rated(t *testing.T, s *sheet.Sheet, p *event.ToolListed) (guide.Rating, guide.Guide) {
	t.Helper()
	j := guidetest.New(t, s)
	p.Have = true
	j.Force(p)
	return j.Guide().Rating(s.Tool(p.Tool)), j.Guide()
}

// TestRating: too weak is a stop that keeps the axle down; what is not recorded
// cannot be told. The most on one stand of two lies between an eighth of the car
// (half of a quarter) and the whole of it (arithmetic).
func TestRating(t *testing.T) {
	mass := float64(wren().Vehicle.MassG) / 1000
	if mass == 0 {
		t.Fatal("the demo states no mass: the test would check nothing")
	}
	r, _ := rated(t, wren(), &event.ToolListed{Tool: "stands", RatingG: 3_000_000})
	if most := r.Most.Kilograms(); most < mass/8 || most > mass {
		t.Errorf("one stand may carry %.0f kg of a car of %.0f kg", most, mass)
	}
	most := int64(math.Ceil(r.Most.Kilograms()))
	tests := map[string]struct {
		grams int64
		fit   lift.Fit
		stop  bool
	}{
		"strong":             {3_000_000, lift.Enough, false},
		"not recorded":       {0, lift.NotTelling, false},
		"much too weak":      {100_000, lift.NotEnough, true},
		"less than the load": {(most - 2) * 1000, "", true},
		"a toy":              {1000, "", true},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			got, g := rated(t, wren(), &event.ToolListed{Tool: "stands", RatingG: test.grams})
			if got.Stop != test.stop || test.fit != "" && got.Fit != test.fit {
				t.Errorf("rating %+v, want fit %q, stop %v", got, test.fit, test.stop)
			}
			words := got.Words(units.Metric)
			if test.stop != strings.HasSuffix(words, lift.NotEnough.Words()) {
				t.Errorf("words %q, stop %v", words, test.stop)
			}
			var asked, lifts bool
			for _, ask := range g.Todo(g.Sheet.Step("tools")) {
				asked = asked || ask.Tool == "stands" && strings.Contains(ask.Text, "stronger equipment")
			}
			_, blockers := g.Status(g.Sheet.Step("raise_step_front"))
			for _, b := range blockers {
				lifts = lifts || strings.HasPrefix(b.Text, "Do not raise the car.")
			}
			if asked != test.stop || lifts != test.stop {
				t.Errorf("the tools step asks again: %v, the lift is blocked by it: %v; want %v", asked, lifts, test.stop)
			}
		})
	}
}

// TestRatingWithoutMass: with no mass in the sheet only what no car can stand on
// is a stop, and the words say so.
func TestRatingWithoutMass(t *testing.T) {
	s := wren()
	s.Vehicle.MassG = 0
	for grams, stop := range map[int64]bool{499_000: true, 500_000: false, 2_000_000: false} {
		got, _ := rated(t, s, &event.ToolListed{Tool: "jack", RatingG: grams})
		if got.Stop != stop || got.Most != 0 {
			t.Errorf("marked %d g: %+v, want stop %v and no load", grams, got, stop)
		}
		if words := got.Words(units.Metric); !stop && !strings.Contains(words, "does not state the mass") {
			t.Errorf("words %q", words)
		}
	}
}

// TestRatingPair: half of what is marked for the pair counts.
func TestRatingPair(t *testing.T) {
	got, _ := rated(t, wren(), &event.ToolListed{Tool: "stands", RatingG: 1_000_000, Pair: true})
	if words := got.Words(units.Metric); !strings.Contains(words, "marked 1000 kg each, half of what is marked for the pair") {
		t.Errorf("words %q", words)
	}
}
