package method

import (
	"fmt"

	"strutcard/calc/adjust"
	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// adjustStrutTop slides the top mount: in or out for camber, forward or
// rearward for caster.
var adjustStrutTop = Method{
	ID: "adjust_strut_top", Group: Adjusting, Title: "Slide the strut top",
	Words: "Measure with the car on its wheels. Loosen the top mount only as its manual says: never the large nut in the middle, it holds the spring. Never reach under a car held only by a jack.",
	Fields: []Field{
		{Name: "asked", Label: "What do you want to know", Kind: Choice, Options: []Option{
			{"camber_need", "camber: how far to move"}, {"camber_move", "camber: what a move does"},
			{"caster_need", "caster: how far to move"}, {"caster_move", "caster: what a move does"}}},
		{Name: "height", Label: "Height from lower ball joint straight up to top mount", Kind: Length, Keep: true},
		{Name: "offset", Label: "How far the top lies to one side", Hint: "Level: from the front for camber, from the side for caster. 0 when straight above.", Kind: Length, Keep: true},
		{Name: "lies_side", Label: "It lies", Kind: Choice, Options: inOut, Optional: true, When: "asked=camber_need|camber_move"},
		{Name: "lies_long", Label: "It lies", Kind: Choice, Options: foreAft, Optional: true, When: "asked=caster_need|caster_move"},
		adjustMark,
		{Name: "change", Label: "Wanted change of the angle", Hint: "A size, without a sign.", Kind: Angle, When: "asked=camber_need|caster_need"},
		{Name: "camber_to", Label: "The top of the wheel", Kind: Choice, Options: leanTo, When: "asked=camber_need"},
		{Name: "caster_to", Label: "The caster gets", Kind: Choice, Options: []Option{{"more", "more, top further back"}, {"less", "less, top further forward"}}, When: "asked=caster_need"},
		{Name: "by", Label: "The top moves by", Kind: Length, When: "asked=camber_move|caster_move"},
		{Name: "to_side", Label: "It moves", Kind: Choice, Options: inOut, When: "asked=camber_move"},
		{Name: "to_long", Label: "It moves", Kind: Choice, Options: foreAft, When: "asked=caster_move"},
		{Name: "move_mark", Label: "Smallest mark of what measures the move", Kind: Length, Keep: true, Instrument: true},
	},
	Work: func(in *In) (Result, error) {
		asked := in.Choice("asked")
		x := adjust.Axis{Height: in.Length("height"), Offset: in.Length("offset"), Resolution: in.Length("mark"),
			UpperLies: adjust.Way(in.Choice("lies_side") + in.Choice("lies_long"))} // one of them is hidden, and so empty
		m := adjust.Move{By: in.Length("by"), To: adjust.Way(in.Choice("to_side") + in.Choice("to_long")), Resolution: in.Length("move_mark")}
		change := adjustSize(in, "change", in.Choice("camber_to") == string(adjust.In) || in.Choice("caster_to") == "less")
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		var err error
		switch asked {
		case "camber_need":
			m, err = toMark(m.Resolution)(x.SidewaysFor(adjust.Upper, change))
		case "caster_need":
			m, err = toMark(m.Resolution)(x.LengthwiseFor(adjust.Upper, change))
		}
		if err != nil {
			return Result{}, err
		}
		if asked == "caster_need" || asked == "caster_move" {
			return strutTopCaster(in, x, m)
		}
		return strutTopCamber(in, x, m)
	},
}

func strutTopCamber(in *In, x adjust.Axis, m adjust.Move) (Result, error) {
	lean, err := x.Sideways(adjust.Upper, m)
	if err != nil {
		return Result{}, err
	}
	return Result{Figure: needFigure(in, m, lean.Camber), Words: lang.F("Top mount %s. %s", moveWords(in, m.By, m.To), leanChange(in, lean.Camber.Value)), Line: axisLine(in, x, m, lean.Camber.Value),
		Rows: []Row{{lang.T("Move of the top"), moveWords(in, m.By, m.To)}, {lang.T("Camber changes by"), in.angle(lean.Camber)}, {lang.T("Steering axis inclination"), moreOrLess(in, lean.Inclination)},
			{lang.T("Camber and inclination together"), lang.T(asWas)}, {lang.T("Caster"), lang.T(asWas)}, {lang.T("Toe"), lang.T(follows)}},
		Warn: geometryWarn(), Picture: topPicture(in, x, m, "camber", lean.Camber.Value)}, nil
}

func strutTopCaster(in *In, x adjust.Axis, m adjust.Move) (Result, error) {
	caster, err := x.Lengthwise(adjust.Upper, m)
	if err != nil {
		return Result{}, err
	}
	return Result{Figure: needFigure(in, m, caster), Words: lang.F("Top mount %s: caster %s.", moveWords(in, m.By, m.To), moreOrLess(in, caster)), Line: axisLine(in, x, m, caster.Value),
		Rows: []Row{{lang.T("Move of the top"), moveWords(in, m.By, m.To)}, {lang.T("Caster changes by"), in.angle(caster)}, {lang.T("Camber and inclination"), lang.T("as they were, with the wheel straight ahead")}, {lang.T("Toe"), lang.T(follows)}},
		Warn: geometryWarn(), Picture: topPicture(in, x, m, "caster", caster.Value)}, nil
}

// needFigure is the move that was asked for, or what a move does.
func needFigure(in *In, m adjust.Move, v measure.Value[quantity.Angle]) string {
	if in.Has("change") {
		return moveWords(in, m.By, m.To)
	}
	return in.angle(v)
}

func axisLine(in *In, x adjust.Axis, m adjust.Move, v quantity.Angle) string {
	offset, height := moveWords(in, x.Offset, x.UpperLies), in.Units.FormatLength(x.Height)
	return fmt.Sprintf("atan((%s + %s) ÷ %s) − atan(%s ÷ %s) = %s", offset, moveWords(in, m.By, m.To), height, offset, height, in.Units.FormatAngle(size(v)))
}

// adjustStrutFoot swings the knuckle in the two-bolt foot of a strut.
var adjustStrutFoot = Method{
	ID: "adjust_strut_foot", Group: Adjusting, Title: "Slotted strut foot",
	Words: "Both bolts loosened, the knuckle swings about the bolt without a slot. Take the weight off the wheel as the manual says, and use no impact wrench on a bolt with a cam. Never reach under a car held only by a jack.",
	Fields: []Field{
		{Name: "asked", Label: "What do you want to know", Kind: Choice, Options: []Option{{"need", "how far to move"}, {"move", "what a move does"}}},
		{Name: "slotted", Label: "The slot or the cam is at the", Kind: Choice, Options: []Option{{string(adjust.UpperBolt), "upper bolt"}, {string(adjust.LowerBolt), "lower bolt"}}, Keep: true},
		{Name: "spacing", Label: "Between the two bolts, centre to centre", Kind: Length, Keep: true},
		{Name: "to_top", Label: "From the other bolt to the top mount", Hint: "This and the next, or neither: without them the result is the most it can be.", Kind: Length, Optional: true, Keep: true},
		{Name: "to_ball", Label: "From the other bolt to the lower ball joint", Kind: Length, Optional: true, Keep: true},
		adjustMark,
		{Name: "change", Label: "Wanted change of camber", Hint: "A size, without a sign.", Kind: Angle, When: "asked=need"},
		{Name: "camber_to", Label: "The top of the wheel", Kind: Choice, Options: leanTo, When: "asked=need"},
		{Name: "by", Label: "The knuckle moves at the slot by", Kind: Length, When: "asked=move"},
		{Name: "to", Label: "It moves", Kind: Choice, Options: inOut, When: "asked=move"},
		{Name: "move_mark", Label: "Smallest mark of what measures the move", Kind: Length, Keep: true, Instrument: true},
	},
	Work: func(in *In) (Result, error) {
		asked := in.Choice("asked")
		f := adjust.Foot{Spacing: in.Length("spacing"), Slotted: adjust.Bolt(in.Choice("slotted")), ToTop: in.Length("to_top"), ToBallJoint: in.Length("to_ball"), Resolution: in.Length("mark")}
		m := adjust.Move{By: in.Length("by"), To: adjust.Way(in.Choice("to")), Resolution: in.Length("move_mark")}
		change := adjustSize(in, "change", in.Choice("camber_to") == string(adjust.In))
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		var err error
		if asked == "need" {
			if m, err = toMark(m.Resolution)(f.MoveFor(change)); err != nil {
				return Result{}, err
			}
		}
		c, err := f.Change(m)
		if err != nil {
			return Result{}, err
		}
		return strutFoot(in, f, m, c), nil
	},
}

func strutFoot(in *In, f adjust.Foot, m adjust.Move, c adjust.FootChange) Result {
	wheel, share := c.Wheel, c.Share.String()
	out := Result{Warn: geometryWarn(), Line: fmt.Sprintf("atan(%s ÷ %s) × %s = %s", moveWords(in, m.By, m.To), in.Units.FormatLength(f.Spacing), share, in.Units.FormatAngle(size(wheel.Value)))}
	if f.ToTop == 0 {
		wheel, share = c.Clevis, lang.T("not known")
		out.Line = fmt.Sprintf("atan(%s ÷ %s) = %s", moveWords(in, m.By, m.To), in.Units.FormatLength(f.Spacing), in.Units.FormatAngle(size(wheel.Value)))
		out.Warn = append([]string{lang.T("This is the most that camber can change: on common struts it is a fifth to a third less. Measure to the top mount and to the ball joint to know.")}, out.Warn...)
	}
	out.Figure = needFigure(in, m, wheel)
	out.Words = lang.F("Knuckle %s at the %s bolt. %s", moveWords(in, m.By, m.To), boltWords(f.Slotted), leanChange(in, wheel.Value))
	out.Rows = []Row{{lang.T("Move at the slot"), moveWords(in, m.By, m.To)}, {lang.T("Camber changes by"), in.angle(wheel)}, {lang.T("Knuckle against the strut"), in.angle(c.Clevis)}, {lang.T("Of that at the wheel"), share},
		{lang.T("Camber and inclination together"), lang.T("changes as the camber does")}, {lang.T("Steering axis inclination"), lang.T(asWas)}, {lang.T("Caster"), lang.T(asWas)}, {lang.T("Toe"), lang.T(follows)}}
	out.Picture = footPicture(in, f, m, wheel.Value)
	return out
}

func boltWords(b adjust.Bolt) string {
	if b == adjust.UpperBolt {
		return lang.C("upper", "of two bolts")
	}
	return lang.C("lower", "of two bolts")
}
