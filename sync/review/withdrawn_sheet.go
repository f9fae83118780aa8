package review

import "strutcard/sync/job"

// withdrawnSheet: the work went on by a sheet that was withdrawn.
func withdrawnSheet(r record) []Finding {
	if r.State.Withdrawal == nil {
		return nil
	}
	return []Finding{{Severity: Stop, facts: []job.N{r.State.Withdrawal.N}, Text: "The sheet was withdrawn, and the installer went on: " + r.State.Withdrawal.Reason,
		Todo: "Go through the new version with the shop before the car is driven.",
		Look: "Compare both versions of the sheet, and go through each difference with the installer."}}
}
