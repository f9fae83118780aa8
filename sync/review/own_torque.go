package review

import (
	"strutcard/calc/lang"
	"strutcard/sync/job"
	"strutcard/sync/plausible"
	"strutcard/sync/sheet"
)

// ownTorque: a torque was looked up by the installer alone. One that looks
// implausible and was kept all the same is asked about; one that nothing here can
// judge was read back, and is noted.
func ownTorque(r record) []Finding {
	var out []Finding
	for i := range r.Sheet.Fasteners {
		f := &r.Sheet.Fasteners[i]
		spec, given := r.State.Specs[f.ID][f.Final().ID]
		if !given || spec.Questioned != "" && !spec.Confirmed {
			continue
		}
		found := Finding{Severity: Note, Fastener: f.ID, facts: []job.N{spec.N},
			Text: lang.F("%s: torque looked up by the installer. Source given: %s.", f.Name(), spec.Source),
			Todo: lang.T("Keep a picture of the page."),
			Look: lang.T("Compare the torque with the source that is named.")}
		if spec.Questioned != "" {
			found.Text = lang.F("%s: %s The installer kept it. Source given: %s.", f.Name(), spec.Questioned, spec.Source)
			found.Todo = lang.T("Compare it with the maker's manual once more.")
			if implausible(f, spec.TorqueCNM) {
				found.Severity = Ask
				found.Look = lang.T("Open the source yourself. Until it is confirmed, treat this fastener as tightened to an unknown torque.")
			}
		}
		out = append(out, found)
	}
	return out
}

// implausible reports whether the torque itself is asked about for this fastener.
func implausible(f *sheet.Fastener, torqueCNM int64) bool {
	typed := *f.Final()
	typed.TorqueCNM, typed.TolCNM = torqueCNM, 0
	return plausible.Torque(f, &typed) != ""
}
