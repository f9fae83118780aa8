package method_test

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"strutcard/sync/job"
	"strutcard/sync/method"
	"strutcard/sync/sheet"
)

// TestLiftPlanFill: the sheet and the tool list fill in what they state, and
// nothing that they do not.
func TestLiftPlanFill(t *testing.T) {
	m := method.Find("lift_plan")
	got := m.Fill(liftRecord(0, 1500, 2000))
	want := map[string]string{"weight": "papers", "paper_mass": "1240", "paper_share": "58", "wheelbase": "2520", "drive": "front", "brake": "rear",
		"stand_for": "per_stand", "stand_unit": "kg", "stand_figure": "1500", "jack_unit": "kg", "jack_figure": "2000"}
	for name, text := range want {
		if got[name] != text {
			t.Errorf("%s is filled with %q, want %q", name, got[name], text)
		}
	}
	for name := range got {
		if _, ok := want[name]; !ok {
			t.Errorf("%s is filled with %q, and nobody said so", name, got[name])
		}
	}
	bare := liftRecord(0, 0, 0)
	bare.Sheet.Vehicle = sheet.Vehicle{Name: "a car"}
	for name, text := range m.Fill(bare) {
		if text != "" {
			t.Errorf("without a fact %s is filled with %q", name, text)
		}
	}
	if got := m.Fill(method.Record{}); len(got) != 0 {
		t.Errorf("without a job: got %v", got)
	}
}

// TestLiftPlanJob: with a job a few answers are enough for a verdict, and a tool
// that is only thought to be there gives none.
func TestLiftPlanJob(t *testing.T) {
	m := method.Find("lift_plan")
	typed := map[string]string{"raised": "front_axle", "tape": "5", "surface": "concrete", "slope": "measured", "slope_over": "1000", "slope_run": "level", "slope_mark": "1",
		"along": "level", "across": "level", "sides": "accepted", "front_at": "between", "front_distance": "400", "jack_where": "centre", "jack_front_at": "at_axle", "released": "no", "heavy_part": "no"}
	if out, err := m.Compute(map[string]string{"raised": "front_axle", "tape": "5", "weight": "weighed", "mass_step": "1"}, liftRecord(0, 1500, 2000)); err == nil {
		t.Errorf("the sheet's mass is taken as weighed: %q", out.Figure)
	}
	words := func(r method.Record) string {
		out, err := m.Compute(typed, r)
		if err != nil {
			t.Fatal(err)
		}
		return out.Words
	}
	if got := words(liftRecord(0, 1500, 2000)); !strings.HasPrefix(got, "Enough") {
		t.Errorf("got %q, want enough", got)
	}
	if got := words(liftRecord(0, 0, 2000)); !strings.HasPrefix(got, "Cannot tell") {
		t.Errorf("stands without a rating: got %q", got)
	}
	r := liftRecord(0, 1500, 2000)
	r.State.Tools["stands"] = job.Tool{RatingG: 1_500_000}
	if got := words(r); !strings.HasPrefix(got, "Cannot tell") {
		t.Errorf("stands that are not at hand: got %q", got)
	}
}

// TestLiftPlanLeftOpen: leaving open what a go depends on, or saying that it is
// not known, never gives a go.
func TestLiftPlanLeftOpen(t *testing.T) {
	m := method.Find("lift_plan")
	all := goodPlan(t)
	goes := func(typed map[string]string) bool {
		out, err := m.Compute(typed, method.Record{})
		return err == nil && strings.HasPrefix(out.Words, "Enough")
	}
	if !goes(all) {
		t.Fatal("the example that leaves nothing open is no go")
	}
	// What only narrows limits that the example's equipment meets at their widest.
	narrowing := []string{"wheelbase", "gearbox", "differential", "more", "raise", "wheel_centre", "foot", "stand_height", "gravity", "gravity_within"}
	tried := 0
	for _, f := range m.Fields {
		if !f.Optional || all[f.Name] == "" || slices.Contains(narrowing, f.Name) {
			continue
		}
		for _, answer := range []string{"", "not_known"} {
			typed := maps.Clone(all)
			typed[f.Name] = answer
			if tried++; goes(typed) {
				t.Errorf("%s=%q: still a go", f.Name, answer)
			}
		}
	}
	if tried < 30 {
		t.Errorf("only %d answers were left open", tried)
	}
}

// goodPlan is the first example, which leaves nothing open.
func goodPlan(t *testing.T) map[string]string {
	t.Helper()
	for _, x := range examples(t) {
		if x.Method == "lift_plan" {
			return x.Typed
		}
	}
	t.Fatal("no example")
	return nil
}

// TestLiftPlanOrder: stops come first, then what kills first, then what is not
// known.
func TestLiftPlanOrder(t *testing.T) {
	out, err := method.Find("lift_plan").Compute(map[string]string{"raised": "all_wheels", "tape": "5", "surface": "soft", "released": "yes", "heavy_part": "yes"}, method.Record{})
	if err != nil {
		t.Fatal(err)
	}
	last := -1
	for _, start := range []string{"Stop: The ground", "Stop: Stands sink", "No part of your body", "With all wheels in the air", "Nothing but the chocks", "Taking off a heavy part", "The chocks are checked", "Set the stands at once", "Tell somebody", "Still needed: ", "Counted at its worst"} {
		at := slices.IndexFunc(slices.Concat(out.Stop, out.Warn), func(w string) bool { return strings.HasPrefix(w, start) })
		if at <= last {
			t.Errorf("%q stands at %d, after %d", start, at, last)
		}
		last = at
	}
	if len(out.Stop) != 2 {
		t.Errorf("the stops are %q, want both", out.Stop)
	}
}
