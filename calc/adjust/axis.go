package adjust

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// FormulaAxis names this calculation in the record.
const FormulaAxis = "adjust-axis/1"

// Joint is an end of the steering axis. The zero Joint says nothing.
type Joint string

const (
	Upper Joint = "upper" // the top mount of a strut, or the upper ball joint
	Lower Joint = "lower" // the lower ball joint
)

// Axis is the steering axis as seen in one plane: from the front for moves in
// and out, from the side for moves forward and rearward. Height is the vertical
// distance between its two joints, Offset how far the upper one lies to one
// side of the lower one, and UpperLies to which; it may be empty at zero.
type Axis struct {
	Height, Offset quantity.Length
	UpperLies      Way
	Resolution     quantity.Length // between two marks of the tape
}

// Lean is what a move in or out changes, seen from the front.
type Lean struct {
	Camber      measure.Value[quantity.Angle] // negative: the wheel leans in more
	Inclination measure.Value[quantity.Angle] // of the steering axis: positive is more
}

// Sideways is the change when one joint moves in or out and the other stays:
// the top of a strut in its slots, an upper arm that is made longer or shimmed,
// a lower arm on an eccentric. It fails when a number or a way is missing.
func (a Axis) Sideways(moving Joint, m Move) (Lean, error) {
	d, err := a.tilt(moving, m, In, Out)
	if err != nil {
		return Lean{}, err
	}
	lean := Lean{Camber: d, Inclination: d}
	lean.Camber.Value = 0 - d.Value // a plain zero, never minus zero
	return lean, nil
}

// Lengthwise is the change of caster, positive for more, when one joint moves
// forward or rearward and the other stays.
func (a Axis) Lengthwise(moving Joint, m Move) (measure.Value[quantity.Angle], error) {
	return a.tilt(moving, m, Rearward, Forward)
}

// tilt is the change of the axis' lean towards plus, with its uncertainty:
//
//	d = atan(v/h) − atan(y/h)   v = y + dx
//	∂d/∂dx = h/(h²+v²)   ∂d/∂y = h/(h²+v²) − h/(h²+y²)   ∂d/∂h = y/(h²+y²) − v/(h²+v²)
func (a Axis) tilt(moving Joint, m Move, plus, minus Way) (measure.Value[angle], error) {
	h, y, err := a.read(plus, minus)
	if err != nil {
		return measure.Value[angle]{}, err
	}
	dx, err := along(m.By, m.To, plus, minus)
	if err := first(err, marks(m.Resolution), checkJoint(moving)); err != nil {
		return measure.Value[angle]{}, err
	}
	if math.Abs(dx) >= h {
		return measure.Value[angle]{}, quantity.Inputf("Check that both are in the same unit and in the right field.", "The move is not smaller than the height of the steering axis.")
	}
	v := y + upperwards(moving, dx)
	before, after := h*h+y*y, h*h+v*v
	return measure.Value[angle]{
		Value: quantity.Radians(math.Atan(v/h) - math.Atan(y/h)),
		Standard: measure.Combine(turn(h/after, m.Resolution),
			turn(h/after-h/before, a.Resolution), turn(y/before-v/after, a.Resolution)),
	}, nil
}

// upperwards turns a move of the lower joint into the move of the upper one
// that leaves the axis with the same lean.
func upperwards(moving Joint, dx float64) float64 {
	if moving == Lower {
		return -dx
	}
	return dx
}

func (a Axis) read(plus, minus Way) (h, y float64, err error) {
	y, err = along(a.Offset, a.UpperLies, plus, minus)
	err = first(positive(lang.T("The height between the joints of the steering axis"), a.Height), marks(a.Resolution), err)
	if err == nil && a.Offset >= a.Height {
		err = quantity.Inputf("Measure both again: the height is straight up, the offset level.", "The joints lie further apart to the side than in height.")
	}
	return float64(a.Height), y, err
}

func checkJoint(j Joint) error {
	if j != Upper && j != Lower {
		return quantity.Inputf("Choose the upper or the lower joint.", "It is not said which end of the steering axis moves.")
	}
	return nil
}

// SidewaysFor is the inverse of Sideways: how far to move the joint, and which
// way, for a change of camber. No change needs no move, and the Way is empty.
func (a Axis) SidewaysFor(moving Joint, camber quantity.Angle) (quantity.Length, Way, error) {
	return a.moveFor(moving, -camber, In, Out)
}

// LengthwiseFor is the inverse of Lengthwise, for a change of caster.
func (a Axis) LengthwiseFor(moving Joint, caster quantity.Angle) (quantity.Length, Way, error) {
	return a.moveFor(moving, caster, Rearward, Forward)
}

func (a Axis) moveFor(moving Joint, d angle, plus, minus Way) (length, Way, error) {
	h, y, err := a.read(plus, minus)
	if err := first(err, checkChange(d), checkJoint(moving)); err != nil {
		return 0, "", err
	}
	if d == 0 {
		return 0, "", nil
	}
	dx := h*math.Tan(math.Atan(y/h)+float64(d)) - y
	l, to := way(upperwards(moving, dx), plus, minus)
	return l, to, nil
}
