package spring

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// Names of these calculations in the record. Each changes when a result does.
const (
	FormulaPerch = "perch-shift/1"
	FormulaCross = "cross-turns/1"
)

// Bars is what has to be true of the anti-roll bars for a shift to be right, to
// be shown beside it.
const Bars = "with the anti-roll bars disconnected"

// pull says which corners take the load when one is raised: it and the opposite
// one take it, the two others lose it.
var pull = map[Corner][4]float64{
	FrontLeft:  {1, -1, -1, 1},
	RearRight:  {1, -1, -1, 1},
	FrontRight: {-1, 1, 1, -1},
	RearLeft:   {-1, 1, 1, -1},
}

var position = map[Corner]int{FrontLeft: 0, FrontRight: 1, RearLeft: 2, RearRight: 3}

// Perch is one spring seat moved. By is what the move comes to at its wheel with
// the body held, a size: WheelTravel of CollarTravel, or PerchFromSeen. Rates are
// those at the wheels; ride rates when the tyres are to count.
type Perch struct {
	At    Corner
	Way   Way
	By    quantity.Length
	Rates Four[quantity.Stiffness]
}

// Shift is what one moved spring seat does to all four corners.
type Shift struct {
	Load   Four[quantity.Force]  // more load is positive; the four add up to nothing
	Height Four[quantity.Length] // of the body over that wheel, up is positive
}

// MovePerch computes the shift of a stiff flat body on four springs, equal
// tracks, anti-roll bars disconnected.
func MovePerch(p Perch) (Shift, error) {
	if err := first(p.At.check(), p.Way.check(), size(p.By, mostLength, lang.T("The move")), checkRates(p.Rates)); err != nil {
		return Shift{}, err
	}
	by := float64(p.By)
	if p.Way == Lower {
		by = -by
	}
	load := by / softness(p.Rates)
	var out Shift
	var loads [4]quantity.Force
	var heights [4]quantity.Length
	for i, k := range p.Rates.list() {
		loads[i] = quantity.Newtons(load * pull[p.At][i])
		heights[i] = quantity.Length(-float64(loads[i]) / float64(k))
	}
	heights[position[p.At]] += quantity.Length(by)
	out.Load, out.Height = fourOf(loads), fourOf(heights)
	return out, nil
}

// softness is 1/k1 + 1/k2 + 1/k3 + 1/k4: how far one seat has to move for each
// newton that goes across.
func softness(rates Four[quantity.Stiffness]) float64 {
	sum := 0.0
	for _, k := range rates.list() {
		sum += 1 / float64(k)
	}
	return sum
}

func checkRates(rates Four[quantity.Stiffness]) error {
	for i, k := range rates.list() {
		if err := checkRate(k, lang.F("The %s wheel rate", [4]Corner{FrontLeft, FrontRight, RearLeft, RearRight}[i].Words())); err != nil {
			return err
		}
	}
	return nil
}

func (c Corner) check() error {
	if _, ok := position[c]; ok {
		return nil
	}
	return quantity.Inputf("Choose front left, front right, rear left or rear right.", "It is not said which corner it is.")
}

// Cross is the change of the share of CrossDiagonal that a shift makes on a car
// of that mass: 2P/W.
func (s Shift) Cross(total quantity.Mass) (quantity.Ratio, error) {
	if err := checkMass(total); err != nil {
		return 0, err
	}
	return quantity.Ratio((s.Load.FrontRight + s.Load.RearLeft) / total.Weight()), nil
}

// PerchFromSeen gives the By of a Perch from how much the body was seen to rise
// or sink over that wheel when this one seat alone was moved. The body gives way
// on the other springs, so it shows less: three quarters with four equal rates.
func PerchFromSeen(seen measure.Value[quantity.Length], at Corner, rates Four[quantity.Stiffness]) (measure.Value[quantity.Length], error) {
	if err := first(at.check(), checkRates(rates), within(seen.Value, leastLength, mostLength, lang.T("The change of height")),
		within(seen.Standard, 1e-9, mostLength, lang.T("The uncertainty of the height"))); err != nil {
		return measure.Value[quantity.Length]{}, err
	}
	own := 1 / float64(rates.list()[position[at]])
	grow := quantity.Length(1 / (1 - own/softness(rates)))
	return measure.Value[quantity.Length]{Value: seen.Value * grow, Standard: seen.Standard * grow}, nil
}

// CrossChange asks for the turns at one corner that bring the cross share from
// what the scales show to what is wanted. PerTurn is the By of one turn.
type CrossChange struct {
	Scales  Scales
	Wanted  quantity.Ratio // share of CrossDiagonal
	At      Corner
	PerTurn measure.Value[quantity.Length]
	Rates   Four[quantity.Stiffness]
}

// Turning is how to turn a collar, as a size and a way, and what comes of it.
type Turning struct {
	Turns measure.Value[quantity.Turns]
	Way   Way // empty when there is nothing to turn
	By    quantity.Length
	Shift Shift
}

// TurnsForCross is the inverse of MovePerch and Shift.Cross, linear in both. A
// quarter of the turns at each corner, raising the two of one diagonal and
// lowering the two of the other, changes the cross share as much and keeps the
// heights nearly as they are.
//
//	turns = Δ·W·g/2 · softness / per turn    ∂/∂Δ = turns/Δ    ∂/∂W = turns/W    ∂/∂(per turn) = −turns/(per turn)
func TurnsForCross(c CrossChange) (Turning, error) {
	weights, err := CornerWeights(c.Scales)
	if err := first(err, c.check()); err != nil {
		return Turning{}, err
	}
	change := float64(c.Wanted - weights.Cross.Value)
	perShare := weights.Total.Value.Weight().Newtons() / 2 * softness(c.Rates) // metres for the whole of the share
	perTurn := c.PerTurn.Value.Metres()
	turns := math.Abs(change) * perShare / perTurn
	out := Turning{By: quantity.Length(math.Abs(change) * perShare), Turns: measure.Value[quantity.Turns]{
		Value: quantity.Count(turns),
		Standard: measure.Combine(
			measure.Contribution[quantity.Turns](measure.Sensitivity(perShare/perTurn), weights.Cross.Standard),
			measure.Contribution[quantity.Turns](measure.Sensitivity(turns/float64(weights.Total.Value)), weights.Total.Standard),
			measure.Contribution[quantity.Turns](measure.Sensitivity(turns/perTurn), c.PerTurn.Standard),
		),
	}}
	if change == 0 {
		return out, nil
	}
	out.Way = Lower
	if onCross := c.At == FrontRight || c.At == RearLeft; onCross == (change > 0) {
		out.Way = Raise
	}
	if out.Shift, err = MovePerch(Perch{At: c.At, Way: out.Way, By: out.By, Rates: c.Rates}); err != nil {
		return Turning{}, err
	}
	if c.Scales.lifts(out.Shift) {
		return Turning{}, quantity.Inputf("Aim for less, or share the change between the corners.", "So large a change would take a wheel off its scale.")
	}
	return out, nil
}

// lifts reports whether a shift leaves a wheel without load.
func (s Scales) lifts(shift Shift) bool {
	loads := shift.Load.list()
	for i, m := range s.list() {
		if m.Weight()+loads[i] <= 0 {
			return true
		}
	}
	return false
}

func (c CrossChange) check() error {
	if !(c.Wanted >= 0.3 && c.Wanted <= 0.7) {
		return quantity.Inputf("Enter the share of front right with rear left, such as 50 %.", "The wanted cross share is missing or of a size that no road car has.")
	}
	return first(c.At.check(), checkRates(c.Rates), within(c.PerTurn.Value, leastLength, mostLength, lang.T("The move per turn")),
		within(c.PerTurn.Standard, 1e-9, mostLength, lang.T("The uncertainty of the move per turn")))
}
