package toe

import (
	"math"

	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// FormulaRod names the toe per turn of a track rod in the record.
const FormulaRod = "toe-rod/1"

// Thread is how a track rod is adjusted.
type Thread string

const (
	OneThread       Thread = "one thread"       // a rod that screws into its end
	OppositeThreads Thread = "opposite threads" // a sleeve between a right and a left-hand thread
)

// Joint is where the rod is joined to the arm of the wheel carrier.
type Joint string

const (
	Ahead  Joint = "ahead"  // of the centre of the wheel
	Behind Joint = "behind" // the centre of the wheel
)

// Change is what happens to the length of a rod.
type Change string

const (
	Longer  Change = "longer"
	Shorter Change = "shorter"
)

// Rod is a track rod with its arm. Arm is measured square from the steering axis to the
// line of the rod.
type Rod struct {
	Thread     Thread
	Joint      Joint
	Pitch, Arm quantity.Length // pitch of one thread
	Resolution quantity.Length // of the rule that read the arm
}

// eighth is what turns are advised in, and how finely they can be turned.
const eighth quantity.Turns = 0.125

// PerTurn is the toe of one wheel for one turn, as a size.
func (r Rod) PerTurn() (measure.Value[quantity.Angle], error) {
	if err := r.check(); err != nil {
		return measure.Value[quantity.Angle]{}, err
	}
	value, _, perArm := r.swing(1)
	return measure.Value[quantity.Angle]{Value: value, Standard: r.armPart(perArm)}, nil
}

// Turns is how far to turn, and whether the rod gets longer, for a wanted change of
// toe of this wheel, positive for more toe-in. A change of zero wants no turn.
func (r Rod) Turns(change quantity.Angle) (quantity.Turns, Change, error) {
	if err := r.check(); err != nil {
		return 0, "", err
	}
	if !quantity.Finite(change) || math.Abs(change.Degrees()) > largest {
		return 0, "", quantity.Inputf("Enter how much toe this wheel is to gain or lose.", "The wanted change of toe is missing or not believable.")
	}
	n := r.turns(change)
	return quantity.Turns(math.Abs(float64(n))), r.way(n), nil
}

// ToeFor is the inverse of Turns: the change of toe that turns bring,
// positive for more toe-in, with the uncertainty of the arm and of turning to
// an eighth of a turn.
func (r Rod) ToeFor(n quantity.Turns, c Change) (measure.Value[quantity.Angle], error) {
	if err := r.check(); err != nil {
		return measure.Value[quantity.Angle]{}, err
	}
	switch {
	case !quantity.Finite(n) || n < 0:
		return measure.Value[quantity.Angle]{}, quantity.Inputf("Enter how many turns, and whether the rod gets longer or shorter.", "The turns are missing or below zero.")
	case c != Longer && c != Shorter && (c != "" || n > 0):
		return measure.Value[quantity.Angle]{}, quantity.Inputf("Choose longer or shorter. Watch the thread: more of it shows on a rod that gets longer.", "It is not said whether the rod gets longer or shorter.")
	}
	if c != r.way(1) {
		n = -n
	}
	value, perTurn, perArm := r.swing(n)
	return measure.Value[quantity.Angle]{Value: value, Standard: measure.Combine(r.armPart(perArm), turnPart(perTurn))}, nil
}

// gain is the change of length for one turn.
func (r Rod) gain() quantity.Length {
	if r.Thread == OppositeThreads {
		return 2 * r.Pitch
	}
	return r.Pitch
}

// turns is signed: above zero is more toe-in.
func (r Rod) turns(change quantity.Angle) quantity.Turns {
	return quantity.Turns(math.Tan(change.Radians())) * quantity.Turns(r.Arm/r.gain())
}

// swing is the toe for signed turns, and how it changes with a turn and with the
// arm: with x = turns · gain, ∂/∂x = arm/(arm²+x²), ∂/∂arm = −x/(arm²+x²).
func (r Rod) swing(n quantity.Turns) (value quantity.Angle, perTurn, perArm measure.Sensitivity) {
	x, arm := n.Count()*r.gain().Metres(), r.Arm.Metres()
	square := arm*arm + x*x
	return quantity.Radians(math.Atan(x / arm)), measure.Sensitivity(r.gain().Metres() * arm / square), measure.Sensitivity(-x / square)
}

func (r Rod) armPart(perArm measure.Sensitivity) quantity.Angle {
	return measure.Contribution[quantity.Angle](perArm, measure.Resolution(r.Resolution))
}

func turnPart(perTurn measure.Sensitivity) quantity.Angle {
	return measure.Contribution[quantity.Angle](perTurn, measure.Resolution(eighth))
}

// way is what becomes of the rod for signed turns.
func (r Rod) way(n quantity.Turns) Change {
	switch {
	case n == 0:
		return ""
	case (n > 0) == (r.Joint == Behind):
		return Longer
	}
	return Shorter
}

func (r Rod) check() error {
	if err := finite(r.Pitch, r.Arm, r.Resolution); err != nil {
		return err
	}
	switch {
	case r.Joint != Ahead && r.Joint != Behind:
		return quantity.Inputf("Look where the rod meets the knuckle: ahead of the centre of the wheel, or behind it. Without that nobody can say whether a longer rod means in or out.", "It is not said where the track rod is joined.")
	case r.Thread != OneThread && r.Thread != OppositeThreads:
		return quantity.Inputf("Choose one thread, or a sleeve with opposite threads: that one moves twice as far per turn.", "It is not said how the track rod is adjusted.")
	case r.Pitch <= 0:
		return quantity.Inputf("Measure ten threads and divide by ten.", "The pitch of the thread is missing or not above zero.")
	case r.Arm <= 0:
		return quantity.Inputf("Measure square from the line through the ball joint and the top mount to the track rod.", "The length of the steering arm is missing or not above zero.")
	case r.Resolution <= 0 || r.Resolution >= r.Arm:
		return quantity.Inputf("Enter the distance between two marks, such as 1 mm.", "The smallest mark of the rule is missing, not above zero, or as long as the arm.")
	case r.Pitch >= r.Arm/4:
		return quantity.Inputf("Check the unit of the pitch and of the arm.", "The pitch of the thread is far too long for this arm.")
	}
	return nil
}
