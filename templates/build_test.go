package templates_test

import (
	"context"
	"strings"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/job"
	"strutcard/templates"
)

// A reader of the card can work a reading out again: raw numbers, instrument,
// takes, load, and why it no longer holds. A sensor's recording is only named.
func TestCardShowsHowItWasTaken(t *testing.T) {
	st := job.Fold("j", nil)
	taken := event.ReadingTaken{Quantity: event.Camber, Corner: event.FL, Purpose: event.Final, Method: "Level and ruler", Instrument: "ruler marked every 0.5 mm", Load: "full tank",
		Inputs: []event.Input{{Name: "gap_at", Text: "top"}, {Name: "gap", Text: "11,5", Unit: "mm"}, {Name: "samples", Text: strings.Repeat("1,2,3,4;", 100)}}, Takes: []int64{-1500, -1510}}
	taken.SetAmount(-1505, 60)
	st.Readings = []job.Reading{{ReadingTaken: taken, Stale: "ride height was changed"}}
	var b strings.Builder
	if err := templates.CardScreen(templates.CardOf(nil, st, nil)).Render(context.Background(), &b); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Camber, front left, final", "−1.50° ± 0.06°", "Level and ruler", "ruler marked every 0.5 mm", "The gap is at the: top", "Gap between level and rim: 11,5 mm", "Mean of 2 takes", "full tank", "Stale: ride height was changed", "a recording, 800 characters"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("the card does not say %q", want)
		}
	}
	if strings.Contains(b.String(), "1,2,3,4;1,2,3,4") {
		t.Error("the card prints a whole recording")
	}
}
