package templates

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"strutcard/calc/lang"
)

// starHex is a nut, 22 wide, from its upper left corner.
const starHex = "h11l5.5 9.5-5.5 9.5h-11l-5.5-9.5z"

// ring places nut i of n on a circle, clockwise from the top.
func ring(i, n int) (x, y float64) {
	sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
	return 60 + 43*sin, 60 - 43*cos
}

// starLine goes from the last nut that was tightened across to the next.
func starLine(order []int, done int) string {
	x1, y1 := ring(slices.Index(order, done), len(order))
	x2, y2 := ring(slices.Index(order, done+1), len(order))
	return fmt.Sprintf("M%s %sL%s %s", num(x1), num(y1), num(x2), num(y2))
}

func starClass(turn, done int) string {
	switch {
	case turn <= done:
		return "ink fill"
	case turn == done+1:
		return "accent next solid"
	}
	return "ink solid"
}

func starWords(order []int, done int) string {
	words := lang.F("Order of %d nuts, clockwise from the top: %s.", len(order), strings.Trim(fmt.Sprint(order), "[]"))
	if done >= len(order) {
		return words + " " + lang.T("All are done.")
	}
	return words + " " + lang.F("%d done, next is number %d.", max(done, 0), max(done, 0)+1)
}
