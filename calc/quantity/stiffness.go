package quantity

import "strutcard/calc/lang"

// Stiffness in newtons per metre: the rate of a spring or at a wheel.
type Stiffness float64

// StiffnessUnit is a unit of spring rate, written as people see it.
type StiffnessUnit string

const (
	NewtonPerMillimetre        StiffnessUnit = "N/mm"
	KilogramForcePerMillimetre StiffnessUnit = "kgf/mm"
	PoundForcePerInch          StiffnessUnit = "lbf/in"
)

var stiffnessUnits = map[StiffnessUnit]scale{
	NewtonPerMillimetre:        {1e3, 1, "newtons per millimetre"},
	KilogramForcePerMillimetre: {newtonPerKgf * 1e3, 2, "kilograms-force per millimetre"},
	PoundForcePerInch:          {newtonPerLbf / metrePerInch, 0, "pounds-force per inch"},
}

// StiffnessUnits lists the units a person can choose from.
func StiffnessUnits() []StiffnessUnit {
	return []StiffnessUnit{NewtonPerMillimetre, KilogramForcePerMillimetre, PoundForcePerInch}
}

// Valid reports whether u is one of the units here.
func (u StiffnessUnit) Valid() bool { _, ok := stiffnessUnits[u]; return ok }

// Words is the unit in full.
func (u StiffnessUnit) Words() string { return lang.T(stiffnessUnits[u].words) }

func NewtonsPerMetre(v float64) Stiffness      { return Stiffness(v) }
func NewtonsPerMillimetre(v float64) Stiffness { return Stiffness(v * 1e3) }
func KilogramsForcePerMillimetre(v float64) Stiffness {
	return Stiffness(v * stiffnessUnits[KilogramForcePerMillimetre].base)
}
func PoundsForcePerInch(v float64) Stiffness {
	return Stiffness(v * stiffnessUnits[PoundForcePerInch].base)
}

func (s Stiffness) NewtonsPerMetre() float64      { return float64(s) }
func (s Stiffness) NewtonsPerMillimetre() float64 { return float64(s) / 1e3 }
func (s Stiffness) PoundsForcePerInch() float64 {
	return float64(s) / stiffnessUnits[PoundForcePerInch].base
}

func (s Stiffness) String() string { return FormatStiffness(s, NewtonPerMillimetre) }

// StiffnessOf reads a number whose unit was chosen beside it, not below zero.
func StiffnessOf(text string, u StiffnessUnit) (Stiffness, error) {
	v, err := stiffnessUnits[u].positive(text, lang.T("A spring rate"), lang.T("No unit of spring rate is chosen."), lang.T("N/mm, kgf/mm or lbf/in"))
	return Stiffness(v), err
}

// StiffnessFigure is the number alone in u. An unknown unit gives "not a number".
func StiffnessFigure(s Stiffness, u StiffnessUnit) string {
	return stiffnessUnits[u].figure(float64(s))
}

// FormatStiffness is the number and its unit, such as "28.1 N/mm".
func FormatStiffness(s Stiffness, u StiffnessUnit) string {
	return StiffnessFigure(s, u) + " " + string(u)
}
