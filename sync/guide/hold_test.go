package guide_test

import (
	"strings"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/guide"
	"strutcard/sync/guide/guidetest"
	"strutcard/sync/sheet"
)

// TestHoldIsAskedAgain: what was looked at must still be what is there.
func TestHoldIsAskedAgain(t *testing.T) {
	j := guidetest.New(t, sheet.Demo()[0])
	j.Until("first_drive")
	step := j.Sheet.Step("look_over")
	if got, _ := j.Guide().Status(step); got != guide.Done {
		t.Fatalf("before anything is touched the look is %s, want done", got)
	}
	j.Force(&event.FastenerLoosened{Fastener: "link_upper_FL"}, &event.FastenerFitted{Fastener: "link_upper_FL", Renewed: true})
	// Out of the order of the sheet, with the front down: but a fact.
	j.Force(j.Pass("link_upper_FL", "final"))
	if got, _ := j.Guide().Status(step); got == guide.Done {
		t.Error("a fastener was tightened after the look, and the look still counts")
	}
	found := false
	for _, b := range j.Guide().DriveBlockers() {
		found = found || strings.Contains(b.Text, "Second pair of eyes")
	}
	if !found {
		t.Errorf("the drive is not held: %v", j.Guide().DriveBlockers())
	}
	if err := j.Guide().Allow(&event.JobFinished{}); !fault.Is(err, fault.Blocked) {
		t.Errorf("finish = %v, want blocked", err)
	}
	j.Do(&event.StepDone{Step: "look_over"})
	if got, _ := j.Guide().Status(step); got != guide.Waiting {
		t.Errorf("after looking again the step is %s, want waiting for a release", got)
	}
	j.Do(&event.HoldReleased{Step: "look_over", By: "mentor", Reason: "seen"})
	if got, _ := j.Guide().Status(step); got != guide.Done {
		t.Errorf("after the release the step is %s, want done", got)
	}
}
