package guide_test

import (
	"fmt"

	"pgregory.net/rapid"

	"strutcard/sync/event"
	"strutcard/sync/sheet"
)

// randomSheet builds a sheet from any two layouts, without a torque, and adds
// questions, pictures, positions and counts at random steps.
func randomSheet(t *rapid.T) *sheet.Sheet {
	pick := func(axle event.Axle) sheet.PatternID {
		var ids []sheet.PatternID
		for _, p := range sheet.Patterns() {
			for _, a := range p.Axles {
				if a == axle {
					ids = append(ids, p.ID)
				}
			}
		}
		return rapid.SampledFrom(ids).Draw(t, "layout "+string(axle))
	}
	s, err := sheet.Build(sheet.Start{Title: "random", Version: "1", Own: true, Vehicle: sheet.Vehicle{Name: "a car"},
		Front: pick(event.Front), Rear: pick(event.Rear), Parts: []sheet.Part{{ID: "kit", Name: "kit", Count: 1}}})
	if err != nil {
		t.Fatalf("build: %v", err)
	}
	for i, step := range s.Steps() {
		decorate(t, step, fmt.Sprintf("random_%d", i))
	}
	if err := s.Validate(); err != nil {
		t.Fatalf("a sheet with more questions is not sound: %v", err)
	}
	return s
}

// decorate adds, at about a third of the steps, what a step may ask for.
func decorate(t *rapid.T, step *sheet.Step, id string) {
	what := rapid.IntRange(0, 17).Draw(t, "decoration")
	when := []sheet.When{sheet.Before, sheet.After}[what%2]
	switch {
	case what < 4 && step.Move == "":
		step.Checks = append(step.Checks, sheet.StepCheck{ID: event.CheckID(id), When: when, Must: what < 2, Ask: "Is it so?", Stop: "Make it so."})
	case what < 6:
		step.Photos = append(step.Photos, sheet.PhotoAsk{ID: event.PhotoID(id), What: "as it is", Must: true, When: when})
	case what == 6:
		step.Leftovers = true
	case what == 7 && step.Corner != "":
		step.Positions = append(step.Positions, sheet.PositionAsk{Adjuster: event.RideHeight, Corner: step.Corner, Purpose: event.Setting})
	case what == 8 && step.Corner != "":
		step.Clicks = append(step.Clicks, sheet.ClicksAsk{Corner: step.Corner, Purpose: event.Setting})
	}
}
