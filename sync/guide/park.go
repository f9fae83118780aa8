package guide

import (
	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/job"
)

// Parking is what somebody must know and do who leaves an unfinished car for
// longer, and what comes first when they are back.
type Parking struct {
	Up      []job.Lift   // axles on stands, each with when it was raised
	Lifting event.Axle   // raising was begun but is not recorded: it may be in the air; "" when none is
	Loose   []CornerOpen // what is not final, by corner; empty corners are left out
	Never   []string     // what must not be done while it stands like this
	Leave   []string     // what to do before leaving
	Next    string       // the first thing next time
}

// CornerOpen is one corner's fasteners that are not final.
type CornerOpen struct {
	Corner event.Corner
	Items  []Item
}

// Raised reports whether any wheel is, or may be, off the ground.
func (p Parking) Raised() bool { return len(p.Up) > 0 || p.Lifting != "" }

// Parking says how the car stands now and how to leave it. What it advises is
// common practice, no source; the makers' manuals come first.
func (g Guide) Parking() Parking {
	p := Parking{Lifting: g.Lifting(), Loose: g.openCorners()}
	for _, l := range g.State.Lifts {
		if l.LoweredN == 0 {
			p.Up = append(p.Up, l)
		}
	}
	p.Never, p.Leave, p.Next = g.never(p), g.leave(p), g.first(p)
	return p
}

func (g Guide) openCorners() []CornerOpen {
	items := g.NotFinal()
	var out []CornerOpen
	for _, corner := range event.Corners {
		c := CornerOpen{Corner: corner}
		for _, item := range items {
			if item.Fastener.Corner == corner {
				c.Items = append(c.Items, item)
			}
		}
		if len(c.Items) > 0 {
			out = append(out, c)
		}
	}
	return out
}

// never lists what must not be done. A car that nothing forbids to drive gets
// none of it.
func (g Guide) never(p Parking) []string {
	var out []string
	if len(g.DriveBlockers()) > 0 || p.Raised() {
		out = append(out, lang.T("Do not drive it or move it."))
	}
	if p.Raised() {
		for _, l := range p.Up {
			out = append(out, g.neverLower(l.Axle))
		}
		out = append(out, lang.T("Nobody goes under it, and nobody gets in."),
			lang.T("Do not lean on it or load it."),
			lang.T("Keep children and animals away from it."))
	}
	return out
}

// neverLower says why an axle must stay up, or how alone it may come down.
func (g Guide) neverLower(axle event.Axle) string {
	loose := 0
	for _, item := range g.NotFinal() {
		if item.Fastener.Corner.Axle() == axle && (item.Phase == Loose || item.Phase == Finger) {
			loose++
		}
	}
	switch {
	case loose == 1:
		return lang.F("Do not lower the %s: one fastener there is not even snug.", AxleWords(axle))
	case loose > 1:
		return lang.F("Do not lower the %s: %d fasteners there are not even snug.", AxleWords(axle), loose)
	}
	return lang.F("Lower the %s only through its lowering step, check by check.", AxleWords(axle))
}

// leave lists what to do before leaving, the best first.
func (g Guide) leave(p Parking) []string {
	var out []string
	if p.Raised() {
		out = append(out, lang.T("Best: make it snug, fit the wheels and lower it through its steps. A car on its wheels can be left."),
			lang.T("If it must stay up: each stand locked with its pin, upright, with its whole foot on firm ground. Push the car: it stands dead still."),
			lang.T("Lay a wheel flat under the sill on each side, beside the stands."),
			lang.T("Wheels on the ground chocked on both sides."),
			lang.T("Close the area off: lock the door, or set up a barrier that nobody can miss."))
	} else {
		out = append(out, lang.T("Chock the wheels in front and behind. Set the parking brake, unless its cable is off."))
	}
	if len(g.DriveBlockers()) > 0 || p.Raised() {
		out = append(out, lang.T("Hang a note on the steering wheel: do not drive, not finished, your name."),
			lang.T("Take the key out and keep it with you."))
	}
	return append(out, lang.T("Charge this phone: the record is on it."))
}

// first says what comes first next time.
func (g Guide) first(p Parking) string {
	next := lang.T("Open this job and go on from the list of steps.")
	if step := g.Next(); step != nil && step.Later {
		next = lang.T("Every step is behind: finish the job.")
	} else if step != nil {
		next = lang.F("The next step is “%s”.", step.Title)
	}
	switch {
	case p.Raised():
		return lang.F("Before anything else: walk around it and push it. It must stand dead still on its stands. %s", next)
	case len(g.wheelsNotFinal("")) > 0:
		return lang.F("Before the car moves: the wheel nuts at their final torque. %s", next)
	case len(p.Loose) > 0:
		return lang.F("Before anything else: open the tally and look at what is not final. %s", next)
	}
	return next
}
