package caster

import (
	"math"

	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// geometry is the sweep in the terms of the exact form:
//
//	tan caster = (swung + tan inclination · level) / over
type geometry struct {
	outSin, outCos, inSin, inCos float64 // of the cambers
	turnOutSin, turnOutCos       float64
	turnInSin, turnInCos         float64
	swung, level, over           float64
}

func (s Sweep) geometry() geometry {
	var g geometry
	g.outSin, g.outCos = math.Sincos(s.Out.Camber.Value.Radians())
	g.inSin, g.inCos = math.Sincos(s.In.Camber.Value.Radians())
	g.turnOutSin, g.turnOutCos = math.Sincos(s.Out.Turned.Radians())
	g.turnInSin, g.turnInCos = math.Sincos(s.In.Turned.Radians())
	g.swung = g.outSin - g.inSin
	g.level = g.outCos*g.turnOutCos - g.inCos*g.turnInCos
	g.over = g.outCos*g.turnOutSin + g.inCos*g.turnInSin
	return g
}

func (g geometry) caster(inclination quantity.Angle) quantity.Angle {
	return quantity.Radians(math.Atan((g.swung + math.Tan(inclination.Radians())*g.level) / g.over))
}

// slopes are the sensitivities of the caster to the five inputs.
type slopes struct {
	camberOut, camberIn, turnOut, turnIn, inclination measure.Sensitivity
}

// slopes differentiates t·over = swung + k·level, with t the tangent of the
// caster and k that of the inclination, and turns dt into an angle by cos².
func (g geometry) slopes(inclination quantity.Angle) slopes {
	k := math.Tan(inclination.Radians())
	t := (g.swung + k*g.level) / g.over
	scale := 1 / ((1 + t*t) * g.over)
	each := func(d float64) measure.Sensitivity { return measure.Sensitivity(d * scale) }
	return slopes{
		camberOut:   each(g.outCos - k*g.outSin*g.turnOutCos + t*g.outSin*g.turnOutSin),
		camberIn:    each(-g.inCos + k*g.inSin*g.turnInCos + t*g.inSin*g.turnInSin),
		turnOut:     each(-g.outCos * (k*g.turnOutSin + t*g.turnOutCos)),
		turnIn:      each(g.inCos * (k*g.turnInSin - t*g.turnInCos)),
		inclination: each((1 + k*k) * g.level),
	}
}
