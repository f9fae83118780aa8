package method

import (
	"math"

	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// Average is the reading that several takes of it come to: their mean, with
// what one take can be wrong by and what their scatter adds. Formula and
// instrument are those of the last.
func Average(takes []Reading) (Reading, error) {
	values := make([]measure.Value[quantity.Turns], len(takes)) // in wire units, whatever they are
	for i, t := range takes {
		values[i] = measure.Value[quantity.Turns]{Value: quantity.Turns(t.Value), Standard: quantity.Turns(t.U95) / measure.Coverage}
	}
	mean, err := measure.Again(values)
	if err != nil {
		return Reading{}, err
	}
	out := takes[len(takes)-1]
	out.Value, out.U95 = round(mean.Value), round(mean.Expanded())
	return out, nil
}

// apart is how many times further than two takes can be wrong by they may lie from
// one another before it is asked about. Common practice, no source.
const apart = 5

// Apart reports whether takes differ as if something was read the wrong way round
// once: by far more than they can be wrong by, or in the sign.
func Apart(takes []Reading) bool {
	for i, a := range takes {
		for _, b := range takes[:i] {
			far := math.Abs(float64(a.Value-b.Value)) > apart*math.Hypot(float64(a.U95), float64(b.U95))
			if far || a.Value > a.U95 && b.Value < -b.U95 || b.Value > b.U95 && a.Value < -a.U95 {
				return true
			}
		}
	}
	return false
}

// round goes through a unit that rounds once, halves away from zero.
func round(t quantity.Turns) int64 { return quantity.Length(t / 1e6).UM() }
