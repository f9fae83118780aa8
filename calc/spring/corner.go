package spring

import (
	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// Names of these calculations in the record. Each changes when a result does.
const (
	FormulaCornerWeights = "corner-weights/1"
	FormulaEvenSides     = "corner-targets/1"
)

// Corner is a wheel's place, seen from the driver's seat.
type Corner string

const (
	FrontLeft  Corner = "front left"
	FrontRight Corner = "front right"
	RearLeft   Corner = "rear left"
	RearRight  Corner = "rear right"
)

// Words is the wheel's place as people read it.
func (c Corner) Words() string {
	switch c {
	case FrontLeft:
		return lang.T("front left")
	case FrontRight:
		return lang.T("front right")
	case RearLeft:
		return lang.T("rear left")
	case RearRight:
		return lang.T("rear right")
	}
	return ""
}

// CrossDiagonal says which diagonal Cross means here, to be shown beside it.
const CrossDiagonal = "front right and rear left"

// Four is the same quantity at the four wheels.
type Four[Q measure.Quantity] struct {
	FrontLeft, FrontRight, RearLeft, RearRight Q
}

// list is in the order front left, front right, rear left, rear right.
func (f Four[Q]) list() [4]Q { return [4]Q{f.FrontLeft, f.FrontRight, f.RearLeft, f.RearRight} }

func (f Four[Q]) sum() Q { return f.FrontLeft + f.FrontRight + f.RearLeft + f.RearRight }

func fourOf[Q measure.Quantity](l [4]Q) Four[Q] { return Four[Q]{l[0], l[1], l[2], l[3]} }

// Scales is what four scales under the wheels show, the car settled, the scales
// level with each other, the same load in the car as in any set it is compared
// with. Resolution is the smallest step of one scale.
type Scales struct {
	Four[quantity.Mass]
	Resolution quantity.Mass
}

// Weights are the sums and shares of four scales.
type Weights struct {
	Total         measure.Value[quantity.Mass]
	Front, Left   measure.Value[quantity.Ratio] // shares of the total
	Cross         measure.Value[quantity.Ratio] // the share of CrossDiagonal
	OtherDiagonal measure.Value[quantity.Ratio] // front left with rear right
}

// CornerWeights computes sums and shares. With a and b the two parts of the
// total W and u the uncertainty of one scale, that of the share a/W is
// u·√(2(a²+b²))/W².
func CornerWeights(s Scales) (Weights, error) {
	if err := s.check(); err != nil {
		return Weights{}, err
	}
	u := measure.Resolution(s.Resolution)
	return Weights{
		Total:         measure.Value[quantity.Mass]{Value: s.sum(), Standard: measure.Combine(u, u, u, u)},
		Front:         share(s.FrontLeft+s.FrontRight, s.RearLeft+s.RearRight, u),
		Left:          share(s.FrontLeft+s.RearLeft, s.FrontRight+s.RearRight, u),
		Cross:         share(s.FrontRight+s.RearLeft, s.FrontLeft+s.RearRight, u),
		OtherDiagonal: share(s.FrontLeft+s.RearRight, s.FrontRight+s.RearLeft, u),
	}, nil
}

func share(a, b, u quantity.Mass) measure.Value[quantity.Ratio] {
	total := float64(a + b)
	perA, perB := measure.Sensitivity(float64(b)/(total*total)), measure.Sensitivity(float64(a)/(total*total))
	byA, byB := measure.Contribution[quantity.Ratio](perA, u), measure.Contribution[quantity.Ratio](perB, u)
	return measure.Value[quantity.Ratio]{Value: quantity.Ratio(float64(a) / total), Standard: measure.Combine(byA, byA, byB, byB)}
}

func (s Scales) check() error {
	for i, m := range s.list() {
		place := [4]Corner{FrontLeft, FrontRight, RearLeft, RearRight}[i]
		if err := first(within(m, leastMass, mostMass, lang.F("The %s reading", place.Words())), checkMarks(s.Resolution, m)); err != nil {
			return err
		}
	}
	return nil
}

// QuestionScales is a sentence to put to the person about readings that look
// mixed up, or "" when there is nothing to ask. That no corner of a road car
// carries more than three times another is common practice, no source.
func QuestionScales(s Scales) string {
	if err := s.check(); err != nil {
		return lang.F("The readings cannot be used yet. %s", err.Error())
	}
	l := s.list()
	if low, high := min(l[0], l[1], l[2], l[3]), max(l[0], l[1], l[2], l[3]); high > 3*low {
		return lang.T("One corner carries more than three times another. Check the units of the scales, and that all four wheels stand in the middle of theirs.")
	}
	return ""
}

// Rule names how the front share that both sides are to have is found. Two are
// in use, and they differ when the sides do not weigh the same.
type Rule string

const (
	// MeanOfSides takes the mean of the two sides' own front shares. It is a
	// published rule, easy in the head; its targets do not quite add up to the
	// weight that is on the front axle.
	MeanOfSides Rule = "mean of the two sides"
	// WholeCar takes the front share of the whole car: what turning the spring
	// seats can really reach.
	WholeCar Rule = "front share of the whole car"
)

// Targets are the loads with which both sides have the same front share.
type Targets struct {
	FrontShare quantity.Ratio
	Four[quantity.Mass]
}

// EvenSides computes the targets by a rule.
func EvenSides(s Scales, rule Rule) (Targets, error) {
	if err := s.check(); err != nil {
		return Targets{}, err
	}
	left, right := s.FrontLeft+s.RearLeft, s.FrontRight+s.RearRight
	var front quantity.Mass
	switch rule {
	case MeanOfSides:
		front = (s.FrontLeft/left + s.FrontRight/right) / 2
	case WholeCar:
		front = (s.FrontLeft + s.FrontRight) / s.sum()
	default:
		return Targets{}, quantity.Inputf("Choose the mean of the two sides, or the front share of the whole car.", "It is not said by which rule the targets are found.")
	}
	return Targets{
		FrontShare: quantity.Ratio(front),
		Four:       Four[quantity.Mass]{front * left, front * right, (1 - front) * left, (1 - front) * right},
	}, nil
}
