package guide_test

import (
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/guide/guidetest"
	"strutcard/sync/sheet"
)

// TestNoEndsTheAttempt: after a "no" to a must-check every check is asked again,
// and the axle counts as being raised meanwhile.
func TestNoEndsTheAttempt(t *testing.T) {
	j := guidetest.New(t, sheet.Demo()[0])
	j.Until("raise_step_front")
	if got := j.Guide().Lifting(); got != "" {
		t.Errorf("before any answer %q is being raised", got)
	}
	checks := j.Sheet.ChecksFor(event.Front, event.Raise)
	last := checks[len(checks)-1]
	answer := func(c sheet.Check, a event.Answer) {
		j.Do(&event.CheckAnswered{Axle: event.Front, Move: event.Raise, Check: c.ID, Answer: a})
	}
	for _, c := range checks[:len(checks)-1] {
		answer(c, event.Yes)
	}
	answer(last, event.No)
	if got := j.Guide().Lifting(); got != event.Front {
		t.Errorf("with the car on unsteady stands %q is being raised, want front", got)
	}
	if check, fresh := j.Guide().Stopped(event.Front, event.Raise); check == nil || check.ID != last.ID || !fresh {
		t.Errorf("Stopped = %v, %v; want the last check, fresh", check, fresh)
	}
	if err := j.Guide().Allow(&event.CheckAnswered{Axle: event.Front, Move: event.Raise, Check: last.ID, Answer: event.Yes}); err == nil {
		t.Error("one yes after the no is enough")
	}
	if got := j.Guide().Todo(j.Sheet.Step("raise_step_front"))[0].Check; got != checks[0].ID {
		t.Errorf("the next check is %q, want the first again", got)
	}
	for _, c := range checks {
		if err := j.Guide().Allow(&event.CarRaised{Axle: event.Front}); err == nil {
			t.Fatalf("raised before %q was asked again", c.ID)
		}
		answer(c, event.Yes)
	}
	if err := j.Guide().Allow(&event.CarRaised{Axle: event.Front}); err != nil {
		t.Errorf("after every check was asked again: %v", err)
	}
}
