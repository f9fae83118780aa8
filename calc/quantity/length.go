package quantity

import "strutcard/calc/lang"

// Length in metres.
type Length float64

// LengthUnit is a unit of length, written as people see it.
type LengthUnit string

const (
	Millimetre LengthUnit = "mm"
	Centimetre LengthUnit = "cm"
	Metre      LengthUnit = "m"
	Inch       LengthUnit = "in"
)

var lengthUnits = map[LengthUnit]struct {
	perMetre float64
	decimals int
	words    string
}{
	Millimetre: {1000, 2, "millimetres"},
	Centimetre: {100, 3, "centimetres"},
	Metre:      {1, 4, "metres"},
	Inch:       {1 / metrePerInch, 3, "inches"},
}

var lengthNames = map[string]LengthUnit{
	"mm": Millimetre, "cm": Centimetre, "m": Metre,
	"in": Inch, "inch": Inch, "inches": Inch, "″": Inch, "\"": Inch, "”": Inch,
}

const lengthChoice = "mm, cm, m or in"

// LengthUnits lists the units a person can choose from.
func LengthUnits() []LengthUnit { return []LengthUnit{Millimetre, Centimetre, Metre, Inch} }

// Valid reports whether u is one of the units here.
func (u LengthUnit) Valid() bool { _, ok := lengthUnits[u]; return ok }

// Words is the unit in full.
func (u LengthUnit) Words() string { return lang.T(lengthUnits[u].words) }

func Metres(v float64) Length      { return Length(v) }
func Centimetres(v float64) Length { return Length(v / 100) }
func Millimetres(v float64) Length { return Length(v / 1000) }
func Inches(v float64) Length      { return Length(v * metrePerInch) }

func (l Length) Metres() float64      { return float64(l) }
func (l Length) Centimetres() float64 { return float64(l) * 100 }
func (l Length) Millimetres() float64 { return float64(l) * 1000 }
func (l Length) Inches() float64      { return float64(l) / metrePerInch }

// UM is the length in the record, in micrometres.
func (l Length) UM() int64 { return wire(float64(l) * 1e6) }

// LengthFromUM is the inverse of UM.
func LengthFromUM(um int64) Length { return Length(float64(um) / 1e6) }

func (l Length) String() string { return FormatLength(l, Millimetre) }

// ParseLength reads a number with its unit, such as "12.5 mm" or "0.5 in".
// Feet and fractions are refused. It may be negative.
func ParseLength(text string) (Length, error) {
	t, err := split(text)
	if err != nil {
		return 0, err
	}
	u, err := unit(t, lengthNames, lang.T(lengthChoice))
	if err != nil {
		return 0, err
	}
	v, err := t.value(u != Millimetre)
	return u.length(v), err
}

// LengthOf reads a number whose unit was chosen beside it. It may be negative.
func LengthOf(text string, u LengthUnit) (Length, error) {
	if !u.Valid() {
		return 0, &InputError{lang.T("No unit of length is chosen."), lang.F("Choose %s.", lang.T(lengthChoice))}
	}
	v, _, err := bare(text, u != Millimetre)
	return u.length(v), err
}

func (u LengthUnit) length(v float64) Length {
	switch u {
	case Inch:
		return Inches(v)
	default:
		return Length(v / lengthUnits[u].perMetre)
	}
}

// LengthFigure is the number alone in u, fine enough for a ruler or a calliper.
// An unknown unit gives "not a number".
func LengthFigure(l Length, u LengthUnit) string {
	if !u.Valid() {
		return lang.T(notFinite)
	}
	return figure(float64(l)*lengthUnits[u].perMetre, lengthUnits[u].decimals)
}

// FormatLength is the number and its unit, such as "12.5 mm".
func FormatLength(l Length, u LengthUnit) string { return LengthFigure(l, u) + " " + string(u) }
