package sheet_test

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

// oneAxle is a start that works on one axle and has presets for both.
func oneAxle(axle event.Axle, id sheet.PatternID) sheet.Start {
	start := sheet.Start{Title: "own", Version: "own 1", Own: true, Source: "manual, p. 1", Vehicle: sheet.Vehicle{Name: "a car"},
		Dampers: []sheet.Damper{{Axle: event.Front, From: "full_hard", Clicks: 3}, {Axle: event.Rear, From: "full_hard", Clicks: 4}},
		Perches: []sheet.Perch{{Axle: event.Front, From: "from the foot", UM: 20_000}, {Axle: event.Rear, From: "from the seat", UM: 20_000}},
		Targets: []sheet.Target{{Quantity: event.RideHeight, Axle: event.Front, UM: 350_000, TolUM: 5000}, {Quantity: event.RideHeight, Axle: event.Rear, UM: 350_000, TolUM: 5000}}}
	if axle == event.Front {
		start.Front = id
	} else {
		start.Rear = id
	}
	return start
}

// TestOneAxle builds each layout alone and carries it out to its end.
func TestOneAxle(t *testing.T) {
	for _, p := range sheet.Patterns() {
		for _, axle := range p.Axles {
			t.Run(string(p.ID)+" "+string(axle), func(t *testing.T) {
				s, err := sheet.Build(oneAxle(axle, p.ID))
				if err != nil {
					t.Fatal(err)
				}
				leftAlone(t, s, axle)
				events := guidetest.Walk(t, s)
				st := job.Fold(events[0].Job, events)
				if g := guide.New(s, st); st.Finished == nil || len(st.Lifts) != 1 || len(g.NotFinal()) != 0 || g.Next() != nil {
					t.Errorf("finished %v after %d lifts, not final: %v, next: %v", st.Finished != nil, len(st.Lifts), g.NotFinal(), g.Next())
				}
			})
		}
	}
}

// leftAlone: nothing is done at the other axle, and both are measured.
func leftAlone(t *testing.T, s *sheet.Sheet, axle event.Axle) {
	t.Helper()
	for _, f := range s.Fasteners {
		if f.Corner.Axle() != axle {
			t.Errorf("fastener %s stands in the sheet", f.ID)
		}
	}
	measured := map[event.Purpose]map[string]bool{event.Before: {}, event.Setting: {}, event.Final: {}}
	for _, step := range s.Steps() {
		if step.Axle != "" && step.Axle != axle || step.Corner != "" && step.Corner.Axle() != axle {
			t.Errorf("step %s is at the other axle", step.ID)
		}
		for _, c := range step.Checks {
			if c.Corner != "" && c.Corner.Axle() != axle {
				t.Errorf("step %s asks about the %s", step.ID, c.Corner.Words())
			}
		}
		for _, r := range step.Readings {
			measured[r.Purpose][string(r.Quantity)+" "+string(r.Place())] = true
		}
	}
	for _, purpose := range []event.Purpose{event.Before, event.Final} {
		for _, want := range strings.Split("ride_height FL,ride_height FR,ride_height RL,ride_height RR,camber FL,camber FR,camber RL,camber RR,total_toe front,total_toe rear", ",") {
			if !measured[purpose][want] {
				t.Errorf("%s is not asked for, %s", want, purpose)
			}
		}
	}
	for _, q := range []event.Quantity{event.Camber} {
		for _, corner := range event.Corners {
			if measured[event.Setting][string(q)+" "+string(corner)] && corner.Axle() != axle {
				t.Errorf("camber is to be set at the %s", corner.Words())
			}
		}
	}
	if len(s.Dampers) != 1 || s.Dampers[0].Axle != axle || len(s.Perches) != 1 || s.Perches[0].Axle != axle || len(s.Targets) != 2 {
		t.Errorf("presets: %d dampers, %d perches, %d targets, want those of the %s and all targets", len(s.Dampers), len(s.Perches), len(s.Targets), axle)
	}
	round := s.Step("nuts_round")
	if len(round.Passes) != 2 || !slices.ContainsFunc(round.Passes, func(r sheet.PassRef) bool { return r.Fastener == event.FastenerID("wheel_nuts_"+axle.Corners()[0]) }) {
		t.Errorf("the last round makes %v", round.Passes)
	}
}

func TestErrNoAxle(t *testing.T) {
	start := oneAxle(event.Front, "")
	if _, err := sheet.Build(start); !fault.Is(err, fault.Invalid) || !strings.Contains(err.Error(), "Neither axle") {
		t.Errorf("got %v, want an invalid fault about neither axle", err)
	}
	start.Front = "rear_separate"
	if _, err := sheet.Build(start); !fault.Is(err, fault.Invalid) {
		t.Errorf("a rear layout alone in front: got %v", err)
	}
}

// TestConfirmedTorque: who checked an implausible torque goes into each pass
// that has it.
func TestConfirmedTorque(t *testing.T) {
	start := oneAxle(event.Rear, "rear_strut")
	start.Torques = map[string]sheet.Torque{"wheel_nuts": {CNM: 30_000, Confirmed: "by the installer, against p. 4"}}
	s, err := sheet.Build(start)
	if err != nil {
		t.Fatal(err)
	}
	f := s.Fastener("wheel_nuts_RR")
	if got := f.Final().Confirmed; got != "by the installer, against p. 4" {
		t.Errorf("the final pass is confirmed %q", got)
	}
	if got := f.Pass("snug").Confirmed; got != "" {
		t.Errorf("the snug pass has no torque and is confirmed %q", got)
	}
}
