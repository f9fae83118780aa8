package lift

import (
	"strutcard/calc/lang"
	"strutcard/calc/quantity"
)

// Verdict says whether something keeps the car where it is.
type Verdict string

const (
	Holds      Verdict = "holds"
	DoesNot    Verdict = "does_not_hold"
	CannotTell Verdict = "cannot_tell" // a fact is missing: treat it as not holding
)

// Words is the verdict as people read it.
func (v Verdict) Words() string {
	return map[Verdict]string{Holds: lang.T("holds"), DoesNot: lang.T("does not hold"), CannotTell: lang.T("cannot tell: count on nothing")}[v]
}

// Held is a verdict with its reason, a sentence or two. However it reads, the
// wheels on the ground are chocked.
type Held struct {
	Verdict Verdict
	Reason  string
}

// Driveline is what can hold the car besides chocks. An empty word is a fact
// that is not known, and every possibility is then looked at.
type Driveline struct {
	Drive        Drive
	Differential Differential
	Brake        Brake
	Gearbox      Gearbox
}

func (d Driveline) check() error {
	for _, err := range []error{
		one(lang.T("the driven wheels"), d.Drive, FrontDrive, RearDrive, AllDrive),
		one(lang.T("the differential"), d.Differential, Open, Locked, LimitedSlip),
		one(lang.T("the parking brake"), d.Brake, BrakeFront, BrakeRear, BrakeTransmission),
		one(lang.T("the gearbox"), d.Gearbox, Manual, Automatic),
	} {
		if err != nil {
			return err
		}
	}
	return nil
}

// BrakeHolds says whether the parking brake, applied, still holds the car with
// these wheels in the air: it holds only through wheels on the ground.
func BrakeHolds(d Driveline, r Raised) (Held, error) { return d.ask(d.brake, r) }

// GearHolds says the same of a gear left in, or of P.
func GearHolds(d Driveline, r Raised) (Held, error) { return d.ask(d.gear, r) }

func (d Driveline) ask(f func(wheels) Held, r Raised) (Held, error) {
	if err := d.check(); err != nil {
		return Held{Verdict: CannotTell}, err
	}
	up, ok := raisedWheels[r]
	if !ok {
		return Held{Verdict: CannotTell}, noRaised()
	}
	return f(up), nil
}

func noRaised() error {
	return quantity.Inputf("Choose the axle, the side or the corner.", "It is not said which wheels come off the ground.")
}

func (d Driveline) brake(up wheels) Held {
	switch d.Brake {
	case BrakeFront:
		return onWheels(frontWheels, up)
	case BrakeRear:
		return onWheels(rearWheels, up)
	case BrakeTransmission:
		h := d.through(up)
		h.Reason = lang.F("The parking brake acts on the shaft behind the gearbox. %s", h.Reason)
		return h
	}
	h := agree(onWheels(frontWheels, up), onWheels(rearWheels, up), d.through(up))
	h.Reason = lang.T("It is not known on which wheels the parking brake acts.")
	if h.Verdict == DoesNot {
		h.Reason += " " + lang.T("Wherever it acts, it does not hold with these wheels in the air.")
	} else if h.Verdict == Holds {
		h.Reason += " " + lang.T("Wherever it acts, at least one of its wheels stays on the ground.")
	}
	return h
}

func onWheels(braked, up wheels) Held {
	switch braked &^ up {
	case braked:
		return Held{Holds, lang.F("The parking brake acts on %s, and both stay on the ground.", braked.words())}
	case 0:
		return Held{DoesNot, lang.F("The parking brake acts on %s, and neither is on the ground.", braked.words())}
	}
	return Held{Holds, lang.F("The parking brake acts on %s, and only one of them stays on the ground: it holds with about half its force.", braked.words())}
}

// gear says what P or a gear does. A gearbox without P holds against the
// compression of the engine only.
func (d Driveline) gear(up wheels) Held {
	h := d.through(up)
	if h.Verdict == Holds && d.Gearbox != Automatic {
		h.Reason += " " + lang.T("Without a P position a gear holds only against the compression of the engine, and can creep.")
	}
	return h
}

// through is what holds through the driven wheels: P, a gear, or a brake on the
// shaft. With an open differential a wheel in the air turns backwards and lets
// the one on the ground roll.
func (d Driveline) through(up wheels) Held {
	switch d.Drive {
	case FrontDrive:
		return d.driven(frontWheels, up)
	case RearDrive:
		return d.driven(rearWheels, up)
	case AllDrive:
		return d.driven(frontWheels|rearWheels, up)
	}
	h := agree(d.driven(frontWheels, up), d.driven(rearWheels, up), d.driven(frontWheels|rearWheels, up))
	h.Reason = lang.T("It is not known which wheels are driven.")
	if h.Verdict == DoesNot {
		h.Reason += " " + lang.T("Whichever they are, nothing holds through them with these wheels in the air.")
	} else if h.Verdict == Holds {
		h.Reason += " " + lang.T("Whichever they are, one that is tied to the others stays on the ground.")
	}
	return h
}

func (d Driveline) driven(driven, up wheels) Held {
	switch down := driven &^ up; {
	case down == 0:
		return Held{DoesNot, lang.F("It holds through %s, and none of them is on the ground.", driven.words())}
	case down == driven:
		return Held{Holds, lang.F("It holds through %s, and all of them stay on the ground.", driven.words())}
	}
	switch d.Differential {
	case Open:
		return Held{DoesNot, lang.T("A driven wheel in the air turns backwards through the open differential, so those on the ground can roll.")}
	case Locked:
		return Held{Holds, lang.T("The lock ties the driven wheels together, and at least one stays on the ground: it holds with part of its force.")}
	}
	return Held{CannotTell, lang.T("A driven wheel is in the air, and it is not certain that the differential is locked: the wheels on the ground may roll.")}
}

// agree is the verdict that all possibilities share, or CannotTell.
func agree(all ...Held) Held {
	for _, h := range all[1:] {
		if h.Verdict != all[0].Verdict {
			return Held{Verdict: CannotTell}
		}
	}
	return all[0]
}

// worst is the weakest of the verdicts of moments that all come in one lift.
func worst(all ...Held) Held {
	out := all[0]
	for _, h := range all[1:] {
		if rank[h.Verdict] < rank[out.Verdict] {
			out = h
		}
	}
	return out
}

var rank = map[Verdict]int{DoesNot: 0, CannotTell: 1, Holds: 2}

var sides = []wheels{1 | 4, 2 | 8}

// throughout is the verdict for a whole lift: the worst moment on the way up,
// and agreement of all places of the jack while its place is not known.
func throughout(f func(wheels) Held, r Raised, where Where) Held {
	up := raisedWheels[r]
	all := []Held{f(up)}
	for _, side := range sides {
		switch taken := side & up; {
		case taken == 0:
		case where == SideSill:
			all = append(all, f(side))
		case where == Corners:
			all = append(all, oneByOne(f, taken, side)...)
		}
	}
	if where != "" {
		return worst(all...)
	}
	centre, corner, sill := throughout(f, r, Centre), throughout(f, r, Corners), throughout(f, r, SideSill)
	return either(lang.T("It depends on where the jack goes."), centre, corner, sill)
}

// oneByOne is the verdict with each corner of a side on the jack. A stiff car
// may take the other wheel of that side along, or not.
func oneByOne(f func(wheels) Held, taken, side wheels) []Held {
	var out []Held
	for i := range corners {
		if taken.has(i) {
			out = append(out, either(lang.T("With one corner on the jack, the other wheel of that side may come up too."), f(1<<i), f(side)))
		}
	}
	return out
}

// either is what all say, or that it cannot be told and why.
func either(why string, all ...Held) Held {
	out := agree(all...)
	if out.Reason == "" {
		out.Reason = why + " " + worst(all...).Reason
	}
	return out
}
