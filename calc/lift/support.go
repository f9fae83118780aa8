package lift

import (
	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// Names of the calculations in the record. Each changes when a result does.
const (
	FormulaAxles        = "lift-axles/1"
	FormulaPair         = "lift-pair/1"
	FormulaFour         = "lift-four/1"
	FormulaSlope        = "lift-slope/1"
	FormulaMovedLoad    = "lift-moved-load/1"
	FormulaCentreHeight = "lift-centre-height/1"
	FormulaTip          = "lift-stand-tip/1"
	FormulaHold         = "lift-hold/1"
	FormulaChocks       = "lift-chocks/1"
	FormulaPlan         = "lift-plan/1"
)

// Support is where a pair of stands, or a jack, takes the car: the distance
// along the car from the axle line of its end. At the axle there is none.
type Support struct {
	Place      Place
	Distance   quantity.Length
	Resolution quantity.Length // of the tape
}

// offset is the distance, positive between the axles.
func (s Support) offset() reading {
	r := read(s.Distance, s.Resolution)
	if s.Place == Beyond {
		r.value = -r.value
	}
	return r
}

func (s Support) check() error {
	switch {
	case s.Place != AtAxle && s.Place != Between && s.Place != Beyond:
		return quantity.Inputf("Say whether it is at the axle line, between the axles, or beyond the axle.", "It is not known where the car is taken up.")
	case !quantity.Finite(s.Distance) || s.Distance < 0:
		return quantity.Inputf("Enter the distance from the axle line as a size, and say on which side it is.", "A distance from the axle is below zero or not a number.")
	case s.Place == AtAxle && s.Distance != 0:
		return quantity.Inputf("Say whether it is between the axles or beyond.", "A distance is given for a place at the axle line.")
	case s.Place != AtAxle && s.Distance == 0:
		return quantity.Inputf("Measure from the axle line to the middle of the pad, along the car.", "The distance from the axle line is missing.")
	}
	r := s.offset()
	return length(lang.T("the distance from the axle line"), quantity.Length(r.value), s.Resolution, possiblePlace)
}

func (s Support) span() span {
	r := s.offset()
	return span{r.value - measure.Coverage*r.standard, r.value + measure.Coverage*r.standard}
}

// pairKernel is the load on two stands (or a central jack) under one end while
// the wheels of the other end stay on the ground, from moments about the line
// where they touch:
//
//	S = (near·L·cosθ + (near+far)·(h·sinθ − k·tan t)) / (L − a)
//
// near, far: loads of the raised and the other axle on level ground. a: of the
// stands from their axle, between the axles positive. h: height of the centre
// of gravity. θ: slope, downhill towards the raised end positive. k = h − r and
// t are those of the raise; see Transfer.
func pairKernel(x ...float64) float64 {
	near, far, base, a, h, cos, sin, lever, tan := x[0], x[1], x[2], x[3], x[4], x[5], x[6], x[7], x[8]
	return (near*base*cos + (near+far)*(h*sin-lever*tan)) / (base - a)
}

// fourKernel is the load on the pair under the end called near, with another
// pair under the far end, b from the far axle:
//
//	S = ((near·(L − b) − far·b)·cosθ + (near+far)·h·sinθ) / (L − b − a)
func fourKernel(x ...float64) float64 {
	near, far, base, a, b, h, cos, sin := x[0], x[1], x[2], x[3], x[4], x[5], x[6], x[7]
	return ((near*(base-b)-far*b)*cos + (near+far)*h*sin) / (base - b - a)
}

// Loads are what a raised end puts on its stands, and the rest.
type Loads struct {
	Stands measure.Value[quantity.Mass] // on the pair together
	Rest   measure.Value[quantity.Mass] // on the wheels, or the stands, of the other end
}

// PairLoad is the load on two stands under one end while the other end stays on
// its wheels, on level ground and barely raised: stands between the axles carry
// more than the axle did. It fails when the other end would come up.
func PairLoad(a Axles, end End, s Support, wheelbase, resolution quantity.Length) (Loads, error) {
	if err := checkPair(a, end, s, wheelbase, resolution); err != nil {
		return Loads{}, err
	}
	level := []reading{{}, {value: 1}, {}, {}, {}} // height, cos, sin, lever, tan
	in := append([]reading{readingOf(a.of(end)), readingOf(a.of(end.other())), read(wheelbase, resolution), s.offset()}, level...)
	return loads(pairKernel, in)
}

// FourLoads is the load on the front pair (Stands) and the rear pair (Rest) of
// a car on four stands, on level ground. It fails when the centre of gravity is
// not between the pairs.
func FourLoads(a Axles, front, rear Support, wheelbase, resolution quantity.Length) (Loads, error) {
	if err := checkPair(a, Front, front, wheelbase, resolution); err != nil {
		return Loads{}, err
	}
	if err := rear.check(); err != nil {
		return Loads{}, err
	}
	return loads(fourKernel, []reading{readingOf(a.Front), readingOf(a.Rear), read(wheelbase, resolution), front.offset(), rear.offset(), {}, {value: 1}, {}})
}

// loads runs a kernel whose first two inputs are the axle loads.
func loads(f kernel, in []reading) (Loads, error) {
	rest := func(x ...float64) float64 { return x[0] + x[1] - f(x...) }
	out := Loads{measured[quantity.Mass](f, in...), measured[quantity.Mass](rest, in...)}
	if out.Stands.Low() <= 0 || out.Rest.Low() <= 0 {
		return Loads{}, quantity.Inputf("Take the car up nearer to its axle.", "The centre of gravity is at the stands or past them, so the car would tip over them.")
	}
	return out, nil
}

func checkPair(a Axles, end End, s Support, wheelbase, resolution quantity.Length) error {
	if err := a.check(); err != nil {
		return err
	}
	if end != Front && end != Rear {
		return quantity.Inputf("Choose front or rear.", "It is not said which end stands on the stands.")
	}
	if err := length(lang.T("the wheelbase"), wheelbase, resolution, possibleBase); err != nil {
		return err
	}
	return s.check()
}

// UnknownSplit is the most that the heavier of two stands, or the heavier side
// of a car, is taken to carry while the split is not known. A split beyond it
// is refused. Common practice, no source: published corner weights of road cars
// mostly lie within 48 to 52 %.
const UnknownSplit quantity.Ratio = 0.6

// Split is how the two sides share a load. Without Heavier the split is not
// known, and one side may carry all; Allow accepts UnknownSplit for that.
type Split struct {
	Heavier    quantity.Ratio // of the pair, on the heavier side: 50 % when even
	Resolution quantity.Ratio // of Heavier
	Allow      Answer
}

func (s Split) span() (span, error) {
	if err := one(lang.T("the allowance for the split"), s.Allow, Yes, No); err != nil {
		return span{}, err
	}
	if s.Heavier == 0 {
		if s.Allow == Yes {
			return span{0.5, float64(UnknownSplit)}, nil
		}
		return span{0.5, 1}, nil
	}
	if !quantity.Finite(s.Heavier) || s.Heavier < 0.5 || s.Heavier > UnknownSplit {
		return span{}, quantity.Inputf("Enter the share of the heavier side, from 50 to 60 %.", "A share of %s on the heavier side is not that of a car as it stands.", s.Heavier)
	}
	if !quantity.Finite(s.Resolution) || s.Resolution <= 0 || s.Resolution > 0.05 {
		return span{}, quantity.Inputf("Enter how finely the split is known, such as 1 %.", "The rounding of the split is missing, not above zero or wider than 5 %.")
	}
	u := measure.Coverage * float64(measure.Resolution(s.Resolution))
	return span{float64(s.Heavier) - u, float64(s.Heavier) + u}.clamp(span{0.5, float64(UnknownSplit)}), nil
}

// HeavierLoad is what the heavier side takes of a load on a pair or on a car:
// one stand of two, or a jack under the middle of one side. It fails while the
// split is not known.
func HeavierLoad(load measure.Value[quantity.Mass], s Split) (measure.Value[quantity.Mass], error) {
	if s.Heavier == 0 && s.Allow == Yes {
		s = Split{Heavier: UnknownSplit, Resolution: 0.01}
	}
	if _, err := s.span(); err != nil {
		return measure.Value[quantity.Mass]{}, err
	}
	if s.Heavier == 0 {
		return measure.Value[quantity.Mass]{}, quantity.Inputf("Weigh the sides, or accept 60 % on the heavier side as common practice.", "It is not known how the two sides share the load.")
	}
	if !quantity.Finite(load.Value) || !quantity.Finite(load.Standard) || load.Value <= 0 || load.Standard < 0 {
		return measure.Value[quantity.Mass]{}, quantity.Inputf("Work out the load first.", "The load is missing or not above zero.")
	}
	f := func(x ...float64) float64 { return x[0] * x[1] }
	return measured[quantity.Mass](f, readingOf(load), read(s.Heavier, s.Resolution)), nil
}

// Stands is how many stands a lift takes: always pairs, two for each raised
// axle (regulator's advice: in pairs; four for all wheels: common practice). A
// side or a single corner has no pair of its own and gives zero.
func Stands(r Raised) quantity.Turns { return quantity.Count(float64(2 * len(r.ends()))) }
