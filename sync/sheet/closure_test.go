package sheet_test

import (
	"slices"
	"strings"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/sheet"
)

// TestErrClosure: each step must find the car as it needs it, and the last step
// must leave it on its wheels.
func TestErrClosure(t *testing.T) {
	tests := map[string]struct {
		spoil func(*sheet.Sheet)
		want  string
	}{
		"left in the air": {func(s *sheet.Sheet) {
			last := &s.Stages[len(s.Stages)-1]
			last.Steps = append(last.Steps, sheet.Step{ID: "again", Title: "Again", Do: "Raise it.", Axle: event.Rear, Move: event.Raise})
		}, "The rear axle is raised and never lowered."},
		"work up, car down": {func(s *sheet.Sheet) { s.Step("box").Car, s.Step("box").Axle = sheet.Up, event.Front }, "no step has raised it"},
		"pass at the wrong height": {func(s *sheet.Sheet) {
			s.Step("arm_close_RL").Passes = append(s.Step("arm_close_RL").Passes, sheet.PassRef{Fastener: "wheel_nuts_FL", Pass: "round"})
		}, "needs the wheels on the ground"},
		"pass before what it waits for": {func(s *sheet.Sheet) { s.Fastener("arm_inner_RL").Final().After = []event.StepID{"look_over"} }, `waits for the later step "look_over"`},
		"pass before it is fitted": {func(s *sheet.Sheet) {
			in, out := s.Step("arm_close_RL"), s.Step("damper_in_RL")
			link := sheet.PassRef{Fastener: "link_RL", Pass: "final"}
			in.Passes = slices.DeleteFunc(in.Passes, func(ref sheet.PassRef) bool { return ref == link })
			out.Passes = append(out.Passes, link)
		}, `No step makes pass "final" of fastener "link_RL" after it was last fitted.`},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			s := sheet.Demo()[0]
			test.spoil(s)
			err := s.Validate()
			if !fault.Is(err, fault.Invalid) || !strings.Contains(fault.Of(err).Message, test.want) {
				t.Errorf("got %v, want %q in it", err, test.want)
			}
		})
	}
}
