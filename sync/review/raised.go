package review

import (
	"strutcard/calc/lang"
	"strutcard/sync/job"
)

// raised: a reviewer saw something that no rule did.
func raised(r record) []Finding {
	var out []Finding
	for _, f := range r.State.Raised {
		out = append(out, Finding{Severity: map[string]Severity{"ask": Ask, "stop": Stop}[f.Severity], Step: f.Step, Fastener: f.Fastener,
			facts: []job.N{f.N}, about: string(f.ID), Text: lang.F("%s saw: %s", f.Name, f.Text),
			Todo: lang.T("Look at it, and answer the reviewer."),
			Look: lang.T("A reviewer raised this; no rule sees it.")})
	}
	return out
}
