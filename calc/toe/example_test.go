package toe_test

import (
	"fmt"

	"strutcard/calc/quantity"
	"strutcard/calc/toe"
)

func Example() {
	tape := toe.Across{
		Method: toe.SameMarks, Front: quantity.Millimetres(1498), Rear: quantity.Millimetres(1495),
		Diameter: quantity.Millimetres(600), Resolution: quantity.Millimetres(1),
	}
	now, err := toe.FromAcross(tape)
	fmt.Println(now.Words(quantity.Degree), err)

	want, _ := toe.FromAngle(quantity.Minutes(12), toe.In, toe.Total)
	change, _ := toe.ForTotal(now, want, toe.Wheel{Turned: toe.Straight})
	rod := toe.Rod{Thread: toe.OneThread, Joint: toe.Behind, Pitch: quantity.Millimetres(1.5), Arm: quantity.Millimetres(140), Resolution: quantity.Millimetres(2)}
	advice, err := toe.Advise(now, change, rod)
	fmt.Printf("each rod %v/8 turn %s, %s ways, error %v\n", advice.Left.Eighths, advice.Left.Rod, advice.Rotation, err)
	fmt.Println("then", advice.Expected.Words(quantity.Degree))
	// Output:
	// 0.29° out ± 0.08° total, 0.14° out per wheel if both have the same <nil>
	// each rod 3/8 turn longer, opposite ways, error <nil>
	// then 0.17° in ± 0.10° total, 0.09° in per wheel if both have the same
}
