package sheet_test

import (
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/sheet"
)

func TestIndex(t *testing.T) {
	s := sheet.Demo()[0]
	if got := s.Fastener("arm_inner_RL"); got == nil || got.Corner != event.RL || got.Pass("snug") == nil || got.Pass("none") != nil {
		t.Errorf("Fastener = %+v", got)
	}
	if s.Fastener("none") != nil || s.Step("none") != nil || s.Tool("none") != nil || s.StageOf("none") != nil || s.Target(event.Camber, "none") != nil {
		t.Error("a name that is not there was found")
	}
	if got := s.StageOf("settle"); got == nil || got.ID != "set" {
		t.Errorf("StageOf(settle) = %+v", got)
	}
	if got := s.Target(event.Camber, event.Rear); got == nil || got.Mdeg != -1250 {
		t.Errorf("Target = %+v, want the demo's rear camber", got)
	}
	if steps := s.Steps(); steps[0].ID != "box" || steps[len(steps)-1].ID != "recheck" {
		t.Errorf("steps run from %s to %s", steps[0].ID, steps[len(steps)-1].ID)
	}
}

func TestChecksFor(t *testing.T) {
	s := sheet.Demo()[0]
	s.Checks[0].Axle = event.Rear
	front, rear := s.ChecksFor(event.Front, event.Raise), s.ChecksFor(event.Rear, event.Raise)
	if len(rear) != len(front)+1 || rear[0].ID != s.Checks[0].ID || front[0].ID != s.Checks[1].ID {
		t.Errorf("front asks %d, rear %d, want the rear's own check at the rear only, in the sheet's order", len(front), len(rear))
	}
	for _, c := range s.ChecksFor(event.Front, event.Lower) {
		if c.Move != event.Lower {
			t.Errorf("check %s is for %s", c.ID, c.Move)
		}
	}
}
