package toe

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
)

// FormulaConversion names the conversion between length and angle in the record.
const FormulaConversion = "toe-conversion/1"

// AfterCamber is to be said with every change of camber.
const AfterCamber = "Changing camber moves toe: the strut swings the wheel about the track rod. Set camber first, then read toe again."

// Direction is where the front of the wheel points, from straight ahead.
type Direction string

const (
	In  Direction = "in"  // towards the centre line of the car
	Out Direction = "out" // away from it
)

// Words is the direction as people read it, "" for none.
func (d Direction) Words() string {
	switch d {
	case In:
		return lang.C("in", "of toe")
	case Out:
		return lang.C("out", "of toe")
	}
	return ""
}

// Side is a side of the car, as the driver sits.
type Side string

const (
	Left  Side = "left"
	Right Side = "right"
)

// Scope says what a number is about.
type Scope string

const (
	PerWheel Scope = "per wheel"
	Total    Scope = "total" // left plus right
)

// Angles is a nominal toe, such as a specification: toe-in positive. The figure
// per wheel is half the total.
type Angles struct{ PerWheel, Total quantity.Angle }

// Lengths is the same as rear minus front over a diameter: toe-in positive.
type Lengths struct{ PerWheel, Total, Diameter quantity.Length }

// Signed turns a positive number and a word into a toe with the sign of this
// package. Zero needs no word.
func Signed[Q quantity.Angle | quantity.Length](size Q, d Direction) (Q, error) {
	switch {
	case !quantity.Finite(size):
		return 0, quantity.Inputf("Enter the toe again.", "The toe is not a number.")
	case size < 0:
		return 0, quantity.Inputf("Type it without a sign and choose in or out. Minus toe-in is toe-out, and minus toe-out is toe-in.", "The toe has a minus sign.")
	case d != In && d != Out && (d != "" || size > 0):
		return 0, quantity.Inputf("Choose in if the fronts of the wheels are nearer together, out if the rears are.", "It is not said whether the toe is in or out.")
	case d == Out && size > 0:
		return -size, nil
	}
	return size, nil
}

// Say is the inverse of Signed. The Direction of a toe of zero is empty.
func Say[Q quantity.Angle | quantity.Length](toe Q) (size Q, d Direction) {
	switch {
	case toe > 0:
		return toe, In
	case toe < 0:
		return -toe, Out
	}
	return toe, ""
}

// largest is where a specification stops being toe; questioned is where it is
// asked about. Common practice, no source.
const (
	largest    = 15.0 // degrees, total
	questioned = 2.0
)

// FromAngle is a toe given as an angle, per wheel or in total.
func FromAngle(size quantity.Angle, d Direction, s Scope) (Angles, error) {
	signed, err := Signed(size, d)
	if err != nil {
		return Angles{}, err
	}
	return angles(signed, s)
}

// FromLength is a toe given as a length at a stated diameter, per wheel (one
// wheel's own difference of rear and front) or in total (the sum).
func FromLength(size, diameter quantity.Length, d Direction, s Scope) (Angles, error) {
	signed, err := Signed(size, d)
	if err != nil {
		return Angles{}, err
	}
	if err := checkDiameter(diameter); err != nil {
		return Angles{}, err
	}
	if size >= diameter {
		return Angles{}, tooLong()
	}
	return angles(quantity.Radians(math.Asin(float64(signed/diameter))), s)
}

func angles(a quantity.Angle, s Scope) (Angles, error) {
	out := Angles{PerWheel: a / 2, Total: a}
	switch s {
	case PerWheel:
		out = Angles{PerWheel: a, Total: 2 * a}
	case Total:
	default:
		return Angles{}, quantity.Inputf("Choose per wheel or total: look for a note such as “sum of both wheels”.", "It is not said whether the toe is for one wheel or for both.")
	}
	if math.Abs(out.Total.Degrees()) > largest {
		return Angles{}, quantity.Inputf("Check whether minutes of arc were read as degrees, and the unit of the diameter.", "A total toe of more than %.0f° is not a toe.", largest)
	}
	return out, nil
}

// At is the toe as lengths at a diameter. The sine is taken of the total; one
// wheel has half of it.
func (a Angles) At(diameter quantity.Length) (Lengths, error) {
	if err := checkDiameter(diameter); err != nil {
		return Lengths{}, err
	}
	if err := a.check(); err != nil {
		return Lengths{}, err
	}
	total := diameter * quantity.Length(math.Sin(a.Total.Radians()))
	return Lengths{PerWheel: total / 2, Total: total, Diameter: diameter}, nil
}

func (a Angles) check() error {
	if !quantity.Finite(a.Total) || a.PerWheel != a.Total/2 || math.Abs(a.Total.Degrees()) > largest {
		return quantity.Inputf("Enter it again, with in or out, and per wheel or total.", "The wanted toe is missing or not a toe.")
	}
	return nil
}

func checkDiameter(d quantity.Length) error {
	if !quantity.Finite(d) || d <= 0 {
		return quantity.Inputf("Measure along the wheel between the places at the front and at the rear. A toe in millimetres or inches says nothing without it.", "The diameter at which the toe is measured is missing or not above zero.")
	}
	return nil
}

func tooLong() error {
	return quantity.Inputf("Check that all are in the same unit and in the right field.", "The difference between front and rear is not smaller than the diameter.")
}

// Words writes the toe as people say it, both figures together.
func (a Angles) Words(u quantity.AngleUnit) string {
	return lang.F("%s total, %s per wheel", say(a.Total, u), say(a.PerWheel, u))
}

// Words writes the lengths with the diameter that they stand for.
func (l Lengths) Words(u quantity.LengthUnit) string {
	part := func(v quantity.Length) string {
		size, d := Say(v)
		return pointing(quantity.FormatLength(size, u), d)
	}
	return lang.F("%s total, %s per wheel, at a diameter of %s", part(l.Total), part(l.PerWheel), quantity.FormatLength(l.Diameter, u))
}

func say(a quantity.Angle, u quantity.AngleUnit) string {
	size, d := Say(a)
	return pointing(quantity.FormatAngle(size, u), d)
}

// pointing puts the word of a direction behind a size; a toe of zero has none.
func pointing(size string, d Direction) string {
	if d == "" {
		return size
	}
	return size + " " + d.Words()
}

// QuestionSpec is a sentence to put to the person about a specified toe, its
// tolerance being a size for the total, or "" when there is nothing to ask.
func QuestionSpec(a Angles, tolerance quantity.Angle) string {
	switch {
	case a.check() != nil:
		return lang.T("The specified toe is missing or not a toe. Enter it again from the source.")
	case !quantity.Finite(tolerance) || tolerance < 0:
		return lang.T("The tolerance is below zero or not a number. Enter it as a size, without a sign.")
	}
	for _, v := range []quantity.Angle{a.Total, tolerance} {
		if beyond(v) {
			return lang.F("%s is far more than the toe of a road car. If the source means minutes of arc, it is %s. Compare the degree and minute marks with the source once more.", quantity.FormatAngle(v, quantity.Degree), quantity.FormatAngle(v/60, quantity.Degree))
		}
	}
	return ""
}

// beyond leaves room for float noise at the limit itself.
func beyond(a quantity.Angle) bool { return math.Abs(a.Degrees()) > questioned+1e-9 }
