package method

import (
	"fmt"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/calc/ride"
	"strutcard/calc/spring"
)

// rideCollar learns what a turn does at the arch, and turns it round.
var rideCollar = Method{
	ID: "ride_collar", Group: Ride, Title: "Turns of a collar",
	Words: "Turn the collar only with the axle on stands. No part of your body goes under a car held only by a jack. Lower, roll and bounce the car, then measure hub centre to arch edge. Once before the turns, once after.",
	Fields: []Field{
		{Name: "hardware", Label: "What sets the height", Kind: Choice, Keep: true, Options: []Option{
			{string(ride.SpringCollar), "the collar under the spring; the body has a fixed length"},
			{string(ride.LowerBracket), "a threaded bracket at the foot of the body"}}},
		{Name: "turned", Label: "Turned at", Kind: Choice, Options: []Option{{string(ride.OneCorner), "this corner only"}, {string(ride.BothOfAxle), "both sides of the axle alike"}}},
		{Name: "way", Label: "Turned to", Kind: Choice, Options: []Option{{string(ride.Raise), "raise the car"}, {string(ride.Lower), "lower the car"}}},
		{Name: "turns", Label: "Turns tried", Kind: Count},
		{Name: "part", Label: "Smallest part of a turn that you can tell", Hint: "0.25 for quarters.", Kind: Count, Keep: true},
		{Name: "before", Label: "Height before", Kind: Length},
		{Name: "after", Label: "Height after", Kind: Length},
		heightTape,
		{Name: "wanted", Label: "Height wanted", Hint: "Empty to learn the height per turn alone.", Kind: Length, Optional: true},
		{Name: "pitch", Label: "Rise of the thread in one turn", Hint: "For preload and droop. It is not the height per turn.", Kind: Length, Optional: true, Keep: true},
	},
	Work: workCollar,
}

func workCollar(in *In) (Result, error) {
	mark := in.Length("mark")
	read := func(name string) length {
		return length{Value: in.Length(name), Standard: measure.Resolution(mark)}
	}
	t := ride.Trial{Hardware: ride.Hardware(in.Choice("hardware")), Turned: ride.Turned(in.Choice("turned")), Way: ride.Way(in.Choice("way")),
		Turns: in.Count("turns"), TurnsSmallest: in.Count("part"), Before: read("before"), After: read("after")}
	wanted, pitch := in.Length("wanted"), in.Length("pitch")
	if in.Err() != nil {
		return Result{}, in.Err()
	}
	per, err := ride.Learn(t)
	if err != nil {
		return Result{}, err
	}
	f := in.Units.FormatLength
	out := Result{
		Figure: lang.F("%s per turn", in.length(per.Height)), Words: t.Hardware.Words(), Ask: ride.QuestionPerTurn(per),
		Line: lang.F("%s from %s to %s: %s ÷ %v = %s per turn", wayWords(t.Way), f(t.Before.Value), f(t.After.Value), f(per.Moved.Value), t.Turns, f(per.Height.Value)),
		Warn: []string{lang.F("Learned at this corner of this car, turned: %s. It holds for nothing else.", lang.T(string(t.Turned))),
			lang.T("One corner moved shifts load at all four. Rubber-bushed bolts tightened at another height falsify it.")},
	}
	way, turns := t.Way, t.Turns
	shown := []column{{lang.T("before"), f(t.Before.Value), t.Before.Value.Metres()}, {lang.T("after"), f(t.After.Value), t.After.Value.Metres()}}
	if in.Has("wanted") {
		to, err := ride.TurnsFor(per, t.Turned, t.After, wanted)
		if err != nil {
			return Result{}, err
		}
		in.collarTurns(&out, to)
		way, turns = to.Way, to.Turns.Value
		shown = append(shown, column{lang.T("wanted"), f(wanted), wanted.Metres()})
	}
	out.Picture = columns(lang.F("Heights from hub centre to arch edge: %s before, %s after.", f(t.Before.Value), f(t.After.Value)), shown...)
	if in.Has("pitch") && way != "" {
		err = in.collarEffect(&out, t.Hardware, way, turns, pitch)
	}
	return out, err
}

// collarTurns puts the turns first, and what they were learned from below.
func (in *In) collarTurns(out *Result, to ride.Turning) {
	out.Rows = append(out.Rows, Row{lang.T("Learned"), out.Figure}, Row{lang.T("From the height after to the one wanted"), in.length(to.Change)})
	out.Figure = turnsTo(to.Way == ride.Raise, around(to.Turns.Value.Count(), to.Turns.Expanded().Count()))
	if to.Way == "" {
		out.Figure = lang.T("Nothing to turn")
	}
	out.Line = lang.F("%s; %s ÷ that = %v turns", out.Line, in.Units.FormatLength(size(to.Change.Value)), to.Turns.Value)
}

// wayWords is which way the car went.
func wayWords(w ride.Way) string {
	if w == ride.Lower {
		return lang.C("lower", "the car")
	}
	return lang.C("raise", "the car")
}

// turnsTo is so many turns of a collar, and which way.
func turnsTo(raise bool, turns string) string {
	if raise {
		return lang.F("%s turns to raise", turns)
	}
	return lang.F("%s turns to lower", turns)
}

// collarEffect is what those turns do at the damper, besides the height.
func (in *In) collarEffect(out *Result, h ride.Hardware, way ride.Way, turns quantity.Turns, pitch quantity.Length) error {
	along, err := spring.CollarTravel(turns, pitch)
	if err != nil {
		return err
	}
	e, err := ride.EffectOf(h, way, along)
	if err != nil {
		return err
	}
	for _, x := range []struct {
		name string
		of   quantity.Length
	}{{lang.T("Preload of the spring"), e.Preload}, {lang.T("Droop left"), e.Droop}, {lang.T("Travel to the bump stop"), e.Bump}} {
		words := lang.T("unchanged")
		switch {
		case x.of > 0:
			words = lang.F("%s more", in.Units.FormatLength(x.of))
		case x.of < 0:
			words = lang.F("%s less", in.Units.FormatLength(-x.of))
		}
		out.Rows = append(out.Rows, Row{fmt.Sprintf("%s, %s", x.name, turnsTo(way == ride.Raise, turns.String())), words})
	}
	if e.Preload < 0 {
		out.Warn = append(out.Warn, lang.T("Hang the wheel before you lower the car: a spring that is loose on its seat then has been let down too far."))
	}
	return nil
}
