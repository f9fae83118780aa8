package torque

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
)

// Castle is a castle nut: slots for a split pin through one hole in the bolt.
type Castle struct {
	Spec  Spec           // with its limits
	Slots quantity.Turns // counted on the nut, an even number; six are common
}

// CastleStep is what to do next with a castle nut.
type CastleStep string

const (
	ToLow CastleStep = "to_low" // tighten to the lower limit
	GoOn  CastleStep = "go_on"  // tighten on to the next slot
	PinIn CastleStep = "pin_in" // it lines up inside the limits
	Stop  CastleStep = "stop"   // the upper limit is passed, or reached without a slot
)

// Words is the step as an instruction.
func (s CastleStep) Words() string {
	switch s {
	case ToLow:
		return lang.T("Tighten to the lower limit first, whether a slot lines up or not.")
	case GoOn:
		return lang.T("Tighten on, slowly, to the next slot. Never turn it back to line up.")
	case PinIn:
		return lang.T("Put a new pin in and bend both legs.")
	case Stop:
		return lang.T("Stop. No slot comes inside the limits, or the upper limit is passed. Take the nut off, look for a wrong nut, a missing or wrong washer or a damaged taper, and ask. Do not turn it back to line up.")
	}
	return ""
}

// PerSlot is the angle from one slot to the next: the most that is left to turn.
func (c Castle) PerSlot() (quantity.Angle, error) {
	n := c.Slots.Count()
	if !quantity.Finite(c.Slots) || n < 4 || n > 12 || math.Mod(n, 2) != 0 {
		return 0, quantity.Inputf("Count them on the nut. The pin goes through two that face each other.", "The number of slots is missing, or not an even number from 4 to 12.")
	}
	return quantity.Degrees(360 / n), nil
}

// Next is what to do at a torque that was reached, with or without a slot lined
// up. It fails when the spec has no limits: then nothing says how far to go on.
func (c Castle) Next(reached quantity.Torque, lined bool) (CastleStep, error) {
	if _, err := c.PerSlot(); err != nil {
		return "", err
	}
	if err := c.Spec.check(); err != nil {
		return "", err
	}
	if !c.Spec.limited() {
		return "", quantity.Inputf("Look for a range or a tolerance in the source, or ask.", "The spec of this castle nut has no limits.")
	}
	if !quantity.Finite(reached) || reached < 0 {
		return "", quantity.Inputf("Enter what the wrench was set to or showed.", "The torque that was reached is below zero or not a number.")
	}
	at := reached.CNM() // as fine as the record
	switch {
	case at < c.Spec.Min.CNM():
		return ToLow, nil
	case at > c.Spec.Max.CNM():
		return Stop, nil
	case lined:
		return PinIn, nil
	case at == c.Spec.Max.CNM():
		return Stop, nil
	}
	return GoOn, nil
}
