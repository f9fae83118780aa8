package method

import (
	"math"
	"slices"
	"strings"

	"strutcard/calc/adjust"
	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
	"strutcard/sync/units"
)

var adjustMethods = []Method{adjustLearned, adjustLearnedHeight, adjustPerStep, adjustStrutTop, adjustStrutFoot, adjustEccentric, adjustShim, adjustToeFromCamber}

// turns counts settings in their own unit, and readings in the record's unit,
// whatever they are.
type turns = quantity.Turns

var (
	inOut    = []Option{{string(adjust.In), "in, to the middle of the car"}, {string(adjust.Out), "out, away from it"}}
	foreAft  = []Option{{string(adjust.Forward), "forward"}, {string(adjust.Rearward), "rearward"}}
	leanTo   = []Option{{string(adjust.In), "leans in more, camber to minus"}, {string(adjust.Out), "leans out more, camber to plus"}}
	upperLow = []Option{{string(adjust.Upper), "upper"}, {string(adjust.Lower), "lower"}}
)

// axisAsked is the steering axis in the view from the front.
var axisAsked = []Field{
	{Name: "height", Label: "Height from lower ball joint straight up to upper joint or top mount", Kind: Length, Keep: true},
	{Name: "offset", Label: "How far the upper one lies to the side", Hint: "Level, seen from the front. 0 when straight above.", Kind: Length, Keep: true},
	{Name: "lies_side", Label: "It lies", Kind: Choice, Options: inOut, Optional: true, Keep: true},
}

// axisFields are axisAsked; when hides them all.
func axisFields(when string) []Field {
	out := slices.Clone(axisAsked)
	for i := range out {
		out[i].When = when
	}
	return out
}

var adjustMark = Field{Name: "mark", Label: "Smallest mark of the tape", Kind: Length, Keep: true, Instrument: true}

// adjustSize reads a change that is asked as a size, and gives it its sign.
func adjustSize(in *In, name string, minus bool) quantity.Angle {
	v := in.Angle(name)
	if v < 0 {
		in.fail(quantity.Inputf("Type it without the sign, and say which way below.", "%s is below zero.", lang.T(in.field(name).Label)))
	}
	if minus {
		return 0 - v
	}
	return v
}

// withinWords writes a value of the record's kind with its uncertainty.
func withinWords(u units.Set, q event.Quantity, v measure.Value[turns]) string {
	r := event.ReadingTaken{Quantity: q}
	r.SetAmount(round(v.Value), round(v.Expanded()))
	return u.Reading(&r)
}

// toeWords is a change of toe, in or out.
func toeWords(u units.Set, v measure.Value[quantity.Angle]) string {
	return withinWords(u, event.Toe, adjustMdeg(v))
}

// adjustMdeg is an angle in the record's unit.
func adjustMdeg(v measure.Value[quantity.Angle]) measure.Value[turns] {
	return measure.Value[turns]{Value: turns(v.Value.Degrees() * 1000), Standard: turns(v.Standard.Degrees() * 1000)}
}

// measuredMove is a measured move as calc takes it: the mark that has its uncertainty.
func measuredMove(v measure.Value[quantity.Length], to adjust.Way) adjust.Move {
	return adjust.Move{By: size(v.Value), To: to, Resolution: v.Standard / measure.Resolution(quantity.Length(1))}
}

// moveWords is a move with its way.
func moveWords(in *In, by quantity.Length, to adjust.Way) string {
	return strings.TrimSpace(in.Units.FormatLength(by) + " " + lang.T(string(to)))
}

// toMark makes a wanted move one that can be measured: to whole marks. What it
// does is then computed for that move.
func toMark(mark quantity.Length) func(quantity.Length, adjust.Way, error) (adjust.Move, error) {
	return func(by quantity.Length, to adjust.Way, err error) (adjust.Move, error) {
		if err == nil && mark > 0 { // calc refuses any other mark
			by = quantity.Length(math.Round(float64(by/mark))) * mark
		}
		return adjust.Move{By: by, To: to, Resolution: mark}, err
	}
}

// leanChange says what a change of camber is.
func leanChange(in *In, v quantity.Angle) string {
	switch {
	case v.Mdeg() == 0:
		return lang.T("Camber stays as it is.")
	case v < 0:
		return lang.F("The top of the wheel leans in by %s more: camber goes to minus.", in.Units.FormatAngle(-v))
	}
	return lang.F("The top of the wheel leans out by %s more: camber goes to plus.", in.Units.FormatAngle(v))
}

// moreOrLess says a change of an angle that is not camber.
func moreOrLess(in *In, v measure.Value[quantity.Angle]) string {
	if v.Value < 0 {
		v.Value = -v.Value
		return lang.F("%s less", in.angle(v))
	}
	return lang.F("%s more", in.angle(v))
}

const (
	asWas     = "as it was"
	follows   = "follows: read it again, and set it last"
	firstMove = "This is geometry: play and rubber are not in it. Take it as a first move, settle the car and read again."
)

// geometryWarn is what limits every answer from geometry.
func geometryWarn() []string {
	return []string{lang.T(firstMove), adjust.AfterTorque.Words()}
}
