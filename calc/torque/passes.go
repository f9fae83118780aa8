package torque

import (
	"strutcard/calc/lang"
	"strutcard/calc/quantity"
)

// PassKind is one way to turn a bolt.
type PassKind string

const (
	Snug    PassKind = "snug"     // seats the parts; by hand, or to a torque
	Part    PassKind = "part"     // to a torque on the way to the final one
	Final   PassKind = "final"    // to the torque of the spec
	AngleOn PassKind = "angle"    // on by an angle, measured against the part
	BackOff PassKind = "back_off" // loosened by an angle, which is negative
	Repeat  PassKind = "repeat"   // the torque of the pass before once more, on every bolt
)

// Pass is one stage. Every bolt of a group gets it before the next stage begins.
type Pass struct {
	Kind   PassKind
	Torque quantity.Torque // for snug, part and final
	Angle  quantity.Angle  // for angle and back-off
}

const (
	flat      = 60  // degrees between two flats of a hexagon
	mostAngle = 720 // degrees in one pass
)

// Flats is an angle in flats of a six-sided head: one is 60°.
func Flats(a quantity.Angle) (quantity.Turns, error) {
	if !quantity.Finite(a) {
		return 0, quantity.Inputf("Look the angle up again.", "The angle is not a number.")
	}
	return quantity.Count(a.Degrees() / flat), nil
}

// CheckPasses says what is wrong with a list of passes, or nil. Two methods for
// one bolt are two lists, never one.
func CheckPasses(passes []Pass) error {
	var s sequence
	for i, p := range passes {
		if err := p.check(i + 1); err != nil {
			return err
		}
		if err := s.take(p, i+1); err != nil {
			return err
		}
	}
	switch s.last {
	case Final, AngleOn, Repeat:
		return nil
	}
	return quantity.Inputf("Add the final torque or the angle that the source gives.", "The passes do not end with the bolt tight.")
}

func (p Pass) check(n int) error {
	mdeg := p.Angle.Mdeg() // as fine as the record; not a number lies outside every range
	switch p.Kind {
	case Snug, Part, Final:
		byHand := p.Kind == Snug && p.Torque == 0
		if p.Angle != 0 || !byHand && positive(p.Torque) != nil {
			return quantity.Inputf("Enter the torque alone. An angle is a pass of its own.", "Pass %d needs a torque above zero and no angle.", n)
		}
	case AngleOn:
		if p.Torque != 0 || mdeg <= 0 || mdeg > mostAngle*1000 {
			return quantity.Inputf("Enter the angle alone, up to two turns.", "Pass %d needs an angle above zero and no torque.", n)
		}
	case BackOff:
		if p.Torque != 0 || mdeg >= 0 || mdeg < -mostAngle*1000 {
			return quantity.Inputf("Enter how far to loosen, as a negative angle.", "Pass %d loosens, so it needs an angle below zero and no torque.", n)
		}
	case Repeat:
		if p.Torque != 0 || p.Angle != 0 {
			return quantity.Inputf("Leave torque and angle open: it repeats the pass before.", "Pass %d repeats and has a number of its own.", n)
		}
	default:
		return quantity.Inputf("Choose snug, part, final, angle, back off or repeat.", "It is not said what pass %d is.", n)
	}
	return nil
}

// sequence is where a list stands while it is read.
type sequence struct {
	last   PassKind
	torque quantity.Torque // the highest since the start or the last back-off
	turned bool            // by an angle since then
}

func (s *sequence) take(p Pass, n int) error {
	switch {
	case p.Kind == AngleOn && s.torque == 0:
		return quantity.Inputf("An angle counts from a torque: enter that pass first.", "Pass %d is an angle without a torque before it.", n)
	case p.Kind == BackOff && (s.last == "" || s.last == BackOff):
		return quantity.Inputf("Enter what is tightened before it.", "Pass %d loosens what is not tight.", n)
	case p.Kind == Repeat && (s.torque == 0 || s.turned || s.last == BackOff):
		return quantity.Inputf("Only a torque can be repeated, never an angle.", "Pass %d repeats, and no torque comes before it.", n)
	case p.Torque > 0 && s.turned:
		return quantity.Inputf("Keep the two methods apart as two lists and choose one.", "Pass %d is a torque after an angle, which mixes two methods.", n)
	case p.Torque > 0 && p.Torque < s.torque:
		return quantity.Inputf("Check the order and the units. If it is loosened in between, enter that pass too.", "Pass %d is a lower torque than the pass before it.", n)
	case s.last == Final && (p.Kind == Snug || p.Kind == Part):
		return quantity.Inputf("Move it before the final pass.", "Pass %d comes after the final one.", n)
	}
	switch p.Kind {
	case BackOff:
		s.torque, s.turned = 0, false
	case AngleOn:
		s.turned = true
	case Snug, Part, Final:
		s.torque = max(s.torque, p.Torque)
	}
	s.last = p.Kind
	return nil
}

// FinalTorque is the torque that the passes end at. There is none when they end
// with an angle: what the bolt then has depends on the parts, and ok is false.
func FinalTorque(passes []Pass) (t quantity.Torque, ok bool) {
	if CheckPasses(passes) != nil {
		return 0, false
	}
	for _, p := range passes {
		if p.Torque > 0 {
			t = p.Torque
		}
		ok = p.Kind != AngleOn
	}
	if !ok {
		return 0, false
	}
	return t, true
}

// AngleAfter is how far the passes turn the bolt on after their last torque, all
// stages together. The stages are still made one by one, each on every bolt.
func AngleAfter(passes []Pass) quantity.Angle {
	var sum quantity.Angle
	for _, p := range passes {
		switch p.Kind {
		case AngleOn:
			sum += p.Angle
		case Repeat:
		default:
			sum = 0
		}
	}
	return sum
}

// Words is the pass as an instruction, or "" for an unknown kind.
func (p Pass) Words(u quantity.TorqueUnit) string {
	switch p.Kind {
	case Snug:
		if p.Torque == 0 {
			return lang.T("Bring it up by hand until the parts touch.")
		}
		return lang.F("Seat it to %s.", quantity.FormatTorque(p.Torque, u))
	case Part:
		return lang.F("Tighten to %s on the way.", quantity.FormatTorque(p.Torque, u))
	case Final:
		return lang.F("Tighten to %s.", quantity.FormatTorque(p.Torque, u))
	case AngleOn:
		return lang.F("Draw a line across bolt and part, then turn on by %s.", turnWords(p.Angle))
	case BackOff:
		return lang.F("Loosen by %s.", turnWords(-p.Angle))
	case Repeat:
		return lang.T("Go round once more with the same torque.")
	}
	return ""
}

func turnWords(a quantity.Angle) string {
	flats, err := Flats(a)
	if err != nil {
		return lang.T("an angle that is not a number")
	}
	degrees := quantity.Count(a.Degrees()).String()
	if flats.String() == "1" {
		return lang.F("%s°, 1 flat of a six-sided head", degrees)
	}
	return lang.F("%s°, %s flats of a six-sided head", degrees, flats.String())
}
