package ride

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// Names of these calculations in the record. Each changes when a result does.
const (
	FormulaStance    = "hub-to-arch/1"
	FormulaLeftRight = "left-right-height/1"
)

// Heights are those from hub to arch at the four corners, each read with
// measure.Read, or with measure.Repeated when it was taken more than once.
type Heights struct {
	FrontLeft, FrontRight, RearLeft, RearRight measure.Value[quantity.Length]
}

// Tape reads four heights with one tape with a mark every resolution.
func Tape(frontLeft, frontRight, rearLeft, rearRight, resolution quantity.Length) (Heights, error) {
	var out Heights
	places := [4]*length{&out.FrontLeft, &out.FrontRight, &out.RearLeft, &out.RearRight}
	for i, reading := range [4]quantity.Length{frontLeft, frontRight, rearLeft, rearRight} {
		v, err := measure.Read(reading, resolution)
		if err != nil {
			return Heights{}, err
		}
		*places[i] = v
	}
	if err := out.check(); err != nil {
		return Heights{}, err
	}
	return out, nil
}

// Stance is what the heights say together.
type Stance struct {
	FrontMean, RearMean             measure.Value[quantity.Length]
	FrontDifference, RearDifference measure.Value[quantity.Length] // left minus right
	Rake                            measure.Value[quantity.Length] // rear minus front: positive nose down
	RakeAngle                       measure.Value[quantity.Angle]  // of the arches over the wheelbase
}

// Nose says in words which way a rake or a pitch goes.
type Nose string

const (
	NoseDown Nose = "nose down"
	NoseUp   Nose = "nose up"
	NoTilt   Nose = "no tilt that can be told" // smaller than its uncertainty
)

// Words is n as people read it.
func (n Nose) Words() string { return lang.T(string(n)) }

// NoseOf puts a rake angle or a change of pitch in words.
func NoseOf(a measure.Value[quantity.Angle]) Nose {
	switch {
	case a.Low() > 0:
		return NoseDown
	case a.High() < 0:
		return NoseUp
	}
	return NoTilt
}

// StanceOf computes means, differences and rake.
func StanceOf(h Heights, wheelbase measure.Value[quantity.Length]) (Stance, error) {
	if err := first(h.check(), check(wheelbase, leastBase, mostBase, lang.T("wheelbase"))); err != nil {
		return Stance{}, err
	}
	rake := h.rake()
	return Stance{
		FrontMean:       weighted(term{0.5, h.FrontLeft}, term{0.5, h.FrontRight}),
		RearMean:        weighted(term{0.5, h.RearLeft}, term{0.5, h.RearRight}),
		FrontDifference: weighted(term{1, h.FrontLeft}, term{-1, h.FrontRight}),
		RearDifference:  weighted(term{1, h.RearLeft}, term{-1, h.RearRight}),
		Rake:            rake,
		RakeAngle:       over(rake, wheelbase),
	}, nil
}

func (h Heights) rake() length {
	return weighted(term{0.5, h.RearLeft}, term{0.5, h.RearRight}, term{-0.5, h.FrontLeft}, term{-0.5, h.FrontRight})
}

// over is the angle of a rise along a base:
//
//	atan(r/b)    ∂/∂r = b/(r²+b²)    ∂/∂b = −r/(r²+b²)
func over(rise, base length) measure.Value[quantity.Angle] {
	r, b := rise.Value.Metres(), base.Value.Metres()
	square := r*r + b*b
	return measure.Value[quantity.Angle]{Value: quantity.Radians(math.Atan(r / b)), Standard: measure.Combine(
		measure.Contribution[quantity.Angle](measure.Sensitivity(b/square), rise.Standard),
		measure.Contribution[quantity.Angle](measure.Sensitivity(r/square), base.Standard),
	)}
}

func (h Heights) check() error {
	return first(
		check(h.FrontLeft, leastHeight, mostHeight, lang.T("front left height")), check(h.FrontRight, leastHeight, mostHeight, lang.T("front right height")),
		check(h.RearLeft, leastHeight, mostHeight, lang.T("rear left height")), check(h.RearRight, leastHeight, mostHeight, lang.T("rear right height")))
}

// LeftRight judges a difference of left and right against the largest one that
// the car's maker allows, a size. There is no general limit: some makers give
// 20 mm. Unequal tyres make a difference that the springs did not.
func LeftRight(difference measure.Value[quantity.Length], limit quantity.Length) (measure.Verdict, error) {
	if !(limit > 0 && limit <= mostHeight) {
		return "", quantity.Inputf("Look the limit up in the manual of this car. If there is none, compare with the heights before the work.", "The largest allowed difference is missing or not believable.")
	}
	if !quantity.Finite(difference.Value) || !(difference.Standard >= finest) || !quantity.Finite(difference.Standard) {
		return "", quantity.Inputf("Measure both heights again.", "The difference of left and right is not known.")
	}
	return measure.Band[quantity.Length]{Minus: limit, Plus: limit}.Judge(difference), nil
}

// QuestionHeights is a sentence to put to the person about heights that look
// like a slip, or "" when there is nothing to ask. The limits are common
// practice, no source.
func QuestionHeights(h Heights) string {
	if err := h.check(); err != nil {
		return lang.F("The heights cannot be used yet. %s", err.Error())
	}
	for _, axle := range []struct {
		left, right length
		what        string
	}{{h.FrontLeft, h.FrontRight, lang.T("Left and right differ by more than 30 mm on the front axle.")}, {h.RearLeft, h.RearRight, lang.T("Left and right differ by more than 30 mm on the rear axle.")}} {
		if apart := math.Abs((axle.left.Value - axle.right.Value).Millimetres()); apart > 30 {
			return axle.what + " " + lang.T("Check that both were taken from the middle of the hub, and that tyres and load are alike.")
		}
	}
	for _, l := range []length{h.FrontLeft, h.FrontRight, h.RearLeft, h.RearRight} {
		if l.Value.Millimetres() < 200 || l.Value.Millimetres() > 600 {
			return lang.F("A height of %s is unusual from hub to arch. Check that it was not taken from the floor or from the edge of the rim.", l.Value.String())
		}
	}
	return ""
}
