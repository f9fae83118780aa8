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

	fmt.Println(torque.Question("M8", quantity.PoundFeet(240)))
	// Output:
	// 24 lbf·ft <nil>
	// below the range of this wrench: use a smaller one
	// 325.4 N·m is more than an M8 bolt is normally tightened to. If the source says lbf·in or kgf·cm, this is about ten times too much. Compare the number, its unit and the thread with the source once more.
}
