package plausible

import (
	"cmp"

	"strutcard/calc/camber"
	"strutcard/calc/caster"
	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/calc/ride"
	"strutcard/calc/thrust"
	"strutcard/calc/toe"
	"strutcard/sync/event"
	"strutcard/sync/sheet"
)

// Target is a question about a target and its tolerance.
//
// Sources: case CAL-18 (camber beyond 6°, caster beyond 15°, a tolerance wider
// than the value, 110 for 1°10′); the limits of toe, thrust and ride height are
// those of their packages in calc.
func Target(t *sheet.Target) string {
	value, tol := quantity.AngleFromMdeg(t.Mdeg), quantity.AngleFromMdeg(t.TolMdeg)
	switch t.Quantity {
	case event.Camber:
		return cmp.Or(camber.SpecQuestion(value, tol, tol), lostMarks(t))
	case event.Caster:
		return cmp.Or(caster.SpecQuestion(value, tol, tol), lostMarks(t))
	case event.Toe:
		return cmp.Or(toe.QuestionSpec(toe.Angles{PerWheel: value, Total: 2 * value}, 2*tol), lostMarks(t))
	case event.TotalToe:
		return cmp.Or(toe.QuestionSpec(toe.Angles{PerWheel: value / 2, Total: value}, tol), lostMarks(t))
	case event.Thrust:
		return cmp.Or(thrust.Question(value), thrust.Question(tol))
	case event.RideHeight:
		return height(quantity.LengthFromUM(t.UM), quantity.LengthFromUM(t.TolUM))
	}
	return ""
}

// mostHeightTolerance: makers allow about 20 mm from side to side (calc/ride).
// Half as much again is common practice, no source.
const mostHeightTolerance quantity.Length = 0.03

func height(h, tol quantity.Length) string {
	at := measure.Value[quantity.Length]{Value: h, Standard: measure.Resolution(quantity.Millimetres(1))}
	switch {
	case ride.QuestionHeights(ride.Heights{FrontLeft: at, FrontRight: at, RearLeft: at, RearRight: at}) != "":
		return lang.F("A ride height of %s is unusual from hub to arch. Is it taken from the floor or the rim, or in another unit? Compare it with the source.", h.String())
	case tol < 0 || tol > mostHeightTolerance:
		return lang.F("A tolerance of ± %s is unusual for a ride height. Is it another column, or in another unit? Compare it with the source.", tol.String())
	}
	return ""
}

// lostMarks asks about degrees and minutes typed as a decimal: 1°10′ ± 30′ as
// 1.10 ± 0.30, the other spelling of CAL-18. A number alone cannot tell, as 1.10°
// exists; its tolerance can: 30′ and 45′ are usual in minutes (both in CAL-18),
// 0.30° and 0.45° are not in decimals. That is common practice, no source.
func lostMarks(t *sheet.Target) string {
	degrees, minutes, ok := asMinutes(t.Mdeg)
	_, around, also := asMinutes(t.TolMdeg)
	if !ok || !also || t.TolMdeg != 300 && t.TolMdeg != 450 || t.TolMdeg == 300 && minutes == 0 {
		return ""
	}
	meant := quantity.Minutes(float64(60*degrees + minutes))
	if t.Mdeg < 0 {
		meant = -meant
	}
	tol := quantity.Minutes(float64(around))
	return lang.F("This reads like %s ± %s that lost its marks, which is %s ± %s. Does the source give degrees and minutes? Compare both numbers with it.", quantity.FormatAngle(meant, quantity.DegreeMinute), quantity.FormatAngle(tol, quantity.Minute), quantity.FormatAngle(meant, quantity.Degree), quantity.FormatAngle(tol, quantity.Degree))
}

// asMinutes reads 1.10 as 1°10′. It is not ok for what no page prints as minutes.
func asMinutes(mdeg int64) (degrees, minutes int64, ok bool) {
	size := max(mdeg, -mdeg)
	degrees, minutes = size/1000, size%1000/10
	return degrees, minutes, size%50 == 0 && minutes < 60
}
