package method

import (
	"cmp"
	"fmt"
	"slices"

	"strutcard/calc/camber"
	"strutcard/calc/lang"
	"strutcard/sync/event"
)

var cambersStep = Field{Name: "step", Label: "Smallest step of what read them", Hint: "If the cambers came with a ±, type twice that ±.", Kind: Angle, Keep: true}

// camberHalfTurn takes the wobble of the wheel out.
var camberHalfTurn = Method{
	ID: "camber_half_turn", Group: Camber, Title: "Half a turn", Sets: event.Camber,
	Words: "Measure the camber. Roll the car on by half a turn of the wheel, never with anybody under or in front of it. Chock it, and measure at the same place.",
	Fields: slices.Concat([]Field{zeroField},
		leanFields("first", "Camber, first"), leanFields("second", "Camber, half a turn on"), []Field{cambersStep}, floorFields("zero=absolute")),
	Fill: fillFloor,
	Work: func(in *In) (Result, error) {
		zero, a, b, step, floor := camber.Zero(in.Choice("zero")), in.lean("first"), in.lean("second"), in.Angle("step"), in.ground()
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		first, second, err := reads(a, b, zero, step)
		if err != nil {
			return Result{}, err
		}
		got, err := camber.HalfTurn(first, second)
		if err != nil {
			return Result{}, err
		}
		f := in.Units.FormatAngle
		out, err := floor.against(in, zero, got.Camber, fmt.Sprintf("(%s) ÷ 2 = %s", in.sum(first, second), f(got.Camber.Value)), camber.FormulaHalfTurn, kept("two readings half a turn apart, steps of %s", in.step(step)))
		out.Ask = cmp.Or(out.Ask, camber.RunoutQuestion(got.Runout.Value))
		out.Warn = slices.DeleteFunc(out.Warn, func(w string) bool { return w == lang.T(bentRim) })
		out.Rows = append(out.Rows, Row{lang.T("Share of the run-out"), in.angle(angle{Value: size(got.Runout.Value), Standard: got.Runout.Standard})})
		out.Picture = floor.asRead(leanPicture(in, got.Camber.Value, lang.F("first %s, half a turn on %s", f(first.Value), f(second.Value))))
		return out, err
	},
}

// camberRound takes the floor out without measuring it.
var camberRound = Method{
	ID: "camber_round", Group: Camber, Title: "Car turned round", Sets: event.Camber,
	Words: "Mark where the tyres stand. Measure against plumb. Turn the car round, put the tyres of this axle on the same marks, and measure the same wheel again.",
	Fields: slices.Concat(leanFields("there", "Camber, facing the first way"), leanFields("back", "Camber, facing the other way"), []Field{cambersStep,
		{Name: "side", Label: "The wheel is on the", Kind: Choice, Options: sides}}),
	Fill: func(r Record) map[string]string { return map[string]string{"side": string(sideOf(r.At))} },
	Work: func(in *In) (Result, error) {
		a, b, step, side := in.lean("there"), in.lean("back"), in.Angle("step"), in.wheelSide()
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		there, back, err := reads(a, b, camber.Absolute, step)
		if err != nil {
			return Result{}, err
		}
		v, slope, err := camber.TurnRound(camber.BothWays{There: there, Back: back, Side: side})
		if err != nil {
			return Result{}, err
		}
		f := in.Units.FormatAngle
		out := camberResult(in, v, camber.FormulaTurnedRound, kept("two readings with the car turned round, steps of %s", in.step(step)))
		out.Line = fmt.Sprintf("(%s) ÷ 2 = %s", in.sum(there, back), f(v.Value))
		out.Ask = cmp.Or(out.Ask, camber.SlopeQuestion(slope))
		out.Warn = []string{lang.T("A gauge's own offset stays in this number. Take it off both readings first."), lang.T(bentRim)}
		out.Rows = append([]Row{{lang.F("%s, as the car first stood", in.floorName()), in.slope(slope)}}, in.camberCross(v, ground{known: true})...)
		out.Picture = leanPicture(in, v.Value, lang.F("one way %s, other way %s", f(there.Value), f(back.Value)))
		return out, nil
	},
}

// sum writes two readings as a sum.
func (in *In) sum(a, b angle) string {
	sign := " + "
	if b.Value < 0 {
		sign = " − "
	}
	return in.Units.FormatAngle(a.Value) + sign + in.Units.FormatAngle(size(b.Value))
}
