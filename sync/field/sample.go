package field

import (
	"math"
	"slices"
)

// Few is how many jobs it takes before values are summed up: with fewer they are
// shown one by one.
const Few = 5

// Sample is the values of one figure, sorted, and how many jobs they come from.
type Sample struct {
	Values []int64
	Jobs   int
}

func (s *Sample) add(values ...int64) {
	if len(values) > 0 {
		s.Values, s.Jobs = append(s.Values, values...), s.Jobs+1
	}
}

func (s Sample) sorted() Sample {
	s.Values = slices.Sorted(slices.Values(s.Values))
	return s
}

// Small reports whether the values come from too few jobs to be summed up.
func (s Sample) Small() bool { return s.Jobs < Few }

// Spread is where values lie.
type Spread struct{ Least, Q1, Median, Q3, Most int64 }

// Spread sums the values up. ok is false when they are too few.
func (s Sample) Spread() (spread Spread, ok bool) {
	if s.Small() {
		return Spread{}, false
	}
	v := s.Values
	return Spread{v[0], quantile(v, 0.25), quantile(v, 0.5), quantile(v, 0.75), v[len(v)-1]}, true
}

// quantile is number 7 of Hyndman and Fan, of sorted values.
func quantile(sorted []int64, p float64) int64 {
	at := p * float64(len(sorted)-1)
	below := int(at)
	if below+1 == len(sorted) {
		return sorted[below]
	}
	low, high := float64(sorted[below]), float64(sorted[below+1])
	return int64(math.Round(low + (at-float64(below))*(high-low)))
}
