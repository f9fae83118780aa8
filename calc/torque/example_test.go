package torque_test

import (
	"fmt"

	"strutcard/calc/quantity"
	"strutcard/calc/torque"
)

func Example() {
	adapter := torque.Adapter{Length: quantity.Inches(3)}
	set, err := torque.Setting(quantity.PoundFeet(30), quantity.Inches(12), adapter)
	fmt.Println(quantity.FormatTorque(set, quantity.PoundFoot), err)

	fit, _ := torque.Wrench{Highest: quantity.PoundFeet(150)}.Fit(set)
	fmt.Println(fit.Words())

	spec, _ := torque.Range(quantity.NewtonMetres(45), quantity.NewtonMetres(60))
	fmt.Println(spec.Words(quantity.NewtonMetre))

	fmt.Println(torque.Pass{Kind: torque.AngleOn, Angle: quantity.Degrees(120)}.Words(quantity.NewtonMetre))
	// Output:
	// 24 lbf·ft <nil>
	// below the range of this wrench: use a smaller one
	// 45 to 60 N·m, aim for 52.5 (the middle, not stated by the source)
	// Draw a line across bolt and part, then turn on by 120°, 2 flats of a six-sided head.
}
