package method

import (
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

// round goes through a unit that rounds once, halves away from zero.
func round(t quantity.Turns) int64 { return quantity.Length(t / 1e6).UM() }
