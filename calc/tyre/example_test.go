package tyre_test

import (
	"fmt"

	"strutcard/calc/quantity"
	"strutcard/calc/tyre"
)

func Example() {
	f := tyre.Fill{Pressure: quantity.Bars(2.2), Counted: tyre.Gauge, From: quantity.DegreesCelsius(15), To: quantity.DegreesCelsius(55),
		PressureResolution: quantity.Bars(0.1), TemperatureResolution: quantity.Kelvins(5)}
	_, err := tyre.At(f)
	fmt.Println(err)

	f.Ambient, f.AmbientResolution = quantity.Bars(0.95), quantity.Bars(0.01)
	hot, err := tyre.At(f)
	fmt.Println(hot.Value, hot.Expanded(), err)
	// Output:
	// The ambient pressure is missing or not believable. Enter the pressure of the air at the place itself, not that for sea level: about 1 bar low down, less in the mountains.
	// 2.64 bar 0.08 bar <nil>
}
