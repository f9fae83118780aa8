package method

import (
	"fmt"
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/calc/tyre"
	"strutcard/sync/event"
)

var tyreMethods = []Method{tyrePressure, tyreHot, tyreTread}

var gaugeField = Field{Name: "mark", Label: "Smallest step of the gauge", Kind: Pressure, Keep: true, Instrument: true}

const plateDecides = "The car maker's plate decides, and the limit on the tyre itself."

// tyrePressure is one reading of a gauge on a cold tyre.
var tyrePressure = Method{
	ID: "tyre_pressure", Group: Tyres, Title: "Gauge on a cold tyre", Sets: event.TyrePressure,
	Words: "Read the gauge on a cold tyre, before any height or angle is measured. A warm tyre shows more: let it stand first.",
	Fields: []Field{
		{Name: "pressure", Label: "Gauge reading, cold", Hint: "Parked for hours, out of the sun.", Kind: Pressure},
		gaugeField,
	},
	Work: func(in *In) (Result, error) {
		p, mark := in.Pressure("pressure"), in.Pressure("mark")
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		v, err := once(p, mark)
		if err != nil {
			return Result{}, err
		}
		step := quantity.FormatPressure(mark, in.Units.Pressure)
		out := Result{Figure: in.pressure(v), Line: lang.F("One reading, gauge with steps of %s", step), Warn: []string{lang.T(plateDecides)},
			Reading: &Reading{Value: pascals(v.Value), U95: pascals(v.Expanded()), Instrument: kept("gauge with steps of %s", step)}}
		// A flat tyre, or one of a van, is kept as it was found: said, not asked.
		if q := tyre.QuestionPressure(p); q != "" {
			out.Warn = append([]string{q}, out.Warn...)
		}
		return out, nil
	},
}

func pascals(p quantity.Pressure) int64 { return int64(math.Round(p.Kilopascals() * 1000)) }

func (in *In) pressure(v measure.Value[quantity.Pressure]) string {
	switch in.Units.Pressure {
	case quantity.Kilopascal:
		return within(v.Value.Kilopascals(), v.Expanded().Kilopascals(), "kPa")
	case quantity.PoundPerSquareInch:
		return within(v.Value.PoundsPerSquareInch(), v.Expanded().PoundsPerSquareInch(), "psi")
	}
	return within(v.Value.Bars(), v.Expanded().Bars(), "bar")
}

// degrees reads a difference of temperatures in the person's unit.
func (in *In) degrees(name string) quantity.Temperature {
	n := in.Count(name).Count()
	if in.Units.Temperature == quantity.Fahrenheit {
		return quantity.FahrenheitDifference(n)
	}
	return quantity.Kelvins(n)
}

// warmer writes one, with its uncertainty.
func (in *In) warmer(v measure.Value[quantity.Temperature]) string {
	if in.Units.Temperature == quantity.Fahrenheit {
		return within(v.Value.FahrenheitDifference(), v.Expanded().FahrenheitDifference(), "°F")
	}
	return within(v.Value.Kelvins(), v.Expanded().Kelvins(), "°C")
}

// apart writes a difference that was not measured.
func (in *In) apart(t quantity.Temperature) string {
	if in.Units.Temperature == quantity.Fahrenheit {
		return decimal(t.FahrenheitDifference(), 0) + " °F"
	}
	return decimal(t.Kelvins(), 0) + " °C"
}

// tyreHot takes a pressure to another temperature, hot from cold or back.
var tyreHot = Method{
	ID: "tyre_hot", Group: Tyres, Title: "Pressure, hot and cold",
	Words: "Enter the gauge reading and how warm the air in the tyre was then, and for which warmth you want it. It goes both ways. Never let air out of a hot tyre to reach the cold figure.",
	Fields: []Field{
		{Name: "pressure", Label: "Gauge reading", Kind: Pressure},
		{Name: "from", Label: "Air in the tyre at that reading", Kind: Temperature},
		{Name: "to", Label: "Air in the tyre to work it out for", Kind: Temperature},
		{Name: "around", Label: "Air pressure at this place", Hint: "At the place itself: about 1.01 bar (14.7 psi) at the sea, 0.8 bar (11.5 psi) at 2000 m.", Kind: Pressure, Keep: true},
		gaugeField,
		{Name: "around_mark", Label: "How well the air pressure is known", Kind: Pressure, Keep: true},
		{Name: "degrees", Label: "How well the temperatures are known, in degrees", Kind: Count, Keep: true},
	},
	Work: func(in *In) (Result, error) {
		f := tyre.Fill{Pressure: in.Pressure("pressure"), Counted: tyre.Gauge, Ambient: in.Pressure("around"), From: in.Temperature("from"), To: in.Temperature("to"),
			PressureResolution: in.Pressure("mark"), AmbientResolution: in.Pressure("around_mark"), TemperatureResolution: in.degrees("degrees")}
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		v, err := tyre.At(f)
		if err != nil {
			return Result{}, err
		}
		p := func(p quantity.Pressure) string { return quantity.FormatPressure(p, in.Units.Pressure) }
		return Result{
			Figure: in.pressure(v), Ask: tyre.QuestionPressure(f.Pressure),
			Words: lang.F("What the gauge would show at %s if no air goes in or out.", quantity.FormatTemperature(f.To, in.Units.Temperature)),
			Line:  fmt.Sprintf("(%s + %s) × %s K ÷ %s K − %s = %s", p(f.Pressure), p(f.Ambient), decimal(f.To.Kelvins(), 2), decimal(f.From.Kelvins(), 2), p(f.Ambient), p(v.Value)),
			Warn:  []string{lang.F("The air in the tyre is not as warm as the tread, and a warm tyre grows a little. %s", lang.T(plateDecides))},
		}, nil
	},
}

// tyreTread is three temperatures across one tread.
var tyreTread = Method{
	ID: "tyre_tread", Group: Tyres, Title: "Tread temperatures",
	Words: "Straight after driving, stopped in a safe place, car secured: measure the tread at its inner side, middle and outer side, all at once. Inner is towards the car.",
	Fields: []Field{
		{Name: "inner", Label: "Inner side", Kind: Temperature},
		{Name: "middle", Label: "Middle", Kind: Temperature},
		{Name: "outer", Label: "Outer side", Kind: Temperature},
		{Name: "degrees", Label: "Smallest step of the thermometer, in degrees", Kind: Count, Keep: true, Instrument: true},
	},
	Work: func(in *In) (Result, error) {
		t := tyre.Tread{Inner: in.Temperature("inner"), Middle: in.Temperature("middle"), Outer: in.Temperature("outer"), Resolution: in.degrees("degrees")}
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		a, err := tyre.Read(t)
		if err != nil {
			return Result{}, err
		}
		usual := tyre.UsualSpread()
		verdict, err := a.Judge(usual.Most)
		if err != nil {
			return Result{}, err
		}
		f := func(t quantity.Temperature) string { return quantity.FormatTemperature(t, in.Units.Temperature) }
		return Result{
			Figure: lang.F("%s across the tread", in.warmer(a.Spread)), Words: lang.T(string(a.Pressure())) + " " + lang.T(string(a.Camber())),
			Line: lang.F("%s − (%s + %s) ÷ 2 = middle over edges; %s − %s = inner over outer", f(t.Middle), f(t.Inner), f(t.Outer), f(t.Inner), f(t.Outer)),
			Rows: []Row{{lang.T("Middle over the edges"), in.warmer(a.CentreOverEdges)}, {lang.T("Inner over outer"), in.warmer(a.InnerOverOuter)},
				{lang.F("Spread within %s, a %s for race tyres", in.apart(usual.Most), lang.T(usual.Source)), verdict.Words()}},
			Warn: []string{lang.T(tyre.Limits)},
			Picture: columns(lang.F("Three temperatures across the tread: inner %s, middle %s, outer %s.", f(t.Inner), f(t.Middle), f(t.Outer)),
				column{lang.T("inner"), f(t.Inner), t.Inner.Kelvins()}, column{lang.T("middle"), f(t.Middle), t.Middle.Kelvins()}, column{lang.T("outer"), f(t.Outer), t.Outer.Kelvins()}),
		}, nil
	},
}
