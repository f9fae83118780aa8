package adjust

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// FormulaToeFromCamber names this calculation in the record.
const FormulaToeFromCamber = "adjust-toe-from-camber/1"

// Level says where a thing lies against another in height.
type Level string

const (
	Above Level = "above"
	Below Level = "below"
)

// SteeringArm is where the outer joint of the tie rod sits on the knuckle.
// Reach is its distance from the steering axis, forward or rearward as Joint
// says. Height is from the joint of the steering axis that stays when the
// camber is changed (the lower ball joint when the strut top or its foot is
// moved), above or below it as Lies says; Lies may be empty at zero.
type SteeringArm struct {
	Reach      quantity.Length
	Joint      Way
	Height     quantity.Length
	Lies       Level
	Resolution quantity.Length // between two marks of the tape
}

// ToeFor is about how much the toe of this wheel changes, toe-in positive, when
// the camber is changed and the tie rod is left as it is. The knuckle leans
// about the joint that stays, the tie rod keeps its end where it was, and so the
// wheel steers:
//
//	toe = asin(−a·sin(camber)/r)   a: Height, above positive; r: Reach, rearward positive
//
// It takes the steering axis as upright and the tie rod as long and square to
// the car, and is within about a tenth for axes that lean up to 15°: read toe
// again in any case.
func (s SteeringArm) ToeFor(camber measure.Value[quantity.Angle]) (measure.Value[quantity.Angle], error) {
	r, a, err := s.read()
	if err := first(err, checkChange(camber.Value)); err != nil {
		return measure.Value[angle]{}, err
	}
	if !quantity.Finite(camber.Standard) || camber.Standard < 0 {
		return measure.Value[angle]{}, quantity.Inputf("Enter the readings of camber again.", "The uncertainty of the camber is not a number.")
	}
	lean, slope := math.Sin(float64(camber.Value)), math.Cos(float64(camber.Value))
	share := -a * lean / r
	if math.Abs(share) > math.Sin(largest*math.Pi/180) {
		return measure.Value[angle]{}, quantity.Inputf("Check the distances of the track rod's joint and their units.", "The toe would change further than can be believed.")
	}
	per := 1 / math.Sqrt(1-share*share)
	return measure.Value[angle]{Value: quantity.Radians(math.Asin(share) + 0), Standard: measure.Combine(
		measure.Contribution[angle](measure.Sensitivity(per*a*slope/r), camber.Standard),
		turn(per*lean/r, s.Resolution), turn(per*share/r, s.Resolution))}, nil
}

func (s SteeringArm) read() (reach, height float64, err error) {
	reach, errReach := along(s.Reach, s.Joint, Rearward, Forward)
	err = first(positive(lang.T("The distance of the track rod's joint from the steering axis"), s.Reach), errReach, marks(s.Resolution))
	height = float64(s.Height)
	switch {
	case err != nil:
	case !quantity.Finite(s.Height) || s.Height < 0:
		err = quantity.Inputf("Enter it as a size, and say above or below.", "The height of the track rod's joint is below zero or not a number.")
	case s.Lies == Below:
		height = -height
	case s.Lies != Above && (s.Lies != "" || s.Height > 0):
		err = quantity.Inputf("Choose above or below the joint that stays.", "It is not said where the track rod's joint lies.")
	}
	return reach, height, err
}
