package torque

import (
	"strutcard/calc/lang"
	"strutcard/calc/quantity"
)

// FormulaRecheck names the reading of a re-check in the record.
const FormulaRecheck = "torque-recheck/1"

// Movement is what the bolt did before the wrench clicked.
type Movement string

const (
	Still Movement = "still" // it clicked and nothing turned
	Moved Movement = "moved" // it turned first
)

// Finding is what a re-check proves.
type Finding string

const (
	Holds     Finding = "holds"      // at least the lower limit of the spec
	HoldsLess Finding = "holds_less" // at least a torque below the spec, no more is known
	WasLoose  Finding = "was_loose"  // it was below the spec
	WasLess   Finding = "was_less"   // it was below the value set, which lies inside the limits
	Unproven  Finding = "unproven"   // it turned above the spec: nothing is known, and it is too tight now
)

// Rechecked is the finding with its number: the true torque that the bolt held
// at least, or lay below, with the tolerance of the wrench reckoned in.
type Rechecked struct {
	Finding Finding
	Set     quantity.Torque
	AtLeast quantity.Torque // zero when it moved
	Below   quantity.Torque // zero when it stood still
}

// Recheck reads a check with a click wrench of tolerance e, set to a torque. A
// spec without limits counts as the one number it is.
func Recheck(s Spec, set quantity.Torque, e quantity.Ratio, m Movement) (Rechecked, error) {
	if err := s.check(); err != nil {
		return Rechecked{}, err
	}
	low, high, err := Window(set, e)
	if err != nil {
		return Rechecked{}, err
	}
	out := Rechecked{Set: set}
	switch m {
	case Still:
		out.AtLeast, out.Finding = low, HoldsLess
		if set >= s.lowest() {
			out.Finding = Holds
		}
	case Moved:
		out.Below, out.Finding = high, WasLess
		if set <= s.lowest() {
			out.Finding = WasLoose
		} else if set > s.highest() {
			out.Finding = Unproven
		}
	default:
		return Rechecked{}, quantity.Inputf("Say whether the bolt or nut turned before the click.", "It is not said whether it moved.")
	}
	return out, nil
}

// Words is the finding as people read it, and what to do.
func (r Rechecked) Words(u quantity.TorqueUnit) string {
	set := quantity.FormatTorque(r.Set, u)
	switch r.Finding {
	case Holds:
		return lang.F("It clicked without moving: it holds at least %s by this wrench. How much more is not known. To set it properly, loosen it and tighten it afresh. Replace a one-use bolt with a new one first.", set)
	case HoldsLess:
		return lang.F("It clicked without moving: it holds at least %s by this wrench, which is less than the spec. To know more, loosen it a quarter turn to half a turn and tighten it to the spec. Replace a one-use bolt with a new one first.", set)
	case WasLoose:
		return lang.F("It moved before %s: it was loose. With the car and the part held as its step asks, take it out. Look at bolt, nut and faces, and replace what the manual says. Then tighten it to the spec. One bolt at a time.", set)
	case WasLess:
		return lang.F("It moved before %s: it held less than that, which may still have been inside the limits. Note it, and check again later.", set)
	case Unproven:
		return lang.F("It moved, but %s is more than the spec: it shows nothing, and it is tighter now than it should be. Loosen it and tighten it to the spec. Replace a one-use bolt with a new one first.", set)
	}
	return ""
}
