package fastener

import (
	"math"
	"strconv"
	"strings"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
)

// A unit taken for its neighbour is wrong by this much: kgf·m for N·m and
// lbf·in for N·m at the least, lbf·in for lbf·ft at the most.
const (
	leastSlip quantity.Torque = 8.8
	mostSlip  quantity.Torque = 12
)

// Question is a sentence to put to the person about a final torque that looks
// wrong for its thread and class, or "" when there is nothing to ask. An
// Unstated class stands for any that is common.
//
// It only asks: a small bracket or an aluminium part may well have less. An
// empty answer is no approval, least of all for a thread that is not Known. A
// snug or other early pass is low on purpose and is not to be asked about.
func Question(thread string, class Class, t quantity.Torque) string {
	if !quantity.Finite(t) || t <= 0 {
		return lang.T("The torque is not above zero. Look it up in the manual and enter it with its unit.")
	}
	known, err := Parse(thread)
	if err != nil {
		return ""
	}
	r, err := known.normal(class)
	if err != nil {
		return err.Error()
	}
	said := quantity.FormatTorque(t, quantity.NewtonMetre)
	switch {
	case t > r.high:
		return lang.F("%s is more than %s is normally tightened to.", said, bolt(known, class)) + r.times(t) + r.slipDown(t) + " " + lang.T(again)
	case t < r.low:
		return lang.F("%s is less than %s normally needs to hold.", said, bolt(known, class)) + r.times(t) + r.slipUp(t) + " " + lang.T(again)
	}
	return ""
}

// Brief is the answer of Question in a few words, to head it: how many times
// too much or too little, or that nothing is unusual, which is no approval
// either. It is "" where Question cannot judge.
func Brief(thread string, class Class, t quantity.Torque) string {
	known, err := Parse(thread)
	if err != nil || !quantity.Finite(t) || t <= 0 {
		return ""
	}
	r, err := known.normal(class)
	if err != nil {
		return ""
	}
	switch {
	case t >= farOff*r.high:
		return lang.F("%s times what is usual", count(r.off(t)))
	case t > r.high:
		return lang.T("more than is usual")
	case t <= r.low/farOff:
		return lang.F("usual is %s times as much", count(1/r.off(t)))
	case t < r.low:
		return lang.T("less than is usual")
	}
	return lang.T("nothing unusual")
}

const again = "Compare the number, its unit and the thread with the source once more."

// bolt names a bolt whose class, when it is stated, belongs to its thread.
func bolt(t Thread, c Class) string {
	switch {
	case c.inch():
		return lang.F("a %s bolt of grade %s", t.name, strings.TrimPrefix(string(c), "Gr"))
	case c != Unstated:
		return lang.F("an %s bolt of class %s", t.name, string(c))
	case t.inch:
		return lang.F("a %s bolt", t.name)
	}
	return lang.F("an %s bolt", t.name)
}

// span is the range of torques that a bolt gets. It stays inside the package.
type span struct{ low, high quantity.Torque }

// normal is the span for a thread: of its class, or from the weakest to the
// strongest of the common ones.
func (t Thread) normal(c Class) (span, error) {
	weak, strong := c, c
	if c == Unstated {
		if weak, strong = "8.8", "12.9"; t.inch {
			weak, strong = Grade5, Grade8
		}
	}
	least, err := ProofLoad(t, weak)
	if err != nil {
		return span{}, err
	}
	most, err := ProofLoad(t, strong)
	if err != nil {
		return span{}, err
	}
	part := quantity.Force(Reused)
	return span{low: short(SlipperyK, t.diameter, part*least), high: short(DryK, t.diameter, part*most)}, nil
}

const (
	countedTo = 100
	farOff    = 2 // from the near end of the span; nearer, a count says nothing
)

// off is how far off a torque is, from the middle of the span, so that neither
// end can be reckoned back from it.
func (r span) off(t quantity.Torque) float64 {
	return float64(t) / math.Sqrt(float64(r.low)*float64(r.high))
}

func (r span) times(t quantity.Torque) string {
	switch {
	case t >= farOff*r.high:
		return " " + lang.F("It is %s times what such a bolt normally takes.", count(r.off(t)))
	case t <= r.low/farOff:
		return " " + lang.F("Such a bolt normally takes %s times as much.", count(1/r.off(t)))
	}
	return ""
}

func count(off float64) string {
	if n := math.Round(off); n <= countedTo {
		return lang.F("about %s", strconv.Itoa(int(n)))
	}
	return lang.F("more than %s", strconv.Itoa(countedTo))
}

func (r span) slipDown(t quantity.Torque) string {
	if t/mostSlip <= r.high && t/leastSlip >= r.low {
		return " " + lang.T("If the source says lbf·in or kgf·cm, this is about ten times too much.")
	}
	return ""
}

func (r span) slipUp(t quantity.Torque) string {
	if t*mostSlip >= r.low && t*leastSlip <= r.high {
		return " " + lang.T("If the source says lbf·ft or kgf·m, this is about ten times too little.")
	}
	return ""
}

// ToleranceQuestion is a sentence to put to the person about a tolerance that
// is as wide as the torque or wider, or "" when there is nothing to ask.
func ToleranceQuestion(t, tolerance quantity.Torque) string {
	switch {
	case !quantity.Finite(tolerance) || tolerance < 0:
		return lang.T("The tolerance is below zero or not a number. Enter it as a size, without a sign.")
	case !(tolerance < t):
		return lang.T("The tolerance is as wide as the torque itself. Check whether two columns were mixed up.")
	}
	return ""
}
