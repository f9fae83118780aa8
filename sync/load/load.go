// Package load reckons what jack and stands must bear by what a fitting sheet
// says of the car: the same for the plan that is read before a lift and for the
// gate that stops it.
package load

import (
	"math"

	"strutcard/calc/lift"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
	"strutcard/sync/sheet"
)

// Reach is how far from the axle line stands and jack may stand. It is said
// beside each load: further in the stands carry more. Common practice, no source.
const Reach quantity.Length = 0.6

// What papers do not say of themselves: their mass is taken as rounded to 10 kg,
// on top of the allowance for what is in the car, and their front share as known
// to the nearest 5 %, the coarsest that a plan takes. Common practice, no source.
const (
	papersStep  quantity.Mass  = 10
	papersShare quantity.Ratio = 0.05
)

// OnPaper is the weight of a car as its papers give it; share 0 is not known.
func OnPaper(mass quantity.Mass, share quantity.Ratio) lift.Weights {
	return lift.Weights{Basis: lift.Papers, Mass: mass, FrontShare: share, Resolution: papersStep, ShareResolution: papersShare}
}

// Driveline is what the sheet says of it; the rest stays unknown.
func Driveline(v *sheet.Vehicle) lift.Driveline {
	return lift.Driveline{
		Drive: map[string]lift.Drive{"front": lift.FrontDrive, "rear": lift.RearDrive, "all": lift.AllDrive}[v.Driven],
		Brake: map[event.Axle]lift.Brake{event.Front: lift.BrakeFront, event.Rear: lift.BrakeRear}[v.ParkingBrake],
	}
}

// Loads is what the stand that carries more, and the jack, may have to bear,
// from the best to the worst of the places allowed for. Far is the plan with the
// stands furthest in.
type Loads struct {
	Stand, Jack lift.Range[quantity.Mass]
	Far         lift.Result
}

// Of reckons the loads when an axle goes up onto two stands. What is not known
// counts at its worst. It fails while the sheet states no mass, or one that no
// road car has.
func Of(v *sheet.Vehicle, axle event.Axle) (Loads, error) {
	near, err := plan(v, axle, lift.Beyond, lift.Corners) // where stands and jack carry least
	if err != nil {
		return Loads{}, err
	}
	far, err := plan(v, axle, lift.Between, lift.Centre) // and most
	if err != nil {
		return Loads{}, err
	}
	return Loads{Far: far,
		Stand: lift.Range[quantity.Mass]{Low: near.Pairs[0].Heavier.Low, High: far.Pairs[0].Heavier.High},
		Jack:  lift.Range[quantity.Mass]{Low: near.Jack.Load.Low, High: far.Jack.Load.High}}, nil
}

// Held is the same lift for what holds the car: brake, gear and chocks, wherever
// the jack goes.
func Held(v *sheet.Vehicle, axle event.Axle) (lift.Result, error) {
	return plan(v, axle, lift.Between, "")
}

// Marked reports whether a recorded rating of one piece can be one.
func Marked(g int64) bool { _, known := marked(g); return known }

// Fit is how a recorded rating of one piece stands to a load with the common
// margin. What is not recorded, or cannot be a rating, tells nothing.
func Fit(g int64, bears lift.Range[quantity.Mass]) lift.Fit {
	rated, known := marked(g)
	if !known {
		return lift.NotTelling
	}
	fit, err := lift.Compare(rated, bears, lift.CommonMargin)
	if err != nil {
		return lift.NotTelling
	}
	return fit
}

func marked(g int64) (rated lift.Range[quantity.Mass], known bool) {
	marking := lift.Marking{Rated: lift.Rated{Figure: quantity.Count(quantity.MassFromG(g).Kilograms()), Unit: lift.Kilograms}, For: lift.PerStand}
	rated, err := marking.PerStand()
	return rated, err == nil
}

func plan(v *sheet.Vehicle, axle event.Axle, place lift.Place, where lift.Where) (lift.Result, error) {
	car := lift.Car{Weights: OnPaper(quantity.MassFromG(v.MassG), quantity.Ratio(v.FrontShare)/1000),
		Wheelbase: quantity.LengthFromUM(v.WheelbaseUM), Tape: quantity.Millimetres(10), Driveline: Driveline(v)}
	at := lift.Support{Place: place, Distance: Reach, Resolution: quantity.Millimetres(10)}
	pair := lift.PairOfStands{At: at}
	raised := map[event.Axle]lift.Raised{event.Front: lift.FrontAxle, event.Rear: lift.RearAxle}[axle]
	return lift.Plan(car, lift.Lift{Raised: raised, Front: pair, Rear: pair, Margin: lift.CommonMargin, Along: nearlyLevel(), Across: nearlyLevel(),
		Jack: lift.Jack{Where: where, Front: at, Rear: at}, BrakeReleased: lift.No})
}

// nearlyLevel is ground that may fall either way by as much as passes without a
// question: a ruler so coarse that its expanded uncertainty over a metre is that.
func nearlyLevel() lift.Slope {
	over := quantity.Metres(1)
	return lift.Slope{Over: over, Run: lift.AlongLevel, Resolution: over * quantity.Length(lift.SlopeAsked) * quantity.Length(math.Sqrt(12)/measure.Coverage)}
}
