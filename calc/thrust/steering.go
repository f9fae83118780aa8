package thrust

import (
	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// FormulaSteering names how the steering wheel sits in the record.
const FormulaSteering = "thrust-steering-wheel/1"

// Share is a part of how far the road wheels have to be steered, as a size, and
// to which side; empty for none.
type Share struct {
	By   measure.Value[quantity.Angle]
	Side Side
}

// Crooked is how the steering wheel sits when the car drives straight.
type Crooked struct {
	// Sits is met when the steering wheel is straight within the size given, not
	// met when it is crooked, and too close when the toes were read too coarsely.
	Sits measure.Verdict
	// Road is how far the road wheels are steered from where they stand with the
	// steering wheel held straight. Its side is the one the steering wheel turns to.
	Road Share
	// Thrust and Front are what the thrust line and the uneven front toe each
	// contribute; they add with their sides.
	Thrust, Front Share
}

// SteeringWheel says how the steering wheel sits when the car drives straight,
// from the front toe read with the steering wheel held straight. within is how
// far the road wheels may be off, as a size, for it to count as straight.
func (t Thrust) SteeringWheel(front Wheels, within quantity.Angle) (Crooked, error) {
	toThrust, err := t.Front(front)
	if err != nil {
		return Crooked{}, err
	}
	if !quantity.Finite(within) || within < 0 {
		return Crooked{}, quantity.Inputf("Enter it as a size, without a sign.", "How far it may be off is below zero or not a number.")
	}
	own := halfDifference(front.Right, front.Left)
	// What the front points to the left of the thrust line with the steering wheel
	// straight has to be steered back to the right.
	road := measure.Value[quantity.Angle]{
		Value:    (toThrust.Right.Value - toThrust.Left.Value) / 2,
		Standard: measure.Combine(own.Standard, t.right.Standard),
	}
	out := Crooked{Sits: measure.Band[quantity.Angle]{Minus: within, Plus: within}.Judge(road)}
	out.Road.By, out.Road.Side = sided(road)
	out.Thrust.By, out.Thrust.Side = sided(t.right)
	out.Front.By, out.Front.Side = sided(own)
	return out, nil
}

// Angle is how far the steering wheel is turned to Road's side, for a steering
// ratio: degrees at the steering wheel for one at the road wheels. The ratio is
// looked up and comes without uncertainty.
func (c Crooked) Angle(ratio quantity.Ratio) (measure.Value[quantity.Angle], error) {
	if !known(c.Road.By) {
		return measure.Value[quantity.Angle]{}, quantity.Inputf("Measure the toe of all four wheels first.", "It is not known how the front wheels stand.")
	}
	if !quantity.Finite(ratio) || ratio < 1 {
		return measure.Value[quantity.Angle]{}, quantity.Inputf("Look it up, or go by the side alone.", "The steering ratio is missing or below 1.")
	}
	return measure.Value[quantity.Angle]{
		Value:    c.Road.By.Value * quantity.Angle(ratio),
		Standard: measure.Contribution[quantity.Angle](measure.Sensitivity(ratio), c.Road.By.Standard),
	}, nil
}

// ISOSteeringWheel gives an angle and a side ISO 8855's sign: positive for a turn
// to the left.
func ISOSteeringWheel(size quantity.Angle, s Side) (quantity.Angle, error) {
	switch {
	case !quantity.Finite(size) || size < 0:
		return 0, quantity.Inputf("Enter it as a size and say the side.", "The angle of the steering wheel is below zero or not a number.")
	case s == Left || size == 0 && s == "":
		return size, nil
	case s == Right:
		return 0 - size, nil
	}
	return 0, quantity.Inputf("Choose left or right, as the driver sees it.", "It is not said which way the steering wheel is turned.")
}

// Heading is the side that a wheel's front points to for a toe: a left wheel toed
// in points right. Empty for none.
func Heading(wheel Side, toe quantity.Angle) (Side, error) {
	switch {
	case wheel != Left && wheel != Right:
		return "", quantity.Inputf("Choose left or right, as the driver sits.", "It is not said which wheel it is.")
	case !quantity.Finite(toe):
		return "", quantity.Inputf("Measure it again.", "The toe is not a number.")
	case toe == 0:
		return "", nil
	case toe > 0:
		return wheel.other(), nil
	}
	return wheel, nil
}

// Words says how the steering wheel sits and why.
func (c Crooked) Words() string {
	switch {
	case c.Sits == measure.Met:
		return lang.T("The steering wheel sits straight.") + c.because()
	case c.Sits != measure.NotMet || c.Road.Side == "":
		return lang.T("Whether the steering wheel sits straight is too close to tell from these readings.")
	}
	return lang.F("Driving straight, the steering wheel sits turned to the %s.", c.Road.Side.Words()) + c.because()
}

func (c Crooked) because() string {
	var text string
	if c.Thrust.Side != "" {
		text += " " + lang.F("The rear axle pushes towards the %s (%s).", c.Thrust.Side.Words(), share(c.Thrust))
	}
	if c.Front.Side != "" {
		text += " " + lang.F("With the steering wheel straight, the front wheels point to the %s of the car (%s).", c.Front.Side.other().Words(), share(c.Front))
	}
	return text
}

func share(s Share) string {
	return quantity.FormatAngle(s.By.Value, quantity.Degree) + " ± " + quantity.FormatAngle(s.By.Expanded(), quantity.Degree)
}
