package caster

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

func (s Sweep) check() error {
	switch {
	case s.Convention == AboutAxis:
		return quantity.Inputf("Read the heading of the wheel over the ground, on turnplates or on a protractor on the floor.", "A turn about the steering axis is another angle than the heading, and the calculation needs the heading.")
	case s.Convention != Heading:
		return quantity.Inputf("Choose the heading over the ground, as turnplates show it.", "It is not said which angle the wheel was turned by.")
	case s.How != Measured && s.How != NotMeasured:
		return quantity.Inputf("Choose measured, or not measured.", "It is not said whether the sweep angles were measured.")
	case !quantity.Finite(s.Resolution) || s.Resolution < 0 || s.Resolution == 0 && s.How == Measured:
		return quantity.Inputf("Enter the angle between two marks, such as 1°.", "The smallest mark of the turnplate or protractor is missing or not above zero.")
	case s.Resolution.Degrees() > 2*leastTurn:
		return quantity.Inputf("Check the unit of the marks.", "The marks of the turnplate or protractor are too far apart for a sweep.")
	}
	for _, r := range []Reading{s.Out, s.In} {
		if !(r.Turned.Degrees() >= leastTurn && r.Turned.Degrees() <= mostTurn) {
			return quantity.Inputf("Turn the wheel about 20° each way from straight ahead and enter both angles without a sign.", "A sweep angle is missing, or is not from 5° to 45°.")
		}
		if err := checkCamber(r.Camber); err != nil {
			return err
		}
	}
	return nil
}

func usable(v measure.Value[quantity.Angle]) bool {
	return quantity.Finite(v.Value) && quantity.Finite(v.Standard) && v.Standard > 0
}

func checkCamber(v measure.Value[quantity.Angle]) error {
	switch {
	case !usable(v):
		return quantity.Inputf("Measure the camber again in each position, and enter the marks of what reads it.", "A camber reading is missing or has no uncertainty.")
	case math.Abs(v.Value.Degrees()) > mostCamber:
		return quantity.Inputf("Check the unit: minutes are not degrees.", "A camber reading is more than 25°.")
	}
	return nil
}

func checkInclination(v measure.Value[quantity.Angle]) error {
	switch {
	case !usable(v):
		return quantity.Inputf("Enter it with how well it is known, such as half a degree, or compute without it.", "The inclination of the steering axis is missing or has no uncertainty.")
	case !(v.Value >= 0 && v.Value.Degrees() <= mostInclination):
		return quantity.Inputf("Check it and its unit: minutes are not degrees.", "The inclination of the steering axis is not from 0° to 30°.")
	}
	return nil
}

// From where on people are asked. 15° for a caster is the limit that a case of a
// page that lost its marks led to; all of them are choices of the
// project, no source.
const (
	smallTurn          = 10.0 // degrees
	largeTurn          = 25.0
	unequalTurn        = 0.5
	largeCaster        = 15.0
	largeInclination   = 20.0
	looseInclination   = 2.0 // expanded uncertainty
	hundred, sixtieths = 100, 60
)

// SweepQuestion is a sentence to put to the person about how the sweep was done,
// or "" when there is nothing to ask.
func SweepQuestion(s Sweep) string {
	least, most := min(s.Out.Turned, s.In.Turned).Degrees(), max(s.Out.Turned, s.In.Turned).Degrees()
	switch {
	case s.How != Measured:
		return lang.T("The sweep angles were not measured. A wheel at the lock, or sprung back from it, stands at no known angle. Can you read them on turnplates or a protractor on the floor?")
	case !(least >= smallTurn-slack):
		return lang.T("The wheel was turned by less than 10° to one side, so that a small error in the camber is a large one in the caster. Can you turn it about 20° each way?")
	case !(most <= largeTurn+slack):
		return lang.T("The wheel was turned by more than 25° to one side, where the steering is near its lock and pushes against it. Can you turn it about 20° each way?")
	case most-least > unequalTurn+slack:
		return lang.T("The two sweep angles differ. With the inclination known this is allowed for; without it the caster is uncertain. Were both read from straight ahead at this wheel?")
	}
	return ""
}

const slack = 1e-9 // degrees; a limit that is reached counts as reached

// Question is a sentence to put to the person when a caster is not believable,
// or "" when there is nothing to ask.
func Question(caster quantity.Angle) string {
	switch {
	case !quantity.Finite(caster):
		return lang.T("The caster is not a number. Measure again.")
	case math.Abs(caster.Degrees()) > largeCaster+slack:
		return lang.F("A caster of %s is beyond what a road car is set to. Check the sweep angles and the unit of the camber readings.", quantity.FormatAngle(caster, quantity.Degree))
	case caster < 0:
		return lang.T("The caster comes out negative: the top of the steering axis leans forward. That is rare. Was the first camber read with the front of this wheel turned out, away from the car?")
	}
	return ""
}

// InclinationQuestion is a sentence about an inclination from AxisFromSweep that
// is not believable or not well known, or "" when there is nothing to ask.
func InclinationQuestion(v measure.Value[quantity.Angle]) string {
	switch {
	case !usable(v):
		return lang.T("The inclination is not a number with its uncertainty. Measure again.")
	case v.Value < 0 || v.Value.Degrees() > largeInclination+slack:
		return lang.F("An inclination of %s is not believable for a road car. Was the straight-ahead reading taken with the wheel really straight, on the same floor?", quantity.FormatAngle(v.Value, quantity.Degree))
	case v.Expanded().Degrees() > looseInclination:
		return lang.F("The inclination is known to ± %s only, too little to judge it by. Can you take the value from the manual?", quantity.FormatAngle(v.Expanded(), quantity.Degree))
	}
	return ""
}

// SpecQuestion is a sentence about a caster from a page or a manual that may
// have lost its degree and minute marks, or "" when there is nothing to ask.
// Minus and plus are the tolerances below and above, as sizes.
func SpecQuestion(target, minus, plus quantity.Angle) string {
	wide := max(minus, plus)
	switch {
	case !quantity.Finite(target) || !quantity.Finite(minus) || !quantity.Finite(plus) || minus < 0 || plus < 0:
		return lang.T("The target or its tolerance is not a number, or the tolerance has a sign. What does the source say?")
	case math.Abs(target.Degrees()) > largeCaster+slack:
		return lang.F("A caster of %s is beyond what a road car is set to.", quantity.FormatAngle(target, quantity.Degree)) + lostMarks(target) + " " + lang.T("On which page does it stand?")
	case wide > abs(target)+quantity.Degrees(slack):
		return lang.T("The tolerance is wider than the value itself. Were minutes taken for degrees, or two columns mixed up? On which page does it stand?")
	}
	return ""
}

// lostMarks reads 110 as 1°10′, where the number lets it.
func lostMarks(a quantity.Angle) string {
	whole := math.Round(math.Abs(a.Degrees()))
	degrees, minutes := math.Floor(whole/hundred), math.Mod(whole, hundred)
	if math.Abs(math.Abs(a.Degrees())-whole) > slack || degrees == 0 || minutes >= sixtieths {
		return ""
	}
	return " " + lang.F("If its marks were lost, %.0f may stand for %.0f°%02.0f′.", whole, degrees, minutes)
}
