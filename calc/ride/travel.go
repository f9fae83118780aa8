package ride

import (
	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// FormulaTravel names this calculation in the record.
const FormulaTravel = "damper-travel/1"

// Damper is what was measured along one shaft with a ruler with a mark every
// Resolution. Showing is the part of the shaft between the body and the mount
// that the stop rests against: hanging with the wheel in the air, at ride height
// from a cable tie or a rubber ring on the shaft.
type Damper struct {
	ShowingHanging, ShowingAtRide quantity.Length
	StopFree, StopSolid           quantity.Length // the bump stop, free and pressed solid
	// StopSoft is how much of the stop's travel is soft, from its maker; zero
	// when it is not known.
	StopSoft   quantity.Length
	Resolution quantity.Length
}

// Contact says how the shaft stands to the bump stop at ride height.
type Contact string

const (
	Clear   Contact = "clear of the bump stop"
	OnStop  Contact = "riding on the bump stop"
	Solid   Contact = "the bump stop is pressed solid"
	Unclear Contact = "too close to tell whether it touches the bump stop"
)

// Words is c as people read it.
func (c Contact) Words() string { return lang.T(string(c)) }

// Travel is what is left of the suspension's travel, at the shaft. The wheel
// moves further.
type Travel struct {
	Droop   measure.Value[quantity.Length]
	ToStop  measure.Value[quantity.Length] // below zero: the stop is pressed by that much
	ToSolid measure.Value[quantity.Length]
	Stop    measure.Value[quantity.Length] // the stop's own travel, free to solid
	Firm    measure.Value[quantity.Length] // of it, after the soft part
	Contact Contact
}

// TravelOf computes what is left of the travel, and whether the car rides on its
// bump stop. A car that does feels underdamped, and that is no damper fault.
func TravelOf(d Damper) (Travel, error) {
	if err := d.check(); err != nil {
		return Travel{}, err
	}
	read := func(l quantity.Length) length {
		return length{Value: l, Standard: measure.Resolution(d.Resolution)}
	}
	hanging, ride, free, solid := read(d.ShowingHanging), read(d.ShowingAtRide), read(d.StopFree), read(d.StopSolid)
	out := Travel{
		Droop:   weighted(term{1, hanging}, term{-1, ride}),
		ToStop:  weighted(term{1, ride}, term{-1, free}),
		ToSolid: weighted(term{1, ride}, term{-1, solid}),
		Stop:    weighted(term{1, free}, term{-1, solid}),
	}
	out.Firm = length{Value: out.Stop.Value - d.StopSoft, Standard: out.Stop.Standard}
	switch {
	case out.ToStop.Low() > 0:
		out.Contact = Clear
	case out.ToSolid.Value <= 0:
		out.Contact = Solid
	case out.ToStop.High() < 0:
		out.Contact = OnStop
	default:
		out.Contact = Unclear
	}
	return out, nil
}

func (d Damper) check() error {
	for _, l := range []struct {
		of   quantity.Length
		noun string
	}{{d.ShowingHanging, lang.T("shaft showing with the wheel hanging")}, {d.ShowingAtRide, lang.T("shaft showing at ride height")}, {d.StopFree, lang.T("free length of the bump stop")}, {d.StopSolid, lang.T("solid length of the bump stop")}} {
		if !(l.of > 0 && l.of <= mostTravel) {
			return quantity.Inputf("Measure it along the shaft and check the unit.", "The %s is missing, or of a size that no car has.", l.noun)
		}
	}
	switch {
	case d.ShowingAtRide > d.ShowingHanging:
		return quantity.Inputf("Check which is which: a hanging wheel pulls the shaft out.", "More of the shaft shows at ride height than with the wheel hanging.")
	case d.StopSolid >= d.StopFree:
		return quantity.Inputf("Check which is which.", "The bump stop is not shorter solid than free.")
	case !(d.StopSoft >= 0 && d.StopSoft <= d.StopFree-d.StopSolid):
		return quantity.Inputf("Enter it as a size within the stop's travel, or leave it out.", "The soft part of the bump stop is not within its travel.")
	case !(d.Resolution > 0 && d.Resolution < d.StopSolid):
		return quantity.Inputf("Enter the distance between two marks of the ruler, such as 1 mm.", "The ruler's smallest mark is missing or not believable.")
	}
	return nil
}

// QuestionTravel is a sentence to put to the person when little travel is left,
// or "" when there is nothing to ask. The 20 mm of droop are common practice, no
// source; the part's maker may say more.
func QuestionTravel(t Travel) string {
	switch {
	case t.Contact == OnStop || t.Contact == Solid:
		return lang.F("The car rides on its bump stop (%s). Raise it or fit a shorter stop that suits the damper before blaming the damping.", t.Contact.Words())
	case t.Contact == Unclear:
		return lang.T("It is too close to tell whether the car rides on its bump stop. Look at the stop with the wheels on the ground.")
	case t.Droop.Low().Millimetres() < 20:
		return lang.T("Less than 20 mm of droop may be left at the shaft. Check that the spring stays seated with the wheel hanging.")
	}
	return ""
}
