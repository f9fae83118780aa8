package measure_test

import (
	"fmt"

	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

func Example() {
	height, _ := measure.Read(quantity.Millimetres(352), quantity.Millimetres(1))
	wanted := measure.Band[quantity.Length]{Target: quantity.Millimetres(355), Minus: quantity.Millimetres(3), Plus: quantity.Millimetres(3)}
	fmt.Printf("%v ± %v: %s\n", height.Value, height.Expanded(), wanted.Judge(height).Words())
	// Output: 352 mm ± 0.58 mm: too close to tell
}
