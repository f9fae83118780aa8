package web

import (
	"strings"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/guide/guidetest"
	"strutcard/sync/sheet"
)

// TestMeasuredPlots: what was read as found and at the end is drawn against the target;
// what was read once stands alone, and what was never read is not drawn.
func TestMeasuredPlots(t *testing.T) {
	j := guidetest.New(t, sheet.Demo()[0])
	height := func(corner event.Corner, purpose event.Purpose, um int64) *event.ReadingTaken {
		return &event.ReadingTaken{Quantity: event.RideHeight, Corner: corner, Purpose: purpose, Method: "tape", ValueUM: um, U95UM: 1000}
	}
	j.Force(height("FL", event.Before, 384000), height("FL", event.Final, 355000), height("FR", event.Before, 383000))
	plots := measuredPlots(j.Guide())
	if len(plots) != 1 || plots[0].Title != "Ride height" || len(plots[0].Rows) != 2 {
		t.Fatalf("drawn is %+v, want the ride height of two corners", plots)
	}
	both, one := plots[0].Rows[0], plots[0].Rows[1]
	if both.Name != "front left" || both.Joins[0].From != 384000 || both.Joins[0].To != 355000 || !both.Lanes[0].Hollow || both.Lanes[1].Hollow {
		t.Errorf("front left is drawn as %+v", both)
	}
	value, tol := j.Sheet.Target(event.RideHeight, event.Front).Amount()
	if both.Band == nil || both.Band.From != float64(value-tol) || both.Band.To != float64(value+tol) {
		t.Errorf("the target is drawn as %+v, want %d ± %d", both.Band, value, tol)
	}
	if len(one.Joins) != 0 || len(one.Lanes[1].Points) != 0 || !strings.HasSuffix(one.Words, "; as set not read") {
		t.Errorf("front right, read once, is drawn as %+v", one)
	}
	j.Force(&event.AdjustmentMade{Quantity: event.RideHeight, Corner: "FL", Before: "10", After: "12"})
	if words := measuredPlots(j.Guide())[0].Rows[0].Words; !strings.HasSuffix(words, ", which no longer holds") {
		t.Errorf("after the perch was moved front left says %q", words)
	}
	if a := plots[0].Axis; a.Low > 355000 || a.High < 384000 {
		t.Errorf("the scale goes from %v to %v", a.Low, a.High)
	}
}
