package quantity

import "strutcard/calc/lang"

// scale is one unit of a quantity: its size in the base unit, the decimals that
// people use, and its name in full.
type scale struct {
	base     float64
	decimals int
	words    string
}

// positive reads a number whose unit was chosen beside it, in base units, and
// refuses one below zero. Subject, such as "A pressure", begins that sentence;
// noUnit is said without a unit, and choice lists the units.
func (s scale) positive(text, subject, noUnit, choice string) (float64, error) {
	if _, t, err := bare(text, true); err == nil && t.negative {
		return 0, t.notNegative(subject)
	}
	if s.base == 0 {
		return 0, &InputError{noUnit, lang.F("Choose %s.", choice)}
	}
	v, _, err := bare(text, s.decimals > 0)
	return v * s.base, err
}

// figure is the number alone.
func (s scale) figure(v float64) string {
	if s.base == 0 {
		return lang.T(notFinite)
	}
	return figure(v/s.base, s.decimals)
}
