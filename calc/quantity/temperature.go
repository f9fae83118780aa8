package quantity

import "strutcard/calc/lang"

// Temperature in kelvins, also for differences.
type Temperature float64

// TemperatureUnit is a unit of temperature, written as people see it.
type TemperatureUnit string

const (
	Celsius    TemperatureUnit = "°C"
	Fahrenheit TemperatureUnit = "°F"
)

const (
	iceKelvin     = 273.15
	iceFahrenheit = 32
	fahrenheits   = 1.8 // in one kelvin
)

// TemperatureUnits lists the units a person can choose from.
func TemperatureUnits() []TemperatureUnit { return []TemperatureUnit{Celsius, Fahrenheit} }

// Valid reports whether u is one of the units here.
func (u TemperatureUnit) Valid() bool { return u == Celsius || u == Fahrenheit }

// Words is the unit in full.
func (u TemperatureUnit) Words() string {
	return map[TemperatureUnit]string{Celsius: lang.T("degrees Celsius"), Fahrenheit: lang.T("degrees Fahrenheit")}[u]
}

func Kelvins(v float64) Temperature        { return Temperature(v) }
func DegreesCelsius(v float64) Temperature { return Temperature(v + iceKelvin) }
func DegreesFahrenheit(v float64) Temperature {
	return DegreesCelsius((v - iceFahrenheit) / fahrenheits)
}

// FahrenheitDifference is a difference of v on the Fahrenheit scale.
func FahrenheitDifference(v float64) Temperature { return Temperature(v / fahrenheits) }

func (t Temperature) Kelvins() float64    { return float64(t) }
func (t Temperature) Celsius() float64    { return float64(t) - iceKelvin }
func (t Temperature) Fahrenheit() float64 { return t.Celsius()*fahrenheits + iceFahrenheit }

// FahrenheitDifference is a difference written on the Fahrenheit scale.
func (t Temperature) FahrenheitDifference() float64 { return float64(t) * fahrenheits }

func (t Temperature) String() string { return FormatTemperature(t, Celsius) }

// TemperatureOf reads a number whose unit was chosen beside it; it may be below
// zero on that scale, but not colder than anything can be.
func TemperatureOf(text string, u TemperatureUnit) (Temperature, error) {
	if !u.Valid() {
		return 0, &InputError{lang.T("No unit of temperature is chosen."), lang.T("Choose °C or °F.")}
	}
	v, t, err := bare(text, false)
	if err != nil {
		return 0, err
	}
	got := DegreesCelsius(v)
	if u == Fahrenheit {
		got = DegreesFahrenheit(v)
	}
	if got < 0 {
		return 0, Inputf("Check the number and its unit.", "%s is colder than anything can be.", quote(t.all))
	}
	return got, nil
}

// TemperatureFigure is the whole number alone in u. An unknown unit gives "not a
// number".
func TemperatureFigure(t Temperature, u TemperatureUnit) string {
	switch u {
	case Celsius:
		return fixed(t.Celsius(), 0)
	case Fahrenheit:
		return fixed(t.Fahrenheit(), 0)
	}
	return lang.T(notFinite)
}

// FormatTemperature is the number and its unit, such as "62 °C".
func FormatTemperature(t Temperature, u TemperatureUnit) string {
	return TemperatureFigure(t, u) + " " + string(u)
}
