package measure

import (
	"math"

	"strutcard/calc/quantity"
)

// Pair is a reading Y taken at X. The standard uncertainty of Y is above zero;
// that of X may be zero, such as on a notch that is counted.
type Pair[X, Y Quantity] struct {
	X Value[X]
	Y Value[Y]
}

// Line is a straight line through pairs: Level + Slope·(x − Centre). Slope is
// in base units, Y per X. The uncertainties of Slope and Level do not depend on
// one another, as Centre is the weighted middle of the pairs.
type Line[X, Y Quantity] struct {
	Slope, SlopeStandard Sensitivity
	Centre               X
	Level                Value[Y]
	// Predicted is what the uncertainties of the pairs alone give for
	// SlopeStandard, Observed what their scatter about the line gives, with
	// Student's factor; zero with two pairs. SlopeStandard is the larger.
	Predicted, Observed Sensitivity
	// Scatter is s below: how the pairs scatter about the line, as a multiple of
	// what their uncertainties give. Zero with two pairs.
	Scatter quantity.Ratio
	Pairs   int
}

// Fit is the line through pairs at two different X at least, by weighted least
// squares:
//
//	w = 1/(u(y)² + (b₀·u(x))²)     b₀: slope of the plain, unweighted line
//	Centre = Σwx/Σw   Level = Σwy/Σw   Slope = Σw(x−Centre)(y−Level) / Sxx
//	Sxx = Σw(x−Centre)²   u(Slope) = f/√Sxx   u(Level) = f/√Σw
//	s² = Σw(y−line)²/(n−2)   f = max(1, s·t/2)
//
// With two pairs f is 1: the uncertainty comes from the readings alone, and is
// √(u₁²+u₂²)/|x₂−x₁|. With more, the larger of the predicted and the observed
// scatter counts. t is Student's factor for n − 2 degrees of freedom; as in
// Repeated, k = 2 then still stands for about 95 %. Three pairs have a single
// degree of freedom and f is wide: a fourth helps more than any other.
//
// Ordinary weighted least squares; JCGM 100:2008, 5.1.2 for the propagation and
// G.3 for t, both cited from memory. That u(x) counts in y through the slope is
// the method of effective variance, from memory.
func Fit[X, Y Quantity](pairs []Pair[X, Y]) (Line[X, Y], error) {
	if err := checkPairs(pairs); err != nil {
		return Line[X, Y]{}, err
	}
	weights := make([]float64, len(pairs))
	for i := range weights {
		weights[i] = 1
	}
	plain := fit(pairs, weights).slope
	for i, p := range pairs {
		u := math.Hypot(float64(p.Y.Standard), plain*float64(p.X.Standard))
		weights[i] = 1 / (u * u)
	}
	s := fit(pairs, weights)
	predicted, level := 1/math.Sqrt(s.sxx), 1/math.Sqrt(s.sum)
	scatter, widen := 0.0, 0.0
	if free := len(pairs) - 2; free > 0 {
		scatter = math.Sqrt(residual(s, pairs, weights) / float64(free))
		widen = scatter * student[min(free, len(student))-1] / Coverage
	}
	factor := max(1, widen)
	out := Line[X, Y]{
		Slope: Sensitivity(s.slope), SlopeStandard: Sensitivity(factor * predicted),
		Centre: X(s.x), Level: Value[Y]{Value: Y(s.y), Standard: Y(factor * level)},
		Predicted: Sensitivity(predicted), Observed: Sensitivity(widen * predicted), Scatter: quantity.Ratio(scatter), Pairs: len(pairs),
	}
	if !quantity.Finite(quantity.Ratio(s.slope)) || !quantity.Finite(quantity.Ratio(factor*predicted)) || predicted <= 0 {
		return Line[X, Y]{}, quantity.Inputf("Check the numbers and their units.", "The numbers are too large or too small for a line through them.")
	}
	return out, nil
}

func checkPairs[X, Y Quantity](pairs []Pair[X, Y]) error {
	if len(pairs) < 2 {
		return quantity.Inputf("Move the adjuster by one step and read again.", "One reading says nothing about what a move does.")
	}
	low, high := pairs[0].X.Value, pairs[0].X.Value
	for i, p := range pairs {
		if !p.X.known() || !p.Y.known() {
			return quantity.Inputf("Enter that setting and its reading again.", "Number %d of the readings or its setting is not a number.", i+1)
		}
		if p.Y.Standard == 0 {
			return quantity.Inputf("Enter the smallest step that the gauge shows.", "Reading %d has no uncertainty.", i+1)
		}
		low, high = min(low, p.X.Value), max(high, p.X.Value)
	}
	if low == high {
		return quantity.Inputf("Move it by one step and read again.", "All readings were taken at the same setting.")
	}
	return nil
}

// sums is a fitted line in plain numbers.
type sums struct{ sum, x, y, sxx, slope float64 }

func fit[X, Y Quantity](pairs []Pair[X, Y], weights []float64) sums {
	var s sums
	for i, p := range pairs {
		s.sum += weights[i]
		s.x += weights[i] * float64(p.X.Value)
		s.y += weights[i] * float64(p.Y.Value)
	}
	s.x, s.y = s.x/s.sum, s.y/s.sum
	for i, p := range pairs {
		dx := float64(p.X.Value) - s.x
		s.sxx += weights[i] * dx * dx
		s.slope += weights[i] * dx * (float64(p.Y.Value) - s.y)
	}
	s.slope /= s.sxx
	return s
}

// residual is the weighted sum of the squared distances from the line.
func residual[X, Y Quantity](s sums, pairs []Pair[X, Y], weights []float64) float64 {
	sum := 0.0
	for i, p := range pairs {
		r := float64(p.Y.Value) - s.y - s.slope*(float64(p.X.Value)-s.x)
		sum += weights[i] * r * r
	}
	return sum
}

// At is the line's value at an exactly known x.
func (l Line[X, Y]) At(x X) Value[Y] {
	away := x - l.Centre
	return Value[Y]{Value: l.Level.Value + Y(float64(l.Slope)*float64(away)),
		Standard: Combine(l.Level.Standard, Contribution[Y](l.SlopeStandard, away))}
}

// Where is the x at which the line has the value y. It fails on a level line.
func (l Line[X, Y]) Where(y Y) (X, error) {
	x := l.Centre + X(float64(y-l.Level.Value)/float64(l.Slope))
	if !quantity.Finite(x) {
		return 0, quantity.Inputf("Move the adjuster further and read again.", "The readings do not change with the setting.")
	}
	return x, nil
}

// Significant reports whether the slope differs from zero by more than its
// expanded uncertainty.
func (l Line[X, Y]) Significant() bool { return beyond(l.Slope, l.SlopeStandard) }

// Readable is Significant by the uncertainty of the readings alone: when it is
// false, the moves were too small to tell.
func (l Line[X, Y]) Readable() bool { return beyond(l.Slope, l.Predicted) }

func beyond(slope, standard Sensitivity) bool {
	return math.Abs(float64(slope)) > Coverage*float64(standard)
}
