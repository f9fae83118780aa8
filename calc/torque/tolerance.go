package torque

import (
	"strutcard/calc/lang"
	"strutcard/calc/quantity"
)

// FormulaWindow names the calculation of a window in the record.
const FormulaWindow = "torque-window/1"

// Class is the type and class of a hand torque tool in ISO 6789-1:2017: type I
// shows the torque, type II is set to it.
type Class string

const (
	IA  Class = "I A"
	IB  Class = "I B"
	IC  Class = "I C"
	ID  Class = "I D"
	IE  Class = "I E"
	IIA Class = "II A"
	IIB Class = "II B"
	IIC Class = "II C"
	IID Class = "II D"
	IIE Class = "II E"
	IIF Class = "II F"
	IIG Class = "II G"
)

const (
	wide   quantity.Ratio  = 0.06
	narrow quantity.Ratio  = 0.04
	small  quantity.Torque = 10 // newton metres; up to here every class has the wide tolerance
)

// classes are from memory (ISO 6789-1:2017, table 3) but for II A, read in a
// tool maker's manual. The tolerance is that of a tool above 10 N·m.
var classes = map[Class]struct {
	large quantity.Ratio
	words string
}{
	IA:  {wide, "wrench with a bar that bends or twists, and a pointer"},
	IB:  {narrow, "stiff wrench with a scale, a dial or a display"},
	IC:  {narrow, "stiff wrench that measures electronically"},
	ID:  {wide, "screwdriver with a scale, a dial or a display"},
	IE:  {narrow, "screwdriver that measures electronically"},
	IIA: {narrow, "click wrench, adjustable, with a scale or a display"},
	IIB: {narrow, "click wrench, fixed to one value"},
	IIC: {narrow, "click wrench, adjustable, without a scale"},
	IID: {wide, "click screwdriver, adjustable, with a scale or a display"},
	IIE: {wide, "click screwdriver, fixed to one value"},
	IIF: {wide, "click screwdriver, adjustable, without a scale"},
	IIG: {wide, "wrench with a bending bar, adjustable, with a scale"},
}

// Classes lists what a person can choose from.
func Classes() []Class { return []Class{IA, IB, IC, ID, IE, IIA, IIB, IIC, IID, IIE, IIF, IIG} }

// Words is the class as people recognise their tool.
func (c Class) Words() string { return lang.T(classes[c].words) }

// Screwdriver reports whether tools of the class are screwdrivers.
func (c Class) Screwdriver() bool {
	switch c {
	case ID, IE, IID, IIE, IIF:
		return true
	}
	return false
}

// Tolerance is the largest deviation that the class permits for a tool whose
// highest value is given, as a share of the true torque.
func (c Class) Tolerance(highest quantity.Torque) (quantity.Ratio, error) {
	known, ok := classes[c]
	switch {
	case !ok:
		return 0, quantity.Inputf("Choose the one that looks like your tool.", "It is not said what type and class of tool this is.")
	case !quantity.Finite(highest) || highest <= 0:
		return 0, quantity.Inputf("Read it off the scale of the wrench.", "The highest value of the wrench is missing or not above zero.")
	case highest <= small:
		return wide, nil
	}
	return known.large, nil
}

// Window is where the true torque lies when this wrench is set to a value and
// keeps what its class promises. Outside its usable range it promises nothing,
// and Window fails.
func (w Wrench) Window(c Class, set quantity.Torque) (low, high quantity.Torque, err error) {
	fit, err := w.Fit(set)
	if err != nil {
		return 0, 0, err
	}
	if fit != Within {
		return 0, 0, quantity.Inputf("Use a wrench whose range covers it.", "The value is %s.", fit.Words())
	}
	e, err := c.Tolerance(w.Highest)
	if err != nil {
		return 0, 0, err
	}
	return Window(set, e)
}

// OfFullScale turns a tolerance that a maker states of full scale into one of
// the value set: 4 % of 150 is 60 % of 10.
func (w Wrench) OfFullScale(share quantity.Ratio, set quantity.Torque) (quantity.Ratio, error) {
	if _, _, err := w.Usable(); err != nil {
		return 0, err
	}
	if _, _, err := Window(set, share); err != nil {
		return 0, err
	}
	return share * quantity.Ratio(w.Highest/set), nil
}

// Edition is the edition of ISO 6789 that a certificate names.
type Edition string

const (
	Edition2003 Edition = "2003" // begins at 20 % of the highest value, or the next mark below
	Edition2017 Edition = "2017" // begins at the lowest marked value
)

// TestPoints are the torques at which a wrench is tested.
func (w Wrench) TestPoints(e Edition) ([]quantity.Torque, error) {
	if _, _, err := w.Usable(); err != nil {
		return nil, err
	}
	first := w.Highest * quantity.Torque(firstTest)
	switch {
	case e == Edition2017 && w.Lowest > 0:
		first = w.Lowest
	case e == Edition2017:
		return nil, quantity.Inputf("Read it off the scale of the wrench.", "The lowest marked value is missing.")
	case e != Edition2003:
		return nil, quantity.Inputf("Read it off the certificate: 2003 or 2017.", "It is not said which edition of ISO 6789 counts.")
	}
	return []quantity.Torque{first, w.Highest * 0.6, w.Highest}, nil
}

// Interval is how long a check of a wrench holds when no other rule is given:
// months, or pulls, whichever comes first. From memory.
func Interval() (months, pulls quantity.Turns) { return 12, 5000 }

// QuestionInterval is a sentence about a wrench whose last check is too long
// ago, or "".
func QuestionInterval(months, pulls quantity.Turns) string {
	mostMonths, mostPulls := Interval()
	if months <= mostMonths && pulls <= mostPulls {
		return ""
	}
	return lang.T("The last check of this wrench is long ago. Have it calibrated, or note that the torques were set with a wrench that was not checked.")
}
