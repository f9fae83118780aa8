package torque

import (
	"math"

	"strutcard/calc/quantity"
)

// Formula names the calculation of a setting in the record. It changes when a
// result does.
const Formula = "torque-setting/1"

// Adapter sits between the drive of the wrench and the bolt.
type Adapter struct {
	Length quantity.Length // drive to bolt, below the lever of the wrench
	Angle  quantity.Angle  // to the wrench: 0 straight on, 90° square, 180° folded back
}

// Setting is what to set on a wrench with the given lever, so that the bolt gets
// target through the adapter. It fails when a number is missing or impossible.
func Setting(target quantity.Torque, lever quantity.Length, a Adapter) (quantity.Torque, error) {
	gain, err := a.gain(target, lever)
	if err != nil {
		return 0, err
	}
	return target / quantity.Torque(gain), nil
}

// Delivered is the inverse of Setting: what the bolt gets.
func Delivered(setting quantity.Torque, lever quantity.Length, a Adapter) (quantity.Torque, error) {
	gain, err := a.gain(setting, lever)
	if err != nil {
		return 0, err
	}
	return setting * quantity.Torque(gain), nil
}

// gain is the torque at the bolt over that on the wrench.
func (a Adapter) gain(t quantity.Torque, lever quantity.Length) (quantity.Ratio, error) {
	switch {
	case !quantity.Finite(t) || t <= 0:
		return 0, quantity.Inputf("Look it up in the manual and enter it with its unit.", "The torque is missing or not above zero.")
	case !quantity.Finite(lever) || lever <= 0:
		return 0, quantity.Inputf("Measure from the middle of the grip to the middle of the drive.", "The length of the wrench is missing or not above zero.")
	case !quantity.Finite(a.Length) || a.Length < 0:
		return 0, quantity.Inputf("Measure from the middle of the drive to the middle of the bolt.", "The length of the adapter is missing or below zero.")
	case a.Length >= lever:
		return 0, quantity.Inputf("Check that both are in the same unit. Measure wrench and adapter apart, never both together.", "The adapter is as long as the wrench or longer.")
	case !quantity.Finite(a.Angle) || a.Angle < 0 || a.Angle.Degrees() > 180.0005: // half of a thousandth over
		return 0, quantity.Inputf("Straight on is 0°, square is 90°, folded back is 180°.", "The angle of the adapter is not between 0° and 180°.")
	}
	return quantity.Ratio(1 + float64(a.Length/lever)*math.Cos(a.Angle.Radians())), nil
}

// Graduate rounds a setting down to a mark of the wrench, so that the bolt never
// gets more than it should. What was set goes into the record, not the setting.
func Graduate(setting, step quantity.Torque) (quantity.Torque, error) {
	if err := positive(setting); err != nil {
		return 0, err
	}
	if !quantity.Finite(step) || step <= 0 || step > setting {
		return 0, quantity.Inputf("Read the step between two marks off the wrench.", "The step of the wrench is missing, not above zero or wider than the setting.")
	}
	marks := math.Floor(float64(setting/step) + 1e-9) // a value on a mark stays there
	return quantity.Torque(marks) * step, nil
}
