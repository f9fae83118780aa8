package quantity

// Turns counts what an adjuster is moved by when that is not a length: turns of
// a thread, graduations of an eccentric, clicks. Each formula says which, and
// which way is positive.
type Turns float64

func Count(v float64) Turns { return Turns(v) }

func (t Turns) Count() float64 { return float64(t) }

func (t Turns) String() string { return figure(float64(t), 2) }

// CountOf reads a plain number, such as turns or graduations. It may be negative.
func CountOf(text string) (Turns, error) {
	v, _, err := bare(text, true)
	return Turns(v), err
}
