package review

import "strutcard/sync/guide"

// withdrawnSheet: the work went on by a sheet that was withdrawn.
func withdrawnSheet(g guide.Guide) []Finding {
	if g.State.Withdrawal == nil {
		return nil
	}
	return []Finding{{Severity: Stop, Text: "The sheet was withdrawn, and the installer went on: " + g.State.Withdrawal.Reason,
		Todo: "Go through the new version with the shop before the car is driven."}}
}
