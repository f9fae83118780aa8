package torque

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// FormulaHung names the home check of a wrench in the record.
const FormulaHung = "torque-hung-weight/1"

// HungWeight is a weighed mass on a string at the handle of a wrench whose drive
// is held fast, with the handle level. Every mass is weighed: what is stamped on
// a weight does not count.
type HungWeight struct {
	Mass             quantity.Mass
	MassResolution   quantity.Mass   // between two marks of the scales
	Distance         quantity.Length // level, from the middle of the drive to the string
	LengthResolution quantity.Length // between two marks of the tape
	// The wrench alone, on the same scales and tape. Both zero when that was not
	// measured: then the check can only find a wrench that shows too little.
	OwnMass     quantity.Mass
	OwnDistance quantity.Length // from the middle of the drive to where it balances
	Lean        quantity.Angle  // how far off level the handle may have been, as a size
	// Reading is what a wrench with a pointer or display shows, or the highest
	// setting at which the weight makes it click. Step is between two marks, or
	// from that setting to the next that was tried and did not click.
	Reading, Step quantity.Torque
	Wrench        Wrench
	Class         Class
}

// HungCheck is what the weight shows about the wrench.
type HungCheck struct {
	True                   measure.Value[quantity.Torque] // at the drive, of weight and wrench together
	FromWeight, FromWrench quantity.Torque
	OwnKnown               bool                          // the wrench's own weight is in it
	Deviation              measure.Value[quantity.Ratio] // (reading − true)/true
	Allowed                quantity.Ratio                // by type and class
	Verdict                measure.Verdict               // Met: reads within its class
}

// gravityShare is half the spread of g over the earth, as a share (from memory).
const gravityShare quantity.Ratio = 0.0027

const mostLean = 10 // degrees; more is not level by any eye (common practice, no source)

// CheckHung compares the reading with the torque of the weight:
//
//	T = g·(m·l + M·r)    ∂T/∂m = g·l    ∂T/∂l = g·m, and so for M and r
//	d = (X − T)/T        ∂d/∂X = 1/T    ∂d/∂T = −X/T²
//
// The lean can only lower T, by up to T·(1 − cos), and counts in full.
func CheckHung(h HungWeight) (HungCheck, error) {
	if err := h.check(); err != nil {
		return HungCheck{}, err
	}
	allowed, err := h.Class.Tolerance(h.Wrench.Highest)
	if err != nil {
		return HungCheck{}, err
	}
	out := HungCheck{Allowed: allowed, OwnKnown: h.OwnMass > 0,
		FromWeight: moment(h.Mass, h.Distance), FromWrench: moment(h.OwnMass, h.OwnDistance)}
	out.True = h.trueTorque(out.FromWeight + out.FromWrench)
	fit, err := h.Wrench.Fit(out.True.Value)
	if err != nil {
		return HungCheck{}, err
	}
	if fit != Within {
		return HungCheck{}, quantity.Inputf("Hang another weight, or hang it elsewhere, so that the torque lies inside the range.", "The torque of the weight is %s.", fit.Words())
	}
	t, x := out.True.Value.NewtonMetres(), h.Reading.NewtonMetres()
	out.Deviation = measure.Value[quantity.Ratio]{Value: quantity.Ratio((x - t) / t), Standard: measure.Combine(
		measure.Contribution[quantity.Ratio](measure.Sensitivity(1/t), measure.Resolution(h.Step)),
		measure.Contribution[quantity.Ratio](measure.Sensitivity(x/(t*t)), out.True.Standard),
	)}
	out.Verdict = out.judge()
	return out, nil
}

// judge knows that without the wrench's own weight the true torque is higher
// than reckoned, and the deviation lower.
func (c HungCheck) judge() measure.Verdict {
	verdict := measure.Band[quantity.Ratio]{Minus: c.Allowed, Plus: c.Allowed}.Judge(c.Deviation)
	if c.OwnKnown || verdict == measure.NotMet && c.Deviation.Value < 0 {
		return verdict
	}
	return measure.TooClose
}

func moment(m quantity.Mass, l quantity.Length) quantity.Torque {
	return quantity.NewtonMetres(m.Weight().Newtons() * l.Metres())
}

func (h HungWeight) trueTorque(t quantity.Torque) measure.Value[quantity.Torque] {
	mass, length := measure.Resolution(h.MassResolution), measure.Resolution(h.LengthResolution)
	parts := []quantity.Torque{
		moment(mass, h.Distance), moment(h.Mass, length),
		t * quantity.Torque(float64(gravityShare)/math.Sqrt(3)),
		t * quantity.Torque(1-math.Cos(h.Lean.Radians())),
	}
	if h.OwnMass > 0 {
		parts = append(parts, moment(mass, h.OwnDistance), moment(h.OwnMass, length))
	}
	return measure.Value[quantity.Torque]{Value: t, Standard: measure.Combine(parts...)}
}

func (h HungWeight) check() error {
	for _, ok := range []bool{quantity.Finite(h.Mass), quantity.Finite(h.MassResolution), quantity.Finite(h.Distance), quantity.Finite(h.LengthResolution),
		quantity.Finite(h.OwnMass), quantity.Finite(h.OwnDistance), quantity.Finite(h.Lean), quantity.Finite(h.Reading), quantity.Finite(h.Step)} {
		if !ok {
			return quantity.Inputf("Enter the masses, the distances and the reading again.", "One of the values is not a number.")
		}
	}
	switch {
	case h.Mass <= 0 || h.MassResolution <= 0 || h.MassResolution >= h.Mass:
		return quantity.Inputf("Weigh it, and enter the smallest mark of the scales too.", "The mass is missing, or the scales are too coarse for it.")
	case h.Distance <= 0 || h.LengthResolution <= 0 || h.LengthResolution >= h.Distance:
		return quantity.Inputf("Measure level from the middle of the drive to the string, and enter the smallest mark of the tape too.", "The distance is missing, or the tape is too coarse for it.")
	case h.OwnMass < 0 || h.OwnDistance < 0 || (h.OwnMass == 0) != (h.OwnDistance == 0):
		return quantity.Inputf("Weigh the wrench and find where it balances, or leave both open.", "Only one of the wrench's mass and its balance point is given, or one is below zero.")
	case h.Lean <= 0 || h.Lean.Degrees() > mostLean:
		return quantity.Inputf("Lay a level on the handle. Enter what it may be off, such as 1° with a level or 3° by eye.", "It is not said how level the handle was, or it was not level.")
	case h.Reading <= 0 || h.Step <= 0 || h.Step >= h.Reading:
		return quantity.Inputf("Enter the value on the wrench, and the step between its marks or between the settings that you tried.", "The reading of the wrench or its step is missing, or the step is too wide.")
	}
	return nil
}

// Words is the outcome as people read it.
func (c HungCheck) Words() string {
	return c.outcome() + " " + lang.T("This is a home check at one torque, not a calibration.")
}

func (c HungCheck) outcome() string {
	switch {
	case c.Verdict == measure.Met:
		return lang.T("The wrench reads within its class here.")
	case c.Verdict == measure.NotMet:
		return lang.T("The wrench reads outside its class here. Do not trust it before it has been calibrated.")
	case !c.OwnKnown:
		return lang.T("It cannot be told whether the wrench reads within its class: its own weight is not known. Weigh it and find where it balances.")
	case c.Deviation.Expanded() >= c.Allowed:
		return lang.T("It cannot be told whether the wrench reads within its class: the check is too coarse. Use finer scales, a longer distance or smaller steps.")
	}
	return lang.T("It cannot be told whether the wrench reads within its class: it is close to the limit. Have it calibrated.")
}

// unbelievable is where a slip is likelier than a bad wrench. Common practice.
const unbelievable quantity.Ratio = 0.3

// QuestionHung is a sentence about a deviation that is hardly the wrench's, or "".
func QuestionHung(c HungCheck) string {
	if quantity.Ratio(math.Abs(float64(c.Deviation.Value))) <= unbelievable {
		return ""
	}
	return lang.T("The reading and the weight are far apart. Check kg and lb, the unit on the wrench, and that the distance was measured from the middle of the drive.")
}
