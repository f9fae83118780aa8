package torque

import (
	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// Spec is a torque as the source states it. Limits that the source does not
// state are zero.
type Spec struct {
	Min, Max, Target quantity.Torque
	Middle           bool // Target is the middle of the range, chosen here and not by the source
}

// Number is a spec that states one number and no limits.
func Number(target quantity.Torque) (Spec, error) {
	if err := positive(target); err != nil {
		return Spec{}, err
	}
	return Spec{Target: target}, nil
}

// Range is a spec that states two ends. What to aim for is the middle unless the
// source says otherwise; the spec says that it was chosen here.
func Range(least, most quantity.Torque) (Spec, error) {
	if err := positive(least); err != nil {
		return Spec{}, err
	}
	if !quantity.Finite(most) || most <= least {
		return Spec{}, quantity.Inputf("Enter the lower end first, both in the same unit.", "The upper end of the range is not above the lower one.")
	}
	return Spec{Min: least, Max: most, Target: least + (most-least)/2, Middle: true}, nil
}

// Around is a spec that states a number with a tolerance to either side, as sizes.
func Around(target, minus, plus quantity.Torque) (Spec, error) {
	if err := positive(target); err != nil {
		return Spec{}, err
	}
	if !quantity.Finite(minus) || !quantity.Finite(plus) || minus < 0 || plus < 0 || minus >= target || minus+plus == 0 {
		return Spec{}, quantity.Inputf("Enter what is allowed below and above as sizes, smaller than the torque.", "The tolerance is missing, below zero or as wide as the torque.")
	}
	return Spec{Min: target - minus, Max: target + plus, Target: target}, nil
}

func positive(t quantity.Torque) error {
	if !quantity.Finite(t) || t <= 0 {
		return quantity.Inputf("Look it up in the manual and enter it with its unit.", "The torque is missing or not above zero.")
	}
	return nil
}

// limited reports whether the source states limits.
func (s Spec) limited() bool { return s.Max > 0 }

func (s Spec) check() error {
	if err := positive(s.Target); err != nil {
		return err
	}
	if s.Min == 0 && s.Max == 0 {
		return nil
	}
	if !quantity.Finite(s.Min) || !quantity.Finite(s.Max) || s.Min <= 0 || s.Target < s.Min || s.Target > s.Max {
		return quantity.Inputf("Enter the lower end, the upper end and what to aim for, in the same unit.", "The torque to aim for does not lie inside its limits.")
	}
	return nil
}

// lowest and highest fall back on the one number there is.
func (s Spec) lowest() quantity.Torque {
	if s.limited() {
		return s.Min
	}
	return s.Target
}

func (s Spec) highest() quantity.Torque {
	if s.limited() {
		return s.Max
	}
	return s.Target
}

// Judge compares a torque with the limits. It fails for a spec without any: then
// nothing says how far off is too far.
func (s Spec) Judge(v measure.Value[quantity.Torque]) (measure.Verdict, error) {
	if err := s.check(); err != nil {
		return "", err
	}
	if !s.limited() {
		return "", quantity.Inputf("Look for a range or a tolerance in the source.", "The spec states no limits to judge against.")
	}
	return measure.Band[quantity.Torque]{Target: s.Target, Minus: s.Target - s.Min, Plus: s.Max - s.Target}.Judge(v), nil
}

// Settings are the settings at which a wrench with tolerance e keeps the true
// torque inside the limits for certain: Min·(1 + e) to Max·(1 − e). It fails when
// the wrench is too coarse for the limits.
func (s Spec) Settings(e quantity.Ratio) (low, high quantity.Torque, err error) {
	if err := s.check(); err != nil {
		return 0, 0, err
	}
	if !s.limited() {
		return 0, 0, quantity.Inputf("Look for a range or a tolerance in the source.", "The spec states no limits to keep.")
	}
	if _, _, err := Window(s.Target, e); err != nil {
		return 0, 0, err
	}
	low, high = s.Min*quantity.Torque(1+e), s.Max*quantity.Torque(1-e)
	if low > high {
		return 0, 0, quantity.Inputf("Aim for the target and note the wrench, or use one with a closer tolerance.", "No setting of this wrench is sure to stay inside the limits.")
	}
	return low, high, nil
}

// Words is the spec with everything that the source states, and whose choice the
// middle was. An unknown unit gives "not a number".
func (s Spec) Words(u quantity.TorqueUnit) string {
	if !s.limited() {
		return lang.F("%s, no tolerance stated", quantity.FormatTorque(s.Target, u))
	}
	least, most, target := quantity.TorqueFigure(s.Min, u), quantity.FormatTorque(s.Max, u), quantity.TorqueFigure(s.Target, u)
	if s.Middle {
		return lang.F("%s to %s, aim for %s (the middle, not stated by the source)", least, most, target)
	}
	return lang.F("%s to %s, aim for %s", least, most, target)
}
