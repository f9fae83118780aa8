package lift

import (
	"strutcard/calc/lang"
	"strutcard/calc/quantity"
)

// notices adds the stops, the cautions of this lift and its conflicts.
func (k *known) notices(r *Result) {
	stop := func(when bool, n Notice) {
		if when {
			r.Stops = append(r.Stops, n)
		}
	}
	caution := func(when bool, n Notice) {
		if when {
			r.Cautions = append(r.Cautions, n)
		}
	}
	l := k.lift
	stop(r.Slope == SlopeStop, Notice{KeySlope, lang.F("The ground is, or may be, steeper than %s. Do not raise the car here; find level ground.", SlopeStopped.String()), lang.T(custom), CommonPractice})
	caution(r.Slope == SlopeAsk, Notice{KeySlope, lang.F("The ground may fall by %s, more than %s. Is there a more level place? Up to %s pull the car downhill.", r.Steepest.String(), SlopeAsked.String(), r.Downhill.String()), lang.T(custom), CommonPractice})
	stop(l.Surface == Soft, Notice{KeySoft, lang.T("Stands sink into soft ground and tilt. Move the car to hard ground."), lang.T("ACCC tips: not on sand; stands on a hard, level surface"), Read})
	caution(l.Surface == Asphalt, Notice{KeyAsphalt, lang.T("The feet of stands and jack sink into asphalt, more so when it is warm. Lay plates of steel or thick ply, and look again after some minutes and when it gets hotter."), lang.T("a tool seller's page suggests steel plates of 12 by 12 in"), CommonPractice})
	stop(len(r.Pairs) == 0, Notice{KeySide, lang.T("Stands go in pairs under one axle. Raise the whole axle, one corner after the other if need be; with one side or corner up, nothing is done but changing a wheel."), lang.T("ACCC Product Safety: stands in pairs; the rest common practice, no source"), CommonPractice})
	for _, p := range r.Pairs {
		stop(p.Fit == NotEnough, Notice{KeyStands, p.End.of(lang.F("The front stands are rated too low: each needs %s.", p.Required.String()), lang.F("The rear stands are rated too low: each needs %s.", p.Required.String())), lang.T("statics"), Statics})
	}
	stop(r.Jack.Fit == NotEnough, Notice{KeyJack, lang.F("The jack is rated too low: it needs %s.", r.Jack.Required.String()), lang.T("statics"), Statics})
	stop(r.OtherEnd.Verdict == DoesNot, Notice{KeyTip, r.OtherEnd.Reason, lang.T("statics"), Statics})

	caution(l.HeavyPart == Yes, Notice{KeyHeavyPart, lang.T("Taking off a heavy part moves the centre of gravity, and the loads here no longer hold. Support the other end too and strap the car, as the vehicle's manual says."), lang.T("workshop manual of a maker, removal of the suspension at one end"), Read})
	caution(l.BrakeReleased == Yes, Notice{KeyBrakeReleased, lang.T("The chocks are checked before the parking brake is released, and it is applied again right after."), lang.T("regulator's warning; a spring maker's instruction"), Read})
	caution(k.car.Split.Heavier == 0 && k.car.Split.Allow == Yes, Notice{KeySplit, lang.F("The split between left and right is not known; %s on the heavier side is taken.", UnknownSplit.String()), lang.T(custom), CommonPractice})
	caution(k.car.Weights.Basis != Weighed, Notice{KeyPapers, lang.F("The mass is not that of the car as it stands: %s more or less are allowed for. Count what is in the car.", PapersAllowance.String()), lang.T(custom), CommonPractice})
	caution(k.height == possibleHeight, Notice{KeyCentreHeight, lang.F("The height of the centre of gravity is not known; the range from %s to %s is taken.", quantity.Length(possibleHeight.lo).String(), quantity.Length(possibleHeight.hi).String()), lang.T(custom), CommonPractice})
	caution(l.Raised == AllWheels, Notice{KeyAllUp, lang.T("With all wheels in the air no chock, brake or gear holds anything: only the feet of four stands do. A stiff car on an uneven floor rests on two of them: set all four alike, and try each by hand."), lang.T("statics"), Statics})

	caution(r.Brake.Verdict != Holds && r.Gear.Verdict != Holds, Notice{KeyOnlyChocks, lang.T("Nothing but the chocks is certain to keep the car from rolling while it goes up."), lang.T("statics"), Statics})

	for _, end := range l.Raised.ends() {
		if m := l.stands(end).Marking; m.Figure > 0 && (m.For == NotMarked || m.For == "") {
			r.Conflicts = append(r.Conflicts, ratingConflict())
			break
		}
	}
	if _, corner := diagonals[l.Raised]; corner {
		r.Conflicts = append(r.Conflicts, chockConflict())
	}
}
