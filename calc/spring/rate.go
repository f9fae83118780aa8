package spring

import (
	"strutcard/calc/lang"
	"strutcard/calc/quantity"
)

// Names of these calculations in the record. Each changes when a result does.
const (
	FormulaWheelRate  = "wheel-rate/1"
	FormulaRideRate   = "ride-rate/1"
	FormulaDeflection = "spring-deflection/1"
	FormulaCollar     = "collar-travel/1"
)

// WheelRate is what a spring's rate comes to at the wheel.
func WheelRate(spring quantity.Stiffness, m Motion) (quantity.Stiffness, error) {
	r, err := m.springPerWheel()
	if err := first(checkRate(spring, lang.T("The spring rate")), err); err != nil {
		return 0, err
	}
	return quantity.Stiffness(float64(spring) * r * r), nil
}

// SpringRate is the inverse of WheelRate.
func SpringRate(wheel quantity.Stiffness, m Motion) (quantity.Stiffness, error) {
	r, err := m.springPerWheel()
	if err := first(checkRate(wheel, lang.T("The wheel rate")), err); err != nil {
		return 0, err
	}
	return quantity.Stiffness(float64(wheel) / (r * r)), nil
}

// RideRate is the wheel rate with the tyre, a spring too, below it in series.
// It is always below both.
func RideRate(wheel, tyre quantity.Stiffness) (quantity.Stiffness, error) {
	if err := first(checkRate(wheel, lang.T("The wheel rate")), checkRate(tyre, lang.T("The tyre rate"))); err != nil {
		return 0, err
	}
	return wheel * tyre / (wheel + tyre), nil
}

// Deflection is how much shorter a spring gets under a load.
func Deflection(load quantity.Force, rate quantity.Stiffness) (quantity.Length, error) {
	if err := first(within(load, leastForce, mostForce, lang.T("The load")), checkRate(rate, lang.T("The spring rate"))); err != nil {
		return 0, err
	}
	return quantity.Length(float64(load) / float64(rate)), nil
}

// RateFromLoad is the rate of a spring that gets shorter by that much under a
// load.
func RateFromLoad(load quantity.Force, shorter quantity.Length) (quantity.Stiffness, error) {
	if err := first(within(load, leastForce, mostForce, lang.T("The load")), within(shorter, leastLength, mostLength, lang.T("The deflection"))); err != nil {
		return 0, err
	}
	return quantity.Stiffness(float64(load) / float64(shorter)), nil
}

// WheelTravel is how far the wheel moves while its spring moves by travel.
func WheelTravel(travel quantity.Length, m Motion) (quantity.Length, error) {
	r, err := m.springPerWheel()
	if err := first(size(travel, mostLength, lang.T("The spring's travel")), err); err != nil {
		return 0, err
	}
	return travel / quantity.Length(r), nil
}

// CollarTravel is how far a collar moves along its thread: turns times pitch,
// the pitch being that of a thread with one start (ISO 68-1).
func CollarTravel(turns quantity.Turns, pitch quantity.Length) (quantity.Length, error) {
	if err := first(size(turns, mostCount, lang.T("The number of turns")), within(pitch, leastLength, mostLength, lang.T("The pitch"))); err != nil {
		return 0, err
	}
	return quantity.Length(turns) * pitch, nil
}

// Way is the direction in which a collar is turned or a height is to change. The
// zero Way says nothing.
type Way string

const (
	Raise Way = "raise" // the car, at that corner
	Lower Way = "lower"
)

func (w Way) check() error {
	if w == Raise || w == Lower {
		return nil
	}
	return quantity.Inputf("Choose raise or lower.", "It is not said whether the car is raised or lowered.")
}

// TurnsForWheel is how many turns of a collar move the wheel by change while the
// body is held: change · spring per wheel / pitch. On the car the collar is
// better measured out, by trying: see the package ride.
func TurnsForWheel(change, pitch quantity.Length, m Motion) (quantity.Turns, error) {
	r, err := m.springPerWheel()
	if err := first(size(change, mostLength, lang.T("The change")), within(pitch, leastLength, mostLength, lang.T("The pitch")), err); err != nil {
		return 0, err
	}
	return quantity.Turns(float64(change) * r / float64(pitch)), nil
}
