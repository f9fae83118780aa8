package quantity

import (
	"fmt"
	"math"
	"strings"

	"strutcard/calc/lang"
)

// Angle in radians. Each formula states which way is positive.
type Angle float64

// AngleUnit is a way to write an angle.
type AngleUnit string

const (
	Degree       AngleUnit = "°"  // decimal degrees
	Minute       AngleUnit = "′"  // minutes of arc alone
	DegreeMinute AngleUnit = "°′" // whole degrees and minutes
)

// AngleUnits lists the ways a person can choose from.
func AngleUnits() []AngleUnit { return []AngleUnit{Degree, DegreeMinute, Minute} }

// Valid reports whether u is one of the units here.
func (u AngleUnit) Valid() bool { return u.Words() != "" }

// Words is the unit in full.
func (u AngleUnit) Words() string {
	switch u {
	case Degree:
		return lang.T("decimal degrees")
	case Minute:
		return lang.T("minutes of arc")
	case DegreeMinute:
		return lang.T("degrees and minutes")
	}
	return ""
}

const (
	radPerDegree    = math.Pi / 180
	minutesInDegree = 60
	largestTyped    = 720.0 // degrees; two turns, more than any pass or setting
)

func Radians(v float64) Angle { return Angle(v) }
func Degrees(v float64) Angle { return Angle(v * radPerDegree) }
func Minutes(v float64) Angle { return Degrees(v / minutesInDegree) }

func (a Angle) Radians() float64 { return float64(a) }
func (a Angle) Degrees() float64 { return float64(a) / radPerDegree }
func (a Angle) Minutes() float64 { return a.Degrees() * minutesInDegree }

// Mdeg is the angle in the record, in thousandths of a degree.
func (a Angle) Mdeg() int64 { return wire(a.Degrees() * 1000) }

// AngleFromMdeg is the inverse of Mdeg.
func AngleFromMdeg(mdeg int64) Angle { return Degrees(float64(mdeg) / 1000) }

func (a Angle) String() string { return FormatAngle(a, Degree) }

const angleNext = "Write −1.5° for decimal degrees, or 1°25' for degrees and minutes."

// ParseAngle reads decimal degrees ("-1.5°"), degrees and minutes ("1°25'") or
// minutes alone ("15'"). Two numbers without marks are refused: "1 10" from a
// page that lost its marks is most likely 1°10', but it is not certain.
func ParseAngle(text string) (Angle, error) {
	t, err := lead(text)
	if err != nil {
		return 0, err
	}
	if after, ok := cutMark(t.rest, degreeMarks); ok {
		return t.afterDegrees(after)
	}
	if after, ok := cutMark(t.rest, minuteMarks); ok && after == "" {
		v, err := t.value(true)
		if err != nil {
			return 0, err
		}
		return t.typedAngle(v / minutesInDegree)
	}
	if t.rest == "" {
		return 0, Inputf(angleNext, "%s has no degree or minute mark.", quote(t.all))
	}
	if _, err := split(text); err != nil {
		return 0, err
	}
	return 0, Inputf(angleNext, "%s is not an angle that can be read.", quote(t.all))
}

// afterDegrees goes on behind the degree mark.
func (t typed) afterDegrees(after string) (Angle, error) {
	degrees, err := t.value(true)
	if err != nil {
		return 0, err
	}
	if after == "" {
		return t.typedAngle(degrees)
	}
	m, err := lead(after)
	if err != nil || m.negative || after[0] == '+' {
		return 0, Inputf(lang.T("Type the one value to aim for.")+" "+lang.T(angleNext), "%s is not one angle.", quote(t.all))
	}
	rest, ok := cutMark(m.rest, minuteMarks)
	if !ok || rest != "" {
		return 0, Inputf(angleNext, "%s does not end in a minute mark.", quote(t.all))
	}
	minutes, err := m.value(true)
	if err != nil {
		return 0, err
	}
	if minutes >= minutesInDegree || strings.ContainsAny(t.digits, ".,") {
		return 0, Inputf(lang.T("With minutes, the degrees are a whole number and the minutes are below 60.")+" "+lang.T(angleNext), "%s mixes two ways to write an angle.", quote(t.all))
	}
	if t.negative { // kept apart from the number, so that −0°30' stays negative
		minutes = -minutes
	}
	return t.typedAngle(degrees + minutes/minutesInDegree)
}

func (t typed) typedAngle(degrees float64) (Angle, error) {
	if math.Abs(degrees) > largestTyped {
		return 0, Inputf("Check whether a degree or minute mark was lost.", "%s is more than two full turns.", quote(t.all))
	}
	return Degrees(degrees), nil
}

var (
	degreeMarks = []string{"°", "º", "˚", "degrees", "degree", "deg"}
	minuteMarks = []string{"'", "′", "’", "minutes", "minute", "min"}
)

func cutMark(s string, marks []string) (after string, ok bool) {
	for _, mark := range marks {
		if after, ok := strings.CutPrefix(s, mark); ok {
			return strings.TrimSpace(after), true
		}
	}
	return s, false
}

// AngleOf reads a number whose unit was chosen beside it. DegreeMinute still
// wants the marks in the text, as they part the two numbers.
func AngleOf(text string, u AngleUnit) (Angle, error) {
	if u == DegreeMinute {
		return ParseAngle(text)
	}
	if !u.Valid() {
		return 0, &InputError{lang.T("No unit of angle is chosen."), lang.T("Choose decimal degrees, or degrees and minutes.")}
	}
	v, t, err := bare(text, true)
	if err != nil {
		return 0, err
	}
	if u == Minute {
		v /= minutesInDegree
	}
	return t.typedAngle(v)
}

// FormatAngle writes the angle as "−1.42°", "−1°25′" or "−85′", minutes
// rounded to whole ones. An unknown unit gives "not a number".
func FormatAngle(a Angle, u AngleUnit) string {
	switch {
	case !Finite(a) || !u.Valid():
		return lang.T(notFinite)
	case u == Degree:
		return fixed(a.Degrees(), 2) + "°"
	case u == Minute:
		return fixed(a.Minutes(), 0) + "′"
	}
	total := math.Round(math.Abs(a.Minutes()))
	sign := ""
	if a < 0 && total > 0 {
		sign = minus
	}
	whole := math.Floor(total / minutesInDegree)
	return fmt.Sprintf("%s%.0f°%02.0f′", sign, whole, total-whole*minutesInDegree)
}
