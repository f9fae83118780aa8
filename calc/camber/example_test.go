package camber_test

import (
	"fmt"

	"strutcard/calc/camber"
	"strutcard/calc/quantity"
)

func Example() {
	got, err := camber.FromGap(camber.Gap{
		Gap: quantity.Millimetres(20), Span: quantity.Millimetres(390), Resolution: quantity.Millimetres(1),
		At: camber.Top, Along: camber.AlongRim,
	})
	fmt.Printf("%v ± %v, error %v\n", got.Value, got.Expanded(), err)

	gap, end, _ := camber.GapFor(quantity.Degrees(-1.5), quantity.Millimetres(390), camber.AlongRim)
	fmt.Printf("−1.50° shows %.1f mm at the %s\n", gap.Millimetres(), end)
	// Output:
	// −2.94° ± 0.09°, error <nil>
	// −1.50° shows 10.2 mm at the top
}
