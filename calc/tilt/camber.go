package tilt

import (
	"math"

	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// FormulaCamber names the camber by phone in the record.
const FormulaCamber = "phone-camber/1"

// Wheel is the side of the car, as its driver sees it.
type Wheel string

const (
	LeftWheel  Wheel = "left"
	RightWheel Wheel = "right"
)

// Facing is where the screen looks along the car.
type Facing string

const (
	ToFront Facing = "front"
	ToRear  Facing = "rear"
)

// Lean is what the person sees of the wheel before measuring.
type Lean string

const (
	In      Lean = "in"  // the top leans towards the car
	Out     Lean = "out" // the top leans away from it
	Unclear Lean = "unclear"
)

// Held is the phone upright beside the wheel, a long edge against the rim at top
// and bottom or against a straight edge across the rim, the screen looking along
// the car.
type Held struct {
	Placement Placement
	Wheel     Wheel
	Edge      Side // LeftEdge or RightEdge: the one on the wheel
	Faces     Facing
	TopLeans  Lean
}

// Up is the end that is up when everything was said rightly: with the wheel, the
// edge and the screen known, only one end can be.
func (h Held) Up() (Side, error) {
	wheel, edge, faces := h.Wheel == RightWheel, h.Edge == RightEdge, h.Faces == ToFront
	switch {
	case !wheel && h.Wheel != LeftWheel:
		return "", quantity.Inputf("Choose left or right, as seen from the driver's seat.", "It is not said which side of the car the wheel is on.")
	case !edge && h.Edge != LeftEdge:
		return "", quantity.Inputf("Choose the left or the right long edge, as you see it when the phone is upright and you look at the screen.", "It is not said which long edge of the phone is on the wheel.")
	case !faces && h.Faces != ToRear:
		return "", quantity.Inputf("Choose front or rear of the car.", "It is not said where the screen looks.")
	}
	// The edge looks at the car: to the left on a right wheel. Screen × edge is
	// the third direction, and X forward × Y left is up (ISO 8855 axes).
	if (wheel == edge) == faces {
		return Top, nil
	}
	return Bottom, nil
}

// Camber is the rise of the edge on the wheel: the direction to the car climbs
// when the top of the wheel leans out. So out is positive, in negative, on either
// side of the car.
//
// It fails as Rise does, when gravity contradicts what was said of the edge, the
// screen and the wheel, and when the wheel leans the other way than the person
// sees, by more than the expanded uncertainty.
func Camber(h Held) (Rise, error) {
	up, err := h.Up()
	if err != nil {
		return Rise{}, err
	}
	if h.TopLeans != In && h.TopLeans != Out && h.TopLeans != Unclear {
		return Rise{}, quantity.Inputf("Look from the front or the rear of the car: does the top of the wheel lean in or out? Unclear is an answer too.", "It is not said which way the top of the wheel leans.")
	}
	out, err := h.Placement.Rise(h.Edge, up)
	if err != nil {
		return Rise{}, err
	}
	switch a := out.Angle; {
	case h.TopLeans == In && a.Low() > 0:
		return Rise{}, quantity.Inputf(lookAgain, "The phone shows the top leaning out by %v, and you see it leaning in.", a.Value)
	case h.TopLeans == Out && a.High() < 0:
		return Rise{}, quantity.Inputf(lookAgain, "The phone shows the top leaning in by %v, and you see it leaning out.", -a.Value)
	}
	return out, nil
}

const lookAgain = "Look again which way the top leans, which edge is on the wheel and which wheel it is, then measure again."

// Slope is the rise of a side of the phone while it rests on another: on its
// Back, a long edge or its Screen. Side is the end that points where the slope is
// wanted, and the result is positive when the ground climbs that way.
func Slope(p Placement, restsOn, side Side) (Rise, error) {
	return p.Rise(side, restsOn.Other())
}

// Steepest is the slope of a plane from its slopes along two directions at right
// angles: sin² of it is the sum of theirs. Its uncertainty is the larger of the
// two. It fails for what cannot be two directions of one plane.
func Steepest(along, across measure.Value[quantity.Angle]) (measure.Value[quantity.Angle], error) {
	sum := math.Hypot(math.Sin(along.Value.Radians()), math.Sin(across.Value.Radians()))
	for _, v := range []measure.Value[quantity.Angle]{along, across} {
		if !quantity.Finite(v.Value) || !quantity.Finite(v.Standard) || v.Standard <= 0 || math.Abs(v.Value.Radians()) > steep {
			return measure.Value[quantity.Angle]{}, quantity.Inputf("Measure both directions with the phone flat on the ground.", "One of the two slopes is missing, has no uncertainty, or is beyond 45°.")
		}
	}
	return measure.Value[quantity.Angle]{Value: quantity.Radians(math.Asin(min(sum, 1))), Standard: max(along.Standard, across.Standard)}, nil
}
