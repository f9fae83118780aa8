package adjust

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// FormulaEccentric names this calculation in the record.
const FormulaEccentric = "adjust-eccentric/1"

// Eccentric is a bolt whose cam pushes sideways. Throw is the distance between
// the centre of the bolt and the centre of the cam, PerTurn how many graduations
// there would be all round the plate. Graduations are counted from neutral, the
// position from which the cam pushes equally far both ways.
type Eccentric struct {
	Throw      quantity.Length
	PerTurn    quantity.Turns
	Resolution quantity.Length // between two marks of what read the throw
	// Reading is how finely the plate is read, in graduations: 1, or 0.5.
	Reading quantity.Turns
}

// Push is how far the cam moves the part from one graduation to another,
// positive towards the higher count. Equal steps do not push equally far: most
// at neutral, nothing a quarter turn from it, where Push fails, as beyond it the
// part comes back and the bolt no longer holds it well.
//
//	push = e·(sin φ₂ − sin φ₁)   φ = 2π·graduations/PerTurn
//	∂/∂e = sin φ₂ − sin φ₁   ∂/∂φ = ±e·cos φ
func (e Eccentric) Push(from, to quantity.Turns) (measure.Value[quantity.Length], error) {
	if err := first(e.check(), e.within(from), e.within(to)); err != nil {
		return measure.Value[length]{}, err
	}
	a, b := e.phase(from), e.phase(to)
	swing, throw := math.Sin(b)-math.Sin(a), float64(e.Throw)
	perGraduation := func(phase float64) length {
		return measure.Contribution[length](measure.Sensitivity(throw*math.Cos(phase)*2*math.Pi/float64(e.PerTurn)), measure.Resolution(e.Reading))
	}
	return measure.Value[length]{Value: length(throw * swing), Standard: measure.Combine(
		perGraduation(a), perGraduation(b), measure.Contribution[length](measure.Sensitivity(swing), measure.Resolution(e.Resolution)))}, nil
}

// To is the inverse of Push: the graduation to turn to, not rounded. It fails
// when the cam cannot push as far.
func (e Eccentric) To(from quantity.Turns, push quantity.Length) (quantity.Turns, error) {
	if err := first(e.check(), e.within(from)); err != nil {
		return 0, err
	}
	sine := math.Sin(e.phase(from)) + float64(push/e.Throw)
	if !(math.Abs(sine) <= 1+noise) { // also a push that is not a number
		return 0, quantity.Inputf("Choose a target nearer to the present reading, or find another adjuster.", "The cam cannot push as far as that.")
	}
	return quantity.Turns(math.Asin(min(max(sine, -1), 1))/(2*math.Pi)) * e.PerTurn, nil
}

func (e Eccentric) phase(n quantity.Turns) float64 { return 2 * math.Pi * float64(n/e.PerTurn) }

func (e Eccentric) check() error {
	if err := first(positive(lang.T("The throw of the eccentric"), e.Throw), marks(e.Resolution)); err != nil {
		return err
	}
	switch {
	case !quantity.Finite(e.PerTurn) || e.PerTurn < 4:
		return quantity.Inputf("Count the graduations over a part of the plate and work out how many a full circle has.", "The number of graduations all round is missing or below 4.")
	case !quantity.Finite(e.Reading) || e.Reading <= 0:
		return quantity.Inputf("Enter 1 for whole graduations, or 0.5 for halves.", "It is missing how finely the plate is read.")
	}
	return nil
}

func (e Eccentric) within(n quantity.Turns) error {
	if !quantity.Finite(n) || math.Abs(float64(n)) > float64(e.PerTurn)/4*(1+noise) {
		return quantity.Inputf("Count from the middle position, and stay within a quarter turn of it.", "The eccentric is turned past the point where it pushes furthest, or the count is not a number.")
	}
	return nil
}
