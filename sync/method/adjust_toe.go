package method

import (
	"fmt"

	"strutcard/calc/adjust"
	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
)

const byReadings, byShape = "how=readings", "how=shape"

// adjustToeFromCamber is what a change of camber does to toe.
var adjustToeFromCamber = Method{
	ID: "adjust_toe_from_camber", Group: Adjusting, Title: "Camber's effect on toe",
	Words: "Set height first, then caster and camber, and toe last: the track rod holds its end of the knuckle, so a change of camber steers the wheel. Two readings at this wheel, the track rod left alone, tell more than geometry.",
	Fields: []Field{
		{Name: "how", Label: "Work it out from", Kind: Choice, Options: []Option{{"readings", "two readings of camber and toe"}, {"shape", "where the track rod's joint sits"}}},
		{Name: "stage", Label: "At both readings, the bolts were", Kind: Choice, Options: []Option{snug, firm}, When: byReadings},
		{Name: "camber_1", Label: "Camber, first reading", Hint: "Minus: top of the wheel leans in.", Kind: Angle, When: byReadings},
		{Name: "toe_1", Label: "Toe of this wheel, first reading", Hint: "A size; the next says which way.", Kind: Angle, When: byReadings},
		{Name: "toe_1_is", Label: "Its front points", Kind: Choice, Options: []Option{{"in", "in"}, {"out", "out"}}, When: byReadings},
		{Name: "camber_2", Label: "Camber, second reading", Kind: Angle, When: byReadings},
		{Name: "toe_2", Label: "Toe of this wheel, second reading", Kind: Angle, When: byReadings},
		{Name: "toe_2_is", Label: "Its front points", Kind: Choice, Options: []Option{{"in", "in"}, {"out", "out"}}, When: byReadings},
		{Name: "camber_within", Label: "± of a camber reading", Kind: Angle, Keep: true, When: byReadings},
		{Name: "toe_within", Label: "± of a toe reading", Kind: Angle, Keep: true, When: byReadings},
		{Name: "reach", Label: "From the steering axis to the track rod's joint, level, front to rear", Kind: Length, Keep: true, When: byShape},
		{Name: "joint", Label: "The joint sits", Kind: Choice, Keep: true, When: byShape, Options: []Option{{string(adjust.Forward), "in front of the axis"}, {string(adjust.Rearward), "behind it"}}},
		{Name: "lift", Label: "Height of that joint from the lower ball joint", Kind: Length, Keep: true, When: byShape},
		{Name: "lies", Label: "It sits", Kind: Choice, Keep: true, Optional: true, When: byShape, Options: []Option{{string(adjust.Above), "above it"}, {string(adjust.Below), "below it"}}},
		{Name: "mark", Label: "Smallest mark of the tape", Kind: Length, Keep: true, Instrument: true, When: byShape},
		{Name: "change", Label: "Camber will change by", Hint: "A size, without a sign.", Kind: Angle},
		{Name: "camber_to", Label: "The top of the wheel", Kind: Choice, Options: leanTo},
	},
	Work: func(in *In) (Result, error) {
		how := in.Choice("how")
		change := adjustSize(in, "change", in.Choice("camber_to") == string(adjust.In))
		a, b := bothOf(in, "1"), bothOf(in, "2")
		s := adjust.SteeringArm{Reach: in.Length("reach"), Joint: adjust.Way(in.Choice("joint")), Height: in.Length("lift"), Lies: adjust.Level(in.Choice("lies")), Resolution: in.Length("mark")}
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		if how == "shape" {
			toe, err := s.ToeFor(measure.Value[quantity.Angle]{Value: change})
			if err != nil {
				return Result{}, err
			}
			line := fmt.Sprintf("asin(%s × sin(%s) ÷ %s) = %s", in.Units.FormatLength(s.Height), in.Units.FormatAngle(size(change)), in.Units.FormatLength(s.Reach), in.Units.FormatAngle(size(toe.Value)))
			return toeResult(in, change, toe, line, []string{lang.T("About right only: within a tenth for an upright axis and a long track rod, and play is not in it.")}), nil
		}
		c, err := adjust.ToePerCamber([]adjust.Both{a, b})
		if err != nil {
			return Result{}, err
		}
		var warn []string
		for _, w := range c.Cautions {
			warn = append(warn, w.Words())
		}
		per, around := supported(float64(c.PerCamber.Value), measure.Coverage*float64(c.PerCamber.Standard))
		toe := c.ToeFor(change)
		out := toeResult(in, change, toe, fmt.Sprintf("%s × %s = %s", in.Units.FormatAngle(change), per, in.Units.Value(event.Toe, toe.Value.Mdeg())), warn)
		out.Rows = append(out.Rows, Row{lang.T("Toe-in per degree of camber to plus"), per + "° ± " + around + "°"})
		return out, nil
	},
}

func bothOf(in *In, n string) adjust.Both {
	toe := adjustSize(in, "toe_"+n, in.Choice("toe_"+n+"_is") == "out")
	return adjust.Both{Place: adjust.Place{Car: car, Corner: car}, Stage: adjust.Stage(in.Choice("stage")),
		Camber: measure.Value[quantity.Angle]{Value: in.Angle("camber_" + n), Standard: in.Angle("camber_within") / measure.Coverage},
		Toe:    measure.Value[quantity.Angle]{Value: toe, Standard: in.Angle("toe_within") / measure.Coverage}}
}

func toeResult(in *In, change quantity.Angle, toe measure.Value[quantity.Angle], line string, warn []string) Result {
	words := toeWords(in.Units, toe)
	return Result{Figure: words, Words: lang.F("%s Toe of this wheel then changes by %s.", leanChange(in, change), words), Line: line,
		Rows: []Row{{lang.T("Other wheel's toe"), lang.T(asWas)}, {lang.T("Total toe"), lang.T("changes by as much: by twice when both wheels are changed alike")}, {lang.T("Steering wheel"), lang.T("goes off centre when only one side is changed")}},
		Warn: append(warn, adjust.ReadToe.Words(), adjust.AfterTorque.Words())}
}
