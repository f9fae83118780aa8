package guide_test

import (
	"slices"
	"strings"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/guide/guidetest"
	"strutcard/sync/sheet"
)

func answer(axle event.Axle, move event.Move, check event.CheckID, a event.Answer) *event.CheckAnswered {
	return &event.CheckAnswered{Axle: axle, Move: move, Check: check, Answer: a, Reason: "a reason"}
}

// yes answers every check of a move.
func yes(j *guidetest.Job, axle event.Axle, move event.Move) {
	for _, c := range j.Sheet.ChecksFor(axle, move) {
		j.Do(answer(axle, move, c.ID, event.Yes))
	}
}

func TestChecksComeInOrder(t *testing.T) {
	j := at(t, wren(), "raise_step_front")
	checks := j.Sheet.ChecksFor(event.Front, event.Raise)
	for i, c := range checks {
		blocked(t, j.Try(&event.CarRaised{Axle: event.Front}), c.Ask)
		for _, later := range checks[i+1:] {
			blocked(t, j.Try(answer(event.Front, event.Raise, later.ID, event.Yes)), "comes first", c.Ask)
		}
		j.Do(answer(event.Front, event.Raise, c.ID, event.No))
		blocked(t, j.Try(&event.CarRaised{Axle: event.Front}), c.Ask, c.Stop)
		if c.Must {
			blocked(t, j.Try(answer(event.Front, event.Raise, c.ID, event.Override)), "no way round")
			for _, again := range checks[:i] {
				j.Do(answer(event.Front, event.Raise, again.ID, event.Yes))
			}
			j.Do(answer(event.Front, event.Raise, c.ID, event.Yes))
		} else {
			j.Do(answer(event.Front, event.Raise, c.ID, event.Override))
		}
	}
	j.Do(&event.CarRaised{Axle: event.Front})
}

// TestOverrideFromElsewhere: an override of a must-check that came by another
// phone lifts nothing.
func TestOverrideFromElsewhere(t *testing.T) {
	j := at(t, wren(), "raise_step_front")
	for _, c := range j.Sheet.ChecksFor(event.Front, event.Raise) {
		j.Force(answer(event.Front, event.Raise, c.ID, event.Override))
	}
	blocked(t, j.Try(&event.CarRaised{Axle: event.Front}), "Is the ground hard and level here?")
}

func TestEachMoveAsksAfresh(t *testing.T) {
	j := at(t, wren(), "strut_close_FR") // the front is up
	blocked(t, j.Try(answer(event.Front, event.Raise, "ground", event.Yes)), "already up")
	blocked(t, j.Try(&event.CarRaised{Axle: event.Front}), "already up")
	blocked(t, j.Try(&event.CarLowered{Axle: event.Rear}), "already down")
	j.Until("settle")
	ground := j.Sheet.ChecksFor(event.Front, event.Raise)[0].Ask
	for range 2 {
		blocked(t, j.Try(&event.CarRaised{Axle: event.Front}), ground)
		yes(j, event.Front, event.Raise)
		j.Do(&event.CarRaised{Axle: event.Front})
		lower := j.Sheet.ChecksFor(event.Front, event.Lower)
		blocked(t, j.Try(&event.CarLowered{Axle: event.Front}), lower[0].Ask)
		for _, c := range lower {
			j.Do(answer(event.Front, event.Lower, c.ID, event.Yes))
		}
		j.Do(&event.CarLowered{Axle: event.Front})
	}
}

func TestOneAxleAtATime(t *testing.T) {
	j := at(t, wren(), "settle")
	for _, axle := range event.Axles {
		for _, c := range j.Sheet.ChecksFor(axle, event.Raise) {
			j.Do(answer(axle, event.Raise, c.ID, event.Yes))
		}
	}
	j.Do(&event.CarRaised{Axle: event.Rear})
	blocked(t, j.Try(&event.CarRaised{Axle: event.Front}), "rear axle is still up", "one axle at a time")
}

func TestNoLoweringOntoLooseWork(t *testing.T) {
	j := at(t, wren(), "strut_bench_FL")
	blocked(t, j.Try(&event.CarLowered{Axle: event.Front}), "Do not lower yet", "Brake hose bracket to strut, front left is loose", "And 7 more")
	blocked(t, j.Try(answer(event.Front, event.Lower, "wheels_on", event.Yes)), "First:")

	j.Until("lower_step_front")
	yes(j, event.Front, event.Lower)
	j.Do(&event.FastenerFitted{Fastener: "knuckle_lower_FR"})
	blocked(t, j.Try(&event.CarLowered{Axle: event.Front}), "Do not lower yet", "Strut to knuckle, lower, front right is finger tight")
	few := j.Pass("wheel_nuts_FL", "snug")
	few.Count = 4
	j.Do(j.Pass("knuckle_lower_FR", "snug"), few)
	blocked(t, j.Try(&event.CarLowered{Axle: event.Front}), "Wheel nuts, front left is finger tight")
	j.Do(j.Pass("wheel_nuts_FL", "snug"), &event.CarLowered{Axle: event.Front})
}

func TestBushedFinalWaits(t *testing.T) {
	const arm = "arm_inner_RL"
	const bush = "stays twisted"
	j := at(t, wren(), "lower_step_rear")
	blocked(t, j.Try(j.Pass(arm, "final")), "Leave it snug", "Set camber, rear left", "tally")
	j.Do(&event.StepSkipped{Step: "camber_set_RL", Reason: "a workshop sets it"})
	blocked(t, j.Try(j.Pass(arm, "final")), "all its wheels", bush) // the axle is up
	j.Until("settle")
	blocked(t, j.Try(j.Pass(arm, "final")), "settled first", bush) // down, and not yet settled
	j.Finish("settle")
	j.Do(j.Pass(arm, "final"))

	j = at(t, wren(), "camber_set_RL")
	blocked(t, j.Try(j.Pass(arm, "final")), "Leave it snug", "Set camber, rear left")
	j.Until("finals_RL")
	yes(j, event.Front, event.Raise)
	j.Do(&event.CarRaised{Axle: event.Front})
	blocked(t, j.Try(j.Pass(arm, "final")), "all its wheels", bush) // the other axle is up
	yes(j, event.Front, event.Lower)
	j.Do(&event.CarLowered{Axle: event.Front})
	blocked(t, j.Try(j.Pass(arm, "final")), "settled first", bush) // settled before that lift, not after it
	j.Finish("settle")
	j.Ask("finals_RL", isPass)
	j.Do(j.Pass(arm, "final"))
}

func isWork(a guide.Ask) bool { return a.Loosen != "" || a.Fit != "" || isPass(a) }

func isPass(a guide.Ask) bool { return a.Pass != (sheet.PassRef{}) }

func TestErrPass(t *testing.T) {
	tests := map[string]struct {
		at    event.StepID
		f     event.FastenerID
		p     event.PassID
		spoil func(*event.PassDone)
		want  string
	}{
		"no such fastener":        {"settle", "arm_inner_RL", "snug", func(p *event.PassDone) { p.Fastener = "dream" }, "no such pass"},
		"no such pass":            {"settle", "arm_inner_RL", "snug", func(p *event.PassDone) { p.Pass = "dream" }, "no such pass"},
		"not fitted":              {"strut_in_FL", "strut_top_FL", "snug", nil, "not recorded as fitted"},
		"out of order":            {"lower_step_front", "wheel_nuts_FL", "half", nil, ""},
		"last before first":       {"nuts_front", "wheel_nuts_FL", "final", nil, "Another pass comes first: half torque"},
		"wheel nuts in the air":   {"lower_step_front", "wheel_nuts_FL", "half", nil, "front axle must be down"},
		"snug on the ground":      {"nuts_front", "strut_top_FL", "snug", nil, "front axle must stand on stands"},
		"torque of an old screen": {"nuts_front", "wheel_nuts_FL", "half", func(p *event.PassDone) { p.TorqueCNM++ }, "not the one that holds now"},
		"angle never asked":       {"nuts_front", "wheel_nuts_FL", "half", func(p *event.PassDone) { p.AngleMdeg = 90_000 }, "not the one that holds now"},
		"more than there are":     {"nuts_front", "wheel_nuts_FL", "half", func(p *event.PassDone) { p.Count = 6 }, "only 5"},
		"last round too early":    {"camber_final", "wheel_nuts_FL", "round", nil, "Second pair of eyes"},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			j := at(t, wren(), test.at)
			p := j.Pass(test.f, test.p)
			if test.spoil != nil {
				test.spoil(p)
			}
			blocked(t, j.Try(p), test.want)
		})
	}
}

func TestNoDefaultTorque(t *testing.T) {
	const lock = "perch_lock_FL"
	j := at(t, own(t), "specs")
	j.Do(&event.StepSkipped{Step: "specs", Reason: "I look them up as I go"})
	j.Until("unit_in_FL")
	j.Ask("unit_in_FL", func(a guide.Ask) bool { return a.Fit != "" })
	j.Do(&event.FastenerFitted{Fastener: lock}, &event.FastenerFitted{Fastener: "unit_upper_FL", Renewed: true}, j.Pass("unit_upper_FL", "snug")) // snug by hand needs no torque
	guess := j.Pass(lock, "final")
	for _, torque := range []int64{0, 3000} {
		guess.TorqueCNM = torque
		blocked(t, j.Try(guess), "not known. Look it up", "its source", "no default")
	}
	spec := event.SpecGiven{Fastener: lock, Pass: "final", TorqueCNM: 3000, Source: "maker's manual, page 41"}
	j.Do(&spec)
	j.Do(j.Pass(lock, "final"))
	if item := j.Guide().Item(j.Sheet.Fastener(lock)); !item.Clear {
		t.Errorf("made to a looked-up torque, it is %s: %s", item.Phase, item.Reason)
	}

	questioned := spec
	questioned.TorqueCNM, questioned.Questioned = 36_000, "Twelve times what its size carries: lb-in or lb-ft?"
	j.Do(&questioned)
	if item := j.Guide().Item(j.Sheet.Fastener(lock)); item.Clear || !strings.Contains(item.Reason, "its torque was changed after it") || !strings.Contains(item.Reason, "questioned") {
		t.Errorf("after a new torque: %+v", item)
	}
	blocked(t, j.Try(j.Pass(lock, "final")), "questioned", "lb-in", "confirm")
	confirmed := questioned
	confirmed.Confirmed = true
	j.Do(&confirmed)
	j.Do(j.Pass(lock, "final"))
	if got := j.Guide().State.Fasteners[lock].Passes["final"].TorqueCNM; got != 36_000 {
		t.Errorf("made with %d, want the confirmed value as it was typed", got)
	}
}

func TestSheetTorqueStands(t *testing.T) {
	j := at(t, wren(), "settle")
	blocked(t, j.Try(&event.SpecGiven{Fastener: "arm_inner_RL", Pass: "final", TorqueCNM: 1, Source: "s"}), "a published sheet never changes")
	blocked(t, j.Try(&event.SpecGiven{Fastener: "dream", Pass: "final", TorqueCNM: 1, Source: "s"}), "no such pass")
}

func TestErrWork(t *testing.T) {
	j := at(t, wren(), "raise_step_front")
	blocked(t, j.Try(&event.FastenerLoosened{Fastener: "dream"}), "no such fastener")
	blocked(t, j.Try(&event.FastenerLoosened{Fastener: "link_upper_FL"}), "front axle must stand on stands")
	blocked(t, j.Try(&event.FastenerLoosened{Fastener: "wheel_nuts_RL"}), "First: Tighten the front wheel nuts.")
	blocked(t, j.Try(&event.FastenerLoosened{Fastener: "rod_nut_FL"}), "No step of this sheet asks to loosen it") // it holds a spring
	blocked(t, j.Try(&event.FastenerMarked{Fastener: "wheel_nuts_FL"}), "Only a final fastener")
	j.Until("free_FL")
	blocked(t, j.Try(&event.FastenerLoosened{Fastener: "wheel_nuts_FR"}), "front axle must be down")
	blocked(t, j.Try(&event.FastenerFitted{Fastener: "strut_top_FL"}), "First: Check the new strut, front left.")
	blocked(t, j.Try(&event.FastenerFitted{Fastener: "damper_upper_RL"}), "rear axle must stand on stands")
}

func TestErrStep(t *testing.T) {
	tests := map[string]struct {
		at   event.StepID
		p    event.Payload
		want []string
	}{
		"unknown, started":       {"box", &event.StepStarted{Step: "dream"}, []string{"no such step"}},
		"unknown, done":          {"box", &event.StepDone{Step: "dream"}, []string{"no such step"}},
		"unknown, skipped":       {"box", &event.StepSkipped{Step: "dream", Reason: "r"}, []string{"no such step"}},
		"unknown, released":      {"box", &event.HoldReleased{Step: "dream", By: "mentor", Reason: "r"}, []string{"no such step"}},
		"not all counted":        {"box", &event.StepDone{Step: "box"}, []string{"not finished", "Count: Front strut unit, left", "And 4 more."}},
		"too early":              {"box", &event.StepDone{Step: "tools"}, []string{"Not now", "First: Count the box."}},
		"raise not done":         {"raise_step_front", &event.StepDone{Step: "raise_step_front"}, []string{"not finished", "ground hard"}},
		"raise skipped":          {"raise_step_front", &event.StepSkipped{Step: "raise_step_front", Reason: "r"}, []string{"cannot be skipped"}},
		"lowering skipped":       {"lower_step_front", &event.StepSkipped{Step: "lower_step_front", Reason: "r"}, []string{"cannot be skipped"}},
		"hold skipped":           {"look_over", &event.StepSkipped{Step: "look_over", Reason: "r"}, []string{"cannot be skipped"}},
		"settling skipped":       {"settle", &event.StepSkipped{Step: "settle", Reason: "r"}, []string{"cannot be skipped"}},
		"drive skipped":          {"first_drive", &event.StepSkipped{Step: "first_drive", Reason: "r"}, []string{"cannot be skipped"}},
		"settled in the air":     {"free_FL", &event.StepDone{Step: "settle"}, []string{"axle is up"}},
		"re-check before done":   {"first_drive", &event.StepDone{Step: "recheck"}, []string{"First drive", "after the job is finished"}},
		"reading in the air":     {"free_FL", &event.ReadingTaken{Quantity: event.Camber, Corner: event.RL, Purpose: event.Setting, Method: "m"}, []string{"axle is up"}},
		"found, after a lift":    {"settle", &event.ReadingTaken{Quantity: event.Camber, Corner: event.RL, Purpose: event.Before, Method: "m"}, []string{"no longer as it was found"}},
		"check of another sheet": {"raise_step_front", answer(event.Front, event.Raise, "dream", event.Yes), []string{"no such check"}},
		"lowering check, down":   {"raise_step_front", answer(event.Front, event.Lower, "wheels_on", event.Yes), []string{"already down"}},
		"raise before its time":  {"specs", &event.CarRaised{Axle: event.Front}, []string{"ground hard"}},
		"check before its time":  {"specs", answer(event.Front, event.Raise, "ground", event.Yes), []string{"First: Loosen the front wheel nuts a quarter turn."}},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			blocked(t, at(t, wren(), test.at).Try(test.p), test.want...)
		})
	}
}

func TestCorrections(t *testing.T) {
	j := at(t, wren(), "settle")
	want := []event.Kind{event.KindCarLowered, event.KindCarRaised, event.KindJobOpened}
	var got []event.Kind
	for _, e := range j.Events() {
		if err := j.Guide().AllowCorrection(e); err != nil {
			blocked(t, err, "cannot be taken back")
			got = append(got, e.Kind)
		}
	}
	slices.Sort(got)
	if got = slices.Compact(got); !slices.Equal(got, want) {
		t.Errorf("not to be taken back: %v, want %v", got, want)
	}
}

// TestFinishOnlyWhenClear asks at every step of the whole walk.
func TestFinishOnlyWhenClear(t *testing.T) {
	j := guidetest.New(t, wren())
	for _, step := range j.Sheet.Steps() {
		if step.Later {
			continue
		}
		j.Until(step.ID)
		blocked(t, j.Guide().Allow(&event.JobFinished{}), "not finished", "Do not drive")
		err := j.Guide().Allow(&event.StepDone{Step: "first_drive"})
		if step.Drive {
			j.Ask(step.ID, nil)
			err = j.Guide().Allow(&event.StepDone{Step: step.ID})
		}
		if (err == nil) != step.Drive {
			t.Errorf("at step %s, driving: %v", step.ID, err)
		}
	}
	j.Do(&event.StepDone{Step: "first_drive"}, &event.JobFinished{Note: "done"})
}
