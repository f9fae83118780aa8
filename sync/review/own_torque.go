package review

import (
	"strutcard/sync/guide"
)

// ownTorque: a torque was looked up by the installer, or stays questioned.
func ownTorque(g guide.Guide) []Finding {
	var out []Finding
	for i := range g.Sheet.Fasteners {
		f := &g.Sheet.Fasteners[i]
		spec, known := g.Spec(f, f.Final())
		switch {
		case !known || spec.GivenN == 0:
		case spec.Questioned != "":
			out = append(out, Finding{Severity: Ask, Fastener: f.ID,
				Text: place(f) + ": " + spec.Questioned + " The installer kept it. Source given: " + spec.Source + ".",
				Todo: "Compare it with the maker's manual once more."})
		default:
			out = append(out, Finding{Severity: Note, Fastener: f.ID,
				Text: place(f) + ": torque looked up by the installer. Source given: " + spec.Source + ".",
				Todo: "Keep a picture of the page."})
		}
	}
	return out
}
