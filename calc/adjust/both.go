package adjust

import (
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// FormulaCoupled and FormulaTightening name these calculations in the record.
const (
	FormulaCoupled    = "adjust-toe-per-camber/1"
	FormulaTightening = "adjust-tightening/1"
)

// Both is camber and toe of one wheel, read at the same setting, with the tie
// rod as it was. Toe is that of this wheel, toe-in positive.
type Both struct {
	Camber, Toe measure.Value[quantity.Angle]
	Place       Place
	Stage       Stage
}

// Coupled is how toe follows camber at one wheel.
type Coupled struct {
	Line measure.Line[quantity.Angle, quantity.Angle]
	// PerCamber is the change of toe for a change of camber of one; negative:
	// more negative camber brings toe-in.
	PerCamber measure.Value[quantity.Ratio]
	Cautions  []Caution
}

// ToePerCamber learns from two readings or more how toe follows camber here.
// It fails when they are of different wheels or stages, or when the camber was
// not moved far enough to tell.
func ToePerCamber(readings []Both) (Coupled, error) {
	var pairs []measure.Pair[angle, angle]
	var trials []mark
	for _, r := range readings {
		pairs = append(pairs, measure.Pair[angle, angle]{X: r.Camber, Y: r.Toe})
		trials = append(trials, mark{r.Place, r.Stage})
	}
	if err := sameMarks(trials); err != nil {
		return Coupled{}, err
	}
	line, err := measure.Fit(pairs)
	if err != nil {
		return Coupled{}, err
	}
	if !apart(pairs) {
		return Coupled{}, quantity.Inputf("Move the camber further, and read both again.", "The camber readings differ by no more than their uncertainty.")
	}
	out := Coupled{Line: line, PerCamber: measure.Value[quantity.Ratio]{Value: quantity.Ratio(line.Slope), Standard: quantity.Ratio(line.SlopeStandard)}}
	out.Cautions = fitCautions(line.Pairs, line.Scatter > measure.Coverage, line.Significant())
	return out, nil
}

// apart reports whether the largest and the smallest X differ for certain.
func apart(pairs []measure.Pair[angle, angle]) bool {
	low, high := pairs[0].X, pairs[0].X
	for _, p := range pairs {
		if p.X.Value < low.Value {
			low = p.X
		}
		if p.X.Value > high.Value {
			high = p.X
		}
	}
	return high.Value-low.Value > measure.Coverage*measure.Combine(low.Standard, high.Standard)
}

// ToeFor is the change of toe to expect for a change of camber.
func (c Coupled) ToeFor(camber quantity.Angle) measure.Value[quantity.Angle] {
	return measure.Value[angle]{Value: angle(c.PerCamber.Value) * camber,
		Standard: measure.Contribution[angle](measure.Sensitivity(c.PerCamber.Standard), camber)}
}

// Tightening is how far a reading moved while the bolts were tightened: after
// minus before, at one setting.
func Tightening[R measure.Quantity](before, after measure.Value[R]) (measure.Value[R], error) {
	if err := first(checkReading(before), checkReading(after)); err != nil {
		return measure.Value[R]{}, err
	}
	return measure.Value[R]{Value: after.Value - before.Value, Standard: measure.Combine(before.Standard, after.Standard)}, nil
}

// AimBefore is what to aim for while the bolts are only snug, so that tightening
// brings the reading to the target, when it moves as it did last time. The value
// of record is the one measured after the final torque.
func AimBefore[R measure.Quantity](target R, moved measure.Value[R]) (measure.Value[R], error) {
	if err := checkReading(moved); err != nil {
		return measure.Value[R]{}, err
	}
	if !quantity.Finite(target) {
		return measure.Value[R]{}, noTarget()
	}
	return measure.Value[R]{Value: target - moved.Value, Standard: moved.Standard}, nil
}

func noTarget() error {
	return quantity.Inputf("Enter the target with its unit.", "The target is not a number.")
}

func checkReading[R measure.Quantity](v measure.Value[R]) error {
	if !quantity.Finite(v.Value) || !quantity.Finite(v.Standard) || v.Standard <= 0 {
		return quantity.Inputf("Take the reading again, and enter the smallest step that the gauge shows.", "A reading or its uncertainty is missing.")
	}
	return nil
}
