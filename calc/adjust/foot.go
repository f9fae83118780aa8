package adjust

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// FormulaFoot names this calculation in the record.
const FormulaFoot = "adjust-foot/1"

// Bolt is one of the two that hold the knuckle in the foot of a strut.
type Bolt string

const (
	UpperBolt Bolt = "upper"
	LowerBolt Bolt = "lower"
)

// Foot is the two-bolt clevis at the foot of a strut. Spacing is from centre to
// centre of the bolts, Slotted the one whose hole lets the knuckle move (a slot,
// a thinner bolt or one with a cam); the other is the pivot.
//
// ToTop and ToBallJoint, from the pivot to the top mount and to the lower ball
// joint, are for the change at the wheel. Both are zero when not known.
type Foot struct {
	Spacing            quantity.Length
	Slotted            Bolt
	ToTop, ToBallJoint quantity.Length
	Resolution         quantity.Length // between two marks of the tape
}

// FootChange is what a move in the clevis does.
type FootChange struct {
	Clevis measure.Value[quantity.Angle] // the knuckle against the strut
	// Wheel is the change of camber, smaller than Clevis by Share. Both are zero
	// when ToTop and ToBallJoint are not known: Clevis is then the most the
	// camber can change.
	Wheel measure.Value[quantity.Angle]
	Share quantity.Ratio
}

// Change is what moving the knuckle at the slotted bolt does, positive when the
// top of the wheel leans out more. It fails when a number or a way is missing.
//
//	clevis = atan(dx/s)   ∂/∂dx = s/(s²+dx²)   ∂/∂s = −dx/(s²+dx²)
//	wheel  = clevis · ToTop/(ToTop + ToBallJoint)
func (f Foot) Change(m Move) (FootChange, error) {
	dx, err := along(m.By, m.To, Out, In)
	if err := first(f.check(), err, marks(m.Resolution)); err != nil {
		return FootChange{}, err
	}
	if m.By >= f.Spacing {
		return FootChange{}, quantity.Inputf("Check that both are in the same unit and in the right field.", "The move is not smaller than the distance between the bolts.")
	}
	s, dx := float64(f.Spacing), f.outwards(dx)
	per := 1 / (s*s + dx*dx)
	out := FootChange{Clevis: measure.Value[angle]{Value: quantity.Radians(math.Atan(dx / s)),
		Standard: measure.Combine(turn(s*per, m.Resolution), turn(dx*per, f.Resolution))}}
	if f.ToTop == 0 {
		return out, nil
	}
	out.Share = f.share()
	whole := float64(f.ToTop + f.ToBallJoint)
	c := float64(out.Clevis.Value)
	out.Wheel = measure.Value[angle]{Value: out.Clevis.Value * angle(out.Share), Standard: measure.Combine(
		out.Clevis.Standard*angle(out.Share),
		turn(c*float64(f.ToBallJoint)/whole/whole, f.Resolution), turn(c*float64(f.ToTop)/whole/whole, f.Resolution))}
	return out, nil
}

// MoveFor is the inverse of Change: how far to move the knuckle at the slotted
// bolt for a change of camber at the wheel, or in the clevis when ToTop and
// ToBallJoint are not known. No change needs no move, and the Way is empty.
func (f Foot) MoveFor(camber quantity.Angle) (quantity.Length, Way, error) {
	if err := first(f.check(), checkChange(camber)); err != nil {
		return 0, "", err
	}
	if f.ToTop > 0 {
		camber /= angle(f.share())
	}
	if math.Abs(camber.Degrees()) >= 45 {
		return 0, "", quantity.Inputf("Check the distances from the pivot bolt.", "The clevis would have to swing further than it can.")
	}
	l, to := way(f.outwards(float64(f.Spacing)*math.Tan(float64(camber))), Out, In)
	return l, to, nil
}

func (f Foot) share() quantity.Ratio { return quantity.Ratio(f.ToTop / (f.ToTop + f.ToBallJoint)) }

// outwards is the move of the knuckle above the pivot: below it, the foot of
// the knuckle going out brings the top of the wheel in.
func (f Foot) outwards(dx float64) float64 {
	if f.Slotted == LowerBolt {
		return 0 - dx
	}
	return dx
}

func (f Foot) check() error {
	if err := first(positive(lang.T("The distance between the two bolts"), f.Spacing), marks(f.Resolution)); err != nil {
		return err
	}
	switch {
	case f.Slotted != UpperBolt && f.Slotted != LowerBolt:
		return quantity.Inputf("Choose the upper or the lower bolt.", "It is not said which bolt has the slot or the cam.")
	case !quantity.Finite(f.ToTop) || !quantity.Finite(f.ToBallJoint) || f.ToTop < 0 || f.ToBallJoint < 0 || (f.ToTop == 0) != (f.ToBallJoint == 0):
		return quantity.Inputf("Enter both, or neither.", "Of the distances from the pivot bolt to the top mount and to the ball joint, one is missing or below zero.")
	}
	return nil
}
