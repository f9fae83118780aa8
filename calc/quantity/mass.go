package quantity

import "strutcard/calc/lang"

// Mass in kilograms. What a stand or a jack is marked with is a mass too.
type Mass float64

// MassUnit is a unit of mass, written as people see it.
type MassUnit string

const (
	Kilogram MassUnit = "kg"
	Pound    MassUnit = "lb"
)

var massUnits = map[MassUnit]struct {
	kilograms float64
	words     string
}{
	Kilogram: {1, "kilograms"},
	Pound:    {kgPerPound, "pounds"},
}

var massNames = map[string]MassUnit{"kg": Kilogram, "kgs": Kilogram, "lb": Pound, "lbs": Pound}

const massChoice = "kg or lb"

// MassUnits lists the units a person can choose from.
func MassUnits() []MassUnit { return []MassUnit{Kilogram, Pound} }

// Valid reports whether u is one of the units here.
func (u MassUnit) Valid() bool { _, ok := massUnits[u]; return ok }

// Words is the unit in full.
func (u MassUnit) Words() string { return lang.T(massUnits[u].words) }

func Kilograms(v float64) Mass { return Mass(v) }
func Pounds(v float64) Mass    { return Mass(v * kgPerPound) }

// ShortTons are the US tons of 2000 lb that stands and jacks are often sold by.
func ShortTons(v float64) Mass { return Pounds(2000 * v) }

func (m Mass) Kilograms() float64 { return float64(m) }
func (m Mass) Pounds() float64    { return float64(m) / kgPerPound }
func (m Mass) ShortTons() float64 { return m.Pounds() / 2000 }

// Weight is the force with which the mass presses down, at g = 9.80665 m/s².
func (m Mass) Weight() Force { return Force(float64(m) * newtonPerKgf) }

// G is the mass in the record, in grams.
func (m Mass) G() int64 { return wire(float64(m) * 1000) }

// MassFromG is the inverse of G.
func MassFromG(g int64) Mass { return Mass(float64(g) / 1000) }

func (m Mass) String() string { return FormatMass(m, Kilogram) }

// ParseMass reads a number with its unit, such as "1450 kg". Tons are refused:
// the word means three different masses, and on a stand often a pair's.
func ParseMass(text string) (Mass, error) {
	t, err := split(text)
	if err != nil {
		return 0, err
	}
	switch unitKey(t.rest) {
	case "t", "ton", "tons", "tonne", "tonnes":
		return 0, Inputf("Find the rating in kg or lb on the label, and whether it is for one or for a pair.", "%s is in tons, which do not mean the same everywhere.", quote(t.all))
	}
	u, err := unit(t, massNames, lang.T(massChoice))
	if err != nil {
		return 0, err
	}
	return t.mass(u)
}

// MassOf reads a number whose unit was chosen beside it.
func MassOf(text string, u MassUnit) (Mass, error) {
	if !u.Valid() {
		return 0, &InputError{lang.T("No unit of mass is chosen."), lang.F("Choose %s.", lang.T(massChoice))}
	}
	_, t, err := bare(text, false)
	if err != nil {
		return 0, err
	}
	return t.mass(u)
}

func (t typed) mass(u MassUnit) (Mass, error) {
	if err := t.notNegative(lang.T("A mass")); err != nil {
		return 0, err
	}
	v, err := t.value(false)
	return Mass(v * massUnits[u].kilograms), err
}

// MassFigure is the number alone in u, with at most one decimal. An unknown
// unit gives "not a number".
func MassFigure(m Mass, u MassUnit) string { return figure(float64(m)/massUnits[u].kilograms, 1) }

// FormatMass is the number and its unit, such as "1450 kg".
func FormatMass(m Mass, u MassUnit) string { return MassFigure(m, u) + " " + string(u) }
