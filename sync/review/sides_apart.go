package review

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/job"
)

// sidesApart: left and right both meet their target, at its two ends: they are
// further apart than its tolerance, whatever the measuring may be off. That a
// tolerance is also what the sides may differ by is common practice, no source.
func sidesApart(r record) []Finding {
	var out []Finding
	for _, q := range event.Quantities() {
		if q.PerAxle() {
			continue
		}
		for _, axle := range event.Axles {
			corners := axle.Corners()
			left, right := r.Latest(q, corners[0].Place()), r.Latest(q, corners[1].Place())
			if left == nil || right == nil || r.Verdict(left) != guide.Met || r.Verdict(right) != guide.Met || !apart(r, left, right) {
				continue
			}
			out = append(out, Finding{Severity: Note, about: string(q) + " " + string(axle), facts: []job.N{left.N, right.N},
				Text: lang.F("%s: left and right both meet the target, and yet are further apart than its tolerance. Left %s, right %s.", guide.ReadingWords(q, axle.Place()), guide.Value(&left.ReadingTaken), guide.Value(&right.ReadingTaken)),
				Todo: lang.T("Measure both once more on level ground. Bring them closer together if the adjuster lets you."),
				Look: lang.T("Ask on what ground it was measured, and whether the maker names a difference from side to side.")})
		}
	}
	return out
}

func apart(r record, left, right *job.Reading) bool {
	l, ul := left.Amount()
	m, um := right.Amount()
	_, tolerance := r.Sheet.Target(left.Quantity, left.Place().Axle()).Amount()
	return math.Abs(float64(l-m))-math.Hypot(float64(ul), float64(um)) > float64(tolerance)
}
