package review

import (
	"fmt"

	"strutcard/calc/lang"
	"strutcard/sync/job"
)

// recheckDue: the car was driven, and what is to be checked again after a
// distance is not recorded yet. How far it went is not in the record.
func recheckDue(r record) []Finding {
	var driven []job.N
	for _, step := range r.Sheet.Steps() {
		if step.Drive {
			driven = append(driven, r.State.Steps[step.ID].DoneN)
		}
	}
	if len(driven) == 0 && r.State.Finished != nil { // a sheet without a drive ends here
		driven = []job.N{r.State.Finished.N}
	}
	if len(r.ids(driven)) == 0 {
		return nil
	}
	var out []Finding
	for _, due := range r.Rechecks() {
		text := lang.T("The re-check after the first drive is not recorded.")
		if due.KM > 0 {
			text = lang.F("The re-check after %d km is not recorded: %s.", due.KM, due.What())
		}
		out = append(out, Finding{Severity: Note, Step: due.Step.ID, about: fmt.Sprint(due.KM), facts: driven, Text: text,
			Todo: lang.T("Check it again after that distance at the latest, and close the step."),
			Look: lang.T("Ask how far the car was driven, and whether the wheel nuts were checked.")})
	}
	return out
}
