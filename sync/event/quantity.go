package event

import (
	"fmt"

	"strutcard/sync/fault"
)

// Quantity is what a reading measures, or what an adjuster sets.
type Quantity string

// What can be measured, and the sign of each. Left and right are as the driver
// sees them.
const (
	RideHeight   Quantity = "ride_height"   // hub centre to arch edge
	Camber       Quantity = "camber"        // negative = top of the wheel leans in
	Caster       Quantity = "caster"        // positive = top of the steering axis leans back
	Toe          Quantity = "toe"           // of one wheel; positive = its front points in
	TotalToe     Quantity = "total_toe"     // of an axle; positive = in
	Thrust       Quantity = "thrust"        // of the rear axle; positive = to the right
	FloorSlope   Quantity = "floor_slope"   // under an axle; positive = the right side is lower
	CornerWeight Quantity = "corner_weight" // on one wheel
	TyrePressure Quantity = "tyre_pressure" // above the air around, cold
)

// What else can be changed on the car and makes readings stale.
const (
	Spring Quantity = "spring" // a spring was exchanged or its seat changed
	Load   Quantity = "load"   // fuel, people, ballast
)

// Unit is the unit in which the record keeps a value.
type Unit string

const (
	UM   Unit = "um"   // micrometres
	Mdeg Unit = "mdeg" // thousandths of a degree
	G    Unit = "g"    // grams
	Pa   Unit = "pa"   // pascals

	count    Unit = ""         // pieces, clicks
	cnm      Unit = "cnm"      // hundredths of N·m
	permille Unit = "permille" // thousandths
	milli    Unit = "milli"    // thousandths of a unit that is named beside
)

// words write a limit in the unit that a person reads. Limits are whole in it.
func (u Unit) words(value int64) string {
	per, name := int64(1000), ""
	switch u {
	case count:
		per = 1
	case cnm:
		per, name = 100, " N·m"
	case permille:
		per, name = 10, " %"
	case UM:
		name = " mm"
	case Mdeg:
		name = "°"
	case G:
		name = " kg"
	case Pa:
		name = " kPa"
	}
	return fmt.Sprint(value/per, name)
}

// measured is how a quantity is kept: its unit, its range, and whether one
// reading belongs to an axle rather than to a corner.
type measured struct {
	unit      Unit
	low, high int64
	axle      bool
	words     string
}

var quantities = map[Quantity]measured{
	RideHeight:   {UM, 50_000, 1_500_000, false, "ride height"},
	Camber:       {Mdeg, -15_000, 15_000, false, "camber"},
	Caster:       {Mdeg, -20_000, 20_000, false, "caster"},
	Toe:          {Mdeg, -10_000, 10_000, false, "toe of one wheel"},
	TotalToe:     {Mdeg, -20_000, 20_000, true, "total toe"},
	Thrust:       {Mdeg, -10_000, 10_000, true, "thrust angle"},
	FloorSlope:   {Mdeg, -10_000, 10_000, true, "slope of the floor, side to side"},
	CornerWeight: {G, 20_000, 3_000_000, false, "corner weight"},
	TyrePressure: {Pa, 50_000, 1_000_000, false, "tyre pressure, cold"},
}

// Quantities lists what can be measured, in the order of work.
func Quantities() []Quantity {
	return []Quantity{TyrePressure, RideHeight, CornerWeight, FloorSlope, Caster, Camber, Toe, TotalToe, Thrust}
}

// Known reports whether q can be measured.
func (q Quantity) Known() bool { _, ok := quantities[q]; return ok }

// Unit is how the record keeps a value of q.
func (q Quantity) Unit() Unit { return quantities[q].unit }

// PerAxle reports whether one reading of q belongs to an axle.
func (q Quantity) PerAxle() bool { return quantities[q].axle }

// Range is what a value of q can be; anything else is a slip.
func (q Quantity) Range() (low, high int64) { return quantities[q].low, quantities[q].high }

// Places lists what readings of q belong to, front first, left first.
func (q Quantity) Places() []Place {
	switch {
	case q == Thrust:
		return []Place{Rear.Place()}
	case q.PerAxle():
		return []Place{Front.Place(), Rear.Place()}
	}
	return []Place{FL.Place(), FR.Place(), RL.Place(), RR.Place()}
}

// Words names q.
func (q Quantity) Words() string {
	switch q {
	case Spring:
		return "spring"
	case Load:
		return "load in the car"
	}
	return quantities[q].words
}

// check says why a value of q at a place may not enter a log, or "".
func (q Quantity) check(corner Corner, axle Axle, value int64) string {
	m, known := quantities[q]
	switch {
	case !known:
		return fault.T("Its quantity %q is not known.", q)
	case m.axle && (corner != "" || !axle.Valid()):
		return fault.T("It belongs to an axle, and its axle is not front or rear.")
	case !m.axle && (axle != "" || !corner.Valid()):
		return fault.T("Its corner is not one of the four.")
	}
	return within(m.words, value, m.low, m.high, m.unit)
}
