package thrust

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// FormulaThrust names the thrust angle in the record, FormulaFront the front
// toe to the thrust line, FormulaOffset the offset of the tracks.
const (
	FormulaThrust = "thrust-angle/1"
	FormulaFront  = "thrust-front-toe/1"
	FormulaOffset = "thrust-track-offset/1"
)

// Side is a side of the car, as the driver sits.
type Side string

const (
	Left  Side = "left"
	Right Side = "right"
)

// Words is the side as people read it.
func (s Side) Words() string {
	switch s {
	case Left:
		return lang.T("left")
	case Right:
		return lang.T("right")
	}
	return ""
}

func (s Side) other() Side {
	if s == Left {
		return Right
	}
	return Left
}

// Convention names the sign of a thrust angle. There is no default.
type Convention string

const (
	PositiveRight Convention = "positive to the right"
	PositiveLeft  Convention = "positive to the left" // also ISO 8855's sense of steer angles
)

// Wheels is the toe of the two wheels of an axle to the centre line of the car,
// toe-in positive, each measured on its own.
type Wheels struct{ Left, Right measure.Value[quantity.Angle] }

// Thrust is the thrust angle: how far the thrust line points to a side of the
// centre line. The zero Thrust was not measured.
type Thrust struct{ right measure.Value[quantity.Angle] }

// FromRear computes the thrust angle from the toe of the rear wheels.
func FromRear(rear Wheels) (Thrust, error) {
	if err := rear.check(lang.T("The toe of a rear wheel")); err != nil {
		return Thrust{}, err
	}
	return Thrust{right: halfDifference(rear.Left, rear.Right)}, nil
}

func halfDifference(a, b measure.Value[quantity.Angle]) measure.Value[quantity.Angle] {
	return measure.Value[quantity.Angle]{Value: (a.Value - b.Value) / 2, Standard: measure.Combine(a.Standard, b.Standard) / 2}
}

// In is the thrust angle with its sign in a named convention.
func (t Thrust) In(c Convention) (measure.Value[quantity.Angle], error) {
	if err := t.check(); err != nil {
		return measure.Value[quantity.Angle]{}, err
	}
	switch c {
	case PositiveRight:
		return t.right, nil
	case PositiveLeft:
		return negative(t.right), nil
	}
	return measure.Value[quantity.Angle]{}, quantity.Inputf("Choose positive to the right or positive to the left, as the source means it. Sources disagree.", "It is not said which way a thrust angle is positive.")
}

// Signed is the inverse of In and Points: a thrust angle from a printout, as a
// number in a named convention, with the step of its last digit.
func Signed(a quantity.Angle, c Convention, resolution quantity.Angle) (Thrust, error) {
	v, err := measure.Read(a, resolution)
	if err != nil {
		return Thrust{}, err
	}
	out, err := Thrust{right: v}.In(c) // the same change of sign there and back
	return Thrust{right: out}, err
}

// Points is the thrust angle in words: a size and the side it points to, empty
// for zero.
func (t Thrust) Points() (size measure.Value[quantity.Angle], side Side) { return sided(t.right) }

func sided(right measure.Value[quantity.Angle]) (measure.Value[quantity.Angle], Side) {
	switch {
	case right.Value > 0:
		return right, Right
	case right.Value < 0:
		return negative(right), Left
	}
	return right, ""
}

func negative(v measure.Value[quantity.Angle]) measure.Value[quantity.Angle] {
	v.Value = 0 - v.Value // no minus zero
	return v
}

func (t Thrust) check() error {
	if !known(t.right) {
		return quantity.Inputf("Measure the toe of each rear wheel first.", "There is no thrust angle yet.")
	}
	return nil
}

func known[Q quantity.Quantity](v measure.Value[Q]) bool {
	return quantity.Finite(v.Value) && quantity.Finite(v.Standard) && v.Standard > 0
}

func (w Wheels) check(toe string) error {
	if !known(w.Left) || !known(w.Right) {
		return quantity.Inputf("Measure each wheel on its own, with strings. The total does not say which way the axle points.", "%s is missing, or it is not known how finely it was read.", toe)
	}
	return nil
}

// Front is the front toe to the thrust line, toe-in positive. The total is the
// same as to the centre line, and the thrust angle adds nothing to its uncertainty.
type Front struct{ Left, Right, Total measure.Value[quantity.Angle] }

// Front computes the front toe to the thrust line.
func (t Thrust) Front(front Wheels) (Front, error) {
	if err := t.check(); err != nil {
		return Front{}, err
	}
	if err := front.check(lang.T("The toe of a front wheel")); err != nil {
		return Front{}, err
	}
	left, right := front.Left, front.Right
	return Front{
		Left:  measure.Value[quantity.Angle]{Value: left.Value - t.right.Value, Standard: measure.Combine(left.Standard, t.right.Standard)},
		Right: measure.Value[quantity.Angle]{Value: right.Value + t.right.Value, Standard: measure.Combine(right.Standard, t.right.Standard)},
		Total: measure.Value[quantity.Angle]{Value: left.Value + right.Value, Standard: measure.Combine(left.Standard, right.Standard)},
	}, nil
}

// Steer is ISO 8855's steer angles of an axle, positive to the left for both
// wheels, and their mean.
type Steer struct{ Left, Right, Mean measure.Value[quantity.Angle] }

// ISO turns toe into steer angles. For the rear axle the mean is the thrust
// angle positive to the left.
func (w Wheels) ISO() (Steer, error) {
	if err := w.check(lang.T("The toe of a measured wheel")); err != nil {
		return Steer{}, err
	}
	return Steer{Left: negative(w.Left), Right: w.Right, Mean: halfDifference(w.Right, w.Left)}, nil
}

// Offset is how far beside each other the front and the rear wheels run when the
// car drives straight. Rear is the side to which the rear wheels run, the one the
// thrust line points to; empty for none.
type Offset struct {
	By   measure.Value[quantity.Length]
	Rear Side
}

// Offset computes it from the wheelbase, read with marks every resolution:
//
//	∂/∂thrust = wheelbase/cos²(thrust)    ∂/∂wheelbase = tan(thrust)
func (t Thrust) Offset(wheelbase, resolution quantity.Length) (Offset, error) {
	if err := t.check(); err != nil {
		return Offset{}, err
	}
	if err := checkBase(wheelbase, resolution); err != nil {
		return Offset{}, err
	}
	size, side := t.Points()
	slope, base := math.Tan(size.Value.Radians()), wheelbase.Metres()
	return Offset{Rear: side, By: measure.Value[quantity.Length]{Value: quantity.Length(base * slope), Standard: measure.Combine(
		measure.Contribution[quantity.Length](measure.Sensitivity(base*(1+slope*slope)), size.Standard),
		measure.Contribution[quantity.Length](measure.Sensitivity(slope), measure.Resolution(resolution)),
	)}}, nil
}

func checkBase(wheelbase, resolution quantity.Length) error {
	if !quantity.Finite(wheelbase) || wheelbase <= 0 {
		return quantity.Inputf("Measure from the front to the rear hub centre.", "The wheelbase is missing or not above zero.")
	}
	if !quantity.Finite(resolution) || resolution <= 0 || resolution >= wheelbase {
		return quantity.Inputf("Enter the distance between two marks, such as 1 mm, and check its unit.", "The smallest mark of the tape is missing, not above zero, or as long as the car.")
	}
	return nil
}

// questioned is where a thrust angle is asked about. Common practice, no source.
const questioned = 2.0 // degrees

// Question is a sentence to put to the person about a thrust angle or its
// tolerance, measured or specified, or "" when there is nothing to ask. Nothing
// it asks about is to be used before the person has confirmed it.
func Question(a quantity.Angle) string {
	switch {
	case !quantity.Finite(a):
		return lang.T("The thrust angle is not a number. Measure or enter it again.")
	case math.Abs(a.Degrees()) > questioned+1e-9:
		size := quantity.Angle(math.Abs(float64(a)))
		return lang.F("A thrust angle of %s is far more than a road car has. If the source means minutes of arc, it is %s. If it was measured, check each rear wheel's toe and the strings.", quantity.FormatAngle(size, quantity.Degree), quantity.FormatAngle(size/60, quantity.Degree))
	}
	return ""
}
