package quantity

import "strutcard/calc/lang"

// Torque in newton metres. Positive tightens a right-hand thread.
type Torque float64

// TorqueUnit is a unit of torque, written as people see it.
type TorqueUnit string

const (
	NewtonMetre             TorqueUnit = "N·m"
	PoundFoot               TorqueUnit = "lbf·ft"
	PoundInch               TorqueUnit = "lbf·in"
	KilogramForceMetre      TorqueUnit = "kgf·m"
	KilogramForceCentimetre TorqueUnit = "kgf·cm"
)

const (
	newtonPerKgf = 9.80665 // exact, by definition of g
	kgPerPound   = 0.45359237
	metrePerFoot = 0.3048
	metrePerInch = 0.0254
	newtonPerLbf = kgPerPound * newtonPerKgf
)

var torqueUnits = map[TorqueUnit]struct {
	newtonMetres float64
	words        string
}{
	NewtonMetre:             {1, "newton metres"},
	PoundFoot:               {newtonPerLbf * metrePerFoot, "pound-feet"},
	PoundInch:               {newtonPerLbf * metrePerInch, "pound-inches"},
	KilogramForceMetre:      {newtonPerKgf, "kilogram-force metres"},
	KilogramForceCentimetre: {newtonPerKgf / 100, "kilogram-force centimetres"},
}

var torqueNames = map[string]TorqueUnit{
	"nm":   NewtonMetre,
	"lbft": PoundFoot, "lbfft": PoundFoot, "lbsft": PoundFoot, "ftlb": PoundFoot, "ftlbf": PoundFoot, "ftlbs": PoundFoot,
	"lbin": PoundInch, "lbfin": PoundInch, "lbsin": PoundInch, "inlb": PoundInch, "inlbf": PoundInch, "inlbs": PoundInch,
	"kgfm": KilogramForceMetre, "kgm": KilogramForceMetre, "mkgf": KilogramForceMetre, "mkg": KilogramForceMetre,
	"kgfcm": KilogramForceCentimetre, "kgcm": KilogramForceCentimetre, "cmkgf": KilogramForceCentimetre, "cmkg": KilogramForceCentimetre,
}

const torqueChoice = "N·m, lbf·ft, lbf·in, kgf·m or kgf·cm"

// TorqueUnits lists the units a person can choose from.
func TorqueUnits() []TorqueUnit {
	return []TorqueUnit{NewtonMetre, PoundFoot, PoundInch, KilogramForceMetre, KilogramForceCentimetre}
}

// Valid reports whether u is one of the units here.
func (u TorqueUnit) Valid() bool { _, ok := torqueUnits[u]; return ok }

// Words is the unit in full, so that lbf·in is not taken for lbf·ft.
func (u TorqueUnit) Words() string { return lang.T(torqueUnits[u].words) }

func NewtonMetres(v float64) Torque             { return Torque(v) }
func PoundFeet(v float64) Torque                { return in(v, PoundFoot) }
func PoundInches(v float64) Torque              { return in(v, PoundInch) }
func KilogramForceMetres(v float64) Torque      { return in(v, KilogramForceMetre) }
func KilogramForceCentimetres(v float64) Torque { return in(v, KilogramForceCentimetre) }

func in(v float64, u TorqueUnit) Torque { return Torque(v * torqueUnits[u].newtonMetres) }

func (t Torque) NewtonMetres() float64             { return float64(t) }
func (t Torque) PoundFeet() float64                { return t.as(PoundFoot) }
func (t Torque) PoundInches() float64              { return t.as(PoundInch) }
func (t Torque) KilogramForceMetres() float64      { return t.as(KilogramForceMetre) }
func (t Torque) KilogramForceCentimetres() float64 { return t.as(KilogramForceCentimetre) }

func (t Torque) as(u TorqueUnit) float64 { return float64(t) / torqueUnits[u].newtonMetres }

// CNM is the torque in the record, in hundredths of a newton metre.
func (t Torque) CNM() int64 { return wire(float64(t) * 100) }

// TorqueFromCNM is the inverse of CNM.
func TorqueFromCNM(cnm int64) Torque { return Torque(float64(cnm) / 100) }

func (t Torque) String() string { return FormatTorque(t, NewtonMetre) }

// ParseTorque reads a number with its unit, such as "118 N·m" or "87 lb-ft".
// kg·m is taken for kgf·m, as older manuals write it. "lb" alone is refused.
func ParseTorque(text string) (Torque, error) {
	t, err := split(text)
	if err != nil {
		return 0, err
	}
	if key := unitKey(t.rest); key == "lb" || key == "lbs" || key == "lbf" {
		return 0, Inputf("Look at the source: pound-feet (lbf·ft) are twelve times pound-inches (lbf·in).", "%s does not say whether feet or inches are meant.", quote(t.all))
	}
	u, err := unit(t, torqueNames, lang.T(torqueChoice))
	if err != nil {
		return 0, err
	}
	return t.torque(u)
}

// TorqueOf reads a number whose unit was chosen beside it.
func TorqueOf(text string, u TorqueUnit) (Torque, error) {
	if !u.Valid() {
		return 0, &InputError{lang.T("No unit of torque is chosen."), lang.F("Choose the unit that the source gives: %s.", lang.T(torqueChoice))}
	}
	_, t, err := bare(text, u == KilogramForceMetre)
	if err != nil {
		return 0, err
	}
	return t.torque(u)
}

func (t typed) torque(u TorqueUnit) (Torque, error) {
	if err := t.notNegative(lang.T("A torque")); err != nil {
		return 0, err
	}
	v, err := t.value(u == KilogramForceMetre)
	return in(v, u), err
}

// TorqueFigure is the number alone in u: two decimals below ten and for kgf·m,
// one above, trailing zeros dropped. An unknown unit gives "not a number".
func TorqueFigure(t Torque, u TorqueUnit) string {
	v := t.as(u)
	if u == KilogramForceMetre || (v > -10 && v < 10) {
		return figure(v, 2)
	}
	return figure(v, 1)
}

// FormatTorque is the number and its unit in full, such as "118 N·m".
func FormatTorque(t Torque, u TorqueUnit) string { return TorqueFigure(t, u) + " " + string(u) }
