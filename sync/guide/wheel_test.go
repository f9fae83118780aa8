package guide_test

import (
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/guide/guidetest"
	"strutcard/sync/sheet"
)

// TestWheelsCarryTheLift: an axle is never raised while the other stands on
// wheels that are not tight, and their tightening cannot be skipped.
func TestWheelsCarryTheLift(t *testing.T) {
	j := guidetest.New(t, sheet.Demo()[0])
	j.Until("nuts_front")
	if err := j.Guide().Allow(&event.StepSkipped{Step: "nuts_front", Reason: "in a hurry"}); !fault.Is(err, fault.Blocked) {
		t.Errorf("skipping the wheel nuts = %v, want blocked", err)
	}
	j.Until("raise_step_rear")
	for _, c := range j.Sheet.ChecksFor(event.Rear, event.Raise) {
		j.Do(&event.CheckAnswered{Axle: event.Rear, Move: event.Raise, Check: c.ID, Answer: event.Yes})
	}
	if err := j.Guide().Allow(&event.CarRaised{Axle: event.Rear}); err != nil {
		t.Fatalf("with tight front wheels the rear may be raised, got %v", err)
	}
	j.Force(&event.FastenerLoosened{Fastener: "wheel_nuts_FR"})
	if err := j.Guide().Allow(&event.CarRaised{Axle: event.Rear}); !fault.Is(err, fault.Blocked) {
		t.Errorf("raising the rear on a loose front wheel = %v, want blocked", err)
	}
}

// TestLooseWheelsHaveAWayOn: nuts that were cracked are made tight again on the
// ground, and never at both axles at once are they loose.
func TestLooseWheelsHaveAWayOn(t *testing.T) {
	j := guidetest.New(t, sheet.Demo()[0])
	j.Until("raise_step_front") // the front nuts are cracked, the car is down
	j.Do(&event.FastenerFitted{Fastener: "wheel_nuts_FL"})
	for _, pass := range []event.PassID{"snug", "half", "final"} {
		j.Do(j.Pass("wheel_nuts_FL", pass))
	}
	j = guidetest.New(t, sheet.Demo()[0])
	j.Until("crack_rear")
	j.Force(&event.FastenerLoosened{Fastener: "wheel_nuts_FR"})
	if err := j.Guide().Allow(&event.FastenerLoosened{Fastener: "wheel_nuts_RL"}); !fault.Is(err, fault.Blocked) {
		t.Errorf("cracking the rear nuts while a front wheel is loose = %v, want blocked", err)
	}
}
