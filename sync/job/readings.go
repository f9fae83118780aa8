package job

import "strutcard/sync/event"

// adjust keeps the move and marks the readings that it makes stale. Ride height
// at one corner moves the car on all four.
func (s *State) adjust(e event.Event, p *event.AdjustmentMade, n N) {
	s.Adjusted = append(s.Adjusted, Adjustment{AdjustmentMade: *p, At: e.At, N: n})
	if p.Quantity == event.RideHeight {
		s.HeightN = n
		s.stale("ride height was changed", func(Reading) bool { return true })
		return
	}
	s.stale("the camber adjuster was moved", func(r Reading) bool {
		return r.Quantity == event.Camber && r.Corner == p.Corner
	})
}

// stale marks readings that some change reaches. Readings of the car as found
// are history and stay as they are.
func (s *State) stale(why string, reaches func(Reading) bool) {
	for i := range s.Readings {
		r := &s.Readings[i]
		if r.Purpose != event.Before && r.Stale == "" && reaches(*r) {
			r.Stale = why
		}
	}
}

// Reading returns the latest reading of that kind, or nil.
func (s *State) Reading(q event.Quantity, c event.Corner, p event.Purpose) *Reading {
	for i := len(s.Readings) - 1; i >= 0; i-- {
		if r := &s.Readings[i]; r.Quantity == q && r.Corner == c && r.Purpose == p {
			return r
		}
	}
	return nil
}
