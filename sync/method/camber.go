package method

import (
	"fmt"
	"math"
	"slices"

	"strutcard/calc/camber"
	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
)

var camberMethods = []Method{camberGap, camberShim, camberGauge, camberHalfTurn, camberRound}

// camberGap is the level and the ruler.
var camberGap = Method{
	ID: "camber_gap", Group: Camber, Title: "Level and ruler", Sets: event.Camber,
	Words: "Hold the level plumb against the rim, one end touching. Never touch the bulge of the tyre. Measure the gap at the other end.",
	Fields: slices.Concat([]Field{
		{Name: "gap", Label: "Gap between level and rim", Kind: Length},
		{Name: "gap_at", Label: "The gap is at the", Kind: Choice, Options: levelEnds},
		{Name: "span", Label: "Rim edge to rim edge, where the level touches and where the gap is", Kind: Length, Keep: true},
		{Name: "along", Label: "That length was measured along the", Kind: Choice, Keep: true, Options: levelAlongs},
		{Name: "mark", Label: "Smallest mark of the ruler that read the gap", Kind: Length, Keep: true, Instrument: true},
		{Name: "span_mark", Label: "Smallest mark of what measured rim edge to rim edge", Kind: Length, Keep: true, Instrument: true},
	}, floorFields("")),
	Fill: fillFloor,
	Work: func(in *In) (Result, error) {
		return fromGap(in, "gap", lang.C("gap", "of a level"), "level, ruler marked every %s")
	},
}

// camberShim is the level made plumb with a shim.
var camberShim = Method{
	ID: "camber_shim", Group: Camber, Title: "Level and shim", Sets: event.Camber,
	Words: "Hold the level against the rim, never the bulge of the tyre. Slide shims under one end until the bubble is in the middle. Measure the shims together.",
	Fields: slices.Concat([]Field{
		{Name: "shim", Label: "Thickness of the shims", Kind: Length},
		{Name: "shim_at", Label: "They sit at the", Kind: Choice, Options: levelEnds},
		{Name: "span", Label: "From the shims to where the other end touches", Kind: Length, Keep: true},
		{Name: "along", Label: "That length was measured along the", Kind: Choice, Keep: true, Options: levelAlongs},
		{Name: "mark", Label: "Smallest mark of what measured the shims", Kind: Length, Keep: true, Instrument: true},
		{Name: "span_mark", Label: "Smallest mark of what measured that length", Kind: Length, Keep: true, Instrument: true},
	}, floorFields("")),
	Fill: fillFloor,
	Work: func(in *In) (Result, error) {
		return fromGap(in, "shim", lang.C("shim", "of a level"), "level, shims measured to %s")
	},
}

var (
	levelEnds   = []Option{{string(camber.Top), "top"}, {string(camber.Bottom), "bottom"}}
	levelAlongs = []Option{{string(camber.AlongRim), "rim"}, {string(camber.AlongLevel), "level"}}
)

// fromGap works out a gap, or the shim that fills it.
func fromGap(in *In, name, noun, with string) (Result, error) {
	g := camber.Gap{Gap: in.Length(name), Span: in.Length("span"), At: camber.End(in.Choice(name + "_at")), Along: camber.Along(in.Choice("along")),
		Resolution: in.Length("mark"), SpanResolution: in.Length("span_mark")}
	floor := in.ground()
	if in.Err() != nil {
		return Result{}, in.Err()
	}
	v, err := camber.FromGap(g)
	if err != nil {
		return Result{}, err
	}
	f := map[camber.Along]string{camber.AlongRim: "asin", camber.AlongLevel: "atan"}[g.Along]
	line := fmt.Sprintf("%s(%s ÷ %s) = %s, %s %s", f, in.Units.FormatLength(g.Gap), in.Units.FormatLength(g.Span), in.Units.FormatAngle(size(v.Value)), noun, endWords(g.At))
	out, err := floor.result(in, v, line, camber.Formula, kept(with, in.Units.FormatLength(g.Resolution)))
	out.Picture = floor.asRead(gapPicture(in, g, noun, v.Value))
	return out, err
}

func endWords(e camber.End) string {
	if e == camber.Top {
		return lang.T("at the top")
	}
	return lang.T("at the bottom")
}

const (
	bentRim  = "The uncertainty covers the instruments. It does not cover a bent rim."
	anyFloor = "The floor was not measured. Where it slopes from side to side, the slope is in this number."
)

// camberResult is what every way to measure camber has in common, on a floor
// that nobody measured.
func camberResult(in *In, v measure.Value[quantity.Angle], formula, instrument string) Result {
	return Result{Figure: in.angle(v), Words: leanWords(v.Value), Ask: camber.Question(v.Value),
		Warn:    []string{lang.T(anyFloor), lang.T(bentRim)},
		Reading: angleReading(v, formula, instrument)}
}

// angle writes an angle with its expanded uncertainty.
func (in *In) angle(v measure.Value[quantity.Angle]) string {
	return in.Units.FormatAngle(v.Value) + " ± " + in.Units.FormatAngle(v.Expanded())
}

// length writes a length with its expanded uncertainty.
func (in *In) length(v measure.Value[quantity.Length]) string {
	return in.Units.LengthWithin(v.Value, v.Expanded())
}

func angleReading(v measure.Value[quantity.Angle], formula, instrument string) *Reading {
	return &Reading{Value: v.Value.Mdeg(), U95: v.Expanded().Mdeg(), Formula: formula, Instrument: instrument}
}

func size[Q measure.Quantity](q Q) Q {
	if q < 0 {
		return -q
	}
	return q
}

func leanWords(camber quantity.Angle) string {
	switch mdeg := camber.Mdeg(); {
	case mdeg < 0:
		return lang.T("Negative: the top of the wheel leans in, towards the car.")
	case mdeg > 0:
		return lang.T("Positive: the top of the wheel leans out, away from the car.")
	}
	return lang.T("Upright.")
}

// exaggeration makes a lean of a degree or two visible.
const exaggeration = 5

// gapPicture is the wheel from the front, the plumb level against its outer
// face, and the triangle that was measured.
func gapPicture(in *In, g camber.Gap, noun string, value quantity.Angle) *Picture {
	p := &Picture{Height: 215, Note: lang.F("Lean drawn %d times as large.", exaggeration),
		Alt: lang.F("The wheel seen from the front with a plumb level against its outer face: %s %s %s over %s. %s",
			noun, in.Units.FormatLength(g.Gap), endWords(g.At), in.Units.FormatLength(g.Span), leanWords(value))}
	lean := max(-20, min(20, value.Degrees()*exaggeration))
	bottom, top := wheel(p, 150, lean)
	level := min(bottom, top)
	at, y := bottom, 170.0
	if g.At == camber.Top {
		at, y = top, 60
	}
	p.Line("heavy", level, 52, level, 174) // rim to rim: the bulge of the tyre stays free
	p.Line("accent", level, y, at, y)
	p.Line("accent thin", bottom, 170, top, 60)
	p.Label("end", level-6, y-2, in.Units.FormatLength(g.Gap))
	p.Label("end", level-6, 118, in.Units.FormatLength(g.Span))
	p.Label("start", 230, 60, in.Units.FormatAngle(value))
	p.Small("start", 230, 110, lang.T("car this side"))
	p.Small("start", 230, 125, "→")
	return p
}

// wheel draws a wheel seen from the end of the car, leaning by degrees (negative:
// its top towards the car, to the right), and gives x of its outer face low and
// high.
func wheel(p *Picture, foot, degrees float64) (bottom, top float64) {
	const ground, width, height = 190.0, 40.0, 150.0
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	lowest := ground - width/2*math.Abs(sin) // its lower corner stands on the ground
	at := func(across, up float64) (x, y float64) {
		return foot + across*cos - up*sin, lowest - up*cos - across*sin
	}
	var xy []float64
	for _, c := range [][2]float64{{-width / 2, 0}, {width / 2, 0}, {width / 2, height}, {-width / 2, height}} {
		x, y := at(c[0], c[1])
		xy = append(xy, x, y)
	}
	p.Line("ink", 10, ground, 310, ground)
	p.Outline("ink", xy...)
	bottom, _ = at(-width/2, 20)
	top, _ = at(-width/2, 130)
	return bottom, top
}
