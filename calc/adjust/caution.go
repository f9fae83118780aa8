package adjust

import "strutcard/calc/lang"

// Caution is something to say beside a result that does not make it useless.
type Caution string

const (
	TwoReadings  Caution = "two_readings"   // nothing shows how well they repeat
	OffLine      Caution = "off_line"       // a scatter of more than twice what the readings explain
	Unsettled    Caution = "unsettled"      // few readings and their scatter: the effect may be nothing
	FromPaper    Caution = "from_paper"     // the effect was stated, not read here
	FarBeyond    Caution = "far_beyond"     // the target is far outside what was tried
	EndOfRange   Caution = "end_of_range"   // the adjuster ends before the target
	RangeUnknown Caution = "range_unknown"  // nobody said where it ends
	Coarser      Caution = "coarser"        // finer steps than the reading can show
	Near         Caution = "near"           // no step brings it nearer
	AfterTorque  Caution = "after_torque"   // read again after the final torque
	ReadToe      Caution = "read_toe_again" // toe follows
)

var cautions = map[Caution]string{
	TwoReadings:  "This rests on two readings: nothing shows yet how well they repeat. Read again after the next move.",
	OffLine:      "The readings do not lie on one line as well as they should. Roll the car, settle it, and read each setting again; an eccentric is also uneven far from its middle.",
	Unsettled:    "With so few readings that do not agree exactly, the effect of the adjuster is not certain yet. Make a small move and read again before going further.",
	FromPaper:    "The effect of a step was taken from its source, not read on this car. Read again after the move.",
	FarBeyond:    "The target lies far beyond the settings that were tried. Go part of the way and read again.",
	EndOfRange:   "The adjuster ends before the target is reached. Do not force it: look for another adjuster, or choose another target.",
	RangeUnknown: "It is not known where the adjuster ends. Stop when it does, and enter the setting.",
	Coarser:      "The gauge cannot show steps as fine as the adjuster has, so the move is given in coarser ones.",
	Near:         "No step brings the reading nearer to the target. Leave the adjuster where it is.",
	AfterTorque:  "The reading moves while the bolts are tightened. Tighten to the final torque and measure again: only that reading counts.",
	ReadToe:      "Toe follows. Read toe again, and set it last.",
}

// Words is the caution as people read it.
func (c Caution) Words() string { return lang.T(cautions[c]) }
