package quantity

import "math"

// Unrepresentable is what the integer methods give for a value that is not
// finite or too large to be meant. It lies outside every range of the record.
const Unrepresentable int64 = math.MinInt64

const (
	wireLimit = 1e12  // a thousand kilometres in micrometres
	tieSlack  = 1e-14 // relative; far above float64 noise, far below a wire unit
)

// wire rounds a value in wire units once, halves away from zero. The slack
// lets 1.2345° stay the tie it was when typed, on every processor.
func wire(v float64) int64 {
	if !(math.Abs(v) < wireLimit) { // also true for NaN
		return Unrepresentable
	}
	return int64(math.Round(v * (1 + tieSlack)))
}

// Finite reports whether q is a number that can be worked with.
func Finite[Q Quantity](q Q) bool {
	return !math.IsNaN(float64(q)) && !math.IsInf(float64(q), 0)
}
