package ride_test

import (
	"fmt"

	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/calc/ride"
)

func Example() {
	tape := func(mm float64) measure.Value[quantity.Length] {
		v, _ := measure.Read(quantity.Millimetres(mm), quantity.Millimetres(1))
		return v
	}
	learned, err := ride.Learn(ride.Trial{Hardware: ride.SpringCollar, Turned: ride.BothOfAxle, Way: ride.Raise,
		Turns: 4, TurnsSmallest: 0.25, Before: tape(340), After: tape(352)})
	fmt.Printf("one turn: %v ± %v, %v\n", learned.Height.Value, learned.Height.Expanded(), err)

	next, err := ride.TurnsFor(learned, ride.BothOfAxle, tape(352), quantity.Millimetres(346))
	fmt.Printf("%s by %v ± %v turns, %v\n", next.Way, next.Turns.Value, next.Turns.Expanded(), err)
	// Output:
	// one turn: 3 mm ± 0.23 mm, <nil>
	// lower by 2 ± 0.35 turns, <nil>
}
