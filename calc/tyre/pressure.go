package tyre

import (
	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// FormulaPressure names this calculation in the record.
const FormulaPressure = "tyre-pressure/1"

// Counted says from where a pressure is counted. The zero Counted says nothing.
type Counted string

const (
	Gauge    Counted = "above the air around it" // what a tyre gauge shows
	Absolute Counted = "from nothing"            // what physics books use
)

// Fill is a tyre with its pressure at one temperature, to be taken to another.
// Ambient is the pressure of the air around it; it is needed for Gauge only.
type Fill struct {
	Pressure quantity.Pressure
	Counted  Counted
	Ambient  quantity.Pressure
	From, To quantity.Temperature
	// Smallest steps that the instruments show. That of the ambient pressure is
	// needed for Gauge only; 10 mbar is fair for a figure from a weather report
	// that was corrected for the height.
	PressureResolution, AmbientResolution quantity.Pressure
	TemperatureResolution                 quantity.Temperature
}

// At is the pressure at the temperature To, counted as the one that was given.
// Hot from cold and cold from hot are the same calculation.
//
//	f = To/From    ∂/∂p = f    ∂/∂pa = f − 1    ∂/∂To = (p+pa)/From    ∂/∂From = −(p+pa)·f/From
func At(f Fill) (measure.Value[quantity.Pressure], error) {
	if err := f.check(); err != nil {
		return measure.Value[quantity.Pressure]{}, err
	}
	ambient, ambientResolution := f.Ambient, f.AmbientResolution
	if f.Counted == Absolute {
		ambient, ambientResolution = 0, 0
	}
	grow := float64(f.To / f.From)
	whole := f.Pressure + ambient
	perKelvin := whole.Kilopascals() * 1000 / f.From.Kelvins()
	warmth := measure.Resolution(f.TemperatureResolution)
	return measure.Value[quantity.Pressure]{
		Value: whole*quantity.Pressure(grow) - ambient,
		Standard: measure.Combine(
			measure.Contribution[quantity.Pressure](measure.Sensitivity(grow), measure.Resolution(f.PressureResolution)),
			measure.Contribution[quantity.Pressure](measure.Sensitivity(grow-1), measure.Resolution(ambientResolution)),
			measure.Contribution[quantity.Pressure](measure.Sensitivity(perKelvin), warmth),
			measure.Contribution[quantity.Pressure](measure.Sensitivity(perKelvin*grow), warmth),
		),
	}, nil
}

var (
	leastGauge, mostGauge       = quantity.Bars(0.5), quantity.Bars(6)
	leastAbsolute, mostAbsolute = quantity.Bars(1), quantity.Bars(7.2)
	leastAmbient, mostAmbient   = quantity.Bars(0.5), quantity.Bars(1.1)
	coldest, hottest            = quantity.DegreesCelsius(-50), quantity.DegreesCelsius(150)
)

func (f Fill) check() error {
	least, most := leastGauge, mostGauge
	switch f.Counted {
	case Gauge:
	case Absolute:
		least, most = leastAbsolute, mostAbsolute
	default:
		return quantity.Inputf("Choose above the air around it, as a tyre gauge shows, or from nothing.", "It is not said from where the pressure is counted.")
	}
	if !(f.Pressure >= least && f.Pressure <= most) { // also true for NaN
		return quantity.Inputf("Check the unit: 2.2 bar is 220 kPa and 32 psi.", "The pressure is missing, or of a size that no car tyre has.")
	}
	if err := f.checkAmbient(); err != nil {
		return err
	}
	for _, t := range []quantity.Temperature{f.From, f.To} {
		if !(t >= coldest && t <= hottest) {
			return quantity.Inputf("Enter both temperatures of the air in the tyre and check °C and °F.", "A temperature is missing, or one that no tyre has.")
		}
	}
	if !(f.PressureResolution > 0 && f.PressureResolution < f.Pressure) {
		return quantity.Inputf("Enter the smallest step of the gauge, such as 0.1 bar.", "The gauge's smallest step is missing or not believable.")
	}
	if !(f.TemperatureResolution > 0 && f.TemperatureResolution <= quantity.Kelvins(20)) {
		return quantity.Inputf("Enter how well the temperatures are known, such as 1 °C or 5 °C.", "The smallest step of the thermometer is missing or not believable.")
	}
	return nil
}

func (f Fill) checkAmbient() error {
	switch {
	case f.Counted == Absolute:
		return nil
	case !(f.Ambient >= leastAmbient && f.Ambient <= mostAmbient):
		return quantity.Inputf("Enter the pressure of the air at the place itself, not that for sea level: about 1 bar low down, less in the mountains.", "The ambient pressure is missing or not believable.")
	case !(f.AmbientResolution > 0 && f.AmbientResolution < f.Ambient):
		return quantity.Inputf("Enter how well it is known, such as 0.01 bar.", "The smallest step of the ambient pressure is missing or not believable.")
	}
	return nil
}

// QuestionPressure is a sentence to put to the person about a gauge pressure
// that is unusual for a passenger car, or "" when there is nothing to ask. The
// limits are common practice, no source; the car maker's plate decides.
func QuestionPressure(gauge quantity.Pressure) string {
	switch bar := gauge.Bars(); {
	case !quantity.Finite(gauge) || bar <= 0:
		return lang.T("The pressure is not above zero. Read the gauge again.")
	case bar < 1.5:
		return lang.F("A pressure of %s is low for a passenger car. Compare with the car maker's plate.", gauge.String())
	case bar > 3.6:
		return lang.F("A pressure of %s is high for a passenger car. Compare with the car maker's plate and with the tyre's own limit.", gauge.String())
	}
	return ""
}
