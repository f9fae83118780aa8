package lift

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// Basis says where the masses come from.
type Basis string

const (
	Weighed Basis = "weighed" // on a scale, as the car stands now
	Papers  Basis = "papers"  // from the papers or a plate, another day and other contents
)

// PapersAllowance is how far the car as it stands may be from its papers, up
// and down: fuel, tools, fitted extras. Common practice, no source.
const PapersAllowance quantity.Ratio = 0.1

// Weights is how heavy the car is: Mass with FrontShare, or the two axles'
// loads Front and Rear. The mass is with all that is in the car.
type Weights struct {
	Basis           Basis
	Mass            quantity.Mass
	FrontShare      quantity.Ratio // of the mass, on the front axle
	Front, Rear     quantity.Mass
	Resolution      quantity.Mass  // of the scale, or the rounding of the papers
	ShareResolution quantity.Ratio // the rounding of FrontShare
}

// Axles are the loads that the axles carry on level ground.
type Axles struct {
	Front, Rear, Total measure.Value[quantity.Mass]
}

func (a Axles) of(e End) measure.Value[quantity.Mass] {
	if e == Front {
		return a.Front
	}
	return a.Rear
}

// AxleLoads are the loads of the axles. It fails when either pair of facts is
// not complete, both are given, or a number is not that of a road car.
func AxleLoads(w Weights) (Axles, error) {
	if err := w.check(); err != nil {
		return Axles{}, err
	}
	switch {
	case w.Front > 0 && w.Rear > 0:
		return w.weighedAxles()
	case w.Front > 0 || w.Rear > 0:
		return Axles{}, quantity.Inputf("Weigh the other axle too.", "Only one axle load is given.")
	case w.Mass == 0:
		return Axles{}, quantity.Inputf("Weigh the car or look in its papers.", "The mass of the car is missing.")
	case w.FrontShare == 0:
		return Axles{}, quantity.Inputf("Weigh one axle, or look up the two axle loads.", "It is not known how much of the car stands on its front axle.")
	}
	total, err := w.mass(w.Mass)
	if err != nil {
		return Axles{}, err
	}
	share := read(w.FrontShare, w.ShareResolution)
	front := measured[quantity.Mass](func(x ...float64) float64 { return x[0] * x[1] }, readingOf(total), share)
	rear := measured[quantity.Mass](func(x ...float64) float64 { return x[0] * (1 - x[1]) }, readingOf(total), share)
	return Axles{front, rear, total}, nil
}

func (w Weights) weighedAxles() (Axles, error) {
	out := Axles{Front: w.value(w.Front), Rear: w.value(w.Rear)}
	out.Total = measure.Value[quantity.Mass]{Value: w.Front + w.Rear, Standard: measure.Combine(out.Front.Standard, out.Rear.Standard)}
	share := span{float64(w.Front / out.Total.Value), float64(w.Front / out.Total.Value)}
	if !spanOf(out.Total).within(possibleMass) || !share.within(possibleShare) {
		return Axles{}, quantity.Inputf("Check the axle loads and their unit.", "Axle loads of %s and %s are not those of a road car.", w.Front, w.Rear)
	}
	return out, nil
}

// mass is the whole car's with its uncertainty.
func (w Weights) mass(m quantity.Mass) (measure.Value[quantity.Mass], error) {
	v := w.value(m)
	if !spanOf(v).within(possibleMass) {
		return v, quantity.Inputf("Check the mass and its unit: cars up to about 4000 kg are covered.", "A mass of %s is not that of a road car.", m)
	}
	return v, nil
}

// value adds to the scale's marks what papers may be off by: anywhere within
// the allowance, a rectangular distribution.
func (w Weights) value(m quantity.Mass) measure.Value[quantity.Mass] {
	standard := measure.Resolution(w.Resolution)
	if w.Basis == Papers {
		standard = measure.Combine(standard, m*quantity.Mass(PapersAllowance)/quantity.Mass(math.Sqrt(3)))
	}
	return measure.Value[quantity.Mass]{Value: m, Standard: standard}
}

func (w Weights) check() error {
	for _, m := range []quantity.Mass{w.Mass, w.Front, w.Rear, w.Resolution} {
		if !quantity.Finite(m) || m < 0 {
			return quantity.Inputf("Enter the masses again.", "A mass is below zero or not a number.")
		}
	}
	if w.Basis != Weighed && w.Basis != Papers {
		return quantity.Inputf("Say whether the car was weighed as it stands, or the papers say so.", "It is not known where the mass comes from.")
	}
	if w.Resolution <= 0 || w.Resolution > 50 {
		return quantity.Inputf("Enter the smallest step of the scale, or the rounding of the papers, up to 50 kg.", "The smallest step of the mass is missing or too coarse.")
	}
	if (w.Front > 0 || w.Rear > 0) && (w.Mass > 0 || w.FrontShare != 0) {
		return quantity.Inputf("Give the two axle loads, or the mass with the front share.", "The weight is given in two ways at once.")
	}
	return w.checkShare()
}

func (w Weights) checkShare() error {
	if w.FrontShare == 0 {
		return nil
	}
	if !quantity.Finite(w.FrontShare) || !exactly(float64(w.FrontShare)).within(possibleShare) {
		return quantity.Inputf("Enter what part of the mass the front axle carries, such as 60 %.", "A front share of %s is not that of a road car.", w.FrontShare)
	}
	if !quantity.Finite(w.ShareResolution) || w.ShareResolution <= 0 || w.ShareResolution > 0.05 {
		return quantity.Inputf("Enter how finely the front share is known, such as 1 %.", "The rounding of the front share is missing, not above zero or wider than 5 %.")
	}
	return nil
}

// CentreBehindFront is how far the centre of gravity lies behind the front
// axle: wheelbase · rear load / total.
func CentreBehindFront(a Axles, wheelbase, resolution quantity.Length) (measure.Value[quantity.Length], error) {
	if err := length(lang.T("the wheelbase"), wheelbase, resolution, possibleBase); err != nil {
		return measure.Value[quantity.Length]{}, err
	}
	if err := a.check(); err != nil {
		return measure.Value[quantity.Length]{}, err
	}
	f := func(x ...float64) float64 { return x[0] * x[1] / (x[1] + x[2]) }
	return measured[quantity.Length](f, read(wheelbase, resolution), readingOf(a.Rear), readingOf(a.Front)), nil
}

// check wants loads that AxleLoads could have given.
func (a Axles) check() error {
	for _, v := range []measure.Value[quantity.Mass]{a.Front, a.Rear, a.Total} {
		if !quantity.Finite(v.Value) || !quantity.Finite(v.Standard) || v.Value <= 0 || v.Standard <= 0 {
			return quantity.Inputf("Work out the axle loads first.", "An axle load or its uncertainty is missing.")
		}
	}
	return nil
}
