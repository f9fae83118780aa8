package method

import (
	"fmt"
	"math"

	"strutcard/calc/adjust"
	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

const atWheel = "asked=need|camber" // where the steering axis is asked for

// adjustEccentric is a bolt with a cam at the inner end of an arm.
var adjustEccentric = Method{
	ID: "adjust_eccentric", Group: Adjusting, Title: "Eccentric bolt",
	Words: "Count graduations from the middle, where the cam pushes equally far both ways. Equal graduations do not do equal amounts: read after every turn. No impact wrench on a bolt with a cam. Never reach under a car held only by a jack.",
	Fields: append(append([]Field{
		{Name: "asked", Label: "What do you want to know", Kind: Choice, Options: []Option{
			{"need", "where to turn it for a change of camber"}, {"camber", "what a turn does to camber"}, {"push", "how far it pushes"}}},
		{Name: "throw", Label: "From the centre of the bolt to the centre of the cam", Kind: Length, Keep: true},
		{Name: "per_turn", Label: "Graduations all round, counted or worked out", Kind: Count, Keep: true},
		{Name: "plate", Label: "How finely the plate is read, in graduations", Hint: "1 for whole ones, 0.5 for halves.", Kind: Count, Keep: true},
		{Name: "from", Label: "Graduation now, from the middle", Hint: "Minus on one side of the middle, plus on the other.", Kind: Count},
		{Name: "to", Label: "Graduation after", Kind: Count, When: "asked=camber|push"},
		{Name: "change", Label: "Wanted change of camber", Hint: "A size, without a sign.", Kind: Angle, When: "asked=need"},
		{Name: "camber_to", Label: "The top of the wheel", Kind: Choice, Options: leanTo, When: "asked=need"},
		{Name: "joint", Label: "It moves the arm that is the", Kind: Choice, Options: upperLow, Keep: true, When: atWheel},
		{Name: "plus", Label: "To plus, it pushes the arm", Kind: Choice, Options: inOut, Keep: true, When: atWheel},
	}, axisFields(atWheel)...), adjustMark),
	Work: func(in *In) (Result, error) {
		asked := in.Choice("asked")
		e := adjust.Eccentric{Throw: in.Length("throw"), PerTurn: in.Count("per_turn"), Resolution: in.Length("mark"), Reading: in.Count("plate")}
		x := adjust.Axis{Height: in.Length("height"), Offset: in.Length("offset"), UpperLies: adjust.Way(in.Choice("lies_side")), Resolution: in.Length("mark")}
		joint, plus := adjust.Joint(in.Choice("joint")), adjust.Way(in.Choice("plus"))
		from, to := in.Count("from"), in.Count("to")
		change := adjustSize(in, "change", in.Choice("camber_to") == string(adjust.In))
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		if asked == "need" {
			by, way, err := x.SidewaysFor(joint, change)
			if err != nil {
				return Result{}, err
			}
			if way != plus {
				by = -by
			}
			if to, err = e.To(from, by); err != nil {
				return Result{}, err
			}
			to = turns(math.Round(float64(to/e.Reading))) * e.Reading
		}
		push, err := e.Push(from, to)
		if err != nil {
			return Result{}, err
		}
		out := eccentricPush(in, e, from, to, push)
		if asked == "push" {
			return out, nil
		}
		return eccentricCamber(in, x, joint, wayOf(push.Value, plus), push, out)
	},
}

// wayOf is the way of a push, when plus is that of one above zero.
func wayOf(push quantity.Length, plus adjust.Way) adjust.Way {
	if push >= 0 {
		return plus
	}
	return adjust.Way(opposite[string(plus)])
}

// eccentricPush is what is said of every turn, with what one graduation does at
// either end of it.
func eccentricPush(in *In, e adjust.Eccentric, from, to turns, push measure.Value[quantity.Length]) Result {
	out := Result{Figure: in.length(push), Words: lang.F("From %s to %s it pushes the arm %s, measured level.", from, to, in.length(measure.Value[quantity.Length]{Value: size(push.Value), Standard: push.Standard})),
		Line: fmt.Sprintf("%s × (sin(360° × %s ÷ %s) − sin(360° × %s ÷ %s)) = %s", in.Units.FormatLength(e.Throw), to, e.PerTurn, from, e.PerTurn, in.Units.FormatLength(push.Value)),
		Rows: []Row{{lang.T("Turn it to"), to.String()}, {lang.T("Push"), in.length(push)}}, Warn: geometryWarn()}
	for _, at := range []struct {
		label string
		from  turns
	}{{lang.T("One graduation in the middle"), 0}, {lang.T("One graduation there"), max(to, -to) - 1}} {
		if one, err := e.Push(at.from, at.from+1); err == nil {
			out.Rows = append(out.Rows, Row{at.label, in.length(one)})
		}
	}
	return out
}

func eccentricCamber(in *In, x adjust.Axis, joint adjust.Joint, way adjust.Way, push measure.Value[quantity.Length], out Result) (Result, error) {
	lean, err := x.Sideways(joint, measuredMove(push, way))
	if err != nil {
		return Result{}, err
	}
	turnTo := out.Rows[0].Value
	out.Figure, out.Words = in.angle(lean.Camber), lang.F("Turned to %s. %s", turnTo, leanChange(in, lean.Camber.Value))
	if in.Has("change") {
		out.Figure, out.Words = lang.F("turn to %s", turnTo), leanChange(in, lean.Camber.Value)
	}
	out.Rows = append(out.Rows, Row{lang.T("Camber changes by"), in.angle(lean.Camber)}, Row{lang.T("Steering axis inclination"), moreOrLess(in, lean.Inclination)},
		Row{lang.T("Camber and inclination together"), lang.T(asWas)}, Row{lang.T("Caster"), lang.T("changes too when only one of two inner bolts is turned: read it again")}, Row{lang.T("Toe"), lang.T(follows)})
	return out, nil
}

// adjustShim shims the two inner pivots of an arm.
var adjustShim = Method{
	ID: "adjust_shim", Group: Adjusting, Title: "Shims at an arm",
	Words: "Equal shims at both bolts move camber, unequal ones caster as well. Which way a shim pushes depends on the side of the bracket it sits on: look. Never reach under a car held only by a jack.",
	Fields: append(append([]Field{
		{Name: "joint", Label: "The arm is the", Kind: Choice, Options: upperLow, Keep: true},
		{Name: "spacing", Label: "Between its front and rear pivot", Kind: Length, Keep: true},
		{Name: "length", Label: "From the line through the pivots out to the ball joint", Kind: Length, Keep: true},
		{Name: "share", Label: "Where the ball joint stands between the pivots", Hint: "0 beside the rear one, 100 beside the front one.", Kind: Percent, Keep: true},
		{Name: "front", Label: "Shim changed at the front pivot", Hint: "0 for none.", Kind: Length},
		{Name: "front_to", Label: "It pushes the front pivot", Kind: Choice, Options: inOut, Optional: true},
		{Name: "rear", Label: "Shim changed at the rear pivot", Hint: "0 for none.", Kind: Length},
		{Name: "rear_to", Label: "It pushes the rear pivot", Kind: Choice, Options: inOut, Optional: true},
		{Name: "shim_mark", Label: "Smallest mark of what measured the shims", Kind: Length, Keep: true, Instrument: true},
	}, axisFields("")...),
		Field{Name: "offset_long", Label: "How far the upper joint lies forward or rearward", Hint: "Level, seen from the side. 0 when straight above.", Kind: Length, Keep: true},
		Field{Name: "lies_long", Label: "It lies", Kind: Choice, Options: foreAft, Optional: true, Keep: true}, adjustMark),
	Work: func(in *In) (Result, error) {
		mark, height := in.Length("mark"), in.Length("height")
		arm := adjust.Arm{Spacing: in.Length("spacing"), Length: in.Length("length"), FrontShare: in.Percent("share"), Resolution: mark}
		shims := adjust.Shims{Front: in.Length("front"), FrontTo: adjust.Way(in.Choice("front_to")), Rear: in.Length("rear"), RearTo: adjust.Way(in.Choice("rear_to")), Resolution: in.Length("shim_mark")}
		side := adjust.Axis{Height: height, Offset: in.Length("offset"), UpperLies: adjust.Way(in.Choice("lies_side")), Resolution: mark}
		long := adjust.Axis{Height: height, Offset: in.Length("offset_long"), UpperLies: adjust.Way(in.Choice("lies_long")), Resolution: mark}
		joint := adjust.Joint(in.Choice("joint"))
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		s, err := arm.Shift(shims)
		if err != nil {
			return Result{}, err
		}
		lean, err := side.Sideways(joint, measuredMove(s.Out, s.OutWay))
		if err != nil {
			return Result{}, err
		}
		caster, err := long.Lengthwise(joint, measuredMove(s.Rear, s.RearWay))
		if err != nil {
			return Result{}, err
		}
		return Result{Figure: lang.F("camber %s", in.angle(lean.Camber)), Words: lang.F("%s Caster %s.", leanChange(in, lean.Camber.Value), moreOrLess(in, caster)),
			Line: lang.F("ball joint %s, %s; over %s", moveWords(in, size(s.Out.Value), s.OutWay), moveWords(in, size(s.Rear.Value), s.RearWay), in.Units.FormatLength(height)),
			Rows: []Row{{lang.T("Camber changes by"), in.angle(lean.Camber)}, {lang.T("Caster changes by"), in.angle(caster)}, {lang.T("Steering axis inclination"), moreOrLess(in, lean.Inclination)}, {lang.T("Camber and inclination together"), lang.T(asWas)}, {lang.T("Toe"), lang.T(follows)}},
			Warn: geometryWarn()}, nil
	},
}
