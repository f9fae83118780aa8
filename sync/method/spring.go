package method

import (
	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/calc/spring"
)

var springMethods = []Method{springSqueeze, springRate, springDamping, cornerWeight, cornerWeights, perchTurn}

// springRate is a spring seen from the wheel. The lever goes by one name for
// three numbers, so it is asked by what is divided by what.
var springRate = Method{
	ID: "spring_rate", Group: Ride, Title: "Spring at the wheel",
	Words: "Enter what is printed on the spring, and how far it moves against its wheel. Look in the source what it divides by what: three different numbers go by one name.",
	Fields: []Field{
		{Name: "rate", Label: "Rate of the spring", Kind: Stiffness},
		{Name: "lever", Label: "Number for the lever between spring and wheel", Kind: Count, Keep: true},
		{Name: "lever_is", Label: "That number is", Kind: Choice, Keep: true, Options: []Option{
			{string(spring.SpringPerWheel), "spring travel ÷ wheel travel"},
			{string(spring.WheelPerSpring), "wheel travel ÷ spring travel"},
			{string(spring.SpringPerWheelSquared), "(spring travel ÷ wheel travel), squared"}}},
		{Name: "taken", Label: "Its spring travel was taken", Kind: Choice, Keep: true, Options: []Option{
			{string(spring.AlongSpring), "along the spring: its lean is in the number"},
			{string(spring.AtMount), "at the mount: its lean is still to come"}}},
		{Name: "lean", Label: "Angle between the spring and the path of its mount", Kind: Angle, Keep: true, When: "taken=" + string(spring.AtMount)},
		{Name: "tyre", Label: "Rate of the tyre", Hint: "Leave it empty if it is not known.", Kind: Stiffness, Optional: true, Keep: true},
		{Name: "mass", Label: "Mass on this wheel, without the wheel", Hint: "For the frequency of the swing.", Kind: Mass, Optional: true},
	},
	Work: func(in *In) (Result, error) {
		rate, tyre, mass := in.Stiffness("rate"), in.Stiffness("tyre"), in.Mass("mass")
		m := spring.Motion{Ratio: quantity.Ratio(in.Count("lever").Count()), Per: spring.Per(in.Choice("lever_is")), Taken: spring.Taken(in.Choice("taken")), Inclined: in.Angle("lean")}
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		wheel, err := spring.WheelRate(rate, m)
		if err != nil {
			return Result{}, err
		}
		r, err := m.As(spring.SpringPerWheel)
		if err != nil {
			return Result{}, err
		}
		f := func(s quantity.Stiffness) string { return quantity.FormatStiffness(s, in.Units.Stiffness) }
		out := Result{Figure: lang.F("%s at the wheel", f(wheel)), Ask: spring.QuestionMotion(m),
			Words: lang.T("The wheel feels this rate, not the one that is printed on the spring. Compare rates at the wheel."),
			Line:  lang.F("%s × (%s)² = %s, %s being spring travel ÷ wheel travel", f(rate), rounded(float64(r)), f(wheel), rounded(float64(r))),
			Rows:  []Row{{lang.T("Wheel travel ÷ spring travel"), rounded(float64(1 / r))}},
			Warn:  []string{lang.T("It is as good as the rate and the lever that were typed. A progressive spring has another rate at every height; bushes and anti-roll bars add to it.")}}
		return out, in.swing(&out, wheel, tyre, mass)
	},
}

// swing adds the tyre in series and the frequency, as far as they are known.
func (in *In) swing(out *Result, rate, tyre quantity.Stiffness, mass quantity.Mass) error {
	on := lang.T("Frequency, undamped, on the wheel rate, without the tyre")
	if in.Has("tyre") {
		ride, err := spring.RideRate(rate, tyre)
		if err != nil {
			return err
		}
		rate, on = ride, lang.T("Frequency, undamped, on the rate with the tyre")
		out.Rows = append(out.Rows, Row{lang.T("With the tyre below it"), quantity.FormatStiffness(ride, in.Units.Stiffness)})
	}
	if !in.Has("mass") {
		return nil
	}
	f, err := spring.Frequency(rate, mass)
	if err != nil {
		return err
	}
	out.Rows = append(out.Rows, Row{on, f.String()})
	for _, u := range spring.UsualFrequencies() {
		out.Rows = append(out.Rows, Row{lang.F("Usual for %s", lang.T(u.Use)), lang.F("%s to %s", u.Low.String(), u.High.String())})
	}
	out.Warn = append(out.Warn, lang.F("Usual is no target. Ranges from %s.", lang.T(spring.UsualFrequencies()[0].Source)))
	if out.Ask == "" {
		out.Ask = spring.QuestionFrequency(f)
	}
	return nil
}
