package method

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"strutcard/calc/camber"
	"strutcard/calc/caster"
	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
)

var casterMethods = []Method{casterSweep}

// casterSweep is the camber of a wheel that is steered out and in.
var casterSweep = Method{
	ID: "caster_sweep", Group: Camber, Title: "Wheel steered out and in", Sets: event.Caster,
	Words: "Stand both front wheels on turnplates, brakes held on, the car on its wheels. Turn the front of this wheel out by about 20° and read its camber; then in by as much from straight ahead, and read again. Keep hands and feet clear while somebody steers.",
	Fields: slices.Concat(
		[]Field{{Name: "out_turned", Label: "Front of the wheel turned out by", Hint: "Over the ground, from straight ahead.", Kind: Angle}},
		leanFields("out_camber", "Camber there"),
		[]Field{{Name: "in_turned", Label: "Front of the wheel turned in by", Hint: "Over the ground, from straight ahead.", Kind: Angle}},
		leanFields("in_camber", "Camber there"),
		[]Field{
			{Name: "step", Label: "Smallest step of what read the cambers", Hint: "If the cambers came with a ±, type twice that ±.", Kind: Angle, Keep: true},
			{Name: "how", Label: "Out and in were", Kind: Choice, Keep: true,
				Options: []Option{{string(caster.Measured), "read at the wheel, on turnplates or a protractor"}, {string(caster.NotMeasured), "guessed, counted at the steering wheel, or the lock"}}},
			{Name: "turn_mark", Label: "Smallest mark of the turnplate or protractor", Kind: Angle, Keep: true, Instrument: true, When: "how=measured"},
			{Name: "inclination", Label: "Lean of the steering axis inward, seen from the front", Hint: "From the maker's manual, at this ride height.", Kind: Angle, Optional: true},
			{Name: "inclination_within", Label: "That lean is known to ±", Kind: Angle, Optional: true},
		}),
	Work: func(in *In) (Result, error) {
		s := caster.Sweep{Out: caster.Reading{Turned: in.Angle("out_turned")}, In: caster.Reading{Turned: in.Angle("in_turned")},
			Convention: caster.Heading, How: caster.How(in.Choice("how")), Resolution: in.Angle("turn_mark")}
		out, inward, step := in.lean("out_camber"), in.lean("in_camber"), in.Angle("step")
		inclination := angle{Value: in.Angle("inclination"), Standard: in.Angle("inclination_within") / measure.Coverage}
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		var err error
		if s.Out.Camber, s.In.Camber, err = reads(out, inward, camber.Absolute, step); err != nil {
			return Result{}, err
		}
		var r caster.Result
		if in.Has("inclination") {
			r, err = caster.FromSweep(s, inclination)
		} else {
			r, err = caster.FromSweepAlone(s)
		}
		if err != nil {
			return Result{}, err
		}
		return casterResult(in, s, r, in.step(step)), nil
	},
}

func casterResult(in *In, s caster.Sweep, r caster.Result, step string) Result {
	formula := caster.FormulaSine
	if r.Form == caster.Exact {
		formula = caster.FormulaExact
	}
	with := kept("camber in steps of %s", step)
	if s.How == caster.Measured {
		with += kept(", sweep read to %s", in.step(s.Resolution))
	} else {
		with += ", sweep not measured"
	}
	v := r.Caster
	words := map[caster.Lean]string{caster.Rearward: lang.T("Positive: the top of the steering axis leans back."), caster.Forward: lang.T("Negative: the top of the steering axis leans forward.")}
	return Result{Figure: in.angle(v), Words: cmp.Or(words[caster.LeanOf(v.Value)], lang.T("The steering axis stands upright, seen from the side.")),
		Line: casterLine(in, s, r), Rows: casterRows(in, r), Warn: casterWarn(s, r), Ask: caster.Question(v.Value),
		Picture: casterPicture(in, s, v.Value), Reading: angleReading(v, formula, with)}
}

func casterLine(in *In, s caster.Sweep, r caster.Result) string {
	f := in.Units.FormatAngle
	if r.Form == caster.Exact {
		return lang.F("atan((%s + %s) ÷ %s) = %s, with the inclination", ratio(r.Swung, 4), ratio(r.Leaned, 4), ratio(r.Over, 4), f(r.Caster.Value))
	}
	return fmt.Sprintf("%s ÷ (sin %s + sin %s) = %s", f(r.Swing), f(s.Out.Turned), f(s.In.Turned), f(r.Caster.Value))
}

// casterRows shows the factor that was used beside what other forms give.
func casterRows(in *In, r caster.Result) []Row {
	f, c := in.Units.FormatAngle, r.Compare
	rows := []Row{{lang.T("Camber out minus camber in"), f(r.Swing)}}
	if r.Factor != 0 {
		rows = append(rows, Row{lang.T("Factor used"), ratio(r.Factor, 3)})
	}
	if r.Form == caster.Exact {
		rows = append(rows, Row{lang.T("Without the inclination"), times(f, c.Sine, c.SineFactor)})
	}
	rows = append(rows, Row{lang.T("Angle in place of its sine"), times(f, c.Linear, c.LinearFactor)}, Row{lang.T("Rule for 20° each way"), times(f, c.Rule, c.RuleFactor)})
	if other := in.across(event.Caster); other != nil {
		rows = append(rows, in.crossRow(r.Caster, other, caster.Cross, "")...)
	}
	return rows
}

func times(f func(quantity.Angle) string, v quantity.Angle, factor quantity.Ratio) string {
	return lang.F("%s, factor %s", f(v), ratio(factor, 3))
}

func casterWarn(s caster.Sweep, r caster.Result) []string {
	warn := []string{lang.T("The uncertainty does not cover a wheel that rises or sinks while it is steered, play in the joints, or tyres that bind on the floor.")}
	if q := caster.SweepQuestion(s); q != "" {
		warn = append([]string{q}, warn...)
	}
	if r.Form == caster.Sine {
		warn = append(warn, lang.T("The inclination is not known, so that the uncertainty allows for any from 0° to 20°."))
	}
	return warn
}

// ratio writes a plain number with its decimals and the true minus sign.
func ratio(r quantity.Ratio, decimals int) string {
	return lang.Number(strings.Replace(fmt.Sprintf("%.*f", decimals, float64(r)), "-", "−", 1))
}

// axisLarger makes a caster of some degrees visible.
const axisLarger = 2

// casterPicture is the wheel from above, steered out and in, and from the side
// with its axis.
func casterPicture(in *In, s caster.Sweep, value quantity.Angle) *Picture {
	f := in.Units.FormatAngle
	side, drawn := cmp.Or(sideOf(in.At), camber.Left), lang.T("a left wheel")
	if side == camber.Right {
		drawn = lang.T("a right wheel")
	}
	p := &Picture{Height: 200, Note: lang.F("Left: %s from above. Right: from the side, the axis leaning %d times as much.", drawn, axisLarger),
		Alt: lang.F("%s from above: its front turned out by %s, where the camber is %s, and in by %s, where it is %s. From the side, the steering axis leans by %s.",
			capital(drawn), f(s.Out.Turned), f(s.Out.Camber.Value), f(s.In.Turned), f(s.In.Camber.Value), f(value))}
	out := -1.0 // which way the front goes on the paper
	if side == camber.Right {
		out = 1
	}
	p.Line("dashed ink", 75, 50, 75, 140)
	sweptWheel(p, "accent", out*s.Out.Turned.Radians())
	sweptWheel(p, "ink", -out*s.In.Turned.Radians())
	p.Small("middle", 75, 14, lang.T("front ↑"))
	p.Small("middle", 75+out*38, 34, lang.F("out %s", f(s.Out.Turned)))
	p.Small("middle", 75-out*38, 34, lang.F("in %s", f(s.In.Turned)))
	p.Label("middle", 75, 172, lang.F("out: camber %s", f(s.Out.Camber.Value)))
	p.Label("middle", 75, 190, lang.F("in: camber %s", f(s.In.Camber.Value)))
	p.Small("middle", 75-out*60, 99, map[camber.Side]string{camber.Left: lang.T("car →"), camber.Right: lang.T("← car")}[side])
	axisPicture(p, value, f(value))
	return p
}

// sweptWheel is a wheel from above, its front turned to the right by an angle.
func sweptWheel(p *Picture, class string, turn float64) {
	sin, cos := math.Sincos(turn)
	var xy []float64
	for _, c := range [][2]float64{{-9, -40}, {9, -40}, {9, 40}, {-9, 40}} {
		xy = append(xy, 75+c[0]*cos-c[1]*sin, 95+c[0]*sin+c[1]*cos)
	}
	p.Outline(class, xy...)
}

// axisPicture is the wheel from the side, its front to the left.
func axisPicture(p *Picture, value quantity.Angle, words string) {
	const x, y, radius = 240.0, 95.0, 50.0
	sin, cos := math.Sincos(max(-40, min(40, value.Degrees()*axisLarger)) * math.Pi / 180)
	p.Circle("ink", x, y, radius)
	p.Line("ink", 172, y+radius, 312, y+radius)
	p.Line("dashed ink", x, y-66, x, y+radius)
	p.Line("accent", x+68*sin, y-68*cos, x-52*sin, y+52*cos)
	p.Label("middle", x, 20, words)
	p.Small("middle", x, 172, lang.T("← front of the car"))
}
