package method

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
)

// carPlan is the car from above: front at the top, left and right as the driver
// sees them.
type carPlan struct {
	Picture
	times float64 // how much larger than they are its angles are drawn
}

const (
	planMiddle            = 160.0 // x of the centre line
	planTrack             = 56.0  // of a wheel from it
	planFront, planRear   = 78.0, 222.0
	planLargest           = 16.0 // degrees that can be drawn
	planLabel             = 20.0 // of a label from its wheel
	planHigh              = 292.0
	planHalf, planHalfLen = 8.0, 22.0 // a wheel
)

// planView draws a car outline and its four wheels, each turned by its toe,
// toe-in positive. What is not in toes stands straight; also are angles that
// will be drawn with turned.
func planView(toes map[event.Corner]quantity.Angle, also ...quantity.Angle) *carPlan {
	for _, toe := range toes {
		also = append(also, toe)
	}
	p := &carPlan{Picture: Picture{Height: planHigh}, times: timesDrawn(also...)}
	p.Note = timesNote(p.times, also...)
	p.Outline("ink", 118, 44, 130, 26, 190, 26, 202, 44, 202, 262, 190, 272, 130, 272, 118, 262)
	p.Small("middle", planMiddle, 18, lang.T("front"))
	for _, c := range event.Corners {
		x, y := p.at(c)
		p.Outline("heavy", turnedWheel(x, y, planHalf, planHalfLen, p.turned(clockwise(c, toes[c])))...)
	}
	return p
}

// at is the middle of a wheel.
func (p *carPlan) at(c event.Corner) (x, y float64) {
	x, y = planMiddle+planTrack, planRear
	if c == event.FL || c == event.RL {
		x = planMiddle - planTrack
	}
	if c.Axle() == event.Front {
		y = planFront
	}
	return x, y
}

// beside writes up to two short lines outward of a wheel.
func (p *carPlan) beside(c event.Corner, lines ...string) {
	x, y := p.at(c)
	for i, text := range lines {
		if x < planMiddle {
			p.Label("end", x-planLabel, y+5+16*float64(i), text)
		} else {
			p.Label("start", x+planLabel, y+5+16*float64(i), text)
		}
	}
}

// between draws a distance from wheel to wheel, ahead of an axle or behind it.
func (p *carPlan) between(a event.Axle, ahead bool, text string) {
	_, y := p.at(a.Corners()[0])
	line, label := y+planHalfLen+2, y+planHalfLen+17
	if ahead {
		line, label = y-planHalfLen-2, y-planHalfLen-6
	}
	p.Line("accent", planMiddle-planTrack+planHalf, line, planMiddle+planTrack-planHalf, line)
	p.Label("middle", planMiddle, label, text)
}

// turned is an angle as it is drawn, in radians.
func (p *carPlan) turned(a quantity.Angle) float64 { return drawnAt(a, p.times) }

// clockwise is which way a wheel is turned on the drawing: a left wheel toed in
// points right.
func clockwise(c event.Corner, toe quantity.Angle) quantity.Angle {
	if c == event.FR || c == event.RR {
		return -toe
	}
	return toe
}

// timesDrawn is how much larger the largest of some angles can be drawn.
func timesDrawn(angles ...quantity.Angle) float64 {
	for _, times := range []float64{20, 10, 5, 2} {
		if largestDegrees(angles)*times <= planLargest {
			return times
		}
	}
	return 1
}

func timesNote(times float64, angles ...quantity.Angle) string {
	switch most := largestDegrees(angles); {
	case most == 0 || times == 1 && most <= planLargest:
		return lang.T("Not to scale.")
	case most*times > planLargest:
		return lang.T("Not to scale. The angle is too large to draw.")
	}
	return lang.F("Not to scale. Angles drawn %.0f times as large.", times)
}

func largestDegrees(angles []quantity.Angle) float64 {
	most := 0.0
	for _, a := range angles {
		most = max(most, math.Abs(a.Degrees()))
	}
	return most
}

func drawnAt(a quantity.Angle, times float64) float64 {
	return max(-planLargest, min(planLargest, a.Degrees()*times)) * math.Pi / 180
}

// turnedWheel is the outline of a wheel from above, turned clockwise,
// its front edge first.
func turnedWheel(x, y, half, long, radians float64) []float64 {
	var xy []float64
	for _, c := range [][2]float64{{-half, long}, {half, long}, {half, -long}, {-half, -long}} {
		cx, cy := wheelSpot(x, y, c[0], c[1], radians)
		xy = append(xy, cx, cy)
	}
	return xy
}

// wheelSpot is a point across and ahead of a wheel's middle, turned clockwise.
func wheelSpot(x, y, across, ahead, radians float64) (float64, float64) {
	sin, cos := math.Sincos(radians)
	return x + across*cos + ahead*sin, y + across*sin - ahead*cos
}
