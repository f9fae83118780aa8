package job

import "strutcard/sync/event"

// adjust keeps the move and marks the readings that it makes stale.
func (s *State) adjust(e event.Event, p *event.AdjustmentMade, n N) {
	s.Adjusted = append(s.Adjusted, Adjustment{AdjustmentMade: *p, At: e.At, N: n})
	if p.Quantity == event.RideHeight || p.Quantity == event.Spring {
		s.HeightN = n
	}
	s.stale(changes[p.Quantity].why, func(r Reading) bool { return Moves(p.Quantity, p.Corner, &r.ReadingTaken) })
}

// reach is how far a change is felt.
type reach int

const (
	nowhere   reach = iota
	oneCorner       // the corner that was changed
	oneAxle         // both wheels of its axle
	wholeCar
)

// change is what one kind of change does to readings.
type change struct {
	why   string
	reach map[event.Quantity]reach
}

// geometry is everything that depends on how the body stands.
var geometry = map[event.Quantity]reach{event.RideHeight: wholeCar, event.Camber: wholeCar, event.Caster: wholeCar,
	event.Toe: wholeCar, event.TotalToe: wholeCar, event.Thrust: wholeCar, event.CornerWeight: wholeCar}

// changes is the table of what makes what stale. Common practice, no source:
// heights first, then caster and camber, then toe, and whatever comes earlier in
// that order moves what comes later.
var changes = map[event.Quantity]change{
	event.RideHeight: {"ride height was changed", geometry},
	event.Spring:     {"a spring was changed", geometry},
	event.Load:       {"the load in the car was changed", geometry},
	event.Caster: {"the caster adjuster was moved", map[event.Quantity]reach{event.Caster: oneCorner, event.Camber: oneCorner,
		event.Toe: oneAxle, event.TotalToe: oneAxle, event.Thrust: oneAxle}},
	event.Camber: {"the camber adjuster was moved", map[event.Quantity]reach{event.Camber: oneCorner, event.Caster: oneCorner,
		event.Toe: oneAxle, event.TotalToe: oneAxle, event.Thrust: oneAxle}},
	event.Toe: {"the toe adjuster was moved", map[event.Quantity]reach{event.Toe: oneAxle, event.TotalToe: oneAxle, event.Thrust: oneAxle}},
	event.TyrePressure: {"a tyre pressure was changed", map[event.Quantity]reach{event.TyrePressure: oneCorner,
		event.RideHeight: wholeCar, event.CornerWeight: wholeCar, event.Camber: oneAxle}},
}

// Moves reports whether a change of q at a corner ("" for the whole car) makes
// a reading stale.
func Moves(q event.Quantity, corner event.Corner, r *event.ReadingTaken) bool {
	switch changes[q].reach[r.Quantity] {
	case oneCorner:
		return r.Corner == corner
	case oneAxle:
		return r.Place().Axle() == corner.Axle()
	case wholeCar:
		return true
	}
	return false
}

// raised reports whether lifting an axle makes a reading stale: the springs are
// unloaded and settle anew. The air in a tyre and the floor do not care.
func raised(axle event.Axle, r *event.ReadingTaken) bool {
	switch r.Quantity {
	case event.TyrePressure, event.FloorSlope:
		return false
	case event.CornerWeight:
		return true
	}
	return r.Place().Axle() == axle
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
func (s *State) Reading(q event.Quantity, at event.Place, p event.Purpose) *Reading {
	for i := len(s.Readings) - 1; i >= 0; i-- {
		if r := &s.Readings[i]; r.Quantity == q && r.Place() == at && r.Purpose == p {
			return r
		}
	}
	return nil
}
