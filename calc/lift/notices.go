package lift

import "strutcard/calc/quantity"

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
	stop(r.Slope == SlopeStop, Notice{KeySlope, "The ground is, or may be, steeper than " + SlopeStopped.String() + ". Do not raise the car here; find level ground.", custom, CommonPractice})
	caution(r.Slope == SlopeAsk, Notice{KeySlope, "The ground may fall by " + r.Steepest.String() + ", more than " + SlopeAsked.String() + ". Is there a more level place? Up to " + r.Downhill.String() + " pull the car downhill.", custom, CommonPractice})
	stop(l.Surface == Soft, Notice{KeySoft, "Stands sink into soft ground and tilt. Move the car to hard ground.", "ACCC tips: not on sand; stands on a hard, level surface", Read})
	caution(l.Surface == Asphalt, Notice{KeyAsphalt, "The feet of stands and jack sink into asphalt, more so when it is warm. Lay plates of steel or thick ply, and look again after some minutes and when it gets hotter.", "a tool seller's page suggests steel plates of 12 by 12 in", CommonPractice})
	stop(len(r.Pairs) == 0, Notice{KeySide, "Stands go in pairs under one axle. Raise the whole axle, one corner after the other if need be; with one side or corner up, nothing is done but changing a wheel.", "ACCC Product Safety: stands in pairs; the rest " + custom, CommonPractice})
	for _, p := range r.Pairs {
		stop(p.Fit == NotEnough, Notice{KeyStands, "The " + string(p.End) + " stands are rated too low: each needs " + p.Required.String() + ".", statics, Statics})
	}
	stop(r.Jack.Fit == NotEnough, Notice{KeyJack, "The jack is rated too low: it needs " + r.Jack.Required.String() + ".", statics, Statics})
	stop(r.OtherEnd.Verdict == DoesNot, Notice{KeyTip, r.OtherEnd.Reason, statics, Statics})

	caution(l.HeavyPart == Yes, Notice{KeyHeavyPart, "Taking off a heavy part moves the centre of gravity, and the loads here no longer hold. Support the other end too and strap the car, as the vehicle's manual says.", "workshop manual of a maker, removal of the suspension at one end", Read})
	caution(l.BrakeReleased == Yes, Notice{KeyBrakeReleased, "The chocks are checked before the parking brake is released, and it is applied again right after.", "regulator's warning; a spring maker's instruction", Read})
	caution(k.car.Split.Heavier == 0 && k.car.Split.Allow == Yes, Notice{KeySplit, "The split between left and right is not known; " + UnknownSplit.String() + " on the heavier side is taken.", custom, CommonPractice})
	caution(k.car.Weights.Basis != Weighed, Notice{KeyPapers, "The mass is not that of the car as it stands: " + PapersAllowance.String() + " more or less are allowed for. Count what is in the car.", custom, CommonPractice})
	caution(k.height == possibleHeight, Notice{KeyCentreHeight, "The height of the centre of gravity is not known; the range from " + quantity.Length(possibleHeight.lo).String() + " to " + quantity.Length(possibleHeight.hi).String() + " is taken.", custom, CommonPractice})
	caution(l.Raised == AllWheels, Notice{KeyAllUp, "With all wheels in the air no chock, brake or gear holds anything: only the feet of four stands do. A stiff car on an uneven floor rests on two of them: set all four alike, and try each by hand.", statics, Statics})

	caution(r.Brake.Verdict != Holds && r.Gear.Verdict != Holds, Notice{KeyOnlyChocks, "Nothing but the chocks is certain to keep the car from rolling while it goes up.", statics, Statics})

	for _, end := range l.Raised.ends() {
		if m := l.stands(end).Marking; m.Figure > 0 && (m.For == NotMarked || m.For == "") {
			r.Conflicts = append(r.Conflicts, ratingConflict)
			break
		}
	}
	if _, corner := diagonals[l.Raised]; corner {
		r.Conflicts = append(r.Conflicts, chockConflict)
	}
}
