package toe

import (
	"math"

	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// FormulaCorrection names the split of a correction in the record, FormulaAdvice
// the turns of the rods.
const (
	FormulaCorrection = "toe-correction/1"
	FormulaAdvice     = "toe-advice/1"
)

// Correction is what each wheel's toe has to change by, positive for more
// toe-in.
type Correction struct{ Left, Right measure.Value[quantity.Angle] }

// ForWheels brings each wheel to half of the wanted total. The wheels were read
// on their own, with the steering wheel held straight, and to the line that the
// car drives along: to the thrust line, which is the centre line only when the
// rear axle is true. The steering wheel is straight afterwards.
func ForWheels(now Both, want Angles) (Correction, error) {
	if err := checkPair(now, want); err != nil {
		return Correction{}, err
	}
	if now.Split != Measured {
		return Correction{}, quantity.Inputf("Measure each wheel with strings, or say how the steering wheel sits when the car drives straight.", "Only the total is known, and it does not say which wheel is off.")
	}
	to := func(v measure.Value[quantity.Angle]) measure.Value[quantity.Angle] {
		return measure.Value[quantity.Angle]{Value: want.PerWheel - v.Value, Standard: v.Standard}
	}
	return Correction{Left: to(now.left), Right: to(now.right)}, nil
}

// Turned is how the steering wheel sits while the car drives straight on.
type Turned string

const (
	Straight    Turned = "straight"
	TurnedLeft  Turned = "left" // anticlockwise, as the driver sees it
	TurnedRight Turned = "right"
)

// Wheel is how the steering wheel sits while the car drives straight on a flat
// road, by how much, and the steering ratio: degrees at the steering wheel for
// one at the road wheels. A straight one needs only Turned.
type Wheel struct {
	Turned         Turned
	By, Resolution quantity.Angle
	Ratio          quantity.Ratio
}

// ForTotal brings the total to the wanted one, half to each wheel, and the
// steering wheel straight on top of that: both wheels turn to the side it sits
// at, By/Ratio each, less toe-in on one and more on the other. A straight steering
// wheel stays as straight as it is. The ratio comes without uncertainty: it is
// looked up, and differs over the travel of some racks.
func ForTotal(now Both, want Angles, w Wheel) (Correction, error) {
	if err := checkPair(now, want); err != nil {
		return Correction{}, err
	}
	if err := w.check(); err != nil {
		return Correction{}, err
	}
	each := measure.Value[quantity.Angle]{Value: want.PerWheel - now.Half.Value, Standard: now.Half.Standard}
	if w.Turned == Straight {
		return Correction{Left: each, Right: each}, nil
	}
	swing := w.By / quantity.Angle(w.Ratio) // of the road wheels, to the side the steering wheel sits at
	if w.Turned == TurnedRight {
		swing = -swing
	}
	read := measure.Contribution[quantity.Angle](measure.Sensitivity(1/w.Ratio), measure.Resolution(w.Resolution))
	u := measure.Combine(each.Standard, read)
	return Correction{
		Left:  measure.Value[quantity.Angle]{Value: each.Value - swing, Standard: u},
		Right: measure.Value[quantity.Angle]{Value: each.Value + swing, Standard: u},
	}, nil
}

func checkPair(now Both, want Angles) error {
	if err := now.check(); err != nil {
		return err
	}
	return want.check()
}

func (w Wheel) check() error {
	if !quantity.Finite(w.By) || !quantity.Finite(w.Resolution) || !quantity.Finite(w.Ratio) {
		return quantity.Inputf("Enter how the steering wheel sits again.", "One of the numbers is not a number.")
	}
	switch w.Turned {
	case Straight:
		if w.By != 0 {
			return quantity.Inputf("Choose left or right.", "The steering wheel cannot be straight and turned.")
		}
		return nil
	case TurnedLeft, TurnedRight:
	default:
		return quantity.Inputf("Drive straight on a flat road and see how it sits: straight, turned left, or turned right.", "It is not said how the steering wheel sits.")
	}
	switch {
	case w.By <= 0 || w.By.Degrees() >= 180:
		return quantity.Inputf("Measure it as an angle, without a sign.", "How far the steering wheel is turned is missing or not between 0° and 180°.")
	case w.Resolution <= 0:
		return quantity.Inputf("Say how finely the angle could be read, such as 5°.", "It is not known how finely the angle was read.")
	case w.Ratio < 1:
		return quantity.Inputf("Look it up, or measure: degrees at the steering wheel for one degree at the road wheels. With strings on each wheel it is not needed.", "The steering ratio is missing or below 1.")
	}
	return nil
}

// Rotation says how the two rods turn to each other, seen from one side of the
// car, when both have the same hand of thread. It is empty when one rests.
type Rotation string

const (
	SameWay     Rotation = "same"     // one longer, one shorter: puts the steering wheel straight
	OppositeWay Rotation = "opposite" // both longer or both shorter: changes the total
)

// Turn is the advice for one rod.
type Turn struct {
	Rod     Change
	Exact   quantity.Turns                // what the calculation gives
	Eighths quantity.Turns                // eighths of a turn to make, a whole number
	Brings  measure.Value[quantity.Angle] // what those change, positive for more toe-in
}

// Advice is how to turn both rods, and the toe to expect when that is done.
type Advice struct {
	Left, Right Turn
	Rotation    Rotation
	Expected    Both
}

// Advise rounds a correction to eighths of a turn for two equal rods. The toe
// expected is what the rounded turns leave, and its uncertainty is that of the
// toe before, of the arm and of turning to an eighth.
func Advise(now Both, c Correction, r Rod) (Advice, error) {
	if err := now.check(); err != nil {
		return Advice{}, err
	}
	left, leftArm, err := r.round(c.Left.Value)
	if err != nil {
		return Advice{}, err
	}
	right, rightArm, err := r.round(c.Right.Value)
	if err != nil {
		return Advice{}, err
	}
	a := Advice{Left: left, Right: right, Expected: now}
	after := &a.Expected
	after.left, after.right = sum(now.left, left.Brings), sum(now.right, right.Brings)
	if now.Split != Measured {
		after.left, after.right = now.left, now.right
	}
	_, perTurn, _ := r.swing(0)
	after.Total = measure.Value[quantity.Angle]{
		Value: now.Total.Value + left.Brings.Value + right.Brings.Value,
		// One arm length stands for both rods, so its share adds with its sign.
		Standard: measure.Combine(now.Total.Standard, r.armPart(leftArm+rightArm), turnPart(perTurn), turnPart(perTurn)),
	}
	after.Half = half(after.Total)
	switch {
	case left.Rod == "" || right.Rod == "":
	case left.Rod == right.Rod:
		a.Rotation = OppositeWay
	default:
		a.Rotation = SameWay
	}
	return a, nil
}

func sum(a, b measure.Value[quantity.Angle]) measure.Value[quantity.Angle] {
	return measure.Value[quantity.Angle]{Value: a.Value + b.Value, Standard: measure.Combine(a.Standard, b.Standard)}
}

// round is the advice for one rod, and how it changes with the arm.
func (r Rod) round(change quantity.Angle) (Turn, measure.Sensitivity, error) {
	exact, _, err := r.Turns(change)
	if err != nil {
		return Turn{}, 0, err
	}
	eighths := quantity.Turns(math.Round((r.turns(change) / eighth).Count())) // signed
	value, perTurn, perArm := r.swing(eighths * eighth)
	brings := measure.Value[quantity.Angle]{Value: value, Standard: measure.Combine(r.armPart(perArm), turnPart(perTurn))}
	return Turn{Rod: r.way(eighths), Exact: exact, Eighths: quantity.Turns(math.Abs(eighths.Count())), Brings: brings}, perArm, nil
}
