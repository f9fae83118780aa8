package caster_test

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"strutcard/calc/caster"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// The oracle turns a wheel in space with rotations of gonum, and knows nothing
// of the formulas: x forward, y outward, z up, seen at the left wheel with the
// car mirrored, so that outward is positive.
type oracle struct {
	caster, inclination, camber float64 // degrees
}

func (o oracle) axis() r3.Vec {
	// Up one metre along the axis, its top goes back and inward.
	return r3.Unit(r3.Vec{X: -math.Tan(rad(o.caster)), Y: -math.Tan(rad(o.inclination)), Z: 1})
}

// turned is the spindle after a turn about the steering axis.
func (o oracle) turned(about float64) r3.Vec {
	// The straight spindle points outward, and down by the camber.
	straight := r3.NewRotation(-rad(o.camber), r3.Vec{X: 1}).Rotate(r3.Vec{Y: 1})
	return r3.NewRotation(about, o.axis()).Rotate(straight)
}

// heading is positive with the front of the wheel turned outward.
func heading(spindle r3.Vec) float64 { return math.Atan2(-spindle.X, spindle.Y) }

func camberOf(spindle r3.Vec) float64 { return deg(-math.Asin(spindle.Z)) }

// about searches for the turn about the axis that gives the heading.
func (o oracle) about(want float64) float64 {
	low, high := -rad(80), rad(80)
	for range 200 {
		middle := (low + high) / 2
		if heading(o.turned(middle)) < want {
			low = middle
		} else {
			high = middle
		}
	}
	return (low + high) / 2
}

// at is the camber in degrees at a heading in degrees, out positive.
func (o oracle) at(headed float64) float64 { return camberOf(o.turned(o.about(rad(headed)))) }

func (o oracle) sweep(out, in float64) caster.Sweep {
	return sweep(o.at(out), o.at(-in), out, in)
}

func sweep(camberOut, camberIn, out, in float64) caster.Sweep {
	return caster.Sweep{
		Out:        caster.Reading{Camber: known(camberOut, 0.05), Turned: quantity.Degrees(out)},
		In:         caster.Reading{Camber: known(camberIn, 0.05), Turned: quantity.Degrees(in)},
		Convention: caster.Heading, How: caster.Measured, Resolution: quantity.Degrees(1),
	}
}

func known(v, standard float64) measure.Value[quantity.Angle] {
	return measure.Value[quantity.Angle]{Value: quantity.Degrees(v), Standard: quantity.Degrees(standard)}
}

func rad(d float64) float64 { return d * math.Pi / 180 }
func deg(r float64) float64 { return r / math.Pi * 180 }
