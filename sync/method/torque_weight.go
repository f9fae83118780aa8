package method

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/calc/torque"
)

// torqueWeight hangs a weighed mass on the handle of a wrench.
var torqueWeight = Method{
	ID: "torque_weight", Group: Torque, Title: "Check with a hung weight",
	Words: "Hold the drive fast in a vice, never on the car, the handle level. Hang a weighed mass on a string, low over the floor. Stand clear: the wrench may slip off.",
	Fields: slices.Concat([]Field{
		{Name: "mass", Label: "Mass of the weight, weighed", Hint: "What is stamped on it does not count.", Kind: Mass},
		{Name: "mass_mark", Label: "Smallest step of the scales", Kind: Mass, Keep: true, Instrument: true},
		{Name: "distance", Label: "Middle of the drive to the string, level", Kind: Length},
		{Name: "length_mark", Label: "Smallest mark of the tape", Kind: Length, Keep: true, Instrument: true},
		{Name: "own", Label: "The wrench's own weight", Kind: Choice, Keep: true, Options: []Option{{"weighed", "weighed"}, {"unknown", "not known"}}},
		{Name: "own_mass", Label: "Mass of the wrench", Kind: Mass, Keep: true, When: "own=weighed"},
		{Name: "own_distance", Label: "Middle of the drive to where the wrench balances", Kind: Length, Keep: true, When: "own=weighed"},
		{Name: "lean", Label: "How far off level the handle may be", Hint: "Such as 1° with a level, 3° by eye.", Kind: Angle},
		{Name: "class", Label: "The wrench looks like", Kind: Choice, Keep: true, Options: classOptions()},
		{Name: "reading", Label: "What it shows, or highest setting that clicked", Hint: "Raise the setting step by step, until the weight makes it click no more.", Kind: TorqueValue},
		{Name: "step", Label: "Step between its marks, or to the setting that did not click", Kind: TorqueValue},
	}, wrenchFields(false)),
	Fill: fillWrench,
	Work: func(in *In) (Result, error) {
		in.Choice("own")
		h := torque.HungWeight{Mass: in.Mass("mass"), MassResolution: in.Mass("mass_mark"), Distance: in.Length("distance"), LengthResolution: in.Length("length_mark"),
			OwnMass: in.Mass("own_mass"), OwnDistance: in.Length("own_distance"), Lean: in.Angle("lean"), Reading: in.Torque("reading"), Step: in.Torque("step"),
			Class: torque.Class(in.Choice("class")), Wrench: in.wrench()}
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		if in.Has("own_mass") && h.OwnMass == 0 {
			return Result{}, quantity.Inputf("Weigh the wrench, or say that its weight is not known.", "The mass of the wrench is zero.")
		}
		if clicks(h.Class) { // it is true somewhere between what clicked and what did not
			h.Reading += h.Step / 2
		}
		c, err := torque.CheckHung(h)
		if err != nil {
			return Result{}, err
		}
		return Result{Figure: hungFigure(c), Words: c.Words(), Line: hungLine(in, c, h), Rows: hungRows(in, c),
			Ask: torque.QuestionHung(c), Picture: hungPicture(in, h),
			Warn: []string{lang.T("Keep feet and face away from weight and handle, and hang on nothing that may tear."), lang.T("It does not show wear, nor what the wrench does at another torque or pulled faster."), lang.T(classWarn)}}, nil
	},
}

// clicks reports whether a wrench of the class is set, rather than read.
func clicks(c torque.Class) bool { return strings.HasPrefix(string(c), "II ") }

// hungFigure says which way the wrench reads, as far as that is known. Without its
// own weight the true torque is higher than reckoned: it reads lower than seen.
func hungFigure(c torque.HungCheck) string {
	d, u := c.Deviation.Value, c.Deviation.Expanded()
	pair := size(d).String() + " ± " + u.String()
	switch {
	case !c.OwnKnown && d+u < 0:
		return lang.F("Reads low by %s or more, its own weight not counted", quantity.Ratio(math.Floor(float64(size(d+u))*1000)/1000).String())
	case !c.OwnKnown:
		return lang.F("Reads high by %s at most, its own weight not counted", quantity.Ratio(math.Ceil(float64(d+u)*1000)/1000).String())
	case d > u:
		return lang.F("Reads high by %s", pair)
	case d < -u:
		return lang.F("Reads low by %s", pair)
	}
	return lang.F("Neither high nor low for sure: %s ± %s", d.String(), u.String())
}

func hungLine(in *In, c torque.HungCheck, h torque.HungWeight) string {
	own := ""
	if c.OwnKnown {
		own = " + " + in.typedAs("own_mass") + " × " + in.typedAs("own_distance")
	}
	t, x := in.Units.FormatTorque(c.True.Value), in.typedAs("reading")
	if clicks(h.Class) {
		x = lang.F("%s + half of %s", x, in.typedAs("step"))
	}
	return fmt.Sprintf("g × (%s × %s%s) = %s; (%s − %s) ÷ %s", in.typedAs("mass"), in.typedAs("distance"), own, t, x, t, t)
}

func hungRows(in *In, c torque.HungCheck) []Row {
	rows := []Row{{lang.T("True torque at the drive"), in.Units.FormatTorque(c.True.Value) + " ± " + in.Units.FormatTorque(c.True.Expanded())}}
	if c.OwnKnown {
		rows = append(rows, Row{lang.T("Of that from the wrench itself"), in.Units.FormatTorque(c.FromWrench)})
	} else {
		rows[0].Label = lang.T("True torque at the drive, at least")
	}
	return append(rows, Row{lang.T("Permitted by its class"), "± " + c.Allowed.String()})
}

// hungPicture is the wrench from the side, its lengths to scale.
func hungPicture(in *In, h torque.HungWeight) *Picture {
	const drive, y, long = 60.0, 70.0, 180.0
	scale := long / float64(max(h.Distance, h.OwnDistance))
	hook := drive + float64(h.Distance)*scale
	mass, at := quantity.FormatMass(h.Mass, in.Units.Mass), in.Units.FormatLength(h.Distance)
	p := &Picture{Height: 200, Alt: lang.F("The wrench from the side, its drive held in a vice, the handle level. A weight of %s hangs on a string %s from the middle of the drive, low over the floor.", mass, at)}
	p.Outline("ink", 20, y-20, drive-8, y-20, drive-8, y+24, 20, y+24)
	p.Small("middle", 36, y+40, lang.T("vice"))
	p.Circle("fill", drive, y, 6)
	p.Line("heavy", drive, y, drive+long+24, y)
	p.Line("dashed", drive, y-8, drive, y-28)
	p.Line("dashed", hook, y-4, hook, y-28)
	p.Line("accent", drive, y-22, hook, y-22)
	p.Label("middle", max((drive+hook)/2, 60), y-30, at)
	p.Line("ink", hook, y, hook, 140)
	p.Outline("fill", hook-14, 140, hook+14, 140, hook+14, 168, hook-14, 168)
	p.Label("end", hook-20, 160, mass)
	p.Line("ink", 10, 184, 310, 184)
	if h.OwnMass > 0 {
		x := drive + float64(h.OwnDistance)*scale
		p.Line("accent", x, y+4, x, y+30, x-4, y+23)
		p.Line("accent", x, y+30, x+4, y+23)
		p.Small("middle", min(x, 240), y+44, quantity.FormatMass(h.OwnMass, in.Units.Mass))
	}
	return p
}
