package method

import (
	"cmp"
	"fmt"

	"strutcard/calc/camber"
	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
)

var floorMethods = []Method{floorDrop, gaugeReversal, bubbleDivision}

// lowField asks for the side that is low; level is for a floor without a slope.
var lowField = Field{Name: "low", Label: "The lower side is the", Kind: Choice,
	Options: []Option{{string(camber.Left), "left"}, {string(camber.Right), "right"}, {levelFloor, "neither: level"}}}

func (in *In) low() camber.Side {
	if low := in.Choice("low"); low != levelFloor {
		return camber.Side(low)
	}
	return ""
}

// floorDrop is a straight bar across the car, and what is under it.
var floorDrop = Method{
	ID: "floor_drop", Group: Floor, Title: "Bar across the car", Sets: event.FloorSlope,
	Words: "Lay a straight bar across, from tyre to tyre of one axle, and lift its low end until a level on it shows level. Measure from the bar down to the floor. Do each axle by itself, and never reach under a car on a jack.",
	Fields: []Field{
		{Name: "drop", Label: "How much lower the floor is there", Kind: Length},
		lowField,
		{Name: "track", Label: "From the middle of one tyre to the middle of the other", Kind: Length, Keep: true},
		{Name: "mark", Label: "Smallest mark of what read how much lower", Kind: Length, Keep: true, Instrument: true},
		{Name: "track_mark", Label: "Smallest mark of what measured tyre to tyre", Kind: Length, Keep: true, Instrument: true},
	},
	Fill: func(r Record) map[string]string {
		if r.Sheet == nil || r.Sheet.Vehicle.TrackUM <= 0 {
			return nil
		}
		return map[string]string{"track": quantity.LengthFigure(quantity.LengthFromUM(r.Sheet.Vehicle.TrackUM), r.Units.OrDefault().Length)}
	},
	Work: func(in *In) (Result, error) {
		d := camber.Drop{Drop: in.Length("drop"), Low: in.low(), Track: in.Length("track"), Resolution: in.Length("mark"), TrackResolution: in.Length("track_mark")}
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		slope, err := camber.FromDrop(d)
		if err != nil {
			return Result{}, err
		}
		drop, track := in.Units.FormatLength(d.Drop), in.Units.FormatLength(d.Track)
		out := slopeResult(in, slope, camber.FormulaDrop, kept("straight bar and level, drop read to %s", in.Units.FormatLength(d.Resolution)))
		out.Line = fmt.Sprintf("atan(%s ÷ %s) = %s", drop, track, in.Units.FormatAngle(slope.Slope.Value))
		out.Warn = append(out.Warn, lang.T("The uncertainty covers the marks. It does not cover a bar that is bent, or a level that is out: turn the level end for end."))
		out.Picture = floorPicture(in, slope, drop, track)
		return out, nil
	},
}

// gaugeReversal is the slope of a spot and the offset of the gauge.
var gaugeReversal = Method{
	ID: "gauge_reversal", Group: Floor, Title: "Gauge turned round", Sets: event.FloorSlope,
	Words: "Lay a straight bar across the floor, from tyre to tyre of one axle. Read the gauge on it, turn only the gauge end for end on the same spot, and read again. Never reach under a car on a jack.",
	Fields: []Field{
		{Name: "first", Label: "The display shows", Hint: "With its sign.", Kind: Angle},
		{Name: "turned", Label: "Turned end for end, it shows", Hint: "With its sign.", Kind: Angle},
		lowField,
		{Name: "step", Label: "Smallest step of the display", Kind: Angle, Keep: true, Instrument: true},
	},
	Work: func(in *In) (Result, error) {
		first, turned, low, step := in.Angle("first"), in.Angle("turned"), in.low(), in.Angle("step")
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		r, err := camber.Reverse(first, turned, step)
		if err != nil {
			return Result{}, err
		}
		slope, err := r.CrossSlope(low)
		if err != nil {
			return Result{}, err
		}
		f := in.Units.FormatAngle
		a, b := angle{Value: first}, angle{Value: turned}
		out := slopeResult(in, slope, camber.FormulaReversal, kept("digital gauge turned end for end, steps of %s", in.step(step)))
		out.Line = lang.F("slope (%s) ÷ 2 = %s, offset (%s) ÷ 2 = %s", in.sum(a, angle{Value: 0 - turned}), f(r.Slope.Value), in.sum(a, b), f(r.Offset.Value))
		out.Rows = append([]Row{{lang.T("Gauge's own offset"), in.angle(r.Offset)}}, out.Rows...)
		out.Warn = append(out.Warn, lang.T("The offset is to be taken off every reading, and holds only until the gauge is switched off."), lang.T("A bar that is bent or thicker at one end tilts the gauge: turn the bar too, and see whether it shows the same."))
		out.Picture = floorPicture(in, slope, "", lang.F("shows %s, turned %s", f(first), f(turned)))
		return out, nil
	},
}

// slopeResult is what every way to measure the floor has in common.
func slopeResult(in *In, slope camber.CrossSlope, formula, instrument string) Result {
	v := slope.Slope
	out := Result{Figure: in.slope(slope), Words: lang.T("Level: this floor changes no camber."), Ask: camber.SlopeQuestion(slope),
		Warn:    []string{lang.T("It holds for this axle on this spot.")},
		Reading: angleReading(angle{Value: slopeSigned(slope), Standard: v.Standard}, formula, instrument)}
	if v.Value == 0 {
		return out
	}
	out.Words = lang.T("The right side is lower: the left wheel reads too negative by this, the right wheel too positive.")
	if slope.Low == camber.Left {
		out.Words = lang.T("The left side is lower: the right wheel reads too negative by this, the left wheel too positive.")
	}
	if v.Value < v.Expanded() {
		out.Warn = append(out.Warn, lang.T("The slope is smaller than its uncertainty: the floor may as well be level."))
	}
	return out
}

// floorPicture is the axle from behind on a floor that slopes, under a level bar.
func floorPicture(in *In, slope camber.CrossSlope, drop, under string) *Picture {
	p := &Picture{Height: 165, Note: lang.T("Seen from behind, the slope drawn larger."),
		Alt: lang.F("The axle from behind, a level bar across it, and the floor under it: %s.", in.slope(slope))}
	left, right := 115.0, 115.0
	switch {
	case slope.Slope.Value == 0:
		p.Note = lang.T("Seen from behind.")
	case slope.Low == camber.Left:
		left += 20
	default:
		right += 20
	}
	p.Outline("ink", 55, left, 85, left, 85, left-60, 55, left-60)
	p.Outline("ink", 235, right, 265, right, 265, right-60, 235, right-60)
	p.Line("ink", 10, left+(left-right)/3, 310, right+(right-left)/3)
	p.Line("heavy", 70, 113, 250, 113)
	if drop != "" && left != right {
		x := cmp.Or(map[camber.Side]float64{camber.Left: 70}[slope.Low], 250)
		p.Line("accent", x, 115, x, 135)
		p.Label("middle", x, 45, lang.F("%s lower", drop))
	}
	p.Label("middle", 160, 100, in.Units.FormatAngle(slope.Slope.Value))
	p.Label("middle", 160, 160, under)
	p.Small("middle", 70, 16, lang.T("left"))
	p.Small("middle", 250, 16, lang.T("right"))
	return p
}

// bubbleDivision is the scale of a level's own bubble.
var bubbleDivision = Method{
	ID: "bubble_division", Group: Floor, Title: "Bubble of a level",
	Words: "Lay the level on a bench with its bubble in the middle, and push a shim under one end. Count how far the bubble moves. Turn the level end for end on the same shim: it must move the same way by as much.",
	Fields: []Field{
		{Name: "shim", Label: "Thickness of the shim", Kind: Length},
		{Name: "base", Label: "Along the bench, from the shim to the end that stays down", Kind: Length},
		{Name: "divisions", Label: "Divisions that the bubble moved", Kind: Count},
		{Name: "mark", Label: "Smallest mark of what measured the shim", Kind: Length, Keep: true, Instrument: true},
		{Name: "base_mark", Label: "Smallest mark of what measured along the bench", Kind: Length, Keep: true, Instrument: true},
		{Name: "bubble_mark", Label: "How finely you can read the bubble, in divisions", Hint: "Such as 0.25 for a quarter.", Kind: Count, Keep: true},
	},
	Work: func(in *In) (Result, error) {
		s := camber.Shim{Thickness: in.Length("shim"), Base: in.Length("base"), Divisions: in.Count("divisions"),
			Resolution: in.Length("mark"), BaseResolution: in.Length("base_mark"), DivisionResolution: in.Count("bubble_mark")}
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		v, err := camber.PerDivision(s)
		if err != nil {
			return Result{}, err
		}
		shim, base := in.Units.FormatLength(s.Thickness), in.Units.FormatLength(s.Base)
		return Result{Figure: lang.F("%s for one division", in.angle(v)), Words: lang.T("Each division that the bubble is off the middle is this much of a lean."),
			Line:    fmt.Sprintf("atan(%s ÷ %s) ÷ %s = %s", shim, base, s.Divisions, in.Units.FormatAngle(v.Value)),
			Warn:    []string{lang.T("If the bubble moves otherwise after the level is turned end for end, the level is out.")},
			Picture: shimPicture(in, shim, base, v.Value)}, nil
	},
}

func shimPicture(in *In, shim, base string, v quantity.Angle) *Picture {
	p := &Picture{Height: 120, Note: lang.T("The shim is drawn larger."), Alt: lang.F("A level on a bench with a shim of %s under one end, %s from the other. %s for one division.", shim, base, in.Units.FormatAngle(v))}
	p.Line("ink", 10, 90, 310, 90)
	p.Outline("fill", 255, 90, 265, 90, 265, 68, 255, 68)
	p.Outline("ink", 40, 88, 282, 66, 280, 44, 38, 66)
	p.Circle("accent", 160, 66, 6)
	p.Label("end", 310, 30, shim)
	p.Label("middle", 150, 112, base)
	p.Label("middle", 130, 40, lang.F("%s a division", in.Units.FormatAngle(v)))
	return p
}
