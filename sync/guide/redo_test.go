package guide_test

import (
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/guide/guidetest"
)

// TestRedo: what a reviewer wants again is not final and keeps the car off the road,
// though the log still says what was done.
func TestRedo(t *testing.T) {
	j := guidetest.New(t, wren())
	if !j.Rescue() || len(j.Guide().NotFinal()) > 0 {
		t.Fatal("the job does not come to its end")
	}
	step := j.Sheet.Step("finals_RR")
	ref := step.Passes[0]
	j.Force(&event.DecisionMade{Finding: "f", Decision: event.Redo, Step: step.ID, Fastener: ref.Fastener, Name: "Ann", Text: "again", Proof: "-"})
	g := j.Guide()
	if g.Item(j.Sheet.Fastener(ref.Fastener)).Clear || g.PassHolds(ref) || len(g.DriveBlockers()) == 0 || len(g.FinishBlockers()) == 0 || j.Log.State().Finished != nil {
		t.Errorf("a torque that is wanted again still counts: %v", g.FinishBlockers())
	}
	if _, kept := j.Log.State().Fasteners[ref.Fastener].Passes[ref.Pass]; !kept {
		t.Error("what was recorded before is gone")
	}
	if !j.Rescue() || !j.Guide().PassHolds(ref) {
		t.Error("it cannot be done again")
	}
}

// TestRedoWaitsForTheCar: what is wanted again with the wheels on the ground leads
// nobody away from a car on stands; once it is down, it comes next.
func TestRedoWaitsForTheCar(t *testing.T) {
	j := guidetest.New(t, wren())
	j.Until("free_FL")
	before := j.Guide().Next()
	if before.ID != "free_FL" || !j.Log.State().Up() {
		t.Fatalf("the walk stands at %s, car up: %t", before.ID, j.Log.State().Up())
	}
	j.Force(&event.DecisionMade{Finding: "f", Decision: event.Redo, Step: "camber_before", Name: "Ann", Text: "again", Proof: "-"})
	if got := j.Guide().Next(); got.ID != before.ID {
		t.Errorf("with the car on stands the work is led to %q", got.Title)
	}
	j.Until("free_RL")
	for _, step := range j.Sheet.Steps() {
		if step.ID == "camber_before" && j.Log.State().Steps[step.ID].DoneN == 0 {
			t.Error("it was not done again when the car stood on its wheels, before the other axle")
		}
	}
}

// TestRedoStrandsNobody: the wheel nuts are wanted cracked again just when the car came
// up onto its stands. The lift can still be brought to its end, and the car let down;
// the other axle's wheel nuts are not loosened before that.
func TestRedoStrandsNobody(t *testing.T) {
	j := guidetest.New(t, wren())
	j.Until("raise_step_front")
	j.Ask("raise_step_front", nil)
	j.Do(&event.CarRaised{Axle: event.Front})
	if !j.Log.State().Up() || j.Log.State().Steps["raise_step_front"].DoneN > 0 {
		t.Fatal("the car is not up in the middle of its step")
	}
	for _, step := range []event.StepID{"crack_front", "nuts_front"} {
		j.Force(&event.DecisionMade{Finding: "f", Decision: event.Redo, Step: step, Name: "Ann", Text: "again", Proof: "-"})
	}
	if err := j.Try(&event.StepDone{Step: "raise_step_front"}); err != nil {
		t.Errorf("with the car on its stands the lift cannot be ended: %v", err)
	}
	if status, _ := j.Guide().Status(j.Sheet.Step("crack_rear")); status != guide.Blocked {
		t.Errorf("with the front on stands, loosening the rear wheel nuts is %s", status)
	}
	if !j.Rescue() {
		t.Error("the job does not come to its end")
	}
}
