package quantity

// scale is one unit of a quantity: its size in the base unit, the decimals that
// people use, and its name in full.
type scale struct {
	base     float64
	decimals int
	words    string
}

// amount reads a number whose unit was chosen beside it, in base units. Noun
// names the quantity in messages, choice its units.
func (s scale) amount(text, noun, choice string) (float64, error) {
	if s.base == 0 {
		return 0, Inputf("Choose "+choice+".", "No unit of %s is chosen.", noun)
	}
	v, _, err := bare(text, s.decimals > 0)
	return v * s.base, err
}

// positive is amount for what cannot be below zero.
func (s scale) positive(text, noun, choice string) (float64, error) {
	if _, t, err := bare(text, true); err == nil && t.negative {
		return 0, t.notNegative("A " + noun)
	}
	return s.amount(text, noun, choice)
}

// figure is the number alone.
func (s scale) figure(v float64) string {
	if s.base == 0 {
		return notFinite
	}
	return figure(v/s.base, s.decimals)
}
