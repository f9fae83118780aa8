package review

import (
	"strutcard/calc/lang"
	"strutcard/sync/job"
)

// withdrawnSheet: the work went on by a sheet that was withdrawn.
func withdrawnSheet(r record) []Finding {
	if r.State.Withdrawal == nil {
		return nil
	}
	return []Finding{{Severity: Stop, facts: []job.N{r.State.Withdrawal.N}, Text: lang.F("The sheet was withdrawn, and the installer went on: %s", r.State.Withdrawal.Reason),
		Todo: lang.T("Go through the new version with the shop before the car is driven."),
		Look: lang.T("Compare both versions of the sheet, and go through each difference with the installer.")}}
}
