package review

import (
	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/job"
	"strutcard/sync/plausible"
	"strutcard/sync/sheet"
)

// unverified: a number looks implausible, and nobody has said that it was
// compared with its source. Tightened to it, it is asked about.
func unverified(r record) []Finding {
	var out []Finding
	for _, d := range plausible.Sheet(r.Sheet) {
		if _, given := r.State.Specs[d.Fastener][d.Pass]; d.Confirmed != "" || d.Unchecked || given {
			continue
		}
		made := tightened(r, d.Fastener)
		out = append(out, Finding{Severity: asked(made), Fastener: d.Fastener, about: string(d.Pass), facts: append(r.opened(), made...),
			Text: lang.F("A number of the sheet is not confirmed, %s: %s", d.Where, d.Text),
			Todo: lang.T("Compare it with its source, and tell the author of the sheet."),
			Look: lang.T("Have the author compare it with the source and publish the sheet anew.")})
	}
	for i := range r.Sheet.Fasteners {
		f := &r.Sheet.Fasteners[i]
		for _, p := range f.Passes {
			spec, given := r.State.Specs[f.ID][p.ID]
			if !given || spec.Questioned == "" || spec.Confirmed {
				continue
			}
			made := tightened(r, f.ID)
			out = append(out, Finding{Severity: asked(made), Fastener: f.ID, about: string(p.ID), facts: append([]job.N{spec.N}, made...),
				Text: lang.F("%s: a torque that was looked up is questioned, and the question is open. %s", f.Name(), spec.Questioned),
				Todo: lang.T("Compare it with its source, then confirm or correct it at the step that asks for torques."),
				Look: lang.F("Compare it with the source that is named: %s.", spec.Source)})
		}
	}
	return out
}

func asked(made []job.N) Severity {
	if len(made) > 0 {
		return Ask
	}
	return Note
}

// tightened lists the passes of a fastener that were made to a torque or an angle.
func tightened(r record, id event.FastenerID) []job.N {
	f := r.Sheet.Fastener(id)
	if f == nil {
		return nil
	}
	var out []job.N
	for _, p := range f.Passes {
		if made, ok := r.State.Fasteners[id].Passes[p.ID]; ok && p.Kind != sheet.Snug {
			out = append(out, made.N)
		}
	}
	return out
}
