package lift_test

import (
	"fmt"

	"strutcard/calc/lift"
	"strutcard/calc/quantity"
)

func Example() {
	axles, _ := lift.AxleLoads(lift.Weights{Basis: lift.Weighed, Front: 900, Rear: 600, Resolution: 5})
	sills := lift.Support{Place: lift.Between, Distance: quantity.Millimetres(300), Resolution: quantity.Millimetres(10)}
	on, _ := lift.PairLoad(axles, lift.Front, sills, quantity.Millimetres(2600), quantity.Millimetres(10))
	fmt.Println(on.Stands.Value, "on the two stands, where the axle carried", axles.Front.Value)

	marked, _ := lift.Marking{Rated: lift.Rated{Figure: 2, Unit: lift.Tons}, For: lift.NotMarked}.PerStand()
	fmt.Println(lift.QuestionStand(marked))

	gear, _ := lift.GearHolds(lift.Driveline{Drive: lift.FrontDrive, Differential: lift.Open}, lift.OneFrontLeft)
	fmt.Println(gear.Verdict.Words() + ": " + gear.Reason)
	// Output:
	// 1017.4 kg on the two stands, where the axle carried 900 kg
	// The marking leaves open what one stand is rated for: 907.2 kg to 2032.1 kg. The lower one counts until its maker says otherwise.
	// does not hold: A driven wheel in the air turns backwards through the open differential, so those on the ground can roll.
}
