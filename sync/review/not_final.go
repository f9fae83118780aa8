package review

import (
	"strutcard/calc/lang"
	"strutcard/sync/guide"
	"strutcard/sync/job"
)

// notFinal: the job was called finished, and yet something is not final.
func notFinal(r record) []Finding {
	if r.State.Finished == nil {
		return nil
	}
	var out []Finding
	for _, item := range r.NotFinal() {
		out = append(out, Finding{Severity: Stop, Fastener: item.Fastener.ID, facts: append(undone(r, item), r.State.Finished.N),
			Text: item.Fastener.Name() + ": " + item.Reason,
			Todo: lang.T("Do not drive. Make it final, in the state of the car that it needs."),
			Look: lang.T("Tell the owner not to drive. Have it made final, and see the record of it.")})
	}
	return out
}

// undone is what was done to a fastener and what may have undone it since.
func undone(r record, item guide.Item) []job.N {
	f, rec := item.Fastener, r.State.Fasteners[item.Fastener.ID]
	facts := []job.N{rec.LoosenedN, rec.FittedN}
	for _, p := range rec.Passes {
		facts = append(facts, p.N)
	}
	if item.Reopened == "" {
		return facts
	}
	for _, spec := range r.State.Specs[f.ID] {
		facts = append(facts, spec.N)
	}
	if f.Bushed {
		facts = append(facts, r.State.HeightN)
	}
	for _, a := range r.State.Adjusted {
		if a.Quantity == f.Holds && a.Corner == f.Corner {
			facts = append(facts, a.N)
		}
	}
	return facts
}
