package camber

import (
	"math"

	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// FormulaDivision and FormulaBubble name these calculations in the record.
const (
	FormulaDivision = "level-division/1"
	FormulaBubble   = "camber-bubble/1"
)

// angle is short for a measured angle; exported names spell it out.
type angle = measure.Value[quantity.Angle]

// Shim is how a level's own scale is found: it lies on something flat, and a
// shim under one end moves the bubble by Divisions, a size. Turn the level end
// for end on the same shim first: the bubble must move the same way by as much.
type Shim struct {
	Thickness quantity.Length
	// Base is along the bench, from the shim to the end that stays down.
	Base                       quantity.Length
	Divisions                  quantity.Turns
	Resolution, BaseResolution quantity.Length // of what read the shim, and the base
	DivisionResolution         quantity.Turns  // how finely the bubble can be read
}

// PerDivision is the angle of one division of the bubble: atan(thickness/base)
// over the divisions. It fails when a number is missing or impossible.
func PerDivision(s Shim) (measure.Value[quantity.Angle], error) {
	if err := s.check(); err != nil {
		return angle{}, err
	}
	t, base, n := s.Thickness.Metres(), s.Base.Metres(), s.Divisions.Count()
	lean, perThickness := math.Atan2(t, base), base/(base*base+t*t)
	return angle{Value: quantity.Radians(lean / n), Standard: measure.Combine(
		measure.Contribution[quantity.Angle](measure.Sensitivity(perThickness/n), measure.Resolution(s.Resolution)),
		measure.Contribution[quantity.Angle](measure.Sensitivity(perThickness*t/base/n), measure.Resolution(s.BaseResolution)),
		measure.Contribution[quantity.Angle](measure.Sensitivity(lean/(n*n)), measure.Resolution(s.DivisionResolution)),
	)}, nil
}

func (s Shim) check() error {
	switch {
	case !positive(s.Thickness) || !positive(s.Base):
		return quantity.Inputf("Measure the shim, and the distance from it to the other end of the level.", "The shim or the distance is missing or not above zero.")
	case s.Thickness >= s.Base/4:
		return quantity.Inputf("Check that both are in the same unit and in the right field.", "The shim is too thick for the distance.")
	case !positive(s.Divisions):
		return quantity.Inputf("Count how far the bubble moved, in divisions of the vial.", "The divisions that the bubble moved are missing or not above zero.")
	case !positive(s.Resolution) || !positive(s.BaseResolution) || !positive(s.DivisionResolution):
		return quantity.Inputf("Enter how finely the shim, the distance and the bubble were read.", "The smallest mark of one of the readings is missing or not above zero.")
	}
	return nil
}

// Bubble is a level held against the rim at both ends, its bubble off the
// middle. At is the end that would have to come away from the rim to bring the
// bubble to the middle; it may be empty only when the bubble is there.
//
// A level that is brought plumb with a shim at one end is a Gap with the
// thickness of the shim, at the end where it sits.
type Bubble struct {
	Divisions   quantity.Turns // off the middle, a size
	Resolution  quantity.Turns
	PerDivision measure.Value[quantity.Angle]
	At          End
}

// FromBubble computes the camber, negative when the top leans in. It fails when
// a number is missing or the end is not said.
func FromBubble(b Bubble) (measure.Value[quantity.Angle], error) {
	switch {
	case !quantity.Finite(b.Divisions) || b.Divisions < 0:
		return angle{}, quantity.Inputf("Enter the divisions as a size, and say which end must come away.", "The divisions off the middle are missing or below zero.")
	case !positive(b.Resolution):
		return angle{}, quantity.Inputf("Enter how finely it can be read, such as a quarter of a division.", "It is not said how finely the bubble was read.")
	case !usable(b.PerDivision) || b.PerDivision.Value <= 0:
		return angle{}, quantity.Inputf("Find it first, with a shim under one end of the level.", "The angle of one division is missing or has no uncertainty.")
	case b.At != Top && b.At != Bottom && (b.At != "" || b.Divisions > 0):
		return angle{}, quantity.Inputf("Choose top or bottom: the sign follows from it.", "It is not said which end must come away from the rim.")
	}
	n := quantity.Angle(b.Divisions.Count())
	out := angle{Value: n * b.PerDivision.Value, Standard: measure.Combine(
		measure.Contribution[quantity.Angle](measure.Sensitivity(b.PerDivision.Value), measure.Resolution(b.Resolution)),
		measure.Contribution[quantity.Angle](measure.Sensitivity(n), b.PerDivision.Standard),
	)}
	if b.At == Top && n > 0 {
		out.Value = -out.Value
	}
	return out, nil
}

func positive[Q measure.Quantity](q Q) bool { return quantity.Finite(q) && q > 0 }

// usable reports whether v is a measured value that can be worked with.
func usable(v angle) bool { return quantity.Finite(v.Value) && positive(v.Standard) }
