package quantity

// Area in square metres.
type Area float64

func SquareMillimetres(v float64) Area { return Area(v / 1e6) }
func SquareInches(v float64) Area      { return Area(v * metrePerInch * metrePerInch) }

func (a Area) SquareMillimetres() float64 { return float64(a) * 1e6 }
func (a Area) SquareInches() float64      { return float64(a) / (metrePerInch * metrePerInch) }

func (a Area) String() string { return figure(a.SquareMillimetres(), 1) + " mm²" }
