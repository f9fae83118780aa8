package thrust_test

import (
	"fmt"

	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/calc/thrust"
)

func Example() {
	toe := func(minutes float64) measure.Value[quantity.Angle] { // toe-in positive
		v, _ := measure.Read(quantity.Minutes(minutes), quantity.Minutes(1))
		return v
	}
	th, err := thrust.FromRear(thrust.Wheels{Left: toe(15), Right: toe(-5)})
	size, side := th.Points()
	fmt.Printf("%v ± %v to the %s, error %v\n", size.Value, size.Expanded(), side, err)

	c, _ := th.SteeringWheel(thrust.Wheels{Left: toe(5), Right: toe(5)}, quantity.Minutes(3))
	fmt.Println(c.Words())
	// Output:
	// 0.17° ± 0.01° to the right, error <nil>
	// Driving straight, the steering wheel sits turned to the right. The rear axle pushes towards the right (0.17° ± 0.01°).
}
