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
