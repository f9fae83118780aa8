package spring

import (
	"strutcard/calc/lang"
	"strutcard/calc/quantity"
)

// Sizes beyond these are units mixed up: no car has them. The limits also keep
// every result finite.
const (
	leastRate, mostRate       quantity.Stiffness = 10, 1e7
	leastMass, mostMass       quantity.Mass      = 1, 1e5
	leastLength, mostLength   quantity.Length    = 1e-6, 10
	leastForce, mostForce     quantity.Force     = 0.1, 1e6
	leastSwing, mostSwing     quantity.Frequency = 0.01, 100
	leastDamping, mostDamping quantity.Damping   = 0.01, 1e7
	leastCount, mostCount     quantity.Turns     = 0.01, 1e3
)

// within refuses what is missing, not a number, or of a size that no car has.
func within[Q quantity.Quantity](q, least, most Q, noun string) error {
	if !(q >= least && q <= most) { // also true for NaN
		return quantity.Inputf("Enter it as a size above zero and check its unit.", "%s is missing, or of a size that no car has.", noun)
	}
	return nil
}

// size is within for what may be nothing at all.
func size[Q quantity.Quantity](q, most Q, noun string) error {
	if !(q >= 0 && q <= most) {
		return quantity.Inputf("Enter it as a size, without a sign, and check its unit.", "%s is below zero, or of a size that no car has.", noun)
	}
	return nil
}

func checkRate(k quantity.Stiffness, noun string) error { return within(k, leastRate, mostRate, noun) }
func checkMass(m quantity.Mass) error                   { return within(m, leastMass, mostMass, lang.T("The mass")) }

// first is the first of the errors that is one.
func first(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// gravity is the standard acceleration, from the weight of one kilogram.
func gravity() float64 { return quantity.Kilograms(1).Weight().Newtons() }
