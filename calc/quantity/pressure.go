package quantity

import "strutcard/calc/lang"

// Pressure in pascals: of a tyre, above the air around it; of a bolt, its
// stress.
type Pressure float64

// PressureUnit is a unit of pressure, written as people see it.
type PressureUnit string

const (
	Bar                PressureUnit = "bar"
	Kilopascal         PressureUnit = "kPa"
	PoundPerSquareInch PressureUnit = "psi"
)

const pascalPerPSI = newtonPerLbf / (metrePerInch * metrePerInch)

var pressureUnits = map[PressureUnit]scale{
	Bar:                {1e5, 2, "bar"},
	Kilopascal:         {1e3, 0, "kilopascals"},
	PoundPerSquareInch: {pascalPerPSI, 1, "pounds per square inch"},
}

// PressureUnits lists the units a person can choose from.
func PressureUnits() []PressureUnit { return []PressureUnit{Bar, Kilopascal, PoundPerSquareInch} }

// Valid reports whether u is one of the units here.
func (u PressureUnit) Valid() bool { _, ok := pressureUnits[u]; return ok }

// Words is the unit in full.
func (u PressureUnit) Words() string { return lang.T(pressureUnits[u].words) }

func Bars(v float64) Pressure                   { return Pressure(v * 1e5) }
func Kilopascals(v float64) Pressure            { return Pressure(v * 1e3) }
func Megapascals(v float64) Pressure            { return Pressure(v * 1e6) }
func PoundsPerSquareInch(v float64) Pressure    { return Pressure(v * pascalPerPSI) }
func (p Pressure) Bars() float64                { return float64(p) / 1e5 }
func (p Pressure) Kilopascals() float64         { return float64(p) / 1e3 }
func (p Pressure) Megapascals() float64         { return float64(p) / 1e6 }
func (p Pressure) PoundsPerSquareInch() float64 { return float64(p) / pascalPerPSI }

func (p Pressure) String() string { return FormatPressure(p, Bar) }

// PressureOf reads a number whose unit was chosen beside it, not below zero.
func PressureOf(text string, u PressureUnit) (Pressure, error) {
	v, err := pressureUnits[u].positive(text, lang.T("A pressure"), lang.T("No unit of pressure is chosen."), lang.T("bar, kPa or psi"))
	return Pressure(v), err
}

// PressureFigure is the number alone in u. An unknown unit gives "not a number".
func PressureFigure(p Pressure, u PressureUnit) string { return pressureUnits[u].figure(float64(p)) }

// FormatPressure is the number and its unit, such as "2.2 bar".
func FormatPressure(p Pressure, u PressureUnit) string { return PressureFigure(p, u) + " " + string(u) }
