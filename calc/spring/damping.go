package spring

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// Names of these calculations in the record. Each changes when a result does.
const (
	FormulaDamping = "damping/1"
	FormulaDecay   = "damping-decay/1"
)

// CriticalDamping is the damping with which a pushed car comes back without
// swinging past.
func CriticalDamping(rate quantity.Stiffness, sprung quantity.Mass) (quantity.Damping, error) {
	if err := first(checkRate(rate, lang.T("The rate")), checkMass(sprung)); err != nil {
		return 0, err
	}
	return quantity.NewtonSecondsPerMetre(2 * math.Sqrt(float64(rate)*float64(sprung))), nil
}

// DampingRatio is a damping as a share of the critical one.
func DampingRatio(c quantity.Damping, rate quantity.Stiffness, sprung quantity.Mass) (quantity.Ratio, error) {
	critical, err := CriticalDamping(rate, sprung)
	if err := first(err, within(c, leastDamping, mostDamping, lang.T("The damping"))); err != nil {
		return 0, err
	}
	return quantity.Ratio(c / critical), nil
}

// DampingFor is the inverse of DampingRatio.
func DampingFor(ratio quantity.Ratio, rate quantity.Stiffness, sprung quantity.Mass) (quantity.Damping, error) {
	critical, err := CriticalDamping(rate, sprung)
	if err := first(err, within(ratio, 0.001, 10, lang.T("The damping ratio"))); err != nil {
		return 0, err
	}
	return critical * quantity.Damping(ratio), nil
}

// DampedFrequency is the frequency that is seen with damping. There is none from
// a ratio of one on: the car no longer swings.
func DampedFrequency(f quantity.Frequency, ratio quantity.Ratio) (quantity.Frequency, error) {
	if err := first(within(f, leastSwing, mostSwing, lang.T("The frequency")), checkSwings(ratio)); err != nil {
		return 0, err
	}
	return f * quantity.Frequency(math.Sqrt(1-float64(ratio*ratio))), nil
}

func checkSwings(ratio quantity.Ratio) error {
	if ratio >= 0 && ratio < 1 {
		return nil
	}
	return quantity.Inputf("Enter it as a share of the critical damping, such as 0.3.", "A damping ratio below zero or from one on belongs to nothing that swings.")
}

// SwingLeft is the share of a swing that is left after so many cycles:
// exp(−2π·ζ·cycles/√(1−ζ²)).
func SwingLeft(ratio quantity.Ratio, cycles quantity.Turns) (quantity.Ratio, error) {
	if err := first(checkSwings(ratio), size(cycles, mostCount, lang.T("The number of cycles"))); err != nil {
		return 0, err
	}
	z := float64(ratio)
	return quantity.Ratio(math.Exp(-2 * math.Pi * z * cycles.Count() / math.Sqrt(1-z*z))), nil
}

// Decay is what was seen of a swing: two heights of it over the resting place,
// on the same side, so many cycles apart, and the ruler's marks.
type Decay struct {
	First, Later quantity.Length
	Cycles       quantity.Turns
	Resolution   quantity.Length
}

// Decayed is what follows from a Decay.
type Decayed struct {
	Decrement quantity.Ratio // natural logarithm of the quotient, per cycle
	Ratio     measure.Value[quantity.Ratio]
}

// RatioFromDecay computes the damping ratio that a decay shows:
//
//	∂ζ/∂δ = 4π²/(4π²+δ²)^1.5    ∂δ/∂first = 1/(cycles·first)    ∂δ/∂later = −1/(cycles·later)
func RatioFromDecay(d Decay) (Decayed, error) {
	if err := d.check(); err != nil {
		return Decayed{}, err
	}
	n, square := d.Cycles.Count(), 4*math.Pi*math.Pi
	delta := math.Log(float64(d.First/d.Later)) / n
	slope := square / math.Pow(square+delta*delta, 1.5)
	u := measure.Resolution(d.Resolution)
	return Decayed{
		Decrement: quantity.Ratio(delta),
		Ratio: measure.Value[quantity.Ratio]{
			Value: quantity.Ratio(delta / math.Sqrt(square+delta*delta)),
			Standard: measure.Combine(
				measure.Contribution[quantity.Ratio](measure.Sensitivity(slope/(n*d.First.Metres())), u),
				measure.Contribution[quantity.Ratio](measure.Sensitivity(slope/(n*d.Later.Metres())), u),
			),
		},
	}, nil
}

func (d Decay) check() error {
	if err := first(within(d.First, leastLength, mostLength, lang.T("The first swing")), within(d.Later, leastLength, mostLength, lang.T("The later swing")),
		within(d.Cycles, leastCount, mostCount, lang.T("The number of cycles")), checkMarks(d.Resolution, d.Later)); err != nil {
		return err
	}
	if d.Later >= d.First {
		return quantity.Inputf("Check that both were measured from the resting place, and which came first.", "The later swing is not smaller than the first.")
	}
	return nil
}

// DampingFromDecay is the damping behind a decay, for a mass that was seen to
// swing at that frequency: 2 · mass · decrement · frequency.
func DampingFromDecay(d Decay, seen quantity.Frequency, sprung quantity.Mass) (quantity.Damping, error) {
	out, err := RatioFromDecay(d)
	if err := first(err, within(seen, leastSwing, mostSwing, lang.T("The frequency")), checkMass(sprung)); err != nil {
		return 0, err
	}
	return quantity.NewtonSecondsPerMetre(2 * sprung.Kilograms() * float64(out.Decrement) * seen.Hertz()), nil
}

// UsualDamping is the range in which the damping ratio of road cars mostly is.
func UsualDamping() Usual[quantity.Ratio] {
	return Usual[quantity.Ratio]{lang.T("passenger cars"), 0.2, 0.4, lang.T("a handbook on vehicle dynamics, chapter 5, from memory"), "MEMORY"}
}
