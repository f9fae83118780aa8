package measure

import (
	"math"

	"strutcard/calc/quantity"
)

// student is Student's t for 95.45 %, by degrees of freedom from 1, as in
// JCGM 100:2008, table G.2.
var student = []float64{13.97, 4.53, 3.31, 2.87, 2.65, 2.52, 2.43, 2.37, 2.32, 2.28,
	2.25, 2.23, 2.21, 2.20, 2.18, 2.17, 2.16, 2.15, 2.14, 2.13}

// TypeA is the standard uncertainty of the mean of repeated readings: s/√n with
// the experimental standard deviation s (JCGM 100:2008, 4.2.3). It wants two
// readings at least.
func TypeA[Q Quantity](readings []Q) (Q, error) {
	if len(readings) < 2 {
		return 0, quantity.Inputf("Take the level away, put it back, and read again.", "One reading says nothing about how well it repeats.")
	}
	mean, err := Mean(readings)
	if err != nil {
		return 0, err
	}
	var sum float64
	for _, r := range readings {
		sum += float64(r-mean) * float64(r-mean)
	}
	n := float64(len(readings))
	return Q(math.Sqrt(sum / (n - 1) / n)), nil
}

// Mean is the arithmetic mean. It fails without readings or with one that is
// not a finite number.
func Mean[Q Quantity](readings []Q) (Q, error) {
	if len(readings) == 0 {
		return 0, quantity.Inputf("Take one and enter it.", "There is no reading yet.")
	}
	mean := Q(0)
	for i, r := range readings {
		if !quantity.Finite(r) {
			return 0, quantity.Inputf("Take that reading again.", "Reading %d is not a number.", i+1)
		}
		mean += (r - mean) / Q(i+1)
	}
	return mean, nil
}

// Repeated is the mean of readings of a scale with a mark every res.
//
// Its standard uncertainty combines the resolution, which repeating does not
// improve, with what Again adds. A single reading is taken as Read does.
func Repeated[Q Quantity](readings []Q, res Q) (Value[Q], error) {
	if len(readings) == 0 {
		_, err := Mean(readings)
		return Value[Q]{}, err
	}
	takes := make([]Value[Q], len(readings))
	for i, r := range readings {
		var err error
		if takes[i], err = Read(r, res); err != nil {
			if _, notNumber := Mean(readings); notNumber != nil {
				err = notNumber
			}
			return Value[Q]{}, err
		}
	}
	return Again(takes)
}

// Again is the mean of takes of the same thing, each with what one of them can
// be wrong by: a ruler's marks, a level's length. That part is common to all and
// repeating does not improve it, so the largest of them stays whole.
//
// To it comes TypeA times t/2. The factor widens the interval for few takes so
// that k = 2 still stands for about 95 % (JCGM 100:2008, G.3): two takes that
// differ say little, and the factor is 7. A single take comes back as it is.
func Again[Q Quantity](takes []Value[Q]) (Value[Q], error) {
	readings := make([]Q, len(takes))
	var one Q
	for i, t := range takes {
		if !quantity.Finite(t.Standard) || t.Standard < 0 {
			return Value[Q]{}, quantity.Inputf("Take that reading again.", "Take %d has no uncertainty.", i+1)
		}
		readings[i], one = t.Value, max(one, t.Standard)
	}
	mean, err := Mean(readings)
	if err != nil || len(takes) == 1 {
		return Value[Q]{Value: mean, Standard: one}, err
	}
	a, err := TypeA(readings)
	if err != nil {
		return Value[Q]{}, err
	}
	widen := student[min(len(readings)-1, len(student))-1] / Coverage
	return Value[Q]{Value: mean, Standard: Combine(one, a*Q(widen))}, nil
}
