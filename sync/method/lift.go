package method

import (
	"slices"

	"strutcard/calc/lift"
)

var liftMethods = []Method{liftPlan, liftSlope, standRating, standTip}

// liftPlan is everything to know before a car leaves the ground. Nearly all of
// it may be left open: what is not known counts at its worst.
var liftPlan = Method{
	ID: "lift_plan", Group: Equipment, Title: "Can I lift it?",
	Words:  "Answer at the car, while it stands on its wheels. What is marked “from the record” stands in the sheet or the tool list: check it. What is marked “typed” you typed yourself. Leave open what you do not know. Nobody goes under a car that only a jack holds, and the vehicle's manual decides.",
	Fields: slices.Concat(liftPlaceFields, liftWeightFields, liftStandFields, liftJackFields, liftHoldFields, liftCloserFields),
	Fill:   fillLift,
	Work: func(in *In) (Result, error) {
		car, job := in.liftCar(), in.liftJob()
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		plan, err := lift.Plan(car, job)
		if err != nil {
			return Result{}, err
		}
		return planned{in, car, job, plan}.result(), nil
	},
}

const liftUnknown = "not_known"

// Fields that only some lifts ask.
const (
	liftPairs       = "raised=front_axle|rear_axle|all_wheels"
	liftFrontPair   = "raised=front_axle|all_wheels"
	liftRearPair    = "raised=rear_axle|all_wheels"
	liftJackFront   = "raised=front_axle|all_wheels|left_side|right_side|front_left|front_right"
	liftJackRear    = "raised=rear_axle|all_wheels|left_side|right_side|rear_left|rear_right"
	liftSloped      = "slope=measured"
	liftStandsRated = "stand_for=per_stand|per_pair|not_marked"
	liftJackRated   = "jack_unit=kg|lb|short_ton|tonne|ton"
	liftCloser      = "more=yes"
)

var (
	liftAt = []Option{{string(lift.AtAxle), "on the line through the wheel centres"}, {string(lift.Between), "between the axles"},
		{string(lift.Beyond), "past the axle, towards the bumper"}, {liftUnknown, "not known"}}
	slopeRuns     = []Option{{string(lift.AlongLevel), "a level held level"}, {string(lift.AlongGround), "a bar lying on the ground"}}
	liftYesNo     = []Option{{string(lift.Yes), "yes"}, {string(lift.No), "no"}, {liftUnknown, "not known"}}
	ratingOptions = []Option{{string(lift.Kilograms), "kg"}, {string(lift.Pounds), "lb"}, {string(lift.Tonnes), "tonnes of 1000 kg"},
		{string(lift.ShortTons), "US tons of 2000 lb"}, {string(lift.Tons), "“ton”, it does not say which"}}
	forOptions = []Option{{string(lift.PerStand), "each stand"}, {string(lift.PerPair), "the pair"}, {string(lift.NotMarked), "it does not say"}}
)

// liftPlaceFields ask what goes up, and on what ground.
var liftPlaceFields = []Field{
	{Name: "raised", Label: "What goes up", Kind: Choice, Options: []Option{
		{string(lift.FrontAxle), "the front axle"}, {string(lift.RearAxle), "the rear axle"}, {string(lift.AllWheels), "all four wheels"},
		{string(lift.LeftSide), "the left side"}, {string(lift.RightSide), "the right side"},
		{string(lift.OneFrontLeft), "the front left wheel alone"}, {string(lift.OneFrontRight), "the front right wheel alone"},
		{string(lift.OneRearLeft), "the rear left wheel alone"}, {string(lift.OneRearRight), "the rear right wheel alone"}}},
	{Name: "first", Label: "Which end goes up first", Kind: Choice, Optional: true, When: "raised=all_wheels",
		Options: []Option{{string(lift.Front), "front"}, {string(lift.Rear), "rear"}, {liftUnknown, "not known"}}},
	{Name: "surface", Label: "Jack and stands will stand on", Kind: Choice, Optional: true,
		Options: []Option{{string(lift.Concrete), "concrete"}, {string(lift.Asphalt), "asphalt"}, {string(lift.Soft), "gravel, soil, grass, loose slabs"}, {liftUnknown, "not known"}}},
	{Name: "slope", Label: "The fall of the ground, with a level and a ruler", Kind: Choice, Optional: true, Keep: true,
		Options: []Option{{"measured", "measured"}, {liftUnknown, "not measured"}}},
	{Name: "slope_over", Label: "Measured over a length of", Hint: "Better a metre than less.", Kind: Length, Keep: true, When: liftSloped},
	{Name: "slope_run", Label: "That length was measured along", Kind: Choice, Keep: true, When: liftSloped, Options: slopeRuns},
	{Name: "slope_mark", Label: "Smallest mark of the ruler that read the fall", Kind: Length, Keep: true, Instrument: true, When: liftSloped},
	{Name: "along", Label: "Along the car, the ground falls to the", Kind: Choice, Keep: true, When: liftSloped,
		Options: []Option{{string(lift.ToFront), "front"}, {string(lift.ToRear), "rear"}, {levelFloor, "neither: level"}, {liftUnknown, "not measured"}}},
	{Name: "along_fall", Label: "Along the car it falls by", Kind: Length, Keep: true, When: "along=front|rear"},
	{Name: "across", Label: "Across the car, the ground falls to the", Kind: Choice, Keep: true, When: liftSloped,
		Options: []Option{{string(lift.ToLeft), "left"}, {string(lift.ToRight), "right"}, {levelFloor, "neither: level"}, {liftUnknown, "not measured"}}},
	{Name: "across_fall", Label: "Across the car it falls by", Kind: Length, Keep: true, When: "across=left|right"},
}

// liftWeightFields ask how heavy the car is and how it stands on its wheels.
var liftWeightFields = []Field{
	{Name: "weight", Label: "How heavy the car is", Kind: Choice, Optional: true, Keep: true, Options: []Option{
		{"axles", "both axles weighed, as it stands"}, {"weighed", "whole car weighed, as it stands"},
		{"papers", "from its papers or the sheet"}, {liftUnknown, "not known"}}},
	{Name: "front_load", Label: "On both front wheels together", Kind: Mass, Keep: true, When: "weight=axles"},
	{Name: "rear_load", Label: "On both rear wheels together", Kind: Mass, Keep: true, When: "weight=axles"},
	{Name: "paper_mass", Label: "Mass of the car", Hint: "Papers and sheet state the empty car: add what is in it.", Kind: Mass, Keep: true, When: "weight=papers"},
	{Name: "paper_share", Label: "Part of it on the front axle", Hint: "From papers or the sheet. Empty: each axle may carry all.", Kind: Percent, Optional: true, Keep: true, When: "weight=papers"},
	{Name: "mass", Label: "The scale shows", Kind: Mass, Keep: true, When: "weight=weighed"},
	{Name: "front_share", Label: "Part of it on the front axle", Hint: "Empty: each axle may carry all.", Kind: Percent, Optional: true, Keep: true, When: "weight=weighed"},
	{Name: "mass_step", Label: "Smallest step of the scale", Kind: Mass, Keep: true, Instrument: true, When: "weight=axles|weighed"},
	{Name: "share_step", Label: "That part is known to the nearest", Hint: "Such as 1. Needed with that part.", Kind: Percent, Optional: true, Keep: true, When: "weight=weighed"},
	{Name: "sides", Label: "Left and right share it", Kind: Choice, Optional: true, Keep: true, Options: []Option{
		{"weighed", "weighed"}, {"accepted", "not known: count 60 % on the heavier side, common practice"}, {liftUnknown, "not known: count all on one side"}}},
	{Name: "heavier_share", Label: "Part of it on the heavier side", Hint: "From 50 to 60.", Kind: Percent, Keep: true, When: "sides=weighed"},
	{Name: "heavier_step", Label: "Known to the nearest", Hint: "Such as 1.", Kind: Percent, Keep: true, When: "sides=weighed"},
	{Name: "wheelbase", Label: "Front wheel centre to rear wheel centre", Hint: "Filled in where the sheet states it.", Kind: Length, Optional: true, Keep: true},
	{Name: "tape", Label: "Smallest mark of the tape", Hint: "For every length on this page.", Kind: Length, Keep: true, Instrument: true},
}

// liftStandFields ask what the stands are marked with and where they go.
var liftStandFields = []Field{
	{Name: "stand_for", Label: "The number on the stands is for", Kind: Choice, Optional: true, Keep: true, When: liftPairs, Options: append(slices.Clone(forOptions), Option{liftUnknown, "not known: no number, or not looked"})},
	{Name: "stand_unit", Label: "The stands are marked in", Kind: Choice, Keep: true, When: liftStandsRated, Options: ratingOptions},
	{Name: "stand_figure", Label: "The number on the stands", Hint: "From the stand itself. With different stands, the lowest. In the tool list: marked kg each.", Kind: Count, Keep: true, When: liftStandsRated},
	{Name: "front_at", Label: "The front stands will be", Kind: Choice, Optional: true, When: liftFrontPair, Options: liftAt},
	{Name: "front_distance", Label: "Along the car, from the front wheel centres to the front stands", Kind: Length, When: "front_at=between|beyond"},
	{Name: "rear_at", Label: "The rear stands will be", Kind: Choice, Optional: true, When: liftRearPair, Options: liftAt},
	{Name: "rear_distance", Label: "Along the car, from the rear wheel centres to the rear stands", Kind: Length, When: "rear_at=between|beyond"},
}

// liftJackFields ask the same of the jack.
var liftJackFields = []Field{
	{Name: "jack_unit", Label: "The jack is marked in", Kind: Choice, Optional: true, Keep: true, Options: append(slices.Clone(ratingOptions), Option{liftUnknown, "not known: no number, or not looked"})},
	{Name: "jack_figure", Label: "The number on the jack", Hint: "From the jack itself. In the tool list: marked kg.", Kind: Count, Keep: true, When: liftJackRated},
	{Name: "jack_where", Label: "The jack goes under", Kind: Choice, Optional: true, Options: []Option{
		{string(lift.Centre), "the middle of the axle"}, {string(lift.Corners), "one corner, then the other"}, {string(lift.SideSill), "the middle of a side"}, {liftUnknown, "not known"}}},
	{Name: "jack_front_at", Label: "Raising the front, the jack will be", Kind: Choice, Optional: true, When: liftJackFront, Options: liftAt},
	{Name: "jack_front_distance", Label: "Along the car, from the front wheel centres to the jack", Kind: Length, When: "jack_front_at=between|beyond"},
	{Name: "jack_rear_at", Label: "Raising the rear, the jack will be", Kind: Choice, Optional: true, When: liftJackRear, Options: liftAt},
	{Name: "jack_rear_distance", Label: "Along the car, from the rear wheel centres to the jack", Kind: Length, When: "jack_rear_at=between|beyond"},
}

// liftHoldFields ask what may keep the car from rolling, and what the job takes away.
var liftHoldFields = []Field{
	{Name: "brake", Label: "The parking brake acts on", Kind: Choice, Optional: true, Keep: true, Options: []Option{
		{string(lift.BrakeFront), "the front wheels"}, {string(lift.BrakeRear), "the rear wheels"}, {string(lift.BrakeTransmission), "the shaft behind the gearbox"}, {liftUnknown, "not known"}}},
	{Name: "released", Label: "Does the job release the parking brake at any time?", Kind: Choice, Optional: true, Options: liftYesNo},
	{Name: "drive", Label: "The engine drives", Kind: Choice, Optional: true, Keep: true, Options: []Option{
		{string(lift.FrontDrive), "the front wheels"}, {string(lift.RearDrive), "the rear wheels"}, {string(lift.AllDrive), "all wheels"}, {liftUnknown, "not known"}}},
	{Name: "gearbox", Label: "The gearbox is", Kind: Choice, Optional: true, Keep: true, Options: []Option{
		{string(lift.Manual), "manual, or has no P"}, {string(lift.Automatic), "automatic with P"}, {liftUnknown, "not known"}}},
	{Name: "differential", Label: "The differential is", Kind: Choice, Optional: true, Keep: true, Options: []Option{
		{string(lift.Open), "open"}, {string(lift.LimitedSlip), "limited-slip"}, {string(lift.Locked), "locked (all of them, if all wheels drive)"}, {liftUnknown, "not known"}}},
	{Name: "heavy_part", Label: "Does the job take off a heavy part: axle, subframe, engine?", Kind: Choice, Optional: true, Options: liftYesNo},
}

// liftCloserFields only narrow the limits.
var liftCloserFields = []Field{
	{Name: "more", Label: "Measure more, for closer limits?", Kind: Choice, Optional: true, Keep: true, Options: []Option{{"yes", "yes"}, {"no", "no: the widest limits count"}}},
	{Name: "raise", Label: "How far the wheel centres will go up", Kind: Length, Optional: true, When: liftCloser},
	{Name: "wheel_centre", Label: "Ground to wheel centre", Kind: Length, Optional: true, Keep: true, When: liftCloser},
	{Name: "foot", Label: "Stand: from under the post to the nearest edge of the foot", Kind: Length, Optional: true, Keep: true, When: liftCloser},
	{Name: "stand_height", Label: "Stand: ground to where the car rests", Kind: Length, Optional: true, Keep: true, When: liftCloser},
	{Name: "gravity", Label: "Ground to the centre of gravity", Hint: "Only if somebody measured it.", Kind: Length, Optional: true, Keep: true, When: liftCloser},
	{Name: "gravity_within", Label: "That height is known within ±", Kind: Length, Optional: true, Keep: true, When: liftCloser},
}
