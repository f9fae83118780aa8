package guide_test

import (
	"strings"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/guide"
)

// texts joins what a step asks for.
func texts(g guide.Guide, step event.StepID) string {
	var out []string
	for _, ask := range g.Todo(g.Sheet.Step(step)) {
		out = append(out, ask.Text)
	}
	return strings.Join(out, "\n")
}

func TestTodo(t *testing.T) {
	wrench := func(low, high int64) *event.ToolListed {
		return &event.ToolListed{Tool: "wrench_large", Have: true, LowCNM: low, HighCNM: high}
	}
	tests := map[string]struct {
		at   event.StepID
		do   event.Payload
		step event.StepID
		want string // in the asks; "" for no asks
	}{
		"box, at first":        {"box", &event.StepStarted{Step: "box"}, "box", "Count: Rear damper"},
		"box, one damaged":     {"tools", &event.PartCounted{Part: "rear_damper", Found: 2, Damaged: 1}, "box", "Rear damper: 1 good of 2. Get the rest"},
		"box, more than asked": {"tools", &event.PartCounted{Part: "rear_damper", Found: 3, Damaged: 1}, "box", ""},
		"tools, at first":      {"tools", &event.StepStarted{Step: "tools"}, "tools", "Say whether it is here: Trolley jack"},
		"no stands":            {"specs", &event.ToolListed{Tool: "stands"}, "tools", "No lift without it: Two axle stands"},
		"no level":             {"specs", &event.ToolListed{Tool: "level"}, "tools", ""},
		"wrench without range": {"specs", wrench(0, 0), "tools", "Give its usable range: Torque wrench, large range"},
		"wrench too small":     {"specs", wrench(3500, 13_000), "tools", "No wrench here covers Strut to knuckle, upper, front left: 131"},
		"wrench too coarse":    {"specs", wrench(8000, 40_000), "tools", "No wrench here covers"},
		"wrench to the limit":  {"specs", wrench(6000, 13_100), "tools", ""},
		"lift, one question":   {"raise_step_front", answer(event.Front, event.Raise, "ground", event.Yes), "raise_step_front", "engine off"},
		"loosen":               {"free_FL", &event.StepStarted{Step: "free_FL"}, "free_FL", "Loosen: Track rod end to steering arm, front left"},
		"settle again":         {"heights_set", &event.AdjustmentMade{Quantity: event.RideHeight, Corner: event.FL, After: "a"}, "settle", "Settle the car again"},
		"read again":           {"camber_set_FL", &event.AdjustmentMade{Quantity: event.RideHeight, Corner: event.RR, After: "a"}, "heights_set", "Measure: ride height, front left"},
		"camber read again":    {"camber_set_FR", &event.AdjustmentMade{Quantity: event.Camber, Corner: event.FL, After: "a"}, "camber_set_FL", "Measure: camber, front left"},
		"as found stays":       {"camber_set_FL", &event.AdjustmentMade{Quantity: event.RideHeight, Corner: event.RR, After: "a"}, "heights_before", ""},
		"fit":                  {"strut_in_FL", &event.StepStarted{Step: "strut_in_FL"}, "strut_in_FL", "Fit: Strut top mount to body, front left\nFit: "},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			j := at(t, wren(), test.at)
			j.Do(test.do)
			got := texts(j.Guide(), test.step)
			if !strings.Contains(got, test.want) || (got == "") != (test.want == "") {
				t.Errorf("%s asks\n%s\nwant %q in it", test.step, got, test.want)
			}
		})
	}
}

func TestOneCheckAtATime(t *testing.T) {
	j := at(t, wren(), "raise_step_front")
	step := j.Sheet.Step("raise_step_front")
	for _, c := range j.Sheet.ChecksFor(event.Front, event.Raise) {
		asks := j.Guide().Todo(step)
		if len(asks) != 1 || asks[0].Check != c.ID {
			t.Fatalf("asks %+v, want only %s", asks, c.ID)
		}
		j.Do(answer(event.Front, event.Raise, c.ID, event.Yes))
	}
	if asks := j.Guide().Todo(step); len(asks) != 1 || asks[0].Check != "" {
		t.Errorf("with every check answered it asks %+v, want the move itself", asks)
	}
}

// TestSpecsStep: the torques are known before the car goes up.
func TestSpecsStep(t *testing.T) {
	s := own(t)
	j := at(t, s, "specs")
	if got, want := strings.Count(texts(j.Guide(), "specs"), "Look up the torque"), len(s.Fasteners)-2; got != want { // the track rods' lock nuts stand as found
		t.Errorf("asks for %d torques, want %d", got, want)
	}
	for i := range s.Fasteners {
		j.Do(j.LookUp(s.Fasteners[i].ID))
	}
	if got := texts(j.Guide(), "specs"); got != "" {
		t.Errorf("with all known, the step asks %q", got)
	}
	j.Do(&event.SpecGiven{Fastener: "link_FL", Pass: "final", TorqueCNM: 15_000, Source: "manual", Questioned: "High."})
	if got := texts(j.Guide(), "specs"); !strings.Contains(got, "Check and confirm the torque: Anti-roll bar link") {
		t.Errorf("with a questioned torque, the step asks %q", got)
	}
	blocked(t, j.Try(&event.StepDone{Step: "specs"}), "not finished", "confirm")
	j.Do(&event.SpecGiven{Fastener: "link_FL", Pass: "final", TorqueCNM: 50_000, Source: "manual"})
	if got := texts(j.Guide(), "tools"); !strings.Contains(got, "No wrench here covers Anti-roll bar link") {
		t.Errorf("a looked-up torque beyond every wrench reopens the tools with %q", got)
	}
}
