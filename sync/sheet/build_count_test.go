package sheet_test

import (
	"testing"

	"strutcard/sync/sheet"
)

// TestBuildCount: a group is as large as the car's, not as the pattern's.
func TestBuildCount(t *testing.T) {
	s, err := sheet.Build(sheet.Start{Title: "own", Version: "1", Own: true, Source: "p. 1", Vehicle: sheet.Vehicle{Name: "a car"},
		Front: "front_strut", Rear: "twist_beam", Torques: map[string]sheet.Torque{"wheel_nuts": {CNM: 10_000, Count: 4}}})
	if err != nil {
		t.Fatal(err)
	}
	if got := s.Fastener("wheel_nuts_RR").Count; got != 4 {
		t.Errorf("count = %d, want the 4 that were stated", got)
	}
	if got := s.Fastener("strut_top_FL").Count; got != 3 {
		t.Errorf("count = %d, want the pattern's 3 where none is stated", got)
	}
}
