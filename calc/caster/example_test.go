package caster_test

import (
	"fmt"

	"strutcard/calc/caster"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

func Example() {
	res := quantity.Degrees(0.1)
	out, _ := measure.Read(quantity.Degrees(1.8), res)
	in, _ := measure.Read(quantity.Degrees(-2.3), res)
	sweep := caster.Sweep{
		Out:        caster.Reading{Camber: out, Turned: quantity.Degrees(20)},
		In:         caster.Reading{Camber: in, Turned: quantity.Degrees(20)},
		Convention: caster.Heading, How: caster.Measured, Resolution: quantity.Degrees(1),
	}
	manual := measure.Value[quantity.Angle]{Value: quantity.Degrees(12), Standard: quantity.Degrees(0.5)}
	known, _ := caster.FromSweep(sweep, manual)
	alone, _ := caster.FromSweepAlone(sweep)
	fmt.Printf("with the inclination:    %v ± %v\n", known.Caster.Value, known.Caster.Expanded())
	fmt.Printf("without: %v × %.3f = %v ± %v\n", alone.Swing, float64(alone.Factor), alone.Caster.Value, alone.Caster.Expanded())
	// Output:
	// with the inclination:    5.98° ± 0.19°
	// without: 4.10° × 1.462 = 5.99° ± 0.24°
}
