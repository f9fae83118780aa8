package torque

import (
	"strutcard/calc/lang"
	"strutcard/calc/quantity"
)

// Wrench is a torque wrench as its maker marks it.
type Wrench struct {
	Lowest  quantity.Torque // zero when the maker states none
	Highest quantity.Torque
}

// firstTest is the share of full scale where a wrench is first tested, and
// where its use begins when no lowest value is stated.
const firstTest quantity.Ratio = 0.2

// Usable is the range in which the wrench may be set. It fails when the marks
// make no sense.
func (w Wrench) Usable() (low, high quantity.Torque, err error) {
	switch {
	case !quantity.Finite(w.Highest) || w.Highest <= 0:
		return 0, 0, quantity.Inputf("Read it off the scale of the wrench.", "The highest value of the wrench is missing or not above zero.")
	case !quantity.Finite(w.Lowest) || w.Lowest < 0 || w.Lowest >= w.Highest:
		return 0, 0, quantity.Inputf("Read both off the scale of the wrench, in the same unit.", "The lowest value of the wrench is not below its highest.")
	case w.Lowest > 0:
		return w.Lowest, w.Highest, nil
	}
	return w.Highest * quantity.Torque(firstTest), w.Highest, nil
}

// Fit says whether a wrench can be set to a value.
type Fit string

const (
	Within  Fit = "within"
	TooLow  Fit = "too_low"  // the value lies below what the wrench can be trusted with
	TooHigh Fit = "too_high" // the value lies above full scale
)

// Words is the fit as people read it.
func (f Fit) Words() string {
	switch f {
	case Within:
		return lang.T("inside the range of this wrench")
	case TooLow:
		return lang.T("below the range of this wrench: use a smaller one")
	case TooHigh:
		return lang.T("above the range of this wrench: use a larger one")
	}
	return ""
}

// Fit compares a setting with the usable range, to the hundredth of a newton
// metre. The setting is the value on the wrench, with the adapter reckoned in.
func (w Wrench) Fit(setting quantity.Torque) (Fit, error) {
	low, high, err := w.Usable()
	if err != nil {
		return "", err
	}
	switch {
	case !quantity.Finite(setting) || setting <= 0:
		return "", quantity.Inputf("Look it up in the manual and enter it with its unit.", "The torque is missing or not above zero.")
	case setting.CNM() == quantity.Unrepresentable || setting.CNM() > high.CNM():
		return TooHigh, nil
	case setting.CNM() < low.CNM():
		return TooLow, nil
	}
	return Within, nil
}

// Window is where the true torque lies when a wrench with the given tolerance is
// set to a value: from set/(1+e) to set/(1−e). The deviation of ISO 6789 is
// relative to the true torque, so the window is not symmetric. The tolerance is
// above zero and below one.
func Window(set quantity.Torque, e quantity.Ratio) (low, high quantity.Torque, err error) {
	switch {
	case !quantity.Finite(set) || set <= 0:
		return 0, 0, quantity.Inputf("Look it up in the manual and enter it with its unit.", "The torque is missing or not above zero.")
	case !quantity.Finite(e) || e <= 0 || e >= 1:
		return 0, 0, quantity.Inputf("Take it from the certificate or the manual of the wrench, such as 4 %.", "The tolerance of the wrench is not between nothing and the whole.")
	}
	return set / quantity.Torque(1+e), set / quantity.Torque(1-e), nil
}
