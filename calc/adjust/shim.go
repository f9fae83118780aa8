package adjust

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// FormulaShim names this calculation in the record.
const FormulaShim = "adjust-shim/1"

// Arm is an arm that is bolted to the body at a front and a rear pivot, seen
// from above. Spacing is between the pivots, Length from the line through them
// out to the ball joint, square to that line. FrontShare is where the ball joint
// stands along it: 0 beside the rear pivot, 1 beside the front one.
type Arm struct {
	Spacing, Length quantity.Length
	FrontShare      quantity.Ratio
	Resolution      quantity.Length // between two marks of the tape
}

// Shims is how far each pivot moves, which is the thickness of shim added or
// taken away there. Which way depends on the side of the bracket the shim sits.
type Shims struct {
	Front, Rear     quantity.Length
	FrontTo, RearTo Way
	Resolution      quantity.Length // of what measured the shims
}

// Shifted is how far the ball joint of the arm moves: Out positive when it goes
// out, Rear positive when it goes rearward. OutWay and RearWay say it in words.
type Shifted struct {
	Out, Rear       measure.Value[quantity.Length]
	OutWay, RearWay Way
}

// Shift is where the ball joint goes when the pivots are shimmed; the moves are
// then given to Axis.Sideways and Axis.Lengthwise. Equal shims move it in or out
// and leave the caster; unequal ones swing it forward or rearward as well.
//
//	θ    = atan((front − rear)/Spacing)
//	out  = front·share + rear·(1 − share) − Length·(1 − cos θ)
//	rear = Length·sin θ
//
// Shims that differ by more than a tenth of Spacing are refused: the pivots
// would bind.
func (a Arm) Shift(s Shims) (Shifted, error) {
	f, errFront := along(s.Front, s.FrontTo, Out, In)
	r, errRear := along(s.Rear, s.RearTo, Out, In)
	err := first(positive(lang.T("The distance between the pivots of the arm"), a.Spacing), positive(lang.T("The length of the arm"), a.Length),
		marks(a.Resolution), errFront, errRear, marks(s.Resolution))
	if err != nil {
		return Shifted{}, err
	}
	share := float64(a.FrontShare)
	if !(share >= 0 && share <= 1) {
		return Shifted{}, quantity.Inputf("Enter 0.5 for halfway between the pivots.", "The ball joint does not stand between the pivots of the arm.")
	}
	if math.Abs(f-r) > float64(a.Spacing)/10 {
		return Shifted{}, quantity.Inputf("Check that the shims and the arm are in the same unit.", "The shims differ by more than a tenth of the distance between the pivots.")
	}
	l, b := float64(a.Length), float64(a.Spacing)
	θ := math.Atan((f - r) / b)
	sin, cos := math.Sin(θ), math.Cos(θ)
	out := Shifted{
		Out: measure.Value[length]{Value: length(f*share + r*(1-share) - l*(1-cos)), Standard: measure.Combine(
			part(share-l*sin*cos*cos/b, s.Resolution), part(1-share+l*sin*cos*cos/b, s.Resolution),
			part(1-cos, a.Resolution), part(l*sin*sin*cos/b, a.Resolution), part((f-r)/b, a.Resolution))},
		Rear: measure.Value[length]{Value: length(l * sin), Standard: measure.Combine(
			part(l*cos*cos*cos/b, s.Resolution), part(l*cos*cos*cos/b, s.Resolution),
			part(sin, a.Resolution), part(l*cos*cos*sin/b, a.Resolution))},
	}
	_, out.OutWay = way(float64(out.Out.Value), Out, In)
	_, out.RearWay = way(float64(out.Rear.Value), Rearward, Forward)
	return out, nil
}

// part is what the standard uncertainty of a length adds to another.
func part(sensitivity float64, res length) length {
	return measure.Contribution[length](measure.Sensitivity(sensitivity), measure.Resolution(res))
}
