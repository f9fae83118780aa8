package review

import (
	"fmt"

	"strutcard/calc/lang"
	"strutcard/sync/guide"
	"strutcard/sync/job"
)

// noReading: the job was called finished, and a reading that a step asks for is
// not there. A step that was skipped says so itself.
func noReading(r record) []Finding {
	if r.State.Finished == nil {
		return nil
	}
	var out []Finding
	for _, step := range r.Sheet.Steps() {
		rec := r.State.Steps[step.ID]
		if step.Later || rec.SkippedN > 0 {
			continue
		}
		for _, ask := range step.Readings {
			if r.State.Reading(ask.Quantity, ask.Place(), ask.Purpose) != nil {
				continue
			}
			out = append(out, Finding{Severity: Ask, Step: step.ID, about: fmt.Sprint(ask.Quantity, " ", ask.Place(), " ", ask.Purpose), facts: []job.N{rec.DoneN, r.State.Finished.N},
				Text: lang.F("“%s”: no reading of %s.", step.Title, guide.ReadingWords(ask.Quantity, ask.Place())),
				Todo: lang.T("Measure it if it can still be measured, or say in a note why not."),
				Look: lang.T("See in the timeline whether it was taken back. Ask for it.")})
		}
	}
	return out
}
