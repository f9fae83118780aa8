package method

import (
	"fmt"
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/lift"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
)

// picture is the car from above: the wheels that go up, the stands with the most
// that each may carry, the chocks, and the way downhill.
func (p planned) picture() *Picture {
	plan := planView(nil)
	plan.Note = lang.T("Not to scale. Filled wedges are chocks, triangles are stands.")
	plan.Alt = lang.F("The car from above. Chocks: %s.", chockWords(p.Chocks))
	for _, c := range event.Corners {
		if p.goesUp(c) {
			x, y := plan.at(c)
			plan.Small("middle", x, y+4, lang.C("up", "of a wheel"))
		}
	}
	for _, pair := range p.Pairs {
		p.drawStands(plan, pair)
	}
	for _, c := range p.Chocks {
		drawChock(plan, c)
	}
	drawDownhill(plan, p.job.Along, p.job.Across)
	return &plan.Picture
}

func (p planned) goesUp(c event.Corner) bool {
	switch p.job.Raised {
	case lift.AllWheels:
		return true
	case lift.FrontAxle:
		return c.Axle() == event.Front
	case lift.RearAxle:
		return c.Axle() == event.Rear
	case lift.LeftSide:
		return c == event.FL || c == event.RL
	case lift.RightSide:
		return c == event.FR || c == event.RR
	}
	return lift.Raised(liftCorners[c]) == p.job.Raised
}

var liftCorners = map[event.Corner]lift.Corner{event.FL: lift.FrontLeft, event.FR: lift.FrontRight, event.RL: lift.RearLeft, event.RR: lift.RearRight}

// drawStands draws a pair where it was said to be, or between the axles with
// dashed lines while that is not known.
func (p planned) drawStands(plan *carPlan, pair lift.PairPlan) {
	at, inward, y := p.job.Front.At, 1.0, planFront
	if pair.End == lift.Rear {
		at, inward, y = p.job.Rear.At, -1, planRear
	}
	class, place := "heavy", lang.T("place not known")
	switch at.Place {
	case lift.AtAxle:
		place = lang.T("at the axle")
	case lift.Between:
		y += inward * p.drawnDistance(at.Distance)
		place = lang.F("%s inward", p.Units.FormatLength(at.Distance))
	case lift.Beyond:
		y -= inward * p.drawnDistance(at.Distance)
		place = lang.F("%s beyond", p.Units.FormatLength(at.Distance))
	default:
		class, y = "ink dashed", y+inward*34
	}
	const out, half = 30.0, 9.0
	for _, x := range []float64{planMiddle - out, planMiddle + out} {
		plan.Outline(class, x-half, y+half, x+half, y+half, x, y-half)
	}
	carries := lang.T("load not known")
	if !p.misses("mass") {
		carries = lang.F("up to %s", p.massMost(pair.Heavier.High))
		plan.Label("end", 92, y+2, "≤ "+p.massMost(pair.Heavier.High))
		plan.Label("start", 228, y+2, "≤ "+p.massMost(pair.Heavier.High))
	}
	plan.Small("start", 228, y+16, place)
	_, _, each := standWords(pair.End)
	plan.Alt += fmt.Sprintf(" %s: %s, %s.", capital(each), carries, place)
}

// drawnDistance is a distance along the car on the drawing, kept so small that
// front and rear stands never meet.
func (p planned) drawnDistance(d quantity.Length) float64 {
	base := max(float64(p.car.Wheelbase), 1.5)
	return max(10, min(40, float64(d)/base*(planRear-planFront)))
}

func drawChock(plan *carPlan, c lift.Chock) {
	for corner, wheel := range liftCorners {
		if wheel != c.Wheel {
			continue
		}
		x, y := plan.at(corner)
		touch, away := y-planHalfLen-4, y-planHalfLen-12
		if c.Face == lift.Behind {
			touch, away = y+planHalfLen+4, y+planHalfLen+12
		}
		plan.Outline("fill", x-planHalf, touch, x+planHalf, touch, x+planHalf, away)
	}
}

// drawDownhill draws an arrow down the slope that was measured.
func drawDownhill(plan *carPlan, along, across lift.Slope) {
	toRear := map[lift.Way]float64{lift.ToFront: -1, lift.ToRear: 1}[along.Down] * float64(along.Fall)
	toRight := map[lift.Way]float64{lift.ToLeft: -1, lift.ToRight: 1}[across.Down] * float64(across.Fall)
	length := math.Hypot(toRear, toRight)
	if length == 0 {
		return
	}
	const x, y, long, barb = planMiddle, 150.0, 16.0, 7.0
	dx, dy := toRight/length, toRear/length
	tip := [2]float64{x + long*dx, y + long*dy}
	plan.Line("accent", x-long*dx, y-long*dy, tip[0], tip[1])
	plan.Line("accent", tip[0]-barb*(dx+dy), tip[1]-barb*(dy-dx), tip[0], tip[1], tip[0]-barb*(dx-dy), tip[1]-barb*(dy+dx))
	plan.Small("middle", x, y+long+12, lang.T("downhill"))
}
