package quantity

// Ratio is a quotient of two like quantities: a tolerance as a share, a margin,
// a friction factor. 1 is the whole.
type Ratio float64

func Percent(v float64) Ratio { return Ratio(v / 100) }

func (r Ratio) Percent() float64 { return float64(r) * 100 }

func (r Ratio) String() string { return figure(r.Percent(), 1) + " %" }
