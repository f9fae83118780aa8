package adjust

import (
	"math"

	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// Advice is the next move.
type Advice[M, R measure.Quantity] struct {
	Move     M                // from where the adjuster stands, in whole steps
	Setting  M                // where it stands then
	Exact    M                // the setting for the target, before rounding and ends
	Step     M                // the step in which Move is given
	Expected measure.Value[R] // the reading there
	Cautions []Caution
}

// noise is what float64 arithmetic may leave on a count or a share.
const noise = 1e-9

// Next is how far to move the adjuster for the target, in whole steps, and what
// to expect there. A step is doubled as long as its effect is below the standard
// uncertainty of the last reading: finer advice could not be checked. The move
// stops at the end of the adjuster, and says so.
//
//	exact = where the line reaches the target
//	expected = the line at the advised setting, its uncertainty with that of setting it
func (l Learned[M, R]) Next(target R) (Advice[M, R], error) {
	if !quantity.Finite(target) {
		return Advice[M, R]{}, noTarget()
	}
	exact, err := l.Line.Where(target)
	if err != nil {
		return Advice[M, R]{}, err
	}
	a, now := l.Adjuster, l.Last.Setting
	limited := a.Low < a.High
	if limited && (now < a.Low || now > a.High) {
		return Advice[M, R]{}, quantity.Inputf("Check the present setting and the ends.", "The adjuster stands beyond the ends that were entered.")
	}
	out := Advice[M, R]{Exact: exact, Step: l.step(), Cautions: append([]Caution(nil), l.Cautions...)}
	steps := math.Round(float64(exact-now) / float64(out.Step))
	if limited {
		most := math.Floor(float64(a.High-now)/float64(out.Step) + noise)
		least := math.Ceil(float64(a.Low-now)/float64(out.Step) - noise)
		steps = min(max(steps, least), most)
	}
	out.Move = M(steps+0) * out.Step
	out.Setting = now + out.Move
	out.Expected = l.Line.At(out.Setting)
	out.Expected.Standard = measure.Combine(out.Expected.Standard,
		measure.Contribution[R](l.Line.Slope, measure.Resolution(a.Resolution)))
	out.Cautions = append(out.Cautions, l.about(out, limited)...)
	return out, nil
}

// step is the adjuster's step, doubled until the gauge can show it.
func (l Learned[M, R]) step() M {
	step := l.Adjuster.Step
	for range 30 {
		if measure.Contribution[R](l.Line.Slope, step) >= l.Last.Reading.Standard {
			break
		}
		step *= 2
	}
	return step
}

// about is what to say beside a move.
func (l Learned[M, R]) about(a Advice[M, R], limited bool) []Caution {
	var out []Caution
	say := func(when bool, c Caution) {
		if when {
			out = append(out, c)
		}
	}
	beyond := limited && (a.Exact > l.Adjuster.High+a.Step/2 || a.Exact < l.Adjuster.Low-a.Step/2)
	span := l.To - l.From
	say(beyond, EndOfRange)
	say(!limited, RangeUnknown)
	say(span > 0 && (a.Setting > l.To+span || a.Setting < l.From-span), FarBeyond)
	say(a.Step > l.Adjuster.Step, Coarser)
	say(a.Move == 0 && !beyond, Near)
	say(l.Adjuster.Of != Toe, ReadToe)
	out = append(out, AfterTorque)
	return out
}
