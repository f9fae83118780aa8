package review

import (
	"fmt"

	"strutcard/sync/event"
)

// chainGaps: a device's chain does not hold. It needs no sheet.
func chainGaps(events []event.Event) []Finding {
	var out []Finding
	for _, gap := range event.Gaps(events) {
		out = append(out, Finding{Rule: "chain_gap", Severity: Ask,
			Text: fmt.Sprintf("The record of one phone does not hold at its event %d: %s.", gap.Seq, gap.Reason),
			Todo: "Sync every phone of this job. If it stays, ask what happened."})
	}
	return out
}
