package method

import (
	"cmp"
	"slices"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/calc/toe"
	"strutcard/sync/event"
)

// oneWheel stands beside the toe of one wheel while the other is not known.
const oneWheel = "This is one wheel. The total is left plus right: read the other wheel too."

var wheelField = Field{Name: "side", Label: "The wheel is on the", Kind: Choice, Options: sides}

// fillSide offers the side of the wheel that the reading is for.
func fillSide(r Record) map[string]string {
	out := map[string]string{}
	if side := sideOf(r.At); side != "" {
		out["side"] = string(side)
	}
	return out
}

// toeStrings is two strings along the car and a ruler to the rim.
var toeStrings = Method{
	ID: "toe_strings", Group: Toe, Title: "Strings along the car", Sets: event.Toe,
	Words: "Tie the steering wheel straight. Stretch a string along each side at hub height and move it until the gaps to the hubs are alike left and right. Then measure from the string to the rim edge, front and rear.",
	Fields: []Field{
		{Name: "strings", Label: "The strings run", Kind: Choice, Keep: true, Options: []Option{{string(toe.Outside), "outside the wheels"}, {string(toe.Inside), "inside the wheels"}}},
		wheelField,
		{Name: "gap_front", Label: "String to rim edge, front of the wheel", Kind: Length},
		{Name: "gap_rear", Label: "String to rim edge, rear of the wheel", Kind: Length},
		{Name: "other_front", Label: "Other wheel: front gap", Hint: "Both gaps of the other wheel give the total.", Kind: Length, Optional: true},
		{Name: "other_rear", Label: "Other wheel: rear gap", Kind: Length, Optional: true},
		{Name: "diameter", Label: "Rim edge to rim edge, where the gaps are", Kind: Length, Keep: true},
		{Name: "mark", Label: "Smallest mark of the ruler for gaps and hubs", Kind: Length, Keep: true, Instrument: true},
		{Name: "hub_front_left", Label: "String to hub centre, front left", Hint: "Measure the hubs anew when the car or a string was moved.", Kind: Length, Keep: true},
		{Name: "hub_front_right", Label: "String to hub centre, front right", Kind: Length, Keep: true},
		{Name: "hub_rear_left", Label: "String to hub centre, rear left", Kind: Length, Keep: true},
		{Name: "hub_rear_right", Label: "String to hub centre, rear right", Kind: Length, Keep: true},
		{Name: "spacing_front", Label: "String to string, ahead of the car", Kind: Length, Keep: true},
		{Name: "spacing_rear", Label: "String to string, behind the car", Kind: Length, Keep: true},
		{Name: "apart", Label: "Between those two places, along the car", Kind: Length, Keep: true},
		{Name: "wheelbase", Label: "Wheelbase, front hub to rear hub", Kind: Length, Keep: true},
		{Name: "tape_mark", Label: "Smallest mark of the tape for the rest", Kind: Length, Keep: true, Instrument: true},
		{Name: "runout", Label: "Wobble of the worse rim", Hint: "Lowest to highest over one turn. Leave it empty if nobody measured it.", Kind: Length, Optional: true, Keep: true},
	},
	Fill: func(r Record) map[string]string {
		out := fillSide(r)
		r.offerWheelbase(out)
		return out
	},
	Work: func(in *In) (Result, error) {
		hubs, s, side := in.strings()
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		lines, err := toe.FromHubs(hubs)
		if err != nil {
			return Result{}, err
		}
		s.Lines = lines
		v, err := toe.FromString(s, side)
		if err != nil {
			return Result{}, err
		}
		marks := in.Units.FormatLength(s.Resolution)
		out := in.wheelToe(v, toe.FormulaStrings+" "+toe.FormulaLines, kept("strings "+string(lines.At)+" the wheels, ruler marked every %s", marks))
		ends, leaning := s.Left, lines.Left
		if side == toe.Right {
			ends, leaning = s.Right, lines.Right
		}
		out.Line, out.Picture = in.stringLine(s, ends, leaning.Value, v.Value), in.stringPicture(side, lines.At, ends, v.Value)
		out.Words += " " + toe.TellGap(lines.At)
		out.Rows = []Row{{lang.T("Lean of this string"), in.worded(event.Toe, leaning)}}
		if err := in.otherString(&out, s, v); err != nil {
			return Result{}, err
		}
		out.Ask = cmp.Or(toe.QuestionLines(lines), out.Ask)
		if s.Runout == 0 {
			out.Warn = append(out.Warn, lang.T(wobbleUnknown))
		}
		return out, nil
	},
}

// wobbleUnknown is said where nobody measured the run-out.
const wobbleUnknown = "How far the rims wobble is not in this uncertainty. Roll the car half a turn of the wheels, take the reading again and average."

// strings reads the fields of toeStrings.
func (in *In) strings() (toe.Hubs, toe.Strings, toe.Side) {
	h := toe.Hubs{At: toe.Place(in.Choice("strings")),
		Left: in.ends("hub_front_left", "hub_rear_left"), Right: in.ends("hub_front_right", "hub_rear_right"), Spacing: in.ends("spacing_front", "spacing_rear"),
		Apart: in.Length("apart"), Wheelbase: in.Length("wheelbase"), Resolution: in.Length("mark"), TapeResolution: in.Length("tape_mark")}
	s := toe.Strings{Left: in.ends("gap_front", "gap_rear"), Right: in.ends("other_front", "other_rear"), Diameter: in.Length("diameter"),
		Resolution: h.Resolution, DiameterResolution: h.TapeResolution, Runout: in.Length("runout")}
	side := toe.Side(in.wheelSide())
	if side == toe.Right {
		s.Left, s.Right = s.Right, s.Left
	}
	return h, s, side
}

func (in *In) ends(front, rear string) toe.Ends {
	return toe.Ends{Front: in.Length(front), Rear: in.Length(rear)}
}

// otherString adds the other wheel and the total, when its gaps are typed.
func (in *In) otherString(out *Result, s toe.Strings, v angle) error {
	if !in.Has("other_front") && !in.Has("other_rear") {
		out.Warn = append(out.Warn, lang.T(oneWheel))
		return nil
	}
	b, err := toe.FromStrings(s)
	if err == nil {
		in.together(out, b)
	}
	return err
}

// wheelToe is what every way to measure the toe of one wheel has in common.
func (in *In) wheelToe(v angle, formula, instrument string) Result {
	return Result{Figure: lang.F("%s, this wheel", in.worded(event.Toe, v)), Words: wheelWords(v.Value), Ask: toe.QuestionWheel(v.Value),
		Warn: []string{lang.T(notInToe)}, Reading: angleReading(v, formula, instrument)}
}

// together adds both wheels and their total.
func (in *In) together(out *Result, b toe.Both) {
	left, right, _ := b.Wheels()
	out.Rows = append(out.Rows, Row{lang.T("Left wheel"), in.worded(event.Toe, left)}, Row{lang.T("Right wheel"), in.worded(event.Toe, right)}, Row{lang.T("Total, left plus right"), in.worded(event.TotalToe, b.Total)})
	out.Ask = cmp.Or(toe.Question(b), out.Ask)
}

func wheelWords(a quantity.Angle) string {
	switch mdeg := a.Mdeg(); {
	case mdeg > 0:
		return lang.T("IN: the front of this wheel points towards the car.")
	case mdeg < 0:
		return lang.T("OUT: the front of this wheel points away from the car.")
	}
	return lang.T("Straight ahead.")
}

func (in *In) stringLine(s toe.Strings, e toe.Ends, lean, v quantity.Angle) string {
	more, less := lang.F("front gap %s", in.lengthFigure(e.Front)), lang.F("rear gap %s", in.Units.FormatLength(e.Rear))
	if s.Lines.At == toe.Inside {
		more, less = lang.F("rear gap %s", in.lengthFigure(e.Rear)), lang.F("front gap %s", in.Units.FormatLength(e.Front))
	}
	return lang.F("asin((%s − %s) ÷ %s), and the string leans %s, together %s", more, less, in.Units.FormatLength(s.Diameter), in.toe(lean), in.toe(v))
}

// toeWheelAngle is a gauge or a printout that gives each wheel.
var toeWheelAngle = Method{
	ID: "toe_wheel_angle", Group: Toe, Title: "Gauge at one wheel", Sets: event.Toe,
	Words: "Hold the steering wheel straight. Read the toe of this wheel from the gauge or the printout, and whether it says IN or OUT.",
	Fields: slices.Concat([]Field{wheelField}, toeFields("toe", "This wheel", Field{Hint: "Without a sign."}),
		[]Field{{Name: "step", Label: "Smallest step of the gauge", Kind: Angle, Keep: true, Instrument: true}},
		toeFields("other", "The other wheel", Field{Optional: true})),
	Fill: fillSide,
	Work: func(in *In) (Result, error) {
		side, now, other, step := toe.Side(in.wheelSide()), in.typedToe("toe"), in.typedToe("other"), in.Angle("step")
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		v, err := toe.Read(now.size, now.way, step)
		if err != nil {
			return Result{}, err
		}
		steps := in.step(step)
		out := in.wheelToe(v, "", kept("gauge read to %s", steps))
		out.Line, out.Picture = lang.F("One reading, gauge read to %s", steps), in.wheelPicture(side, v.Value)
		if !in.Has("other") {
			out.Warn = append(out.Warn, lang.T(oneWheel))
			return out, nil
		}
		second, err := toe.Read(other.size, other.way, step)
		if err != nil {
			return Result{}, err
		}
		left, right := v, second
		if side == toe.Right {
			left, right = second, v
		}
		b, err := toe.FromWheels(left, right, toe.RunoutMissing)
		if err == nil {
			in.together(&out, b)
		}
		return out, err
	},
}
