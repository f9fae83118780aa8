package lift

import (
	"strutcard/calc/lang"
	"strutcard/calc/quantity"
)

// End is an end of the car.
type End string

const (
	Front End = "front"
	Rear  End = "rear"
)

func (e End) other() End {
	if e == Front {
		return Rear
	}
	return Front
}

// of is one of two texts: that of the front or that of the rear.
func (e End) of(front, rear string) string {
	if e == Front {
		return front
	}
	return rear
}

// Corner is one wheel, left and right as seen by the driver.
type Corner string

const (
	FrontLeft  Corner = "front_left"
	FrontRight Corner = "front_right"
	RearLeft   Corner = "rear_left"
	RearRight  Corner = "rear_right"
)

var corners = []Corner{FrontLeft, FrontRight, RearLeft, RearRight}

// Words is the wheel as people read it.
func (c Corner) Words() string {
	return map[Corner]string{FrontLeft: lang.T("front left"), FrontRight: lang.T("front right"), RearLeft: lang.T("rear left"), RearRight: lang.T("rear right")}[c]
}

// Raised says which wheels are off the ground in the end.
type Raised string

const (
	FrontAxle     Raised = "front_axle"
	RearAxle      Raised = "rear_axle"
	AllWheels     Raised = "all_wheels"
	LeftSide      Raised = "left_side"
	RightSide     Raised = "right_side"
	OneFrontLeft  Raised = Raised(FrontLeft)
	OneFrontRight Raised = Raised(FrontRight)
	OneRearLeft   Raised = Raised(RearLeft)
	OneRearRight  Raised = Raised(RearRight)
)

var raisedWheels = map[Raised]wheels{
	FrontAxle: frontWheels, RearAxle: rearWheels, AllWheels: frontWheels | rearWheels,
	LeftSide: 1 | 4, RightSide: 2 | 8,
	OneFrontLeft: 1, OneFrontRight: 2, OneRearLeft: 4, OneRearRight: 8,
}

// ends are those that stand on a pair of stands; a side or a single corner has none.
func (r Raised) ends() []End {
	switch r {
	case FrontAxle:
		return []End{Front}
	case RearAxle:
		return []End{Rear}
	case AllWheels:
		return []End{Front, Rear}
	}
	return nil
}

// wheels is a set of corners, a bit each in the order of corners.
type wheels uint8

const (
	frontWheels wheels = 1 | 2
	rearWheels  wheels = 4 | 8
)

// words names the wheels that a brake or the engine acts on.
func (w wheels) words() string {
	switch w {
	case frontWheels:
		return lang.T("the front wheels")
	case rearWheels:
		return lang.T("the rear wheels")
	}
	return lang.T("the driven wheels")
}

func (w wheels) has(i int) bool { return w&(1<<i) != 0 }

// Place is where stands or a jack are, seen from the axle line of their end.
type Place string

const (
	AtAxle  Place = "at_axle" // on the line through the wheel centres
	Between Place = "between" // between the two axles, as on a sill
	Beyond  Place = "beyond"  // past the axle, towards the bumper
)

// Drive says which wheels the engine turns.
type Drive string

const (
	FrontDrive Drive = "front"
	RearDrive  Drive = "rear"
	AllDrive   Drive = "all"
)

// Differential says whether the driven wheels can turn against each other. With
// all wheels driven it is the word for all of them, the one between the axles
// included: Locked only when every one is.
type Differential string

const (
	Open        Differential = "open"
	Locked      Differential = "locked"
	LimitedSlip Differential = "limited_slip" // counts as either: nobody knows how far it slips
)

// Brake says on what the parking brake acts.
type Brake string

const (
	BrakeFront        Brake = "front"
	BrakeRear         Brake = "rear"
	BrakeTransmission Brake = "transmission" // on the shaft behind the gearbox
)

// Gearbox says what a gear lever can hold with.
type Gearbox string

const (
	Manual    Gearbox = "manual"    // in gear, against the engine; a robotised one without P too
	Automatic Gearbox = "automatic" // with a P position
)

// Where is the place of the jack across the car.
type Where string

const (
	Centre   Where = "centre"    // under the middle of an axle
	Corners  Where = "corner"    // under one corner, then the other
	SideSill Where = "side_sill" // under the middle of a side
)

// Surface is what the stands and the jack are on.
type Surface string

const (
	Concrete Surface = "concrete"
	Asphalt  Surface = "asphalt"
	Soft     Surface = "soft" // gravel, soil, grass, sand, loose slabs
)

// Answer to a plain question. The zero Answer says nothing.
type Answer string

const (
	Yes Answer = "yes"
	No  Answer = "no"
)

// one checks that a word is among those known, or empty.
func one[W ~string](what string, w W, known ...W) error {
	if w == "" {
		return nil
	}
	for _, k := range known {
		if w == k {
			return nil
		}
	}
	return quantity.Inputf("Choose one of those offered.", "The answer “%s” for %s is not known here.", string(w), what)
}
