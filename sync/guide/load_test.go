package guide_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/guide/guidetest"
	"strutcard/sync/job"
	"strutcard/sync/method"
	"strutcard/sync/sheet"
	"strutcard/sync/units"
)

var atMost = regexp.MustCompile(`at most \d+ kg`)

// TestRatingAsTheLiftPlan: the gate judges jack and stands as the plan that is
// read before a lift does: the same load, and the same verdict from 1.5 times
// it. Below the load alone the gate is stricter, and says not enough.
func TestRatingAsTheLiftPlan(t *testing.T) {
	type facts struct{ share, wheelbase int64 }
	for demo := range sheet.Demo() {
		for _, known := range []facts{{-1, -1}, {0, -1}, {-1, 0}, {0, 0}} {
			s := sheet.Demo()[demo]
			if known.share == 0 {
				s.Vehicle.FrontShare = 0
			}
			if known.wheelbase == 0 {
				s.Vehicle.WheelbaseUM = 0
			}
			for _, kg := range []int64{150, 650, 1000, 1361, 2000, 3000} {
				for _, axle := range event.Axles {
					t.Run(fmt.Sprint(s.Vehicle.Name, known, kg, axle), func(t *testing.T) { likeThePlan(t, s, axle, kg) })
				}
			}
		}
	}
}

func likeThePlan(t *testing.T, s *sheet.Sheet, axle event.Axle, kg int64) {
	j := guidetest.New(t, s)
	j.Force(&event.ToolListed{Tool: "stands", Have: true, RatingG: kg * 1000}, &event.ToolListed{Tool: "jack", Have: true, RatingG: kg * 1000})
	plan, ok := method.LiftSummary(method.Record{Sheet: s, State: j.Log.State()}, axle)
	if !ok {
		t.Fatal("there is no plan to compare with")
	}
	for i, id := range []event.ToolID{"stands", "jack"} {
		r := j.Guide().Rating(s.Tool(id), axle)
		words := r.Words(units.Metric)
		if got, want := atMost.FindString(words), atMost.FindString(plan[i]); got != want || want == "" {
			t.Errorf("%s: the gate says %q, the plan %q", id, got, want)
		}
		verdict, _, _ := strings.Cut(r.Fit.Words(), ":")
		if !strings.Contains(plan[i], ": "+verdict+".") {
			t.Errorf("%s: the gate judges %q, the plan says %q", id, verdict, plan[i])
		}
		if below := float64(kg) < r.Most.Kilograms(); r.Stop != below {
			t.Errorf("%s marked %d kg for %.0f kg: stop %v, want %v", id, kg, r.Most.Kilograms(), r.Stop, below)
		}
	}
}

// TestNothingCarriesMoreThanTheCar: what is marked for 1.25 times the car's mass
// is never asked about, so no load may ever be more than that.
func TestNothingCarriesMoreThanTheCar(t *testing.T) {
	s := wren()
	st := &job.State{Tools: map[event.ToolID]job.Tool{"stands": {Have: true}, "jack": {Have: true}}}
	planned := 0
	rapid.Check(t, func(r *rapid.T) {
		s.Vehicle.MassG = rapid.Int64Range(350_000, 4_000_000).Draw(r, "mass")
		s.Vehicle.FrontShare = rapid.OneOf(rapid.Just(int64(0)), rapid.Int64Range(400, 650)).Draw(r, "front share")
		s.Vehicle.WheelbaseUM = rapid.OneOf(rapid.Just(int64(0)), rapid.Int64Range(2_000_000, 3_500_000)).Draw(r, "wheelbase")
		for _, id := range []event.ToolID{"stands", "jack"} {
			got := guide.New(s, st).Rating(s.Tool(id))
			if got.Most > 0 {
				planned++
			}
			if most, whole := got.Most.Kilograms(), 1.25*float64(s.Vehicle.MassG)/1000; most > whole {
				r.Fatalf("%s: %.0f kg of a car of %d g", id, most, s.Vehicle.MassG)
			}
		}
	})
	if planned < 100 {
		t.Errorf("only %d loads were worked out: the test checks next to nothing", planned)
	}
}
