package fastener_test

import (
	"fmt"

	"strutcard/calc/fastener"
	"strutcard/calc/quantity"
)

func Example() {
	fmt.Println(fastener.Question("M8", fastener.Unstated, quantity.PoundFeet(240)))
	fmt.Println(fastener.Question("M12", "8.8", quantity.NewtonMetres(1203)))

	thread, _ := fastener.Parse("1/2 UNF")
	got, err := fastener.Engage(fastener.Engagement{Thread: thread, Turns: 7, Resolution: 0.5, In: fastener.Steel})
	fmt.Println(got.Words(), err)
	// Output:
	// 325.4 N·m is more than an M8 bolt is normally tightened to. It is about 13 times what such a bolt normally takes. If the source says lbf·in or kgf·cm, this is about ten times too much. Compare the number, its unit and the thread with the source once more.
	// 1203 N·m is more than an M12 bolt of class 8.8 is normally tightened to. It is about 18 times what such a bolt normally takes. Compare the number, its unit and the thread with the source once more.
	// Too little thread is engaged. Do not tighten it: find a longer bolt or stud, or a thinner spacer. <nil>
}
