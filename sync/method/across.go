package method

import (
	"slices"

	"strutcard/calc/camber"
	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
	"strutcard/sync/job"
)

// angle is short for a measured angle.
type angle = measure.Value[quantity.Angle]

// sideOf is the side of the car that a corner is on, "" for an axle or nothing.
func sideOf(at event.Place) camber.Side {
	switch at.Corner() {
	case event.FL, event.RL:
		return camber.Left
	case event.FR, event.RR:
		return camber.Right
	}
	return ""
}

// last is the latest reading of q at a place, nil when there is none or
// something has changed since.
func (r Record) last(q event.Quantity, at event.Place) *job.Reading {
	if r.State == nil || !at.Valid() {
		return nil
	}
	for i := range slices.Backward(r.State.Readings) {
		if x := &r.State.Readings[i]; x.Quantity == q && x.Place() == at {
			if x.Stale != "" {
				return nil
			}
			return x
		}
	}
	return nil
}

// recorded is an angle as the record keeps it.
func recorded(r *job.Reading) angle {
	value, u95 := r.Amount()
	return angle{Value: quantity.AngleFromMdeg(value), Standard: quantity.AngleFromMdeg(u95) / measure.Coverage}
}

// across is the latest reading of q on the other wheel of the axle, or nil.
func (r Record) across(q event.Quantity) *job.Reading {
	if r.At.Corner() == "" {
		return nil
	}
	for _, c := range r.At.Axle().Corners() {
		if c.Place() != r.At {
			return r.last(q, c.Place())
		}
	}
	return nil
}

// crossRow is left minus right, with the other side's reading.
func (in *In) crossRow(v angle, other *job.Reading, cross func(left, right angle) (angle, error), condition string) []Row {
	left, right := v, recorded(other)
	if sideOf(in.At) == camber.Right {
		left, right = right, left
	}
	c, err := cross(left, right)
	if err != nil { // the other reading has no uncertainty
		return nil
	}
	label := lang.T("Left minus right")
	if condition != "" {
		label += ", " + condition
	}
	if other.Purpose == event.Before {
		label += ", " + lang.F("%s as found", lang.T(other.Place().Words()))
	}
	return []Row{{label, in.angle(c)}}
}
