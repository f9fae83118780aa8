package lift

import (
	"strutcard/calc/lang"
	"strutcard/calc/quantity"
)

// Face is the side of a tyre that a chock lies against.
type Face string

const (
	Ahead  Face = "ahead"  // towards the nose of the car
	Behind Face = "behind" // towards the tail
)

// Chock is one chock.
type Chock struct {
	Wheel Corner
	Face  Face
}

// Words is where the chock goes.
func (c Chock) Words() string {
	if c.Face == Ahead {
		return lang.F("in front of the %s wheel", c.Wheel.Words())
	}
	return lang.F("behind the %s wheel", c.Wheel.Words())
}

// Chocks lists the chocks for a lift in the order to set them: both faces of
// every wheel that stays on the ground, the downhill faces first. On level
// ground those that the raised end pushes towards come first: behind the rear
// wheels when the front goes up, ahead of the front wheels when the rear does.
// For a single corner the wheel diagonally opposite comes first.
//
// down is the end the ground falls to, or empty. first is the end that goes up
// first when all wheels do: the chocks then serve the first raise, and while it
// is not known all four wheels are listed.
func Chocks(r Raised, first End, down Way) ([]Chock, error) {
	if _, ok := raisedWheels[r]; !ok {
		return nil, noRaised()
	}
	if err := one(lang.T("the end that goes up first"), first, Front, Rear); err != nil {
		return nil, err
	}
	if err := one(lang.T("the way downhill"), down, ToFront, ToRear); err != nil {
		return nil, quantity.Inputf("For chocks only the fall along the car counts: front or rear.", "The way downhill is not along the car.")
	}
	up := atFirst(r, first)
	var turn [4][]Chock
	for i, wheel := range corners {
		for _, c := range []Chock{{wheel, Ahead}, {wheel, Behind}} {
			if !up.has(i) {
				n := order(c, r, up, down)
				turn[n] = append(turn[n], c)
			}
		}
	}
	var out []Chock
	for _, chocks := range turn {
		out = append(out, chocks...)
	}
	return out, nil
}

// atFirst are the wheels in the air when the first end is.
func atFirst(r Raised, first End) wheels {
	switch {
	case r != AllWheels:
		return raisedWheels[r]
	case first == Front:
		return frontWheels
	case first == Rear:
		return rearWheels
	}
	return 0
}

// order is from 0 to 3, smaller for a chock that is set earlier: the diagonal wheel of a
// single corner before the face.
func order(c Chock, r Raised, up wheels, down Way) int {
	n := 0
	if !urgent(c, up, down) {
		n = 1
	}
	if diagonal, ok := diagonals[r]; ok && c.Wheel != diagonal {
		n += 2
	}
	return n
}

var diagonals = map[Raised]Corner{OneFrontLeft: RearRight, OneFrontRight: RearLeft, OneRearLeft: FrontRight, OneRearRight: FrontLeft}

// urgent says whether the car would roll onto this chock first.
func urgent(c Chock, up wheels, down Way) bool {
	switch down {
	case ToFront:
		return c.Face == Ahead
	case ToRear:
		return c.Face == Behind
	}
	frontUp, rearUp := up&frontWheels != 0, up&rearWheels != 0
	switch {
	case frontUp && !rearUp:
		return c.Face == Behind
	case rearUp && !frontUp:
		return c.Face == Ahead
	}
	return false
}

// Step is a step of raising a car.
type Step string

const (
	StepChock   Step = "chock"   // the wheels that stay on the ground
	StepBrake   Step = "brake"   // apply the parking brake; see ConflictBrake
	StepRaise   Step = "raise"   // with the jack
	StepSupport Step = "support" // stands, at once, before anything else
)

// Order is the order of raising a car: chocks and brake before the jack
// (regulator's advice), the stands at once after it (workplace rule).
func Order() []Step { return []Step{StepChock, StepBrake, StepRaise, StepSupport} }
