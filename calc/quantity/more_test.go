package quantity_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"strutcard/calc/quantity"
)

// The factors are those of GNU units 2.22 and mathjs, beside the vectors of
// calc/spring and calc/tyre; here it is the reading and writing.
func TestOf(t *testing.T) {
	pressure := func(s string, u quantity.PressureUnit) (float64, error) {
		p, err := quantity.PressureOf(s, u)
		return p.Kilopascals(), err
	}
	stiffness := func(s string, u quantity.StiffnessUnit) (float64, error) {
		k, err := quantity.StiffnessOf(s, u)
		return k.NewtonsPerMillimetre(), err
	}
	temperature := func(s string, u quantity.TemperatureUnit) (float64, error) {
		k, err := quantity.TemperatureOf(s, u)
		return k.Celsius(), err
	}
	count := func(s, _ string) (float64, error) { n, err := quantity.CountOf(s); return n.Count(), err }
	percent := func(s, _ string) (float64, error) { n, err := quantity.PercentOf(s); return float64(n), err }
	tests := map[string]struct {
		got  func() (float64, error)
		want float64 // NaN: refused
	}{
		"2.2 bar":             {func() (float64, error) { return pressure("2.2", quantity.Bar) }, 220},
		"32 psi":              {func() (float64, error) { return pressure("32", quantity.PoundPerSquareInch) }, 220.6322},
		"220 kPa":             {func() (float64, error) { return pressure("220", quantity.Kilopascal) }, 220},
		"minus pressure":      {func() (float64, error) { return pressure("-2", quantity.Bar) }, math.NaN()},
		"no pressure unit":    {func() (float64, error) { return pressure("2", "atm") }, math.NaN()},
		"unit in the text":    {func() (float64, error) { return pressure("2 bar", quantity.Bar) }, math.NaN()},
		"28.1 N/mm":           {func() (float64, error) { return stiffness("28.1", quantity.NewtonPerMillimetre) }, 28.1},
		"8 kgf/mm":            {func() (float64, error) { return stiffness("8", quantity.KilogramForcePerMillimetre) }, 78.4532},
		"450 lbf/in":          {func() (float64, error) { return stiffness("450", quantity.PoundForcePerInch) }, 78.807076},
		"minus rate":          {func() (float64, error) { return stiffness("-8", quantity.NewtonPerMillimetre) }, math.NaN()},
		"no rate unit":        {func() (float64, error) { return stiffness("8", "") }, math.NaN()},
		"−5 °C":               {func() (float64, error) { return temperature("−5", quantity.Celsius) }, -5},
		"212 °F":              {func() (float64, error) { return temperature("212", quantity.Fahrenheit) }, 100},
		"colder than can be":  {func() (float64, error) { return temperature("-300", quantity.Celsius) }, math.NaN()},
		"no temperature unit": {func() (float64, error) { return temperature("20", "K") }, math.NaN()},
		"no temperature":      {func() (float64, error) { return temperature("warm", quantity.Celsius) }, math.NaN()},
		"1.5 turns":           {func() (float64, error) { return count("1,5", "") }, 1.5},
		"−2 graduations":      {func() (float64, error) { return count("-2", "") }, -2},
		"some turns":          {func() (float64, error) { return count("some", "") }, math.NaN()},
		"58 %":                {func() (float64, error) { return percent("58", "") }, 0.58},
		"minus per cent":      {func() (float64, error) { return percent("-58", "") }, math.NaN()},
		"half":                {func() (float64, error) { return percent("1/2", "") }, math.NaN()},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			got, err := test.got()
			if math.IsNaN(test.want) {
				var input *quantity.InputError
				if !errors.As(err, &input) || input.What == "" || input.Next == "" || got != 0 && got != -273.15 {
					t.Errorf("got %v and error %v, want a refusal", got, err)
				}
				return
			}
			if err != nil || math.Abs(got-test.want) > 1e-4 {
				t.Errorf("got %v and error %v, want %v", got, err, test.want)
			}
		})
	}
}

func TestWords(t *testing.T) {
	for got, want := range map[string]string{
		quantity.Bars(2.25).String():                                         "2.25 bar",
		quantity.FormatPressure(quantity.Bars(2.2), quantity.Kilopascal):     "220 kPa",
		quantity.FormatPressure(quantity.Bars(2.2), "atm"):                   "not a number atm",
		quantity.NewtonsPerMillimetre(28.13).String():                        "28.1 N/mm",
		quantity.DegreesCelsius(62.4).String():                               "62 °C",
		quantity.FormatTemperature(quantity.Kelvins(0), quantity.Fahrenheit): "−460 °F",
		quantity.FormatTemperature(quantity.Kelvins(0), "K"):                 "not a number K",
		quantity.Count(-1.125).String():                                      "−1.12",
		quantity.Hertz(1.4267).String():                                      "1.43 Hz",
		quantity.NewtonSecondsPerMetre(1882.4).String():                      "1882 N·s/m",
		quantity.MetresPerSecondSquared(9.80665).String():                    "9.81 m/s²",
		quantity.SquareMillimetres(84.27).String():                           "84.3 mm²",
		quantity.Bar.Words() + quantity.PoundForcePerInch.Words():            "barpounds-force per inch",
		quantity.Celsius.Words() + quantity.Fahrenheit.Words():               "degrees Celsiusdegrees Fahrenheit",
	} {
		if got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

// What is written in any unit is read back as the same, to its last decimal.
func TestUnitsRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bar := rapid.Float64Range(0.1, 9).Draw(t, "bar")
		for _, u := range quantity.PressureUnits() {
			back, err := quantity.PressureOf(quantity.PressureFigure(quantity.Bars(bar), u), u)
			if err != nil || !u.Valid() || math.Abs(back.Bars()-bar) > 0.0051 {
				t.Errorf("%v bar in %s: got %v and error %v", bar, u, back.Bars(), err)
			}
		}
		rate := rapid.Float64Range(1, 900).Draw(t, "rate")
		for _, u := range quantity.StiffnessUnits() {
			back, err := quantity.StiffnessOf(quantity.StiffnessFigure(quantity.NewtonsPerMillimetre(rate), u), u)
			if err != nil || !u.Valid() || math.Abs(back.NewtonsPerMillimetre()-rate) > 0.1 {
				t.Errorf("%v N/mm in %s: got %v and error %v", rate, u, back.NewtonsPerMillimetre(), err)
			}
		}
		warm := rapid.Float64Range(-40, 150).Draw(t, "°C")
		for _, u := range quantity.TemperatureUnits() {
			back, err := quantity.TemperatureOf(quantity.TemperatureFigure(quantity.DegreesCelsius(warm), u), u)
			if err != nil || !u.Valid() || math.Abs(back.Celsius()-warm) > 0.51 {
				t.Errorf("%v °C in %s: got %v and error %v", warm, u, back.Celsius(), err)
			}
		}
		if f := quantity.FahrenheitDifference(warm); math.Abs(f.FahrenheitDifference()-warm) > 1e-9 || math.Abs(f.Kelvins()*1.8-warm) > 1e-9 {
			t.Errorf("a difference of %v °F is %v K", warm, f.Kelvins())
		}
	})
}
