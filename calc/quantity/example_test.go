package quantity_test

import (
	"fmt"

	"strutcard/calc/quantity"
)

func Example() {
	t, err := quantity.ParseTorque("87 lb-ft")
	fmt.Println(quantity.FormatTorque(t, quantity.NewtonMetre), t.CNM(), err)

	_, err = quantity.ParseTorque("45-60 N·m")
	fmt.Println(err)
	// Output:
	// 118 N·m 11796 <nil>
	// “45-60 N·m” is a range or a value with a tolerance, not one number. Type the one value to aim for, and note the range with its source.
}
