package toe

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// FormulaHalfTurn names the mean of two readings half a turn apart in the record.
const FormulaHalfTurn = "toe-half-turn/1"

// Split says where the figure per wheel comes from.
type Split string

const (
	Measured Split = "measured"      // each wheel was read on its own
	Assumed  Split = "assumed equal" // only the total was read; one wheel is half
)

// Runout says what became of the wobble of the rims.
type Runout string

const (
	RunoutCancelled Runout = "cancelled"   // same marks, or the mean over half a turn
	RunoutCounted   Runout = "counted"     // in the uncertainty
	RunoutMissing   Runout = "not counted" // nobody knows it
)

// Both is a measured toe of one axle, toe-in positive. Half is half the total,
// the mean of the two wheels, with the uncertainty of that mean: it says
// nothing about one wheel unless Split is Measured.
type Both struct {
	Total, Half measure.Value[quantity.Angle]
	Split       Split
	Runout      Runout
	left, right measure.Value[quantity.Angle]
}

// Read is one toe angle as read from an instrument or a printout whose last
// digit or mark is resolution.
func Read(size quantity.Angle, d Direction, resolution quantity.Angle) (measure.Value[quantity.Angle], error) {
	signed, err := Signed(size, d)
	if err != nil {
		return measure.Value[quantity.Angle]{}, err
	}
	return measure.Read(signed, resolution)
}

// FromWheels joins the readings of the two wheels.
func FromWheels(left, right measure.Value[quantity.Angle], r Runout) (Both, error) {
	total := measure.Value[quantity.Angle]{Value: left.Value + right.Value, Standard: measure.Combine(left.Standard, right.Standard)}
	return checked(Both{Total: total, Half: half(total), Split: Measured, Runout: r, left: left, right: right})
}

// FromTotal takes a reading of the total alone.
func FromTotal(total measure.Value[quantity.Angle], r Runout) (Both, error) {
	return checked(Both{Total: total, Half: half(total), Split: Assumed, Runout: r})
}

func checked(b Both) (Both, error) {
	if err := b.check(); err != nil {
		return Both{}, err
	}
	return b, nil
}

func half(v measure.Value[quantity.Angle]) measure.Value[quantity.Angle] {
	return measure.Value[quantity.Angle]{Value: v.Value / 2, Standard: v.Standard / 2}
}

// Wheels are the two wheels; ok is false when they were not read on their own.
func (b Both) Wheels() (left, right measure.Value[quantity.Angle], ok bool) {
	return b.left, b.right, b.Split == Measured
}

// Angles is the value without its uncertainty.
func (b Both) Angles() Angles {
	return Angles{PerWheel: b.Total.Value / 2, Total: b.Total.Value}
}

func (b Both) check() error {
	values := []measure.Value[quantity.Angle]{b.Total}
	if b.Split == Measured {
		values = append(values, b.left, b.right)
	}
	for _, v := range values {
		if !quantity.Finite(v.Value) || !quantity.Finite(v.Standard) || v.Standard <= 0 {
			return quantity.Inputf("Enter the readings again, with what the instrument can be read to.", "A toe is missing, or it is not known how finely it was read.")
		}
	}
	switch b.Runout {
	case RunoutCancelled, RunoutCounted, RunoutMissing:
	default:
		return quantity.Inputf("Choose cancelled, counted or not counted.", "It is not said what became of the run-out of the rims.")
	}
	if b.Split != Measured && b.Split != Assumed || b.Half != half(b.Total) {
		return quantity.Inputf("Measure the toe first.", "There is no toe yet.")
	}
	return nil
}

// Words writes the toe as people say it, with its expanded uncertainty.
func (b Both) Words(u quantity.AngleUnit) string {
	if b.Split == Measured {
		return lang.F("%s total, %s left, %s right", plusMinus(b.Total, u), plusMinus(b.left, u), plusMinus(b.right, u))
	}
	return lang.F("%s total, %s per wheel if both have the same", plusMinus(b.Total, u), say(b.Half.Value, u))
}

func plusMinus(v measure.Value[quantity.Angle], u quantity.AngleUnit) string {
	return say(v.Value, u) + " ± " + quantity.FormatAngle(v.Expanded(), u)
}

// Shares is the toe that the run-out had added, as a size.
type Shares struct{ Left, Right, Total quantity.Angle }

// HalfTurn is the mean of two readings, the wheels rolled half a turn between
// them: the run-out cancels. Shares is half of what the readings differ by; the
// wheels are in it only when they were read on their own. The uncertainty is
// that of the worse reading: a second one does not make the first more exact.
func HalfTurn(first, second Both) (Both, Shares, error) {
	for _, b := range []Both{first, second} {
		if err := b.check(); err != nil {
			return Both{}, Shares{}, err
		}
	}
	if first.Split != second.Split {
		return Both{}, Shares{}, quantity.Inputf("Take both the same way.", "One reading is per wheel and the other is of the total.")
	}
	out := Both{Total: mean(first.Total, second.Total), Split: first.Split, Runout: RunoutCancelled}
	out.Half = half(out.Total)
	shares := Shares{Total: apart(first.Total, second.Total)}
	if first.Split == Measured {
		out.left, out.right = mean(first.left, second.left), mean(first.right, second.right)
		shares.Left, shares.Right = apart(first.left, second.left), apart(first.right, second.right)
	}
	return out, shares, nil
}

func mean(a, b measure.Value[quantity.Angle]) measure.Value[quantity.Angle] {
	return measure.Value[quantity.Angle]{Value: (a.Value + b.Value) / 2, Standard: max(a.Standard, b.Standard)}
}

func apart(a, b measure.Value[quantity.Angle]) quantity.Angle {
	return quantity.Angle(math.Abs(float64(a.Value-b.Value))) / 2
}

// RunoutShare is the most that a run-out adds to the toe of one wheel, as a
// size: asin(run-out / diameter).
func RunoutShare(runout, diameter quantity.Length) (quantity.Angle, error) {
	if err := checkDiameter(diameter); err != nil {
		return 0, err
	}
	if !quantity.Finite(runout) || runout < 0 || runout >= diameter {
		return 0, quantity.Inputf("Enter the difference between the highest and the lowest reading over one turn of the wheel.", "The run-out is missing, below zero or as large as the wheel.")
	}
	return quantity.Radians(math.Asin(float64(runout / diameter))), nil
}

// Question is a sentence to put to the person about a measured toe, or "" when
// there is nothing to ask.
func Question(b Both) string {
	switch {
	case b.check() != nil:
		return lang.T("The toe is not complete. Measure again.")
	case b.Split == Measured && beyond((b.left.Value-b.right.Value)/2):
		return lang.F("The wheels point the same way, %s left and %s right. Is the steering wheel held straight, and did the strings stay where they were?", say(b.left.Value, quantity.Degree), say(b.right.Value, quantity.Degree))
	case beyond(b.Total.Value):
		return lang.F("A total toe of %s is far more than a road car has. Check front and rear, the unit, and that the diameter is the one measured at, not its half.", say(b.Total.Value, quantity.Degree))
	}
	return ""
}

// QuestionWheel is a sentence to put to the person about the measured toe of one
// wheel, the other not being known, or "".
func QuestionWheel(toe quantity.Angle) string {
	switch {
	case !quantity.Finite(toe):
		return lang.T("The toe is not complete. Measure again.")
	case beyond(toe):
		return lang.F("A toe of one wheel of %s is far more than a road car has. Is the steering wheel held straight? Check the unit, and with strings the gaps and the diameter.", say(toe, quantity.Degree))
	}
	return ""
}

// QuestionRunout is a sentence for a toe whose uncertainty leaves the run-out
// of the rims out, or "".
func QuestionRunout(b Both) string {
	if b.Runout != RunoutMissing {
		return ""
	}
	return lang.T("How far the rims wobble is not in this uncertainty, and it can be as much as the tolerance. Roll the car forward half a turn of the wheels and read again, or use the same marks behind and in front.")
}
