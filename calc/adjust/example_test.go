package adjust_test

import (
	"fmt"

	"strutcard/calc/adjust"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

func Example() {
	here := adjust.Place{Car: "mine", Corner: "front left"}
	slots := adjust.Adjuster[quantity.Length]{Place: here, Of: adjust.Camber, Effect: adjust.Lowers, // counted inwards
		Resolution: quantity.Millimetres(0.5), Step: quantity.Millimetres(0.5),
		Low: quantity.Millimetres(-10), High: quantity.Millimetres(10)}
	read := func(mm, degrees float64) adjust.Trial[quantity.Length, quantity.Angle] {
		v, _ := measure.Read(quantity.Degrees(degrees), quantity.Degrees(0.05))
		return adjust.Trial[quantity.Length, quantity.Angle]{Setting: quantity.Millimetres(mm), Reading: v, Place: here, Stage: adjust.Snug}
	}
	got, err := adjust.Learn(slots, []adjust.Trial[quantity.Length, quantity.Angle]{read(0, -0.6), read(4, -1.0)})
	if err != nil {
		fmt.Println(err)
		return
	}
	next, _ := got.Next(quantity.Degrees(-1.5))
	fmt.Printf("move in by %v to read %v ± %v\n", next.Move, next.Expected.Value, next.Expected.Expanded())
	fmt.Println(next.Cautions[0].Words())
	// Output:
	// move in by 5 mm to read −1.50° ± 0.11°
	// This rests on two readings: nothing shows yet how well they repeat. Read again after the next move.
}
