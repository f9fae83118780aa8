package method

import (
	"cmp"
	"fmt"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/calc/toe"
	"strutcard/sync/event"
)

// What a source gives of a toe.
const (
	givenLength = "length"
	givenAngle  = "angle"
	givenBoth   = "both"
)

// toeConvert is length at a diameter and angle, per wheel and total.
var toeConvert = Method{
	ID: "toe_convert", Group: Toe, Title: "Toe: length and angle",
	Words: "For a toe from a manual. Look whether it is of one wheel or the sum of both, and at which diameter a length holds.",
	Fields: []Field{
		{Name: "given", Label: "The manual gives", Kind: Choice, Options: []Option{{givenLength, "a length"}, {givenAngle, "an angle"}, {givenBoth, "both: find the diameter"}}},
		{Name: "length", Label: "Toe as a length", Hint: "Without a sign.", Kind: Length, When: "given=length|both"},
		{Name: "angle", Label: "Toe as an angle", Hint: "Without a sign.", Kind: Angle, When: "given=angle|both"},
		{Name: "direction", Label: "IN or OUT", Kind: Choice, Options: toeInOut, When: "given=length|angle"},
		{Name: "scope", Label: "The toe is", Kind: Choice, When: "given=length|angle", Options: scopes},
		{Name: "diameter", Label: "Diameter at which the length holds", Hint: "Rim edge to rim edge, or tread to tread.", Kind: Length, Keep: true, When: "given=length|angle"},
		{Name: "length_step", Label: "Last printed digit of the length", Hint: "A whole number of millimetres is printed to 1 mm.", Kind: Length, When: "given=both"},
		{Name: "angle_step", Label: "Last printed digit of the angle", Hint: "Whole minutes are printed to 0°01′, two decimals to 0.01°.", Kind: Angle, When: "given=both"},
		{Name: "rim", Label: "Rim of this car, edge to edge", Kind: Length, Optional: true, Keep: true, When: "given=both"},
		{Name: "tyre", Label: "Tyre of this car, tread to tread", Kind: Length, Optional: true, Keep: true, When: "given=both"},
	},
	Work: func(in *In) (Result, error) {
		given, length, a := in.Choice("given"), in.Length("length"), in.Angle("angle")
		way, scope, diameter := toe.Direction(in.Choice("direction")), toe.Scope(in.Choice("scope")), in.Length("diameter")
		spec := toe.Spec{Length: length, Angle: a, LengthStep: in.Length("length_step"), AngleStep: in.Angle("angle_step")}
		rim, tyre := in.Length("rim"), in.Length("tyre")
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		if given == givenBoth {
			return in.implied(spec, rim, tyre)
		}
		both, err := toe.FromAngle(a, way, scope)
		if given == givenLength {
			both, err = toe.FromLength(length, diameter, way, scope)
		}
		if err != nil {
			return Result{}, err
		}
		return in.converted(both, diameter, given, scope)
	},
}

// scopes ask which of the two a number is.
var scopes = []Option{{string(toe.PerWheel), "of one wheel"}, {string(toe.Total), "the total of both"}}

func (in *In) converted(a toe.Angles, diameter quantity.Length, given string, scope toe.Scope) (Result, error) {
	l, err := a.At(diameter)
	if err != nil {
		return Result{}, err
	}
	at := in.Units.FormatLength(diameter)
	out := Result{Words: lang.T("One wheel has half of the total."), Ask: toe.QuestionSpec(a, 0), Picture: in.trianglePicture(l.PerWheel, at, a.PerWheel),
		Warn: []string{lang.T("A length means nothing without its diameter: at the tyre it is larger than at the rim.")},
		Rows: []Row{{lang.T("As an angle, total"), in.toe(a.Total)}, {lang.T("As an angle, per wheel"), in.toe(a.PerWheel)},
			{lang.T("As a length, total"), lang.F("%s at %s", in.toeLength(l.Total), at)}, {lang.T("As a length, per wheel"), lang.F("%s at %s", in.toeLength(l.PerWheel), at)}}}
	if given == givenAngle {
		out.Figure = in.lengths(l)
		total, _ := toe.Say(a.Total)
		out.Line = lang.F("%s × sin(%s) = %s total", at, in.Units.FormatAngle(total), in.toeLength(l.Total))
		return out, nil
	}
	out.Figure = lang.F("%s total, %s per wheel", in.toe(a.Total), in.toe(a.PerWheel))
	typed, of, words := in.Length("length"), a.Total, lang.C("total", "of toe")
	if scope == toe.PerWheel {
		of, words = a.PerWheel, lang.T("per wheel")
	}
	out.Line = fmt.Sprintf("asin(%s ÷ %s) = %s %s", in.Units.FormatLength(typed), at, in.toe(of), words)
	return out, nil
}

// tape writes a length as finely as a tape is read.
func (in *In) tape(l quantity.Length) string { return in.Units.Value(event.RideHeight, l.UM()) }

// implied is the diameter at which a length and an angle are the same toe.
func (in *In) implied(s toe.Spec, rim, tyre quantity.Length) (Result, error) {
	i, err := toe.ImpliedDiameter(s)
	if err != nil {
		return Result{}, err
	}
	f := in.tape
	out := Result{Figure: lang.F("%s, from %s to %s", f(i.Diameter), f(i.Low), f(i.High)), Words: lang.T("At this diameter both are the same toe, whether of one wheel or the total. The range is what the printed digits leave open."),
		Line: fmt.Sprintf("%s ÷ sin(%s) = %s", in.Units.FormatLength(s.Length), in.Units.FormatAngle(s.Angle), f(i.Diameter)), Picture: in.trianglePicture(s.Length, f(i.Diameter), s.Angle)}
	if !in.Has("rim") || !in.Has("tyre") {
		out.Warn = []string{lang.T("Type the diameters of rim and tyre to see which of them is meant.")}
		return out, nil
	}
	on, err := i.Fits(rim, tyre)
	if err != nil {
		return Result{}, err
	}
	fits := map[toe.On]string{toe.OnRim: lang.T("the rim"), toe.OnTyre: lang.T("the tyre"), toe.Either: lang.T("the rim or the tyre, it cannot be told"), toe.Neither: lang.T("neither rim nor tyre")}
	out.Rows, out.Ask = []Row{{lang.T("Meant at"), fits[on]}}, toe.QuestionSpecPair(i, rim, tyre)
	return out, nil
}

// trianglePicture is one wheel from above, the diameter and the length across.
func (in *In) trianglePicture(across quantity.Length, diameter string, a quantity.Angle) *Picture {
	across, _ = toe.Say(across)
	p := wheelAbove(toe.Left, a)
	p.ahead()
	p.Label("end", closeX-closeHalf-24, closeY+5, diameter)
	p.Label("start", closeX+closeHalf+24, 36, in.Units.FormatLength(across))
	p.Label("middle", closeX, closeHigh-6, in.toe(a))
	p.Note = cmp.Or(p.Note, lang.T("Not to scale."))
	p.Alt = lang.F("A wheel from above: diameter %s along it, its front end %s off straight ahead, %s.", diameter, in.Units.FormatLength(across), in.toe(a))
	return &p.Picture
}
