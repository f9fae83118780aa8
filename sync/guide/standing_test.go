package guide_test

import (
	"slices"
	"strings"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/sheet"
)

const lockNut event.FastenerID = "track_rod_lock_FL"

var rodTurned = &event.AdjustmentMade{Quantity: event.Toe, Corner: event.FL, Before: "12 threads", After: "11 threads"}

// TestTrackRodLeftAlone: who does not set toe is asked nothing of its lock nut.
func TestTrackRodLeftAlone(t *testing.T) {
	s := wren()
	for i := range s.Fastener(lockNut).Passes {
		s.Fastener(lockNut).Passes[i].TorqueCNM = 0
	}
	j := at(t, s, "first_drive")
	got := item(j.Guide(), lockNut)
	if got.Phase != guide.Untouched || got.Reason != "" || slices.ContainsFunc(j.Guide().Tally(), func(i guide.Item) bool { return i.Fastener.ID == lockNut }) {
		t.Errorf("a lock nut that nobody loosened: %s, %q, or it is in the tally", got.Phase, got.Reason)
	}
	if open := j.Guide().DriveBlockers(); len(open) > 0 {
		t.Errorf("it forbids driving: %v", open)
	}
}

// TestLockNut: a track rod that was turned puts its lock nut into the tally, until
// it is final and toe was read after that.
func TestLockNut(t *testing.T) {
	j := at(t, wren(), "toe_final")
	j.Finish("toe_final")
	j.Do(rodTurned)
	got := item(j.Guide(), lockNut)
	if got.Phase != guide.Loose || got.Reason != "Loose; open again: its adjuster was moved." || got.Next == nil || got.Next.ID != "snug" {
		t.Errorf("the rod was turned: %s, %q", got.Phase, got.Reason)
	}
	if other := item(j.Guide(), "track_rod_lock_FR"); other.Phase != guide.Untouched {
		t.Errorf("the other rod was not turned, its nut is %s", other.Phase)
	}
	if open := j.Guide().DriveBlockers(); !slices.ContainsFunc(open, func(b guide.Blocker) bool { return b.Fastener == lockNut }) {
		t.Errorf("driving is forbidden by %v, not by the lock nut", open)
	}
	asks := j.Guide().Todo(j.Sheet.Step("toe_final"))
	if len(asks) < 3 || asks[0].Pass != (sheet.PassRef{Fastener: lockNut, Pass: "snug"}) || asks[1].Pass != (sheet.PassRef{Fastener: lockNut, Pass: "final"}) || asks[2].Reading == nil {
		t.Errorf("the step asks for %v, want the lock nut and then toe", asks)
	}

	toe := j.Reading(event.TotalToe, event.Front.Place(), event.Final)
	j.Do(toe, j.Pass(lockNut, "snug"), j.Pass(lockNut, "final"))
	if got := item(j.Guide(), lockNut); !got.Clear {
		t.Errorf("after its final pass: %s, %q", got.Phase, got.Reason)
	}
	if why := j.Guide().Stale(j.Guide().State.Reading(event.TotalToe, event.Front.Place(), event.Final)); !strings.Contains(why, "tightened after it") {
		t.Errorf("toe read before the nut was tightened is stale by %q", why)
	}
	j.Ask("toe_final", nil)
	j.Do(rodTurned)
	if got := item(j.Guide(), lockNut); got.Phase != guide.Snugged || !strings.Contains(got.Reason, "its adjuster was moved after it") {
		t.Errorf("turned once more: %s, %q", got.Phase, got.Reason)
	}
}

// TestLockNutUnknown: without its torque the tally says so, and forbids the drive.
func TestLockNutUnknown(t *testing.T) {
	s := wren()
	s.Fastener(lockNut).Final().TorqueCNM = 0
	j := at(t, s, "toe_final")
	j.Do(rodTurned)
	j.Do(j.Pass(lockNut, "snug"))
	if got := item(j.Guide(), lockNut); !strings.Contains(got.Reason, "look it up") {
		t.Errorf("its torque is not known, and the tally says %q", got.Reason)
	}
	if err := j.Try(&event.PassDone{Fastener: lockNut, Pass: "final", TorqueCNM: 5000, Count: 1}); err == nil {
		t.Error("a torque that nobody stands for was taken")
	}
	j.Do(j.LookUp(lockNut))
	j.Do(j.Pass(lockNut, "final"))
	if got := item(j.Guide(), lockNut); !got.Clear {
		t.Errorf("looked up and made: %s, %q", got.Phase, got.Reason)
	}
}

// TestRodTurnedInTheAir: the car is lowered with a lock nut that is snug, which is
// enough until toe is set on the ground, and never with one that is loose.
func TestRodTurnedInTheAir(t *testing.T) {
	j := at(t, wren(), "lower_step_front")
	j.Do(rodTurned)
	blocked(t, j.Try(&event.CheckAnswered{Axle: event.Front, Move: event.Lower, Check: "wheels_on", Answer: event.Yes}), "Track rod lock nut, front left is loose")
	j.Do(j.Pass(lockNut, "snug"))
	if blockers := j.Guide().DriveBlockers(); len(blockers) == 0 {
		t.Error("it does not forbid driving")
	}
	j.Until("nuts_front")
	if j.Guide().State.Up() {
		t.Error("the car is still up")
	}
}
