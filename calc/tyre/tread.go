package tyre

import (
	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// FormulaTread names this calculation in the record.
const FormulaTread = "tread-temperatures/1"

// Tread is three temperatures of one tread. Inner is the side towards the car.
// Resolution is the smallest step of the thermometer, a difference.
type Tread struct {
	Inner, Middle, Outer quantity.Temperature
	Resolution           quantity.Temperature
}

// Across is what the three say together, all of them differences.
type Across struct {
	Spread          measure.Value[quantity.Temperature]
	CentreOverEdges measure.Value[quantity.Temperature]
	InnerOverOuter  measure.Value[quantity.Temperature]
}

// Read compares the three temperatures.
func Read(t Tread) (Across, error) {
	if err := t.check(); err != nil {
		return Across{}, err
	}
	u := measure.Resolution(t.Resolution)
	difference := func(value quantity.Temperature, parts ...quantity.Temperature) measure.Value[quantity.Temperature] {
		return measure.Value[quantity.Temperature]{Value: value, Standard: measure.Combine(parts...)}
	}
	return Across{
		Spread:          difference(max(t.Inner, t.Middle, t.Outer)-min(t.Inner, t.Middle, t.Outer), u, u),
		CentreOverEdges: difference(t.Middle-(t.Inner+t.Outer)/2, u, u/2, u/2),
		InnerOverOuter:  difference(t.Inner-t.Outer, u, u),
	}, nil
}

func (t Tread) check() error {
	for _, of := range []struct {
		t    quantity.Temperature
		what string
	}{{t.Inner, lang.T("The inner temperature")}, {t.Middle, lang.T("The middle temperature")}, {t.Outer, lang.T("The outer temperature")}} {
		if !(of.t >= coldest && of.t <= quantity.DegreesCelsius(200)) { // also true for NaN
			return quantity.Inputf("Measure again and check °C and °F.", "%s is missing, or one that no tread has.", of.what)
		}
	}
	if !(t.Resolution > 0 && t.Resolution <= quantity.Kelvins(20)) {
		return quantity.Inputf("Enter the smallest step that it shows, such as 1 °C or 0.1 °C.", "The smallest step of the thermometer is missing or not believable.")
	}
	return nil
}

// Spread is a largest spread that is usual, with where it is from.
type Spread struct {
	Most               quantity.Temperature // a difference
	Source, Provenance string
}

// UsualSpread is the one published figure that was found. It is for race tyres.
func UsualSpread() Spread {
	return Spread{quantity.FahrenheitDifference(20), lang.T("race team's tech tip"), "READ"}
}

// Judge compares the spread with a largest one, a size.
func (a Across) Judge(most quantity.Temperature) (measure.Verdict, error) {
	if !(most > 0) || !quantity.Finite(most) {
		return "", quantity.Inputf("Enter it as a difference above zero.", "The largest spread is missing or not above zero.")
	}
	return measure.Band[quantity.Temperature]{Minus: most, Plus: most}.Judge(a.Spread), nil
}

// Hint is what three temperatures may point to, in words for people. It is never
// more than a hint: see Limits.
type Hint string

const (
	MuchPressure   Hint = "The middle is hotter than the edges: perhaps too much pressure for how it was driven."
	LittlePressure Hint = "The edges are hotter than the middle: perhaps too little pressure for how it was driven."
	NoPressureHint Hint = "Middle and edges do not differ by more than the thermometer can tell."
	MuchCamber     Hint = "The inner side is hotter: the wheel leans in, or toe scrubs that side."
	LittleCamber   Hint = "The outer side is hotter: little negative camber for how it was driven, or toe scrubs that side."
	NoCamberHint   Hint = "Inner and outer side do not differ by more than the thermometer can tell."
)

// Words is h as people read it.
func (h Hint) Words() string { return lang.T(string(h)) }

// Limits stands beside every hint.
const Limits = "A hint only, from track driving. On the road the car maker's cold pressure decides, and camber stays within the car maker's limits."

// Pressure is the hint on pressure.
func (a Across) Pressure() Hint {
	return hint(a.CentreOverEdges, MuchPressure, LittlePressure, NoPressureHint)
}

// Camber is the hint on camber.
func (a Across) Camber() Hint { return hint(a.InnerOverOuter, MuchCamber, LittleCamber, NoCamberHint) }

func hint(v measure.Value[quantity.Temperature], above, below, neither Hint) Hint {
	switch {
	case v.Low() > 0:
		return above
	case v.High() < 0:
		return below
	}
	return neither
}
