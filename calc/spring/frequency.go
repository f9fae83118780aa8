package spring

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// FormulaFrequency names this calculation in the record.
const FormulaFrequency = "ride-frequency/1"

// Frequency is that of a mass swinging on a rate, without damping: the ride rate
// and the sprung mass of one corner, or the sum of both.
func Frequency(rate quantity.Stiffness, sprung quantity.Mass) (quantity.Frequency, error) {
	if err := first(checkRate(rate, lang.T("The rate")), checkMass(sprung)); err != nil {
		return 0, err
	}
	return quantity.Hertz(math.Sqrt(float64(rate)/float64(sprung)) / (2 * math.Pi)), nil
}

// RateForFrequency is the inverse of Frequency: the rate at the wheel, from
// which SpringRate goes on to the spring.
func RateForFrequency(f quantity.Frequency, sprung quantity.Mass) (quantity.Stiffness, error) {
	if err := first(within(f, leastSwing, mostSwing, lang.T("The frequency")), checkMass(sprung)); err != nil {
		return 0, err
	}
	w := 2 * math.Pi * f.Hertz()
	return quantity.NewtonsPerMetre(w * w * sprung.Kilograms()), nil
}

// Sag is how far a straight spring, preload included, is pressed at the wheel by
// the load that it carries, measured with a ruler with a mark every Resolution.
type Sag struct {
	Sag, Resolution quantity.Length
}

// FrequencyFromSag is Frequency without a rate or a mass:
//
//	f = √(g/x)/2π    ∂f/∂x = −f/2x
func FrequencyFromSag(s Sag) (measure.Value[quantity.Frequency], error) {
	if err := first(within(s.Sag, leastLength, mostLength, lang.T("The sag")), checkMarks(s.Resolution, s.Sag)); err != nil {
		return measure.Value[quantity.Frequency]{}, err
	}
	f := math.Sqrt(gravity()/s.Sag.Metres()) / (2 * math.Pi)
	return measure.Value[quantity.Frequency]{
		Value:    quantity.Hertz(f),
		Standard: measure.Contribution[quantity.Frequency](measure.Sensitivity(f/(2*s.Sag.Metres())), measure.Resolution(s.Resolution)),
	}, nil
}

// checkMarks refuses an instrument whose marks are missing or coarser than what
// it reads.
func checkMarks[Q quantity.Quantity](resolution, reading Q) error {
	switch {
	case !quantity.Finite(resolution) || resolution <= 0:
		return quantity.Inputf("Enter the smallest step that it shows, such as 1 mm for a ruler or 0.5 kg for a scale.", "The smallest mark of the instrument is missing or not above zero.")
	case resolution > reading:
		return quantity.Inputf("Check the unit of the marks.", "The instrument's marks are further apart than what it read.")
	}
	return nil
}

// Usual is a range in which cars of a kind mostly are, with where that is from.
// It is no target.
type Usual[Q measure.Quantity] struct {
	Use                string
	Low, High          Q
	Source, Provenance string
}

const bandSource = "Springs and Dampers, Part One (a published tip)"

// UsualFrequencies is a table of what is usual, lowest first. Between the rows
// are gaps, as in the source.
func UsualFrequencies() []Usual[quantity.Frequency] {
	return []Usual[quantity.Frequency]{
		{lang.T("passenger cars"), 0.5, 1.5, lang.T(bandSource), "READ"},
		{lang.T("sedan race cars, and moderate downforce"), 1.5, 2, lang.T(bandSource), "READ"},
		{lang.T("race cars with much downforce"), 3, 5, lang.T(bandSource), "READ"},
	}
}

// QuestionFrequency is a sentence to put to the person about a frequency that
// no row of the table comes near, or "" when there is nothing to ask.
func QuestionFrequency(f quantity.Frequency) string {
	rows := UsualFrequencies()
	switch {
	case !quantity.Finite(f):
		return lang.T("The frequency is not a number. Check the rate and the mass.")
	case f < rows[0].Low:
		return lang.F("%s is softer than any road car. Check the units of the rate, and that the mass is that of one corner.", f.String())
	case f > rows[len(rows)-1].High:
		return lang.F("%s is harder than any car has. Check the units of the rate, and that the mass is that of one corner.", f.String())
	}
	return ""
}
