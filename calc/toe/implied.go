package toe

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
)

// FormulaImplied names the diameter that a specification implies in the record.
const FormulaImplied = "toe-implied-diameter/1"

// Spec is a toe that the source gives as a length and as an angle, sizes both.
// The steps are the last printed digits: 1 mm for “3 mm”, 0.01° for “0.33°”.
type Spec struct {
	Length, LengthStep quantity.Length
	Angle, AngleStep   quantity.Angle
}

// Implied is the diameter at which both are the same: length / sin(angle), and
// its lowest and highest value for what the printed digits leave open.
type Implied struct{ Diameter, Low, High quantity.Length }

// On is the place on the wheel whose diameter fits.
type On string

const (
	OnRim   On = "rim"
	OnTyre  On = "tyre"
	Either  On = "either"
	Neither On = "neither"
)

// slack is how much of the diameter may be missing: a tyre is not quite its
// nominal size, and the lip of a rim not quite the place measured at.
const slack = 0.03

// ImpliedDiameter is where the source must have measured.
func ImpliedDiameter(s Spec) (Implied, error) {
	switch {
	case !quantity.Finite(s.Length) || !quantity.Finite(s.LengthStep) || !quantity.Finite(s.Angle) || !quantity.Finite(s.AngleStep):
		return Implied{}, quantity.Inputf("Enter both toes again.", "One of the numbers is not a number.")
	case s.LengthStep <= 0 || s.AngleStep <= 0:
		return Implied{}, quantity.Inputf("Enter 1 mm if the source prints whole millimetres, 1′ if it prints whole minutes.", "The step of the last printed digit is missing.")
	case s.Length <= s.LengthStep/2 || s.Angle <= s.AngleStep/2:
		return Implied{}, quantity.Inputf("Use the tolerance, if that is given both ways.", "A toe of nothing says nothing about the diameter.")
	case s.Angle.Degrees() > largest:
		return Implied{}, quantity.Inputf("Check whether minutes of arc were read as degrees.", "A toe of more than %.0f° is not a toe.", largest)
	}
	at := func(l quantity.Length, a quantity.Angle) quantity.Length {
		return l / quantity.Length(math.Sin(a.Radians()))
	}
	return Implied{
		Diameter: at(s.Length, s.Angle),
		Low:      at(s.Length-s.LengthStep/2, s.Angle+s.AngleStep/2),
		High:     at(s.Length+s.LengthStep/2, s.Angle-s.AngleStep/2),
	}, nil
}

// Fits says which of the two diameters of this car's wheel is plausible.
func (i Implied) Fits(rim, tyre quantity.Length) (On, error) {
	if !quantity.Finite(rim) || !quantity.Finite(tyre) || rim <= 0 || tyre <= rim {
		return "", quantity.Inputf("Measure the rim from lip to lip and the tyre from tread to tread.", "The diameters of rim and tyre are missing, or the tyre is not larger than the rim.")
	}
	switch onRim, onTyre := i.holds(rim), i.holds(tyre); {
	case onRim && onTyre:
		return Either, nil
	case onRim:
		return OnRim, nil
	case onTyre:
		return OnTyre, nil
	}
	return Neither, nil
}

func (i Implied) holds(d quantity.Length) bool {
	return i.Low*(1-slack) <= d && d <= i.High*(1+slack)
}

func (i Implied) times(f quantity.Length) Implied {
	return Implied{Diameter: f * i.Diameter, Low: f * i.Low, High: f * i.High}
}

// QuestionSpecPair is a sentence to put to the person about a length and an
// angle that do not belong together on this wheel, or "" when they do.
func QuestionSpecPair(i Implied, rim, tyre quantity.Length) string {
	on, err := i.Fits(rim, tyre)
	if err != nil {
		return err.Error()
	}
	if on != Neither {
		return ""
	}
	text := lang.F("The two toes belong together only at a diameter of %s, which is neither the rim nor the tyre of this wheel.", quantity.FormatLength(i.Diameter, quantity.Millimetre))
	if on, _ := i.times(2).Fits(rim, tyre); on != Neither {
		return text + " " + lang.F("%s is twice that: the angle may be the total and the length that of one wheel, or the angle twice too large.", place(on))
	}
	if on, _ := i.times(0.5).Fits(rim, tyre); on != Neither {
		return text + " " + lang.F("%s is half of that: the length may be the total and the angle that of one wheel.", place(on))
	}
	return text + " " + lang.T("Compare the numbers and their units with the source once more.")
}

func place(on On) string {
	switch on {
	case OnRim:
		return lang.T("The rim")
	case OnTyre:
		return lang.T("The tyre")
	}
	return lang.T("The rim or the tyre")
}
