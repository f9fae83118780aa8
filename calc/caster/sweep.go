package caster

import (
	"math"

	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// The calculations by the names that a record keeps. A name changes when its
// result does.
const (
	FormulaExact    = "caster-sweep/1"
	FormulaSine     = "caster-sweep-sine/1"
	FormulaAxis     = "caster-axis/1"
	FormulaCamberAt = "caster-camber-at/1"
	FormulaCross    = "caster-cross/1"
)

// Convention says which angle the wheel was turned by. The two are not the same:
// a heading of 20° takes 20.1° to 21° about a leaning axis. The zero Convention
// says nothing.
type Convention string

const (
	// Heading is the turn of the wheel's front over the ground, about the
	// vertical: what turnplates and a protractor on the floor show.
	Heading Convention = "heading"
	// AboutAxis is the turn of the knuckle about the leaning steering axis.
	AboutAxis Convention = "about the axis"
)

// How says where the sweep angles come from. The zero How says nothing.
type How string

const (
	Measured    How = "measured"     // read at the wheel, on turnplates or a protractor
	NotMeasured How = "not measured" // guessed, counted at the steering wheel, or the lock
)

// Reading is a camber with the wheel turned from straight ahead by Turned, a
// size without a sign.
type Reading struct {
	Camber measure.Value[quantity.Angle]
	Turned quantity.Angle
}

// Sweep is one wheel read twice. Out has the front of that wheel turned away
// from the car, In towards it; the two angles may differ.
type Sweep struct {
	Out, In    Reading
	Convention Convention
	How        How
	// Resolution is between two marks of what read the angles. It may be zero
	// when they were not measured: then guessWidth stands in.
	Resolution quantity.Angle
}

// Form is the equation that gave a result.
type Form string

const (
	Exact Form = "exact" // with the inclination
	Sine  Form = "sine"  // without it
)

// Result is a caster, positive with the top of the axis rearward, and what is
// needed to show how it came about:
//
//	exact:  tan caster = (Swung + Leaned) / Over
//	sine:   caster = Swing · SineFactor
type Result struct {
	Caster              measure.Value[quantity.Angle]
	Form                Form
	Swing               quantity.Angle // camber turned out minus camber turned in
	Swung, Leaned, Over quantity.Ratio // all zero for the sine form
	Factor              quantity.Ratio // caster ÷ swing; zero without a swing
	Compare             Comparison
}

// Comparison holds what other forms make of the same sweep. For show only.
type Comparison struct {
	Upright      quantity.Angle // the exact form with an inclination of zero
	Sine         quantity.Angle
	Linear       quantity.Angle // the angle in place of its sine: low
	Rule         quantity.Angle // times 1.5, a rule for 20° each way
	SineFactor   quantity.Ratio // 1/(sin out + sin in); 1/(2 sin) when they are equal
	LinearFactor quantity.Ratio // 1/(out + in) in radians
	RuleFactor   quantity.Ratio
}

// What is let in, and what stands in for what is not known. Choices of the
// project, no source.
const (
	leastTurn       = 5.0 // degrees; below, the reading error is all there is
	mostTurn        = 45.0
	mostCamber      = 25.0
	mostInclination = 30.0
	guessWidth      = 4.0  // degrees from end to end for an angle that was not measured
	unknownMost     = 20.0 // an inclination that is not known lies from 0 to here
	ruleFactor      = 1.5
)

// FromSweep computes the caster with the exact form, for a known inclination of
// the steering axis (its top leans inward by it, seen from the front, with the
// wheel straight ahead). It fails when a number is missing or impossible, or
// when it is not said what the angles are.
func FromSweep(s Sweep, inclination measure.Value[quantity.Angle]) (Result, error) {
	if err := s.check(); err != nil {
		return Result{}, err
	}
	if err := checkInclination(inclination); err != nil {
		return Result{}, err
	}
	g := s.geometry()
	d := g.slopes(inclination.Value)
	out := s.result(Exact, g.caster(inclination.Value))
	out.Swung, out.Leaned, out.Over = quantity.Ratio(g.swung), quantity.Ratio(math.Tan(inclination.Value.Radians())*g.level), quantity.Ratio(g.over)
	u := s.turnStandard()
	out.Caster.Standard = measure.Combine(
		measure.Contribution[quantity.Angle](d.camberOut, s.Out.Camber.Standard),
		measure.Contribution[quantity.Angle](d.camberIn, s.In.Camber.Standard),
		measure.Contribution[quantity.Angle](d.turnOut, u),
		measure.Contribution[quantity.Angle](d.turnIn, u),
		measure.Contribution[quantity.Angle](d.inclination, inclination.Standard),
	)
	return out, nil
}

// FromSweepAlone computes the caster with the sine form, for when the
// inclination is not known. Its uncertainty covers any inclination from 0° to
// 20°, which costs little with equal angles and much with unequal ones.
func FromSweepAlone(s Sweep) (Result, error) {
	if err := s.check(); err != nil {
		return Result{}, err
	}
	g := s.geometry()
	out := s.result(Sine, s.compare().Sine)
	least, most := g.slopes(0), g.slopes(quantity.Degrees(unknownMost))
	u := s.turnStandard()
	// The exact form is monotonic in the inclination, so it strays most at an end.
	strays := max(abs(g.caster(0)-out.Caster.Value), abs(g.caster(quantity.Degrees(unknownMost))-out.Caster.Value))
	out.Caster.Standard = measure.Combine(
		measure.Contribution[quantity.Angle](larger(least.camberOut, most.camberOut), s.Out.Camber.Standard),
		measure.Contribution[quantity.Angle](larger(least.camberIn, most.camberIn), s.In.Camber.Standard),
		measure.Contribution[quantity.Angle](larger(least.turnOut, most.turnOut), u),
		measure.Contribution[quantity.Angle](larger(least.turnIn, most.turnIn), u),
		measure.Resolution(2*strays), // anywhere within ± strays
	)
	return out, nil
}

// result is without the uncertainty.
func (s Sweep) result(form Form, caster quantity.Angle) Result {
	out := Result{Caster: measure.Value[quantity.Angle]{Value: caster}, Form: form, Swing: s.swing(), Compare: s.compare()}
	if out.Swing != 0 {
		out.Factor = quantity.Ratio(caster / out.Swing)
	}
	return out
}

func (s Sweep) swing() quantity.Angle { return s.Out.Camber.Value - s.In.Camber.Value }

func (s Sweep) compare() Comparison {
	swing, phiOut, phiIn := s.swing(), s.Out.Turned.Radians(), s.In.Turned.Radians()
	sine, linear := 1/(math.Sin(phiOut)+math.Sin(phiIn)), 1/(phiOut+phiIn)
	return Comparison{
		Upright: s.geometry().caster(0),
		Sine:    swing * quantity.Angle(sine), Linear: swing * quantity.Angle(linear), Rule: swing * ruleFactor,
		SineFactor: quantity.Ratio(sine), LinearFactor: quantity.Ratio(linear), RuleFactor: ruleFactor,
	}
}

// turnStandard is the standard uncertainty of each angle the wheel was turned by.
func (s Sweep) turnStandard() quantity.Angle {
	width := s.Resolution
	if s.How == NotMeasured {
		width = max(width, quantity.Degrees(guessWidth))
	}
	return measure.Resolution(width)
}

func abs(a quantity.Angle) quantity.Angle { return quantity.Angle(math.Abs(float64(a))) }

func larger(a, b measure.Sensitivity) measure.Sensitivity {
	return measure.Sensitivity(math.Max(math.Abs(float64(a)), math.Abs(float64(b))))
}
