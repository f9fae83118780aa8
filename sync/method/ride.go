package method

import (
	"math"
	"strconv"
	"strings"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
)

var rideMethods = []Method{rideHeight, rideStance, rideCollar, rideTravel, rideHeadlamp}

// rideHeight is a tape from the hub centre to the arch edge.
var rideHeight = Method{
	ID: "ride_height", Group: Ride, Title: "Hub centre to arch edge", Sets: event.RideHeight,
	Words: "Measure straight up from the hub centre to the arch edge. From the hub, not the floor: the tyre does not enter then.",
	Fields: []Field{
		{Name: "height", Label: "Hub centre to arch edge", Kind: Length},
		{Name: "mark", Label: "Smallest mark of the tape", Kind: Length, Keep: true, Instrument: true},
	},
	Work: func(in *In) (Result, error) {
		height, mark := in.Length("height"), in.Length("mark")
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		v, err := once(height, mark)
		if err != nil {
			return Result{}, err
		}
		marks := in.Units.FormatLength(mark)
		return Result{Figure: in.length(v), Line: lang.F("One reading, tape marked every %s", marks),
			Reading: lengthReading(v, "", kept("tape marked every %s", marks))}, nil
	},
}

func lengthReading(v measure.Value[quantity.Length], formula, instrument string) *Reading {
	return &Reading{Value: v.Value.UM(), U95: v.Expanded().UM(), Formula: formula, Instrument: instrument}
}

// once is one reading of a scale that starts at zero.
func once[Q measure.Quantity](reading, step Q) (measure.Value[Q], error) {
	v, err := measure.Read(reading, step)
	if err == nil && reading < step {
		err = quantity.Inputf("Read it again, and check the units.", "The reading is less than one step of what it was read with.")
	}
	return v, err
}

// within writes a number with its expanded uncertainty and its unit. It is for
// what units.Set has no writing of.
func within(value, u95 float64, unit string) string { return around(value, u95) + " " + unit }

// around writes a number with its expanded uncertainty, that one with one figure,
// or two when the first is a 1.
func around(value, u95 float64) string {
	decimals := 0
	if u95 > 0 {
		power := math.Floor(math.Log10(u95))
		if decimals = -int(power); u95 < 2*math.Pow(10, power) {
			decimals++
		}
		decimals = max(0, min(5, decimals))
	}
	return decimal(value, decimals) + " ± " + decimal(u95, decimals)
}

// decimal is a number for people, with the true minus sign and their decimal mark.
func decimal(v float64, decimals int) string {
	text := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Trim(text, "-0.") == "" {
		text = strings.TrimPrefix(text, "-")
	}
	return lang.Number(strings.Replace(text, "-", "−", 1))
}

// rounded is a number for people with four figures.
func rounded(v float64) string { return lang.Number(strconv.FormatFloat(v, 'g', 4, 64)) }
