package measure

import (
	"math"

	"strutcard/calc/quantity"
)

// Quantity is what can be measured here: the named types of package quantity.
type Quantity interface{ quantity.Quantity }

// Coverage is the factor k between standard and expanded uncertainty.
const Coverage = 2

// Value is a measured quantity with its standard uncertainty (one sigma). Zero
// claims an exact value: nothing in calc gives it, as no ruler reads without.
type Value[Q Quantity] struct {
	Value, Standard Q
}

// Expanded is the uncertainty with k = 2, the one to show people.
func (v Value[Q]) Expanded() Q { return Coverage * v.Standard }

// Low and High are the ends of the interval value ± expanded uncertainty.
func (v Value[Q]) Low() Q  { return v.Value - v.Expanded() }
func (v Value[Q]) High() Q { return v.Value + v.Expanded() }

// known reports whether v says something: finite, its uncertainty not below
// zero.
func (v Value[Q]) known() bool {
	return quantity.Finite(v.Value) && quantity.Finite(v.Standard) && v.Standard >= 0
}

// Resolution is the standard uncertainty of one reading of a scale with a mark
// every res: res/√12 (JCGM 100:2008, 4.3.7). res is positive.
func Resolution[Q Quantity](res Q) Q { return Q(float64(res) / math.Sqrt(12)) }

// Read is one reading of a scale with a mark every res, of any quantity. It
// fails when res is not above zero or either number is not finite.
func Read[Q Quantity](reading, res Q) (Value[Q], error) {
	if !quantity.Finite(reading) || !quantity.Finite(res) || res <= 0 {
		return Value[Q]{}, noResolution()
	}
	return Value[Q]{Value: reading, Standard: Resolution(res)}, nil
}

func noResolution() error {
	return quantity.Inputf("Enter the distance between two marks of the scale, such as 1 mm or 0.5 mm.", "The smallest mark of the scale is missing or not above zero.")
}

// Sensitivity is how much a result changes with an input: ∂result/∂input in the
// base units of package quantity, such as radians per metre.
type Sensitivity float64

// Contribution is what the standard uncertainty u of an input adds to that of a
// result: |c|·u, in the result's unit.
func Contribution[Out, In Quantity](c Sensitivity, u In) Out {
	return Out(math.Abs(float64(c)) * math.Abs(float64(u)))
}

// Combine is the root of the sum of squares of independent contributions
// (JCGM 100:2008, 5.1.2). Without any it is zero.
func Combine[Q Quantity](contributions ...Q) Q {
	var sum float64
	for _, c := range contributions {
		sum = math.Hypot(sum, float64(c))
	}
	return Q(sum)
}
