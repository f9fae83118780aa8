package ride

import (
	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// Names of these calculations in the record. Each changes when a result does.
const (
	FormulaPerTurn = "height-per-turn/1"
	FormulaTurns   = "turns-for-height/1"
	FormulaEffect  = "collar-effect/1"
)

// Hardware is the part that sets the height. It is the first question: the same
// turn does different things. The zero Hardware says nothing.
type Hardware string

const (
	SpringCollar Hardware = "spring collar on a body of fixed length"
	LowerBracket Hardware = "threaded lower bracket"
)

// Way is which way the car is meant to go.
type Way string

const (
	Raise Way = "raise"
	Lower Way = "lower"
)

// Turned says where the collars were turned. One corner alone shows less at the
// arch than both of an axle, as the body gives way on the other springs.
type Turned string

const (
	OneCorner  Turned = "this corner only"
	BothOfAxle Turned = "both of the axle alike"
)

// Words is what turning does on this hardware, for people.
func (h Hardware) Words() string {
	switch h {
	case SpringCollar:
		return lang.T("The collar under the spring sets the height. Turning it up raises the car, presses the spring more when the wheel hangs, and takes away droop; turning it down leaves less travel to the bump stop. The spring gets no harder or softer.")
	case LowerBracket:
		return lang.T("The threaded bracket at the foot of the body sets the height. Preload, droop and bump travel of the damper stay as they are. The collar under the spring is not for the height here.")
	}
	return ""
}

func (h Hardware) check() error {
	if h == SpringCollar || h == LowerBracket {
		return nil
	}
	return quantity.Inputf("Look whether the spring's lower seat is what is turned, or whether the whole body turns in a threaded bracket at its foot.", "It is not said which part sets the height.")
}

func (w Way) check() error {
	if w == Raise || w == Lower {
		return nil
	}
	return quantity.Inputf("Choose raise or lower.", "It is not said whether the car is raised or lowered.")
}

func (t Turned) check() error {
	if t == OneCorner || t == BothOfAxle {
		return nil
	}
	return quantity.Inputf("Choose this corner only, or both of the axle alike.", "It is not said where the collars were turned.")
}

// Trial is one turn tried out: the same corner's height before and after, both
// settled, everything else left alone. Turns is a size; TurnsSmallest is the
// smallest part of a turn that was told apart, such as a quarter.
type Trial struct {
	Hardware      Hardware
	Turned        Turned
	Way           Way
	Turns         quantity.Turns
	TurnsSmallest quantity.Turns
	Before, After measure.Value[quantity.Length]
}

// PerTurn is what a trial taught about this corner of this car, and only about
// it. Height is how far the arch moves for one turn, positive.
type PerTurn struct {
	Hardware Hardware
	Turned   Turned
	Moved    measure.Value[quantity.Length] // in the trial, positive the way that was meant
	Height   measure.Value[quantity.Length]
}

// Learn computes height per turn from a before and an after:
//
//	h = moved/n    ∂h/∂moved = 1/n    ∂h/∂n = −moved/n²
//
// It fails when the arch did not move the way it should by more than the
// uncertainty.
func Learn(t Trial) (PerTurn, error) {
	if err := t.check(); err != nil {
		return PerTurn{}, err
	}
	sign := measure.Sensitivity(1)
	if t.Way == Lower {
		sign = -1
	}
	moved := weighted(term{sign, t.After}, term{-sign, t.Before})
	switch {
	case moved.High() < 0:
		return PerTurn{}, quantity.Inputf("Check which way the collar was turned, and that both heights are of this corner.", "The arch moved the other way.")
	case moved.Low() <= 0:
		return PerTurn{}, quantity.Inputf("Roll and bounce the car so that it settles, or turn further, then measure again.", "The arch did not move by more than the tape can tell.")
	}
	n := t.Turns.Count()
	return PerTurn{Hardware: t.Hardware, Turned: t.Turned, Moved: moved, Height: length{
		Value: moved.Value / quantity.Length(n),
		Standard: measure.Combine(
			measure.Contribution[quantity.Length](measure.Sensitivity(1/n), moved.Standard),
			measure.Contribution[quantity.Length](measure.Sensitivity(moved.Value.Metres()/(n*n)), measure.Resolution(t.TurnsSmallest)),
		),
	}}, nil
}

func (t Trial) check() error {
	if err := first(t.Hardware.check(), t.Turned.check(), t.Way.check(),
		check(t.Before, leastHeight, mostHeight, lang.T("height before")), check(t.After, leastHeight, mostHeight, lang.T("height after"))); err != nil {
		return err
	}
	if !(t.Turns >= leastTurns && t.Turns <= mostTurns) {
		return quantity.Inputf("Count the turns, and say apart from it which way.", "The number of turns is missing or not believable.")
	}
	if !(t.TurnsSmallest > 0 && t.TurnsSmallest <= t.Turns) {
		return quantity.Inputf("Enter it, such as 0.25 for quarters or 0.125 for eighths.", "The smallest part of a turn that was told apart is missing or larger than the turns.")
	}
	return nil
}

// QuestionPerTurn is a sentence to put to the person about a height per turn
// that is unusual, or "" when there is nothing to ask. Threads of 1 to 3 mm and
// levers up to two make 1 to 6 mm: common practice, no source.
func QuestionPerTurn(p PerTurn) string {
	switch mm := p.Height.Value.Millimetres(); {
	case !quantity.Finite(p.Height.Value) || mm <= 0:
		return lang.T("The height per turn is not known. Try a turn and measure.")
	case mm > 6:
		return lang.T("More than 6 mm at the arch for one turn is unusual. Check the number of turns, and that the car was settled both times.")
	case mm < 0.5:
		return lang.T("Less than 0.5 mm at the arch for one turn is unusual. Check that the collar moved on the body and not the spring with it, and that the car has settled.")
	}
	return ""
}

// Turning is how far and which way to turn.
type Turning struct {
	Turns  measure.Value[quantity.Turns] // a size
	Way    Way                           // empty when there is nothing to turn
	Change measure.Value[quantity.Length]
}

// TurnsFor is the inverse of Learn: the turns from the height now to a wanted
// one, when the collars are turned in the same places as in the trial.
//
//	n = change/h    ∂n/∂change = 1/h    ∂n/∂h = −change/h²
//
// The two contributions are added as they are, not as the root of their squares:
// the height now may be the very reading that ended the trial, and then they are
// off together.
func TurnsFor(p PerTurn, turned Turned, now measure.Value[quantity.Length], wanted quantity.Length) (Turning, error) {
	if err := first(p.check(), turned.check(), check(now, leastHeight, mostHeight, lang.T("height now"))); err != nil {
		return Turning{}, err
	}
	switch {
	case !(wanted >= leastHeight && wanted <= mostHeight):
		return Turning{}, quantity.Inputf("Enter the height from hub to arch to aim for.", "The wanted height is missing, or of a size that no car has.")
	case turned != p.Turned && turned == OneCorner:
		return Turning{}, quantity.Inputf("Try a turn in the same way as it is to be done, and measure.", "The height per turn was learned with both of the axle alike turned.")
	case turned != p.Turned:
		return Turning{}, quantity.Inputf("Try a turn in the same way as it is to be done, and measure.", "The height per turn was learned with this corner only turned.")
	}
	change, h := wanted-now.Value, p.Height.Value.Metres()
	out := Turning{Change: length{Value: change, Standard: now.Standard}}
	switch {
	case change > 0:
		out.Way = Raise
	case change < 0:
		out.Way, change = Lower, -change
	}
	n := change.Metres() / h
	out.Turns = measure.Value[quantity.Turns]{Value: quantity.Count(n), Standard: measure.Contribution[quantity.Turns](measure.Sensitivity(1/h), now.Standard) +
		measure.Contribution[quantity.Turns](measure.Sensitivity(n/h), p.Height.Standard)}
	if out.Turns.Value > mostTurns {
		return Turning{}, quantity.Inputf("Check both heights and their unit.", "That would take more than a hundred turns.")
	}
	return out, nil
}

func (p PerTurn) check() error {
	if err := first(p.Hardware.check(), p.Turned.check()); err != nil {
		return err
	}
	if !(p.Height.Standard >= finest) || !(p.Height.Low() > 0) || !(p.Height.Value <= mostHeight) {
		return quantity.Inputf("Try a turn, and measure the height before and after.", "The height per turn of this corner is not known.")
	}
	return nil
}

// Effect is what a collar or bracket moved along its thread changes at the
// damper, positive for more.
type Effect struct {
	Preload, Droop, Bump quantity.Length
}

// EffectOf says what a move along the thread does besides the height: on a body
// of fixed length preload up, droop down and bump travel up by the move, on a
// threaded lower bracket nothing. It holds while the car's weight overcomes the
// preload; beyond that the shaft is fully out and the car rises no more.
func EffectOf(h Hardware, way Way, along quantity.Length) (Effect, error) {
	if err := first(h.check(), way.check()); err != nil {
		return Effect{}, err
	}
	switch {
	case !(along >= 0 && along <= mostTravel):
		return Effect{}, quantity.Inputf("Enter how far it moved along its thread, as a size.", "The move along the thread is below zero or not believable.")
	case along == 0 || h == LowerBracket:
		return Effect{}, nil
	case way == Lower:
		along = -along
	}
	return Effect{Preload: along, Droop: -along, Bump: along}, nil
}
