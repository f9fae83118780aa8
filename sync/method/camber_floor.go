package method

import (
	"cmp"
	"slices"
	"strings"

	"strutcard/calc/camber"
	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
	"strutcard/sync/units"
)

const (
	unmeasured = "not measured"
	levelFloor = "level"
)

var sides = []Option{{"left", "left"}, {"right", "right"}}

// floorAsked asks how the floor stands under the axle. It follows the fields of
// every camber that is read against plumb. None is kept for the next wheel: the
// floor of the other axle is another. What the record has of this axle is filled in.
var floorAsked = []Field{
	{Name: "floor", Label: "Floor under this axle, side to side", Kind: Choice, Optional: true,
		Options: []Option{{unmeasured, "not measured"}, {levelFloor, "measured: level"}, {string(camber.Left), "left side lower"}, {string(camber.Right), "right side lower"}}},
	{Name: "slope", Label: "The floor slopes by", Hint: "Under this axle, where the car stands now.", Kind: Angle, When: "floor=left|right"},
	{Name: "slope_step", Label: "Smallest step of what measured the floor", Hint: "If the slope came with a ±, type twice that ±.", Kind: Angle, When: "floor=level|left|right"},
	{Name: "side", Label: "The wheel is on the", Kind: Choice, Options: sides, When: "floor=left|right"},
}

// floorFields are floorAsked; when hides them all.
func floorFields(when string) []Field {
	out := slices.Clone(floorAsked)
	out[0].When = when
	return out
}

// fillFloor offers the side of the wheel, and the slope that was last recorded
// for its axle with its whole ± as the step, which is never too fine.
func fillFloor(r Record) map[string]string {
	out := map[string]string{}
	if side := sideOf(r.At); side != "" {
		out["side"] = string(side)
	}
	f := r.last(event.FloorSlope, r.At.Axle().Place())
	if f == nil {
		return out
	}
	v := recorded(f)
	out["slope"], out["slope_step"] = plainAngle(size(v.Value), r.Units), plainAngle(2*v.Expanded(), r.Units)
	switch {
	case v.Value > 0:
		out["floor"] = string(camber.Right)
	case v.Value < 0:
		out["floor"] = string(camber.Left)
	default:
		out["floor"] = levelFloor
	}
	return out
}

// plainAngle is an angle as it can be typed, to the thousandth of a degree; only
// where degrees are typed does it go without a mark.
func plainAngle(a quantity.Angle, u units.Set) string {
	return u.TypedAngle(quantity.AngleFromMdeg(a.Mdeg()))
}

// ground is what was answered about the floor. Without an answer it is unknown.
type ground struct {
	camber.CrossSlope
	known bool
	side  camber.Side
}

// ground reads the floor fields.
func (in *In) ground() ground {
	answer := in.Choice("floor")
	g := ground{known: answer != "" && answer != unmeasured, side: in.wheelSide()}
	g.Slope = angle{Value: in.Angle("slope"), Standard: measure.Resolution(in.Angle("slope_step"))}
	if answer != levelFloor {
		g.Low = camber.Side(answer)
	}
	return g
}

// wheelSide is the side of the wheel as answered. It must be that of the place
// the reading is for.
func (in *In) wheelSide() camber.Side {
	side, at := camber.Side(in.Choice("side")), sideOf(in.At)
	if side != "" && at != "" && side != at {
		in.fail(quantity.Inputf("Choose the side again, or open the reading of the other wheel.", "This reading is of the %s wheel, and the wheel is said to be on the %s.", lang.T(in.At.Words()), lang.T(string(side))))
	}
	return side
}

// result takes the floor out of a reading against plumb, where it was measured,
// and shows both side by side.
func (g ground) result(in *In, raw angle, line, formula, instrument string) (Result, error) {
	if !g.known {
		out := camberResult(in, raw, formula, instrument)
		out.Line, out.Rows = line, in.camberCross(raw, g)
		return out, nil
	}
	v, err := camber.LevelWheel(camber.Wheel{Camber: raw, Side: g.side, Zero: camber.Absolute, Floor: g.CrossSlope})
	if err != nil {
		return Result{}, err
	}
	out := camberResult(in, v, formula+" "+camber.FormulaLevelled, instrument)
	out.Ask = cmp.Or(out.Ask, camber.SlopeQuestion(g.CrossSlope))
	out.Warn = []string{lang.T("The correction holds only where the slope was measured: under this axle, on this spot."), lang.T(bentRim)}
	if other := in.otherFloor(g.CrossSlope); other != "" {
		out.Warn = append(out.Warn, other)
	}
	sign := " + "
	if v.Value < raw.Value {
		sign = " − "
	}
	out.Line = lang.F("%s; %s%s%s = %s on a level floor", line, in.Units.FormatAngle(raw.Value), sign, in.Units.FormatAngle(g.Slope.Value), in.Units.FormatAngle(v.Value))
	out.Rows = append([]Row{{lang.T("As read"), in.angle(raw)}, {in.floorName(), in.slope(g.CrossSlope)}, {lang.T("On a level floor"), in.angle(v)}}, in.camberCross(v, g)...)
	return out, nil
}

// asRead says under the angle of a picture that the floor is still in it.
func (g ground) asRead(p *Picture) *Picture {
	if g.known {
		p.Small("start", 230, 76, lang.T("as read"))
	}
	return p
}

// otherFloor warns when the record has another floor for this axle than typed.
func (in *In) otherFloor(c camber.CrossSlope) string {
	r := in.last(event.FloorSlope, in.At.Axle().Place())
	if r == nil {
		return ""
	}
	if kept := recorded(r); size(slopeSigned(c)-kept.Value) <= kept.Expanded() {
		return ""
	}
	return lang.F("The record has another slope for this axle: %s.", in.Units.Reading(&r.ReadingTaken))
}

// slopeSigned is the slope as the record keeps it: positive when the right side is
// lower.
func slopeSigned(c camber.CrossSlope) quantity.Angle {
	if c.Low == camber.Left {
		return 0 - c.Slope.Value
	}
	return c.Slope.Value
}

func (in *In) floorName() string {
	if axle := in.At.Axle(); axle.Valid() {
		return lang.F("Floor under the %s", lang.T(axle.Place().Words()))
	}
	return lang.T("Floor under this axle")
}

// slope writes a slope of the floor with its low side.
func (in *In) slope(c camber.CrossSlope) string { return in.angle(c.Slope) + ", " + lowWords(c) }

func lowWords(c camber.CrossSlope) string {
	switch {
	case c.Slope.Value == 0:
		return lang.C("level", "of a floor")
	case c.Low == camber.Left:
		return lang.T("left side lower")
	}
	return lang.T("right side lower")
}

// camberCross is left minus right, where the other side is in the record. It
// holds on any floor only when the floor is out of both readings.
func (in *In) camberCross(v angle, g ground) []Row {
	other := in.across(event.Camber)
	if other == nil {
		return nil
	}
	switch corrected := FloorOut(&other.ReadingTaken); {
	case corrected != g.known:
		return []Row{{lang.T("Left minus right"), lang.T(notComparable)}}
	case !corrected:
		return in.crossRow(v, other, camber.Cross, lang.T("if the floor is level"))
	}
	return in.crossRow(v, other, func(left, right angle) (angle, error) {
		if g.Slope.Standard == 0 { // the floor never came in
			return camber.Cross(left, right)
		}
		return camber.CrossLevelled(left, right, g.CrossSlope)
	}, "")
}

// notComparable says why two cambers are not set against each other.
const notComparable = "not comparable: only one is corrected for the floor"

// FloorOut reports whether a recorded camber is free of the floor.
func FloorOut(r *event.ReadingTaken) bool {
	if strings.Contains(r.Formula, camber.FormulaLevelled) || strings.Contains(r.Formula, camber.FormulaTurnedRound) {
		return true
	}
	for _, x := range r.Inputs {
		if x.Name == "zero" && x.Text == string(camber.OnFloor) {
			return true
		}
	}
	return false
}
