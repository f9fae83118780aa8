package fastener

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
)

// List names whose list a value comes from. The lists disagree.
type List string

const (
	Chart    List = "torque chart for metric fasteners"
	IFI      List = "IFI technical data"
	Textbook List = "design textbook"
	NASA     List = "NASA"
	Handbook List = "machinery handbook"
	VDI      List = "VDI 2230"
)

// Factor is a friction factor K of the short form for a state of the surface.
type Factor struct {
	List    List
	Surface string // in the words of the list
	K       quantity.Ratio
}

// Factors are all the lists side by side, to show how far they differ. None is
// for lowering a torque.
func Factors() []Factor {
	return []Factor{
		{Chart, "lubricated", 0.15}, {Chart, "zinc plated dry", 0.17}, {Chart, "plain dry", 0.20},
		{IFI, "nonplated steel", 0.20}, {IFI, "plated", 0.15},
		{Textbook, "non-plated black", 0.30}, {Textbook, "zinc-plated", 0.20}, {Textbook, "lubricated", 0.18},
		{Textbook, "cadmium", 0.16}, {Textbook, "anti-seize A", 0.12}, {Textbook, "anti-seize B", 0.09},
	}
}

// Scatter is how far the preload may lie from the one meant, to either side.
type Scatter struct {
	List      List
	Method    string // in the words of the list
	Low, High quantity.Ratio
}

// Scatters are all the lists side by side.
func Scatters() []Scatter {
	one := func(l List, method string, percent float64) Scatter {
		return Scatter{l, method, quantity.Percent(percent), quantity.Percent(percent)}
	}
	least, most := TighteningFactors()
	low, _ := FromTighteningFactor(least) // both are above one
	high, _ := FromTighteningFactor(most)
	return []Scatter{
		one(NASA, "torque, unlubricated", 35), one(NASA, "torque, cad-plated", 30), one(NASA, "torque, lubricated", 25),
		one(NASA, "hydraulic tensioner", 15), one(NASA, "load washer", 10), one(NASA, "ultrasonic", 10), one(NASA, "elongation", 5),
		one(Handbook, "by feel", 35), one(Handbook, "torque wrench", 25), one(Handbook, "turn of nut", 15),
		one(Handbook, "load washer", 10), {Handbook, "elongation", quantity.Percent(3), quantity.Percent(5)}, one(Handbook, "strain gauge", 1),
		one(IFI, "torque wrench", 25),
		{VDI, "torque wrench, friction estimated", low, high},
	}
}

// TighteningFactors are the αA of a torque wrench where the friction was
// estimated (VDI 2230): the largest preload over the smallest.
func TighteningFactors() (low, high quantity.Ratio) { return 1.6, 2.0 }

// FromTighteningFactor is the scatter to either side of the middle:
// e = (αA − 1)/(αA + 1).
func FromTighteningFactor(alpha quantity.Ratio) (quantity.Ratio, error) {
	if !quantity.Finite(alpha) || alpha < 1 {
		return 0, quantity.Inputf("It is the largest preload over the smallest, such as 1.6.", "The tightening factor is below one or not a number.")
	}
	return (alpha - 1) / (alpha + 1), nil
}

// Spread puts the tolerance of the wrench and the scatter of the friction
// together: worst when both are at their end, likely when they are independent.
func Spread(tool, friction quantity.Ratio) (worst, likely quantity.Ratio, err error) {
	if err := between(tool, lang.T("The tolerance of the wrench")); err != nil {
		return 0, 0, err
	}
	if err := between(friction, lang.T("The scatter of the friction")); err != nil {
		return 0, 0, err
	}
	return (1+tool)*(1+friction) - 1, quantity.Ratio(math.Hypot(float64(tool), float64(friction))), nil
}
