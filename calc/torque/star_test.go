package torque_test

import (
	"slices"
	"testing"

	"strutcard/calc/torque"
)

// The orders up to six were drawn on paper from the rule (common practice, no
// source).
func TestStar(t *testing.T) {
	for n, want := range map[int][]int{
		-1: nil, 0: nil, 1: {1},
		3: {1, 2, 3},
		4: {1, 4, 2, 3},
		5: {1, 4, 2, 5, 3},
		6: {1, 6, 4, 2, 5, 3},
	} {
		if got := torque.Star(n); !slices.Equal(got, want) {
			t.Errorf("Star(%d) = %v, want %v", n, got, want)
		}
	}
}

// Every nut has its turn once, and from five on no nut follows its neighbour.
func TestStarGoesAcross(t *testing.T) {
	for n := 3; n <= 10; n++ {
		turn := torque.Star(n)
		at := make([]int, n)
		for place, i := range turn {
			if i < 1 || i > n || at[i-1] != 0 {
				t.Fatalf("Star(%d) = %v gives turn %d twice or out of range", n, turn, i)
			}
			at[i-1] = place
		}
		for i := 1; i < n && n > 4; i++ {
			if d := (at[i] - at[i-1] + n) % n; d == 1 || d == n-1 {
				t.Errorf("Star(%d) = %v: turn %d follows its neighbour", n, turn, i+1)
			}
		}
	}
}
