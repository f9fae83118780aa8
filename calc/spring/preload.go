package spring

import (
	"fmt"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
)

// Names of these calculations in the record. Each changes when a result does.
const (
	FormulaPreload = "preload/1"
	FormulaSqueeze = "squeezed-spring/1"
)

// Loaded is a spring on a damper of fixed length under its load.
type Loaded struct {
	Shorter quantity.Length // the spring, against its free length
	ShaftIn quantity.Length // how far the load takes the shaft in from fully out
	// FullyOut: the load does not overcome the preload. The shaft stays where it
	// is when the wheel hangs, and there is no droop left.
	FullyOut bool
}

// Preloaded computes how a spring that was pressed by preload when it was fitted
// stands under a load, both along the spring. Preload changes neither the rate
// nor how short the spring gets, as long as the load overcomes it.
func Preloaded(rate quantity.Stiffness, load quantity.Force, preload quantity.Length) (Loaded, error) {
	shorter, err := Deflection(load, rate)
	if err := first(err, size(preload, mostLength, lang.C("The preload", "of a spring"))); err != nil {
		return Loaded{}, err
	}
	if shorter <= preload {
		return Loaded{Shorter: preload, FullyOut: true}, nil
	}
	return Loaded{Shorter: shorter, ShaftIn: shorter - preload}, nil
}

// Energy in joules. It is shown as a caution only.
type Energy float64

func (e Energy) String() string { return fmt.Sprintf("%.0f J", float64(e)) }

// Fall is the height from which a mass would have to fall to hit as hard.
func (e Energy) Fall(m quantity.Mass) (quantity.Length, error) {
	if err := checkMass(m); err != nil {
		return 0, err
	}
	return quantity.Length(float64(e) / m.Weight().Newtons()), nil
}

// Squeezed is what a squeezed spring holds back.
type Squeezed struct {
	Force  quantity.Force
	Energy Energy
}

// Squeeze computes force and energy of a spring squeezed shorter by that much
// from its free length: k·x and ½·k·x². Half as much squeeze holds a quarter of
// the energy, which is not harmless either.
func Squeeze(rate quantity.Stiffness, shorter quantity.Length) (Squeezed, error) {
	if err := first(checkRate(rate, lang.T("The spring rate")), within(shorter, leastLength, mostLength, lang.T("The squeeze"))); err != nil {
		return Squeezed{}, err
	}
	force := float64(rate) * float64(shorter)
	return Squeezed{Force: quantity.Newtons(force), Energy: Energy(force * float64(shorter) / 2)}, nil
}

// Caution says what a squeezed spring can do, for reading before the work.
func (s Squeezed) Caution() string {
	return lang.F("This spring pushes with %s kN and holds %v. Released all at once, it throws parts across the room. Two hooks opposite each other, equal turns, by hand, nobody in line with it. Before the rod nut comes off, the spring must be loose by hand at both ends. If in doubt, have a workshop change the parts.",
		lang.Number(fmt.Sprintf("%.1f", s.Force.Newtons()/1000)), s.Energy)
}
