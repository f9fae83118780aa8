package tilt

import (
	"math"

	"strutcard/calc/quantity"
)

// State says what a recording can be used for.
type State string

const (
	Still      State = "still"
	Moving     State = "moving"      // it shook, jumped, crept or fell
	NotGravity State = "not_gravity" // at rest, but what it shows is not gravity
)

// Stillness is the state with the numbers it comes from.
type Stillness struct {
	State State
	// Spread is the largest standard deviation of a component, Jump the largest
	// departure of one sample from the mean, Creep the largest change from the
	// mean of the first quarter to that of the last.
	Spread, Jump, Creep quantity.Acceleration
	// Gravity is the length of the mean vector: about 9.8 at rest.
	Gravity quantity.Acceleration
}

// The limits are common practice, without a source. A phone on a table spreads
// by a few hundredths of m/s²; 0.15 is a lean of 0.9° to and fro.
const (
	MinSamples       = 50
	MinLastsMS int64 = 1000
	MaxGapMS   int64 = 250

	mostSpread = 0.15
	mostJump   = 0.6
	mostCreep  = 0.15
	gravity    = 9.80665
	mostOff    = 0.6 // from gravity: offset and gain of the sensor, and the place on Earth
)

// Check judges whether the phone was at rest under gravity alone. It fails when
// the samples are too few, too short, out of order, have a gap, or lack a
// component: then there is no recording to judge.
func Check(samples []Sample) (Stillness, error) {
	if err := checkSamples(samples); err != nil {
		return Stillness{}, err
	}
	var out Stillness
	total := 0.0
	for axis := range 3 {
		x := make([]float64, len(samples))
		for i, s := range samples {
			x[i] = float64(s.axes()[axis])
		}
		mean, quarter := average(x), len(x)/4
		squares := 0.0
		for _, v := range x {
			squares += (v - mean) * (v - mean)
			out.Jump = max(out.Jump, quantity.Acceleration(math.Abs(v-mean)))
		}
		out.Spread = max(out.Spread, quantity.Acceleration(math.Sqrt(squares/float64(len(x)-1))))
		out.Creep = max(out.Creep, quantity.Acceleration(math.Abs(average(x[len(x)-quarter:])-average(x[:quarter]))))
		total = math.Hypot(total, mean)
	}
	out.Gravity = quantity.Acceleration(total)
	out.State = out.judge()
	return out, nil
}

func (s Stillness) judge() State {
	switch {
	case !(s.Spread <= mostSpread && s.Jump <= mostJump && s.Creep <= mostCreep):
		return Moving
	case !(math.Abs(float64(s.Gravity)-gravity) <= mostOff):
		return NotGravity
	}
	return Still
}

// Advice says what is wrong and what to do, or "" when the phone was still.
func (s Stillness) Advice() string {
	if err := s.refusal(); err != nil {
		return err.Error()
	}
	return ""
}

func (s Stillness) refusal() error {
	switch s.State {
	case Still:
		return nil
	case Moving:
		return quantity.Inputf("Hold it against the surface with both hands or let go of it, wait a second, and measure again.", "The phone moved while it was measuring.")
	}
	return quantity.Inputf("Measure with a car and a phone at rest; if it stays like this, this phone cannot be used: take a level.", "The sensor shows %s m/s² at rest, and gravity is about 9.8 m/s².", decimals(s.Gravity, 1))
}

func average(x []float64) float64 {
	mean := 0.0
	for i, v := range x {
		mean += (v - mean) / float64(i+1)
	}
	return mean
}

func checkSamples(samples []Sample) error {
	for i, s := range samples {
		for _, a := range s.axes() {
			if !quantity.Finite(a) || math.Abs(float64(a)) > 1000 {
				return quantity.Inputf("Allow the motion sensor in the browser, or take a level.", "Sample %d of the phone's sensor has no usable value.", i+1)
			}
		}
		if i == 0 {
			continue
		}
		switch gap := s.AtMS - samples[i-1].AtMS; {
		case gap < 0:
			return quantity.Inputf("Measure again.", "The times of the samples run backwards at sample %d.", i+1)
		case gap > MaxGapMS:
			return quantity.Inputf("Keep the screen on and this page in front, and measure again.", "The recording has a gap before sample %d.", i+1)
		}
	}
	if n := len(samples); n < MinSamples || samples[n-1].AtMS-samples[0].AtMS < MinLastsMS {
		return quantity.Inputf("Hold the phone still for a second or two longer.", "There are too few samples: at least %d over %d ms are needed.", MinSamples, MinLastsMS)
	}
	return nil
}
