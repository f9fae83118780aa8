package quantity

import "strutcard/calc/lang"

// Ratio is a quotient of two like quantities: a tolerance as a share, a margin,
// a friction factor. 1 is the whole.
type Ratio float64

func Percent(v float64) Ratio { return Ratio(v / 100) }

func (r Ratio) Percent() float64 { return float64(r) * 100 }

func (r Ratio) String() string { return figure(r.Percent(), 1) + " %" }

// PercentOf reads a number of per cent, not below zero.
func PercentOf(text string) (Ratio, error) {
	v, t, err := bare(text, true)
	if err != nil {
		return 0, err
	}
	if err := t.notNegative(lang.T("A share")); err != nil {
		return 0, err
	}
	return Percent(v), nil
}
