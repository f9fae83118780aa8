package spring_test

import (
	"fmt"

	"strutcard/calc/quantity"
	"strutcard/calc/spring"
)

func Example() {
	lever := spring.Motion{Ratio: 0.6, Per: spring.SpringPerWheel}
	other, _ := lever.As(spring.WheelPerSpring)
	arch, err := spring.WheelTravel(quantity.Millimetres(10), lever)
	fmt.Printf("%.2f %s: %v %v\n", float64(other), spring.WheelPerSpring, arch, err)

	held, _ := spring.Squeeze(quantity.KilogramsForcePerMillimetre(5), quantity.Millimetres(60))
	fmt.Println(held.Force, held.Energy)

	_, err = spring.WheelRate(quantity.PoundsForcePerInch(450), spring.Motion{Ratio: 0.8})
	fmt.Println(err)
	// Output:
	// 1.67 wheel travel per spring travel: 16.67 mm <nil>
	// 2942 N 88 J
	// It is not said which motion ratio is meant. Choose which travel is divided by which, or whether it is the square: all three go by the name of motion ratio.
}
