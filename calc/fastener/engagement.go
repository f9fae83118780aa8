package fastener

import (
	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// FormulaEngagement names this calculation in the record.
const FormulaEngagement = "thread-engagement/1"

// Material is what the thread is cut into.
type Material string

const (
	Steel     Material = "steel"
	Aluminium Material = "aluminium"
)

// Engagement is a nut or bolt screwed on by hand until it seats.
type Engagement struct {
	Thread     Thread
	Turns      quantity.Turns // full turns, from the first grip to the seat
	Resolution quantity.Turns // how finely they were counted, such as a quarter
	In         Material
}

// Engaged is the length in the thread beside the length that the rule asks for.
type Engaged struct {
	Length      measure.Value[quantity.Length]
	Needed      quantity.Length
	NeededTurns quantity.Turns
	Verdict     measure.Verdict // Met when all of the length, less its uncertainty, is enough
}

// longest is where a count of turns stops being believable, in diameters.
const longest = 5

// Engage compares the counted turns with one diameter in steel or two in
// aluminium: length = turns · pitch.
func Engage(e Engagement) (Engaged, error) {
	if err := e.check(); err != nil {
		return Engaged{}, err
	}
	needed := e.Thread.diameter
	if e.In == Aluminium {
		needed *= 2
	}
	pitch := e.Thread.pitch
	out := Engaged{
		Length: measure.Value[quantity.Length]{
			Value:    quantity.Length(e.Turns) * pitch,
			Standard: measure.Contribution[quantity.Length](measure.Sensitivity(pitch.Metres()), measure.Resolution(e.Resolution)),
		},
		Needed: needed, NeededTurns: quantity.Turns(needed / pitch),
	}
	enough := measure.Band[quantity.Length]{Target: needed, Plus: needed + 2*longest*e.Thread.diameter} // no upper limit: checked above
	out.Verdict = enough.Judge(out.Length)
	return out, nil
}

func (e Engagement) check() error {
	if err := e.Thread.check(); err != nil {
		return err
	}
	switch {
	case !quantity.Finite(e.Turns) || e.Turns <= 0:
		return quantity.Inputf("Screw it on by hand and count full turns until it seats.", "The number of turns is missing or not above zero.")
	case !quantity.Finite(e.Resolution) || e.Resolution <= 0 || e.Resolution > 1:
		return quantity.Inputf("Say whether you counted whole turns, halves or quarters.", "It is not said how finely the turns were counted.")
	case e.In != Steel && e.In != Aluminium:
		return quantity.Inputf("Choose steel or aluminium. For another material ask the part's maker.", "It is not said what the thread is cut into.")
	case quantity.Length(e.Turns)*e.Thread.pitch > longest*e.Thread.diameter:
		return quantity.Inputf("Count again, and look whether the pitch is right.", "That many turns make a thread longer than five times its diameter.")
	}
	return nil
}

// Words is the verdict as people read it.
func (e Engaged) Words() string {
	switch e.Verdict {
	case measure.Met:
		return lang.T("Enough thread is engaged.")
	case measure.NotMet:
		return lang.T("Too little thread is engaged. Do not tighten it: find a longer bolt or stud, or a thinner spacer.")
	}
	return lang.T("It cannot be told whether enough thread is engaged. Count in quarter turns, or find a longer bolt or stud.")
}

// fewTurns is where a nut of a wrong but close pitch begins to bind. Common
// practice, no source.
const fewTurns = 4

// QuestionEngagement is a sentence about a nut that stops after a few turns, or
// "": a pitch that is close lets it start and then damages both threads.
func QuestionEngagement(e Engagement) string {
	if e.Turns > 0 && e.Turns <= fewTurns {
		return lang.T("It stopped after a few turns. Did it seat, or did it bind? Another pitch looks alike for the first turns. Compare the threads before you use a wrench.")
	}
	return ""
}
