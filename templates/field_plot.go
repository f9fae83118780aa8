package templates

import (
	"math"
	"strconv"
)

// Heights of a plot's row, in pixels. Across it is measured in percent, so that a
// drawing fits any window and its marks keep their size.
const (
	laneHeight = 22
	boxHalf    = 6
	edge       = 2 // percent kept free on both sides
)

// share is where a value lies on the axis, from 0 to 1. What is beyond it lies at
// its end.
func (a Axis) share(v float64) float64 {
	low, high := a.Low, a.High
	if a.Log {
		v, low, high = math.Log(max(v, low)), math.Log(low), math.Log(high)
	}
	if high <= low {
		return 0.5
	}
	return min(1, max(0, (v-low)/(high-low)))
}

// beyond reports whether the axis ends before a value.
func (a Axis) beyond(v float64) bool { return v > a.High || v < a.Low && !a.Log }

// at is the place of a value across the drawing.
func (a Axis) at(v float64) string { return percent(edge + (100-2*edge)*a.share(v)) }

// wide is the room between two values.
func (a Axis) wide(s Span) string { return percent((100 - 2*edge) * (a.share(s.To) - a.share(s.From))) }

func percent(v float64) string { return strconv.FormatFloat(v, 'f', 2, 64) + "%" }

// anchor keeps the words of the first and last tick inside the drawing.
func (a Axis) anchor(v float64) string {
	switch share := a.share(v); {
	case share < 0.08:
		return "start"
	case share > 0.92:
		return "end"
	}
	return "middle"
}

// laneAt is the middle of a lane, in pixels from the top.
func laneAt(lane int) int { return laneHeight*lane + laneHeight/2 }

func (r PlotRow) height() int { return laneHeight * max(1, len(r.Lanes)) }

// turned is a mark that points to a value beyond the axis.
func (a Axis) turned(v float64) string {
	if v > a.High {
		return "▸"
	}
	return "◂"
}
