package review

import (
	"fmt"
	"slices"

	"strutcard/calc/lang"
	"strutcard/sync/event"
)

// chainGaps: a device's chain does not hold, or forks.
func chainGaps(r record) []Finding {
	var out []Finding
	for _, gap := range slices.Compact(event.Gaps(r.events)) { // one for a number, however often it is used
		facts := r.all(func(e event.Event) bool { return e.Device == gap.Device && e.Seq == gap.Seq })
		out = append(out, Finding{Severity: Ask, about: fmt.Sprint(gap.Device, gap.Seq), facts: facts,
			Text: lang.F("The record of one phone does not hold at its event %d: %s.", gap.Seq, gap.Reason),
			Todo: lang.T("Sync every phone of this job. If it stays, say in a note what happened to the phone."),
			Look: lang.T("Ask whether a phone was reset, copied or restored, and compare what it says around that event.")})
	}
	return out
}
