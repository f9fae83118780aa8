package method

import (
	"fmt"
	"slices"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/calc/spring"
	"strutcard/sync/event"
)

var scaleField = Field{Name: "mark", Label: "Smallest step of the scale", Kind: Mass, Keep: true, Instrument: true}

// cornerWeight is one scale under one wheel.
var cornerWeight = Method{
	ID: "corner_weight", Group: Ride, Title: "Scale under a wheel", Sets: event.CornerWeight,
	Words: "Four wheels on scales or pads of one height, level with each other. Roll and bounce the car, brake off, the same load in it every time. Nobody goes under a car on scales.",
	Fields: []Field{
		{Name: "weight", Label: "Reading of the scale", Kind: Mass},
		scaleField,
	},
	Work: func(in *In) (Result, error) {
		weight, mark := in.Mass("weight"), in.Mass("mark")
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		v, err := once(weight, mark)
		if err != nil {
			return Result{}, err
		}
		step := quantity.FormatMass(mark, in.Units.Mass)
		return Result{Figure: in.mass(v), Line: lang.F("One reading, scale with steps of %s", step),
			Warn:    []string{lang.T("The uncertainty covers the step of the scale. It does not cover scales that are not level, or a car that has not settled.")},
			Reading: &Reading{Value: v.Value.G(), U95: v.Expanded().G(), Instrument: kept("scale with steps of %s", step)}}, nil
	},
}

// cornerScales ask for the reading under each wheel.
var cornerScales = four(Mass, "", "", [4]string{"Front left, reading of the scale", "Front right, reading of the scale", "Rear left, reading of the scale", "Rear right, reading of the scale"})

// cornerWeights is what four scales say together.
var cornerWeights = Method{
	ID: "corner_weights", Group: Ride, Title: "Four scales together",
	Words:  "Enter all four readings of one weighing: same load, level scales, car rolled and bounced. Nobody goes under a car on scales.",
	Fields: slices.Concat(cornerScales, []Field{scaleField}),
	Fill: func(r Record) map[string]string {
		out := map[string]string{}
		r.offer(out, r.standing(event.CornerWeight), "")
		return out
	},
	Work: func(in *In) (Result, error) {
		s := in.scales()
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		w, err := spring.CornerWeights(s)
		if err != nil {
			return Result{}, err
		}
		f, cross := in.weight, in.share(w.Cross)
		p := fourView(lang.F("The car from above: front left %s, front right %s, rear left %s, rear right %s. Marked is the diagonal of %s.",
			f(s.FrontLeft), f(s.FrontRight), f(s.RearLeft), f(s.RearRight), lang.T(spring.CrossDiagonal)),
			[4]string{f(s.FrontLeft), f(s.FrontRight), f(s.RearLeft), f(s.RearRight)}, lang.F("cross %s", cross))
		p.crossLine()
		return Result{
			Figure: lang.F("Cross %s", cross), Ask: spring.QuestionScales(s), Picture: p.picture(),
			Words: lang.F("Cross is the share of %s. Some mean the other diagonal: ask which before you compare.", lang.T(spring.CrossDiagonal)),
			Line:  fmt.Sprintf("(%s + %s) ÷ %s = %s", f(s.FrontRight), f(s.RearLeft), f(w.Total.Value), cross),
			Rows: []Row{{lang.T("Total"), in.mass(w.Total)}, {lang.T("Front"), in.share(w.Front)}, {lang.T("Left"), in.share(w.Left)},
				{lang.F("Cross, %s", lang.T(spring.CrossDiagonal)), cross}, {lang.T("The other diagonal, front left and rear right"), in.share(w.OtherDiagonal)}},
			Warn: []string{lang.T("The uncertainty covers the steps of the scales only. Two weighings with different fuel, people or ballast cannot be compared.")},
		}, nil
	},
}

func (in *In) scales() spring.Scales {
	m := fours(in.Mass, "")
	return spring.Scales{Four: spring.Four[quantity.Mass]{FrontLeft: m[0], FrontRight: m[1], RearLeft: m[2], RearRight: m[3]}, Resolution: in.Mass("mark")}
}

// weight and mass write a load, the second with its uncertainty; share a share
// of the whole.
func (in *In) weight(m quantity.Mass) string { return quantity.FormatMass(m, in.Units.Mass) }

func (in *In) mass(v measure.Value[quantity.Mass]) string {
	if in.Units.Mass == quantity.Pound {
		return within(v.Value.Pounds(), v.Expanded().Pounds(), "lb")
	}
	return within(v.Value.Kilograms(), v.Expanded().Kilograms(), "kg")
}

func (in *In) share(v measure.Value[quantity.Ratio]) string {
	return within(v.Value.Percent(), v.Expanded().Percent(), "%")
}

// crossLine marks the diagonal that is called cross here.
func (p *carPlan) crossLine() {
	rightX, frontY := p.at(event.FR)
	leftX, rearY := p.at(event.RL)
	p.Line("accent", rightX-10, frontY+8, leftX+10, rearY-8)
}
