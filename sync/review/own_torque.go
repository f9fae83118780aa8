package review

import (
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
			Text: place(f) + ": torque looked up by the installer. Source given: " + spec.Source + ".",
			Todo: "Keep a picture of the page.",
			Look: "Compare the torque with the source that is named."}
		if spec.Questioned != "" {
			found.Text = place(f) + ": " + spec.Questioned + " The installer kept it. Source given: " + spec.Source + "."
			found.Todo = "Compare it with the maker's manual once more."
			if implausible(f, spec.TorqueCNM) {
				found.Severity = Ask
				found.Look = "Open the source yourself. Until it is confirmed, treat this fastener as tightened to an unknown torque."
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
