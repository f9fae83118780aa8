package lift_test

import (
	"pgregory.net/rapid"

	"strutcard/calc/lift"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

func between(t *rapid.T, name string, lo, hi float64) float64 {
	return rapid.Float64Range(lo, hi).Draw(t, name)
}

func drawLength(t *rapid.T, name string, lo, hi float64) quantity.Length {
	return quantity.Length(between(t, name, lo, hi))
}

func drawSupport(t *rapid.T, name string) lift.Support {
	s := lift.Support{Place: rapid.SampledFrom([]lift.Place{lift.AtAxle, lift.Between, lift.Beyond}).Draw(t, name), Resolution: drawLength(t, name+" tape", 0.001, 0.02)}
	if s.Place != lift.AtAxle {
		s.Distance = drawLength(t, name+" distance", 0.02, 0.6)
	}
	return s
}

func drawWeights(t *rapid.T) lift.Weights {
	return lift.Weights{
		Basis: rapid.SampledFrom([]lift.Basis{lift.Weighed, lift.Papers}).Draw(t, "basis"), Mass: quantity.Mass(between(t, "mass", 700, 3500)),
		FrontShare: quantity.Ratio(between(t, "front", 0.35, 0.7)), Resolution: quantity.Mass(between(t, "scale", 0.5, 20)), ShareResolution: quantity.Ratio(between(t, "share", 0.001, 0.02)),
	}
}

func drawCar(t *rapid.T) lift.Car {
	return lift.Car{
		Weights: drawWeights(t), Split: lift.Split{Heavier: quantity.Ratio(between(t, "split", 0.5, 0.6)), Resolution: 0.01},
		Wheelbase: drawLength(t, "base", 2, 4), WheelRadius: drawLength(t, "radius", 0.25, 0.38), Tape: drawLength(t, "tape", 0.001, 0.02),
		CentreHeight: measure.Value[quantity.Length]{Value: drawLength(t, "height", 0.45, 0.9), Standard: drawLength(t, "height u", 0.001, 0.03)},
		Driveline: lift.Driveline{
			Drive:        rapid.SampledFrom([]lift.Drive{lift.FrontDrive, lift.RearDrive, lift.AllDrive}).Draw(t, "drive"),
			Differential: rapid.SampledFrom([]lift.Differential{lift.Open, lift.Locked, lift.LimitedSlip}).Draw(t, "differential"),
			Brake:        rapid.SampledFrom([]lift.Brake{lift.BrakeFront, lift.BrakeRear, lift.BrakeTransmission}).Draw(t, "brake"),
			Gearbox:      rapid.SampledFrom([]lift.Gearbox{lift.Manual, lift.Automatic}).Draw(t, "gearbox"),
		},
	}
}

func drawRated(t *rapid.T, name string) lift.Rated {
	return lift.Rated{Figure: quantity.Turns(between(t, name, 0.5, 6)), Unit: rapid.SampledFrom([]lift.RatingUnit{lift.ShortTons, lift.Tonnes, lift.Tons}).Draw(t, name+" unit")}
}

func drawStands(t *rapid.T, name string) lift.PairOfStands {
	return lift.PairOfStands{
		At:      drawSupport(t, name),
		Marking: lift.Marking{Rated: drawRated(t, name+" rating"), For: rapid.SampledFrom([]lift.For{lift.PerStand, lift.PerPair, lift.NotMarked}).Draw(t, name+" for")},
		Base:    goodStands.Base,
	}
}

func drawSlope(t *rapid.T, name string, ways ...lift.Way) lift.Slope {
	return lift.Slope{Fall: drawLength(t, name, 0, 0.05), Over: 1, Run: rapid.SampledFrom([]lift.Run{lift.AlongLevel, lift.AlongGround}).Draw(t, name+" run"),
		Down: rapid.SampledFrom(ways).Draw(t, name+" way"), Resolution: 0.001}
}

func drawLift(t *rapid.T) lift.Lift {
	return lift.Lift{
		Raised: rapid.SampledFrom(allRaised).Draw(t, "raised"), First: rapid.SampledFrom([]lift.End{lift.Front, lift.Rear}).Draw(t, "first"),
		Raise: drawLength(t, "raise", 0.1, 0.6), Tape: 0.005, Front: drawStands(t, "front stands"), Rear: drawStands(t, "rear stands"),
		Jack:   lift.Jack{Rated: drawRated(t, "jack"), Where: rapid.SampledFrom([]lift.Where{lift.Centre, lift.Corners, lift.SideSill}).Draw(t, "where"), Front: drawSupport(t, "front jack"), Rear: drawSupport(t, "rear jack")},
		Margin: quantity.Ratio(between(t, "margin", 1, 3)), Along: drawSlope(t, "along", lift.ToFront, lift.ToRear), Across: drawSlope(t, "across", lift.ToLeft, lift.ToRight),
		Surface: lift.Concrete, HeavyPart: lift.No, BrakeReleased: rapid.SampledFrom([]lift.Answer{lift.Yes, lift.No}).Draw(t, "released"),
	}
}
