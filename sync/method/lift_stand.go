package method

import (
	"fmt"
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/lift"
)

// standRating is what one stand may carry, from what is marked on it.
var standRating = Method{
	ID: "stand_rating", Group: Equipment, Title: "Marking of a stand",
	Words: "Read the number on the stand itself, not on the box. Look whether it is for one stand or for the pair. When it does not say, the lower one counts until its maker says otherwise.",
	Fields: []Field{
		{Name: "figure", Label: "The number", Kind: Count, Keep: true},
		{Name: "unit", Label: "It is in", Kind: Choice, Keep: true, Options: ratingOptions},
		{Name: "for", Label: "It is for", Kind: Choice, Keep: true, Options: forOptions},
	},
	Work: func(in *In) (Result, error) {
		m := lift.Marking{Rated: lift.Rated{Figure: in.Count("figure"), Unit: lift.RatingUnit(in.Choice("unit"))}, For: lift.For(in.Choice("for"))}
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		each, err := m.PerStand()
		if err != nil {
			return Result{}, err
		}
		whole, err := m.Mass()
		if err != nil {
			return Result{}, err
		}
		read := in.massRange(each, math.Floor)
		least := in.massLeast(each.Low)
		out := Result{Figure: lang.F("%s for each stand", read), Ask: lift.QuestionStand(each),
			Words: lang.F("Count with %s for each stand, and ask for 1.5 times the load that it will carry.", least),
			Line:  fmt.Sprintf("%s %s = %s, %s", m.Figure, lang.T(ratingUnits[m.Unit]), in.massRange(whole, math.Floor), lang.F(forLine[m.For], read)),
			Warn:  []string{lang.T("1.5 times is common practice, no source."), lang.T("A number says nothing about a stand that is bent, cracked, home-made or worn: inspect it first.")}}
		if m.For == lift.NotMarked {
			out.Warn = append([]string{lang.T("Sources disagree on a number that does not say: an Australian standard marks one stand, several trade pages say the pair.")}, out.Warn...)
		}
		return out, nil
	},
}

var (
	ratingUnits = map[lift.RatingUnit]string{lift.Kilograms: "kg", lift.Pounds: "lb", lift.ShortTons: "US tons", lift.Tonnes: "tonnes", lift.Tons: "tons of some kind"}
	forLine     = map[lift.For]string{lift.PerStand: "for one: %s", lift.PerPair: "÷ 2 = %s", lift.NotMarked: "÷ 2 or not: %s"}
)

// standTip is how little it takes to tip a stand.
var standTip = Method{
	ID: "stand_tip", Group: Equipment, Title: "How a stand tips",
	Words: "Measure the stand as high as it will be set, before it is under the car. Take the shortest way from under the post to an edge that it would tip over.",
	Fields: []Field{
		{Name: "foot", Label: "From under the post to the nearest edge of the foot", Kind: Length, Keep: true},
		{Name: "height", Label: "Ground to where the car rests", Kind: Length, Keep: true},
		{Name: "mark", Label: "Smallest mark of the tape", Kind: Length, Keep: true, Instrument: true},
	},
	Work: func(in *In) (Result, error) {
		b := lift.Base{HalfWidth: in.Length("foot"), Height: in.Length("height"), Resolution: in.Length("mark")}
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		share, err := lift.TipShare(b)
		if err != nil {
			return Result{}, err
		}
		foot, height := in.Units.FormatLength(b.HalfWidth), in.Units.FormatLength(b.Height)
		return Result{Figure: lang.F("%s of its load, pushed sideways", within(share.Value.Percent(), share.Expanded().Percent(), "%")),
			Words:   lang.T("A push from the side by this part of what the stand carries tips it over. The lower it is set, the more it takes."),
			Line:    fmt.Sprintf("%s ÷ %s = %s", foot, height, percent(share.Value)),
			Rows:    []Row{{lang.T("It falls when it leans by"), in.Units.FormatAngle(lift.TipAngle(share.Value))}},
			Warn:    []string{lang.T("It holds only with the load on the middle of the saddle and the foot on hard ground."), lang.T("Pulling hard on a wrench is such a push: do it with the wheels on the ground where that is possible.")},
			Picture: tipPicture(foot, height)}, nil
	},
}

func tipPicture(foot, height string) *Picture {
	p := &Picture{Height: 160, Note: lang.T("Not to scale."), Alt: lang.F("A stand from the side: %s from under its post to the edge of its foot, %s high.", foot, height)}
	p.Line("ink", 60, 130, 260, 130)
	p.Outline("heavy", 110, 128, 210, 128, 165, 30, 155, 30)
	p.Line("dashed ink", 160, 30, 160, 128)
	p.Line("accent", 110, 138, 160, 138)
	p.Label("middle", 135, 155, foot)
	p.Label("start", 216, 85, height)
	p.Small("end", 130, 34, lang.T("push →"))
	return p
}
