package guide_test

import (
	"slices"
	"strings"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/guide"
	"strutcard/sync/guide/guidetest"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
)

// wren is the first demo sheet: struts in front, spring and damper apart behind.
func wren() *sheet.Sheet { return sheet.Demo()[0] }

// at opens a job by that sheet and works up to a step.
func at(t testing.TB, s *sheet.Sheet, step event.StepID) *guidetest.Job {
	t.Helper()
	j := guidetest.New(t, s)
	j.Until(step)
	return j
}

// blocked wants a refusal that says all the given texts, with a way on.
func blocked(t *testing.T, err error, want ...string) {
	t.Helper()
	if !fault.Is(err, fault.Blocked) {
		t.Errorf("got %v, want a refusal that says %q", err, want)
		return
	}
	for _, text := range want {
		if !strings.Contains(err.Error(), text) {
			t.Errorf("refusal %q does not say %q", err, text)
		}
	}
	if fault.Of(err).Hint == "" {
		t.Errorf("refusal %q has no way on", err)
	}
}

// own is a sheet without a shop: it knows no torque at all.
func own(t testing.TB) *sheet.Sheet {
	t.Helper()
	s, err := sheet.Build(sheet.Start{Title: "own", Version: "1", Own: true, Vehicle: sheet.Vehicle{Name: "a car"}, Front: "double_wishbone", Rear: "rear_separate"})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// everyLayout builds each layout at each axle that it names, beside another one.
func everyLayout(t testing.TB) []*sheet.Sheet {
	t.Helper()
	var out []*sheet.Sheet
	for _, p := range sheet.Patterns() {
		for _, axle := range p.Axles {
			start := sheet.Start{Title: string(p.ID) + " " + string(axle), Version: "1", Own: true, Vehicle: sheet.Vehicle{Name: "a car"}, Front: "front_strut", Rear: "rear_separate"}
			if axle == event.Front {
				start.Front = p.ID
			} else {
				start.Rear = p.ID
			}
			s, err := sheet.Build(start)
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, s)
		}
	}
	return out
}

func TestWalk(t *testing.T) {
	for _, s := range append(append(sheet.Demo(), own(t)), everyLayout(t)...) {
		t.Run(s.Title, func(t *testing.T) {
			events := guidetest.Walk(t, s)
			st := job.Fold(events[0].Job, events)
			g := guide.New(s, st)
			if st.Finished == nil || st.Up() || len(g.NotFinal()) != 0 || len(g.FinishBlockers()) != 0 || g.Next() != nil {
				t.Errorf("Finished %v, Up %v, NotFinal %v, Next %v", st.Finished, st.Up(), g.NotFinal(), g.Next())
			}
			for i := range s.Fasteners {
				f := &s.Fasteners[i]
				inTally := slices.ContainsFunc(g.Tally(), func(item guide.Item) bool { return item.Fastener == f })
				if inTally == standing(s, f.ID) || g.LeftAlone(f) == inTally {
					t.Errorf("%s: in the tally %v, left alone %v", f.ID, inTally, g.LeftAlone(f))
				}
			}
			for _, item := range g.Tally() {
				if item.Phase != guide.Marked {
					t.Errorf("%s ends %s", item.Fastener.ID, item.Phase)
				}
			}
			if done, skipped, all := g.Progress(); done != all || skipped != 0 || all != len(s.Steps())-1 {
				t.Errorf("Progress = %d of %d, want all %d before the re-check", done, all, len(s.Steps())-1)
			}
			if gaps := event.Gaps(events); len(gaps) != 0 || len(st.Lifts) != 2 {
				t.Errorf("gaps %v, %d lifts, want none and 2", gaps, len(st.Lifts))
			}
		})
	}
}

func TestStatus(t *testing.T) {
	tests := []struct {
		name string
		at   event.StepID
		of   event.StepID
		want guide.Status
		says string // the first blocker
	}{
		{"first step", "box", "box", guide.Open, ""},
		{"what follows names it", "box", "tools", guide.Blocked, "First: Count the box."},
		{"the far end, at the start", "box", "recheck", guide.Blocked, "First: First drive."}, // hangs when the chain of needs is walked twice
		{"behind", "tools", "box", guide.Done, ""},
		{"needs the axle up", "raise_step_front", "free_FL", guide.Blocked, "First: Raise the front onto stands."},
		{"the other axle's turn", "wheels_front", "crack_rear", guide.Blocked, "First: Tighten the front wheel nuts."},
		{"lift again is open to see", "settle", "raise_step_rear", guide.Done, ""},
		{"not settled", "settle", "heights_set", guide.Blocked, "First: Settle the car."},
		{"held", "look_over", "nuts_round", guide.Blocked, "First: Second pair of eyes."},
		{"after the end", "first_drive", "recheck", guide.Blocked, "First: First drive."},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			j := at(t, wren(), test.at)
			got, why := j.Guide().Status(j.Sheet.Step(test.of))
			if got != test.want {
				t.Errorf("%s is %s, want %s (%v)", test.of, got, test.want, why)
			}
			if (len(why) > 0) != (test.want == guide.Blocked) {
				t.Errorf("%s with blockers %v", got, why)
			}
			if test.says != "" && (len(why) == 0 || why[0].Text != test.says || why[0].Step == "") {
				t.Errorf("blockers = %v, want first %q and its step", why, test.says)
			}
		})
	}
}

func TestHold(t *testing.T) {
	j := at(t, wren(), "look_over")
	blocked(t, j.Try(&event.HoldReleased{Step: "look_over", By: "mentor", Reason: "early"}), "Nothing waits")
	j.Do(&event.StepDone{Step: "look_over"})
	step := j.Sheet.Step("look_over")
	if got, _ := j.Guide().Status(step); got != guide.Waiting {
		t.Errorf("a hold point that is done is %s, want %s", got, guide.Waiting)
	}
	if _, why := j.Guide().Status(j.Sheet.Step("nuts_round")); len(why) == 0 || !strings.Contains(why[0].Text, "Held") {
		t.Errorf("what waits for it says %v", why)
	}
	blocked(t, j.Try(j.Pass("wheel_nuts_FL", "round")), "Second pair of eyes")
	j.Do(&event.HoldAsked{Step: "look_over"}, &event.HoldReleased{Step: "look_over", By: "mentor", Reason: "seen"})
	if got, _ := j.Guide().Status(step); got != guide.Done {
		t.Errorf("released, it is %s, want %s", got, guide.Done)
	}
	j.Do(j.Pass("wheel_nuts_FL", "round"))
	j.Do(&event.StepDone{Step: "look_over"}) // done again: looked at again
	if got, _ := j.Guide().Status(step); got != guide.Waiting {
		t.Errorf("done again after the release, it is %s, want %s", got, guide.Waiting)
	}
}

func TestNext(t *testing.T) {
	j := at(t, wren(), "specs")
	j.Do(&event.StepStarted{Step: "camber_before"})
	if got := j.Guide().Next().ID; got != "camber_before" {
		t.Errorf("Next = %s, want the step the installer went to", got)
	}
	j.Do(&event.StepSkipped{Step: "camber_before", Reason: "no level"})
	if got := j.Guide().Next().ID; got != "specs" {
		t.Errorf("Next = %s, want the first that is not behind", got)
	}
	if done, skipped, _ := j.Guide().Progress(); done != 2 || skipped != 1 {
		t.Errorf("Progress = %d done, %d skipped; want box and tools done, and one skipped", done, skipped)
	}
}

func BenchmarkFinishBlockers(b *testing.B) {
	j := at(b, wren(), "settle")
	for b.Loop() {
		if len(j.Guide().FinishBlockers()) == 0 {
			b.Fatal("a half-done job may finish")
		}
	}
}
