package torque

import "strutcard/calc/quantity"

// A unit taken for its neighbour is wrong by this much: kgf·m for N·m and
// lbf·in for N·m at the least, lbf·in for lbf·ft at the most.
const (
	leastSlip quantity.Torque = 8.8
	mostSlip  quantity.Torque = 12
)

// Question is a sentence to put to the person about a final torque that looks
// wrong for its thread, or "" when there is nothing to ask.
//
// It only asks: a small bracket or an aluminium part may well have less. An
// empty answer is no approval, least of all for a thread that is not Known. A
// snug or other early pass is low on purpose and is not to be asked about.
func Question(thread string, t quantity.Torque) string {
	if !quantity.Finite(t) || t <= 0 {
		return "The torque is not above zero. Look it up in the manual and enter it with its unit."
	}
	known, ok := parseThread(thread)
	if !ok {
		return ""
	}
	low, high := known.normal()
	said := quantity.FormatTorque(t, quantity.NewtonMetre)
	switch {
	case t > high:
		return said + " is more than an " + known.name + " bolt is normally tightened to." + slipDown(t, low, high) + again
	case t < low:
		return said + " is less than an " + known.name + " bolt normally needs to hold." + slipUp(t, low, high) + again
	}
	return ""
}

const again = " Compare the number, its unit and the thread with the source once more."

func slipDown(t, low, high quantity.Torque) string {
	if t/mostSlip <= high && t/leastSlip >= low {
		return " If the source says lbf·in or kgf·cm, this is about ten times too much."
	}
	return ""
}

func slipUp(t, low, high quantity.Torque) string {
	if t*mostSlip >= low && t*leastSlip <= high {
		return " If the source says lbf·ft or kgf·m, this is about ten times too little."
	}
	return ""
}

// ToleranceQuestion is a sentence to put to the person about a tolerance that
// is as wide as the torque or wider, or "" when there is nothing to ask.
func ToleranceQuestion(t, tolerance quantity.Torque) string {
	switch {
	case !quantity.Finite(tolerance) || tolerance < 0:
		return "The tolerance is below zero or not a number. Enter it as a size, without a sign."
	case !(tolerance < t):
		return "The tolerance is as wide as the torque itself. Check whether two columns were mixed up."
	}
	return ""
}
