package method

import (
	"slices"
	"strings"

	"strutcard/calc/camber"
	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
)

// zeroField asks what a reading is measured against.
var zeroField = Field{Name: "zero", Label: "Read against", Kind: Choice, Keep: true,
	Options: []Option{{string(camber.Absolute), "true plumb"}, {string(camber.OnFloor), "the floor: gauge set to zero across the car, under this axle"}}}

// camberGauge is a digital angle gauge against the rim.
var camberGauge = Method{
	ID: "camber_gauge", Group: Camber, Title: "Digital gauge", Sets: event.Camber,
	Words: "Read the gauge twice on one spot, turned end for end: that gives its offset. Or lay it on a straight bar across the car and set it to zero. Then hold it against the rim, never the bulge of the tyre.",
	Fields: slices.Concat([]Field{
		zeroField,
		{Name: "display", Label: "The display shows at the rim", Hint: "With its sign. If it shows near 90°: 90° less what it shows.", Kind: Angle},
		{Name: "rising", Label: "Try at this wheel: that number rises when the top is tipped", Kind: Choice,
			Options: []Option{{string(camber.In), "in, towards the car"}, {string(camber.Out), "out, away from the car"}}},
		{Name: "step", Label: "Smallest step of the display", Kind: Angle, Keep: true, Instrument: true},
		{Name: "first", Label: "On one spot, it shows", Hint: "Read it anew for each wheel: a gauge that switched itself off begins from another zero.", Kind: Angle, When: "zero=absolute"},
		{Name: "turned", Label: "On that spot, turned end for end, it shows", Kind: Angle, When: "zero=absolute"},
	}, floorFields("zero=absolute")),
	Fill: fillFloor,
	Work: func(in *In) (Result, error) {
		g := camber.Gauge{Zero: camber.Zero(in.Choice("zero")), Display: in.Angle("display"), Rising: camber.Lean(in.Choice("rising")), Resolution: in.Angle("step")}
		first, turned, floor := in.Angle("first"), in.Angle("turned"), in.ground()
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		var rows []Row
		if g.Zero == camber.Absolute {
			r, err := camber.Reverse(first, turned, g.Resolution)
			if err != nil {
				return Result{}, err
			}
			g.Offset = r.Offset
			rows = []Row{{lang.T("Gauge's own offset"), in.angle(r.Offset)}, {lang.T("Slope of the spot it was turned on"), in.angle(angle{Value: size(r.Slope.Value), Standard: r.Slope.Standard})}}
		}
		v, err := camber.FromGauge(g)
		if err != nil {
			return Result{}, err
		}
		out, err := floor.against(in, g.Zero, v, gaugeLine(in, g, v.Value), camber.FormulaGauge, kept("digital gauge, steps of %s", in.step(g.Resolution)))
		out.Rows = append(out.Rows, rows...)
		if g.Zero == camber.Absolute {
			out.Warn = append(out.Warn, lang.T("The gauge's offset holds only until it is switched off."))
		}
		out.Picture = floor.asRead(leanPicture(in, v.Value, lang.F("the display shows %s", in.Units.FormatAngle(g.Display))))
		return out, err
	},
}

// against is result for a reading against plumb, and the reading as it is when
// the gauge was set to zero on the floor.
func (g ground) against(in *In, zero camber.Zero, v angle, line, formula, instrument string) (Result, error) {
	if zero == camber.Absolute {
		return g.result(in, v, line, formula, instrument)
	}
	out := camberResult(in, v, formula, instrument+", set to zero on the floor")
	out.Line, out.Rows = line, in.camberCross(v, ground{known: true})
	out.Warn = []string{lang.T("Right only if it was set to zero under this axle and not switched off since."), lang.T(bentRim)}
	return out, nil
}

func gaugeLine(in *In, g camber.Gauge, v quantity.Angle) string {
	shown := in.Units.FormatAngle(g.Display)
	if g.Zero == camber.Absolute {
		offset := in.Units.FormatAngle(g.Offset.Value)
		if g.Offset.Value < 0 {
			offset = "(" + offset + ")"
		}
		shown = "(" + shown + " − " + offset + ")"
	}
	if g.Rising == camber.In {
		shown = "0 − " + shown
	}
	return lang.F("%s = %s, the display rising as the top leans %s", shown, in.Units.FormatAngle(v), lang.T(string(g.Rising)))
}

// step writes an instrument's smallest step, finer than a camber is written.
func (in *In) step(a quantity.Angle) string {
	text := plainAngle(a, in.Units)
	if !strings.Contains(text, "°") {
		text += "°"
	}
	return text
}

var (
	leanSize = Field{Hint: "Without a sign.", Kind: Angle}
	leanSide = Field{Label: "There the top leans", Kind: Choice, Options: []Option{{string(camber.In), "in, towards the car"}, {string(camber.Out), "out, away from the car"}}}
)

// leanFields ask for a camber as a size and where the top leans.
func leanFields(name, label string) []Field {
	size, side := leanSize, leanSide
	size.Name, size.Label, side.Name = name, label, name+"_leans"
	return []Field{size, side}
}

// lean is the answer to leanFields.
type lean struct {
	size quantity.Angle
	to   camber.Lean
}

func (in *In) lean(name string) lean {
	return lean{in.Angle(name), camber.Lean(in.Choice(name + "_leans"))}
}

// read is the camber with the uncertainty of what reads it. A gauge that was set
// to zero on the floor carries its step twice.
func (l lean) read(zero camber.Zero, step quantity.Angle) (angle, error) {
	if zero == camber.OnFloor && l.size >= 0 {
		return camber.FromGauge(camber.Gauge{Display: l.size, Resolution: step, Rising: l.to, Zero: zero})
	}
	v, err := camber.Leaning(l.size, l.to)
	if err != nil {
		return angle{}, err
	}
	return measure.Read(v, step)
}

// reads is both of two readings.
func reads(a, b lean, zero camber.Zero, step quantity.Angle) (first, second angle, err error) {
	if first, err = a.read(zero, step); err == nil {
		second, err = b.read(zero, step)
	}
	return first, second, err
}

// leanPicture is the wheel from the end of the car, with a plumb line.
func leanPicture(in *In, value quantity.Angle, words string) *Picture {
	p := &Picture{Height: 215, Note: lang.F("Lean drawn %d times as large.", exaggeration),
		Alt: lang.F("The wheel seen from the front, with a plumb line: %s. %s", words, leanWords(value))}
	wheel(p, 150, max(-20, min(20, value.Degrees()*exaggeration)))
	p.Line("dashed ink", 150, 190, 150, 34)
	p.Small("middle", 160, 18, words)
	p.Label("start", 230, 60, in.Units.FormatAngle(value))
	p.Small("start", 230, 110, lang.T("car this side"))
	p.Small("start", 230, 125, "→")
	return p
}
