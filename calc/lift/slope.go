package lift

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// Run says along what the length of a slope was measured.
type Run string

const (
	AlongLevel  Run = "level"  // a level held level: fall over level run, the usual per cent
	AlongGround Run = "ground" // a straightedge lying on the ground
)

// Way is where the ground falls to, seen from the driver's seat.
type Way string

const (
	ToFront Way = "front"
	ToRear  Way = "rear"
	ToLeft  Way = "left"
	ToRight Way = "right"
)

// Slope is the fall of the ground over a length, measured with a level and a
// ruler. Down may be empty only when there is no fall.
type Slope struct {
	Fall, Over quantity.Length
	Run        Run
	Down       Way
	Resolution quantity.Length // of the ruler that read the fall
}

func (s Slope) said() bool { return s != Slope{} }

// Grade is the slope as fall over level run: 3 % is 0.03. Never negative.
func Grade(s Slope) (measure.Value[quantity.Ratio], error) {
	if err := s.check(); err != nil {
		return measure.Value[quantity.Ratio]{}, err
	}
	f := func(x ...float64) float64 { return x[0] / x[1] }
	if s.Run == AlongGround {
		f = func(x ...float64) float64 { return math.Tan(math.Asin(x[0] / x[1])) }
	}
	return measured[quantity.Ratio](f, read(s.Fall, s.Resolution), read(s.Over, s.Resolution)), nil
}

func (s Slope) check() error {
	for _, l := range []quantity.Length{s.Fall, s.Over} {
		if !quantity.Finite(l) || l < 0 {
			return quantity.Inputf("Measure the fall over a metre again.", "A length of the slope is below zero or not a number.")
		}
	}
	if err := checkTape(s.Resolution); err != nil {
		return err
	}
	switch {
	case s.Run != AlongLevel && s.Run != AlongGround:
		return quantity.Inputf("Choose along the level, or along the ground.", "It is not said how the length of the slope was measured.")
	case s.Over < quantity.Millimetres(300):
		return quantity.Inputf("Use a level or a straightedge of 300 mm or more, better a metre.", "The slope is measured over too short a length.")
	case float64(s.Fall+s.Resolution) > possibleSlope.hi*float64(s.Over-s.Resolution):
		return quantity.Inputf("Check the numbers and their unit. If it is so, no car is raised there.", "The ground falls by more than a quarter of the length.")
	case s.Fall > 0 && s.Down == "":
		return quantity.Inputf("Say towards which end or side the ground falls.", "It is not said which way is downhill.")
	}
	return one(lang.T("the way downhill"), s.Down, ToFront, ToRear, ToLeft, ToRight)
}

// GradeAngle is the angle of a grade: atan(fall / level run).
func GradeAngle(grade quantity.Ratio) quantity.Angle {
	return quantity.Radians(math.Atan(float64(grade)))
}

// GradeAlongGround is the same slope as fall over the length along the ground.
func GradeAlongGround(grade quantity.Ratio) quantity.Ratio {
	return quantity.Ratio(math.Sin(math.Atan(float64(grade))))
}

// DownhillForce is the force that pulls a mass down a slope: m·g·sin θ.
func DownhillForce(m quantity.Mass, slope quantity.Angle) (quantity.Force, error) {
	switch {
	case !quantity.Finite(m) || m <= 0:
		return 0, quantity.Inputf("Enter the mass of the car.", "The mass is missing or not above zero.")
	case !quantity.Finite(slope) || slope < 0 || slope > quantity.Degrees(45):
		return 0, quantity.Inputf("Enter the slope as an angle without a sign.", "The slope is below zero, beyond 45° or not a number.")
	}
	return m.Weight() * quantity.Force(math.Sin(slope.Radians())), nil
}

// DownhillAxle is the load of the axle at the downhill end of a car on a slope:
//
//	axle·cosθ + total·sinθ·h/L
//
// height is that of the centre of gravity above the ground, with its own
// standard uncertainty. The load is that pressed square onto the ground.
func DownhillAxle(a Axles, down End, slope quantity.Angle, height measure.Value[quantity.Length], wheelbase, resolution quantity.Length) (measure.Value[quantity.Mass], error) {
	if err := checkPair(a, down, Support{Place: AtAxle, Resolution: resolution}, wheelbase, resolution); err != nil {
		return measure.Value[quantity.Mass]{}, err
	}
	if err := checkHeight(height); err != nil {
		return measure.Value[quantity.Mass]{}, err
	}
	if !quantity.Finite(slope) || slope < 0 || math.Tan(slope.Radians()) > possibleSlope.hi {
		return measure.Value[quantity.Mass]{}, quantity.Inputf("Enter the slope as an angle without a sign, and say which end is downhill.", "The slope is below zero, too steep for any lift or not a number.")
	}
	sin, cos := math.Sincos(slope.Radians())
	return measured[quantity.Mass](pairKernel, readingOf(a.of(down)), readingOf(a.of(down.other())), read(wheelbase, resolution), reading{},
		readingOf(height), reading{value: cos}, reading{value: sin}, reading{}, reading{}), nil
}

// Limits of the slope. Common practice, no source: the sources read only say
// hard and level, and not on a sloped surface.
const (
	SlopeAsked   quantity.Ratio = 0.01
	SlopeStopped quantity.Ratio = 0.03
)

// SlopeVerdict is what a slope means for lifting.
type SlopeVerdict string

const (
	SlopeFine SlopeVerdict = "fine"
	SlopeAsk  SlopeVerdict = "ask"  // look for a more level place first
	SlopeStop SlopeVerdict = "stop" // no lifting here
)

// JudgeSlope judges a grade at the steep end of its uncertainty. A slope that
// is no number stops.
func JudgeSlope(grade measure.Value[quantity.Ratio]) SlopeVerdict {
	steep := quantity.Ratio(math.Abs(float64(grade.Value))) + grade.Expanded()
	switch {
	case !quantity.Finite(steep) || grade.Standard < 0 || steep > SlopeStopped:
		return SlopeStop
	case steep > SlopeAsked:
		return SlopeAsk
	}
	return SlopeFine
}
