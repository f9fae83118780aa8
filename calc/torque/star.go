package torque

// Star gives the order in which a ring of n nuts is tightened, so that the part
// is drawn on evenly: for each nut, clockwise from the top, its turn from 1. The
// next nut is the one most nearly opposite of those left, clockwise first: every
// second nut of five. There is no order for fewer than one.
//
// Going across is common practice, no source; which of two equally far nuts comes
// first is chosen here. An order that the maker gives comes before it.
func Star(n int) []int {
	if n < 1 {
		return nil
	}
	turn := make([]int, n)
	at := 0
	turn[at] = 1
	for i := 2; i <= n; i++ {
		at = opposite(turn, at)
		turn[at] = i
	}
	return turn
}

// opposite finds the free place farthest round the ring, clockwise first.
func opposite(turn []int, from int) int {
	n := len(turn)
	best, far := from, 0
	for step := 1; step < n; step++ {
		at := (from + step) % n
		if d := min(step, n-step); turn[at] == 0 && d > far {
			best, far = at, d
		}
	}
	return best
}
