package plausible

import (
	"slices"

	"strutcard/calc/fastener"
	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/sync/sheet"
)

// Limits for what the thread cannot judge. Common practice, no source.
const (
	mostTorque quantity.Torque = 500 // of anything but a hub nut; TOR-09: 612 stands in the column kgf·cm
	leastWheel quantity.Torque = 60
	mostWheel  quantity.Torque = 250

	mostTolerance quantity.Torque = 0.5 // of the torque
)

// Torque is a question about the numbers of p, a pass of f: as it stands there,
// or with a number that somebody is just typing. A torque of zero is not known
// yet and is not asked about.
//
// Sources: cases TOR-08 (lbf·in for lbf·ft, twelve times), TOR-09 (kgf·cm for
// N·m, ten times; a ceiling for each thread), TOR-10 (a range), TOR-15 and
// TOR-16 (angles and backing off).
func Torque(f *sheet.Fastener, p *sheet.Pass) string {
	l := listOf(f, p)
	for _, ask := range []func(list) string{list.tolerance, list.size, list.order, list.wheel, list.turn} {
		if text := ask(l); text != "" {
			return text
		}
	}
	return ""
}

// ReadBack is a sentence about a torque that nothing here can judge, for want of
// a known thread: read in two units, a slip between them shows (TOR-08, TOR-09).
func ReadBack(f *sheet.Fastener, p *sheet.Pass) string {
	if p.TorqueCNM == 0 || fastener.Known(f.Thread) {
		return ""
	}
	t := torqueOf(p)
	return lang.F("Nothing here can check this number: %s is %s. Read both against the page.", newtonMetres(t), quantity.FormatTorque(t, quantity.PoundFoot))
}

// list is the passes of a fastener with one in question.
type list struct {
	f      *sheet.Fastener
	passes []sheet.Pass
	at     int
}

// listOf puts p in the place of the pass of the same name.
func listOf(f *sheet.Fastener, p *sheet.Pass) list {
	l := list{f: f, passes: slices.Clone(f.Passes)}
	l.at = slices.IndexFunc(l.passes, func(q sheet.Pass) bool { return q.ID == p.ID })
	if l.at < 0 {
		l.at, l.passes = len(l.passes), append(l.passes, *p)
	}
	l.passes[l.at] = *p
	return l
}

func (l list) pass() *sheet.Pass { return &l.passes[l.at] }

// tolerance: as wide as the value, two columns were mixed up (CAL-18 has it for
// angles); from half of it on it may be the whole width of a range (TOR-10), or
// of another column. Half is common practice, no source.
func (l list) tolerance() string {
	p := l.pass()
	if p.TorqueCNM <= 0 || p.TolCNM == 0 {
		return ""
	}
	t, tol := torqueOf(p), quantity.TorqueFromCNM(p.TolCNM)
	if text := fastener.ToleranceQuestion(t, tol); text != "" {
		return text
	}
	if tol > mostTolerance*t {
		return lang.F("A tolerance of ± %s is more than half of the torque. Is it the whole width of a range, or from another column? Compare both numbers with the source.", newtonMetres(tol))
	}
	return ""
}

// size asks about a torque that no bolt of its thread gets. An early pass is low
// on purpose, and so are a torque from which the bolt is turned on by an angle
// (TOR-15: 27 N·m, then 60° and 30°) and a re-check (TOR-18: 55 N·m of 155):
// these are asked about only when they are too high.
func (l list) size() string {
	p := l.pass()
	if p.TorqueCNM == 0 {
		return ""
	}
	t := torqueOf(p)
	if !fastener.Known(l.f.Thread) {
		if t > mostTorque {
			return lang.F("%s is more than a fastener of a suspension normally gets, some hub nuts apart. If the source says kgf·cm or lbf·in, it is about ten times too much. Compare the number and its unit with the source once more.", newtonMetres(t))
		}
		return ""
	}
	text := fastener.Question(l.f.Thread, fastener.Unstated, t)
	if lowOnPurpose := p.Kind != sheet.Final || l.turnedOn(); lowOnPurpose && t > 0 && !tooHigh(l.f.Thread, t) {
		return ""
	}
	return text
}

// tooHigh tells the two ends of a thread's span apart without knowing them: what
// is too low becomes usual when it is doubled often enough, as the span is wider
// than one to two; what is too high never does.
func tooHigh(thread string, t quantity.Torque) bool {
	for ; t < 10*mostTorque; t *= 2 {
		if fastener.Question(thread, fastener.Unstated, t) == "" {
			return false
		}
	}
	return true
}

// turnedOn reports whether an angle follows before any other torque.
func (l list) turnedOn() bool {
	for _, q := range l.passes[l.at+1:] {
		switch q.Kind {
		case sheet.Angle:
			return true
		case sheet.Recheck:
		default:
			return false
		}
	}
	return false
}

// order: a snug pass is below the final one, unless it is backed off in between
// (TOR-16: 150 N·m, back 180°, 50 N·m). A re-check is not above the final
// torque, or it tightens on (TOR-18).
func (l list) order() string {
	final := slices.IndexFunc(l.passes, func(q sheet.Pass) bool { return q.Kind == sheet.Final })
	if final < 0 || l.passes[final].TorqueCNM <= 0 {
		return ""
	}
	last := &l.passes[final]
	switch p := l.pass(); p.Kind {
	case sheet.Snug:
		return snugBelow(p, last, l.at < final && l.backedOff(l.at, final))
	case sheet.Final:
		for i := range final {
			if q := &l.passes[i]; q.Kind == sheet.Snug {
				if text := snugBelow(q, last, l.backedOff(i, final)); text != "" {
					return text
				}
			}
		}
	case sheet.Recheck:
		if p.TorqueCNM > last.TorqueCNM+last.TolCNM {
			return lang.F("The re-check, %s, is above the final torque, %s: it would tighten on. Compare both with the source.", newtonMetres(torqueOf(p)), newtonMetres(torqueOf(last)))
		}
	}
	return ""
}

func snugBelow(snug, final *sheet.Pass, backedOff bool) string {
	if snug.TorqueCNM < final.TorqueCNM || backedOff {
		return ""
	}
	return lang.F("The snug pass, %s, is not below the final one, %s. Were they swapped, or is one in another unit? Compare both with the source.", newtonMetres(torqueOf(snug)), newtonMetres(torqueOf(final)))
}

func (l list) backedOff(from, to int) bool {
	return slices.ContainsFunc(l.passes[from:to], func(q sheet.Pass) bool { return q.Kind == sheet.BackOff })
}

// wheel: what road wheels of cars get, by whatever thread. Common practice, no
// source.
func (l list) wheel() string {
	p := l.pass()
	t := torqueOf(p)
	if !l.f.Wheel || p.Kind != sheet.Final || t == 0 || l.turnedOn() || t >= leastWheel && t <= mostWheel {
		return ""
	}
	return lang.F("%s is unusual for the nuts or bolts of a road wheel. Compare the number and its unit with the source once more.", newtonMetres(t))
}

// turn: the angles of TOR-15 and TOR-16 run from 30° to 180°. Below 10° turns may
// have been typed for degrees; beyond one turn two stages may have been added up.
// Both limits are common practice, no source.
func (l list) turn() string {
	p := l.pass()
	if p.Kind != sheet.Angle && p.Kind != sheet.BackOff || p.AngleMdeg == 0 {
		return ""
	}
	said := quantity.FormatAngle(quantity.AngleFromMdeg(max(p.AngleMdeg, -p.AngleMdeg)), quantity.Degree)
	switch size := max(p.AngleMdeg, -p.AngleMdeg); {
	case size < 10_000:
		return lang.F("%s is hardly a movement of the wrench. Does the source count turns or flats? One turn is 360°, one flat of a six-sided head 60°.", said)
	case size > 360_000:
		return lang.F("%s is more than a whole turn. Were two stages added up, or was a figure typed twice? Each stage is a pass of its own.", said)
	}
	return ""
}

func torqueOf(p *sheet.Pass) quantity.Torque { return quantity.TorqueFromCNM(p.TorqueCNM) }

func newtonMetres(t quantity.Torque) string { return quantity.FormatTorque(t, quantity.NewtonMetre) }
