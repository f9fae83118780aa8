package plausible

import (
	"strutcard/calc/lang"
	"strutcard/calc/lift"
	"strutcard/calc/quantity"
	"strutcard/sync/sheet"
)

// Tracks of cars. Common practice, no source.
const leastTrack, mostTrack quantity.Length = 1, 2

// Vehicle lists questions about the numbers of the car: the lift plan is
// computed from them. What is zero is not known and is not asked about. The
// limits of mass, front share and wheelbase are those of calc/lift.
func Vehicle(v *sheet.Vehicle) []string {
	var out []string
	for _, text := range []string{mass(v), share(v), wheelbase(v), track(v)} {
		if text != "" {
			out = append(out, text)
		}
	}
	return out
}

// someCar is believable, so that an error is about the one number put into it.
func someCar() lift.Weights {
	return lift.Weights{Basis: lift.Papers, Mass: 1200, FrontShare: 0.5, Resolution: 1, ShareResolution: 0.01}
}

func mass(v *sheet.Vehicle) string {
	if v.MassG == 0 {
		return ""
	}
	car := someCar()
	car.Mass = quantity.MassFromG(v.MassG)
	_, err := lift.AxleLoads(car)
	return words(err)
}

func share(v *sheet.Vehicle) string {
	if v.FrontShare == 0 {
		return ""
	}
	car := someCar()
	car.FrontShare = quantity.Ratio(v.FrontShare) / 1000
	_, err := lift.AxleLoads(car)
	return words(err)
}

func wheelbase(v *sheet.Vehicle) string {
	if v.WheelbaseUM == 0 {
		return ""
	}
	axles, err := lift.AxleLoads(someCar())
	if err == nil {
		_, err = lift.CentreBehindFront(axles, quantity.LengthFromUM(v.WheelbaseUM), quantity.Millimetres(1))
	}
	return words(err)
}

func track(v *sheet.Vehicle) string {
	t := quantity.LengthFromUM(v.TrackUM)
	switch {
	case v.TrackUM == 0:
		return ""
	case t < leastTrack || t > mostTrack:
		return lang.F("A track of %s is not that of a road car. Check the number and its unit.", t.String())
	case v.WheelbaseUM > 0 && v.TrackUM >= v.WheelbaseUM:
		return lang.T("The track is not shorter than the wheelbase. Were they swapped? Compare both with the source.")
	}
	return ""
}

func words(err error) string {
	if err == nil {
		return ""
	}
	return err.Error()
}
