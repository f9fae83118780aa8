package templates

import (
	"fmt"
	"math"
	"strings"
)

// hexPoints is a fastener's hexagon on a 24 by 24 sheet.
const hexPoints = "12,2 20.7,7 20.7,17 12,22 3.3,17 3.3,7"

// hexLower is the lower half of it.
const hexLower = "3.3,12 20.7,12 20.7,17 12,22 3.3,17"

// starOrder gives the order in which a ring of n nuts is tightened, as a
// crossing pattern: each next nut lies as far across as can be. It returns for
// each nut, clockwise from the top, its turn from 1.
func starOrder(n int) []int {
	turn := make([]int, n)
	at := 0
	for i := 1; i <= n; i++ {
		turn[at] = i
		if i == n {
			break
		}
		at = farthest(turn, at)
	}
	return turn
}

// farthest finds the free place most nearly opposite, clockwise first.
func farthest(turn []int, from int) int {
	n := len(turn)
	best, bestDistance := -1, -1
	for step := 1; step < n; step++ {
		at := (from + step) % n
		if distance := min(step, n-step); turn[at] == 0 && distance > bestDistance {
			best, bestDistance = at, distance
		}
	}
	return best
}

// ring places nut i of n on a circle, clockwise from the top.
func ring(i, n int, radius float64) (x, y float64) {
	a := 2 * math.Pi * float64(i) / float64(n)
	return 60 + radius*math.Sin(a), 60 - radius*math.Cos(a)
}

func num(v float64) string { return strings.TrimSuffix(fmt.Sprintf("%.1f", v), ".0") }

// lean is the drawn wheel's outline: a tyre seen from the front, leaning by
// degrees about its foot. The car is to the right; the level stands at the left.
func lean(degrees float64) string {
	const foot, floor, width, height = 150.0, 190.0, 40.0, 150.0
	a := degrees * math.Pi / 180
	corner := func(across, up float64) string {
		return num(foot+across*math.Cos(a)-up*math.Sin(a)) + "," + num(floor-up*math.Cos(a)-across*math.Sin(a))
	}
	return strings.Join([]string{corner(-width/2, 0), corner(width/2, 0), corner(width/2, height), corner(-width/2, height)}, " ")
}

// rimEdge is where the wheel's outer face meets the level's ends: x at the foot
// and at the top of the leaning face.
func rimEdge(degrees float64) (bottom, top float64) {
	const foot, width, low, high = 150.0, 40.0, 20.0, 130.0
	a := degrees * math.Pi / 180
	at := func(up float64) float64 { return foot - width/2*math.Cos(a) - up*math.Sin(a) }
	return at(low), at(high)
}

// levelX is where the plumb level stands: against the end that touches.
func levelX(t *Triangle) float64 {
	bottom, top := rimEdge(t.Lean)
	return min(bottom, top)
}

func glyphWords(phase string) string {
	switch phase {
	case "loose":
		return "loose"
	case "finger":
		return "finger tight"
	case "snug":
		return "snug"
	case "part":
		return "part of its torque"
	case "final":
		return "final"
	case "marked":
		return "final and marked"
	}
	return "not touched"
}
