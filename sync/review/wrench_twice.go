package review

import (
	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/sheet"
)

// wrenchTwice: a torque wrench was said to be here more than once without its
// range. A range that came late may have been guessed.
func wrenchTwice(r record) []Finding {
	var out []Finding
	for _, id := range r.AtHand(sheet.TorqueWrench) {
		facts := r.numbers(func(e event.Event) bool {
			p, ok := e.Payload().(*event.ToolListed)
			return ok && p.Tool == id && p.Have && p.HighCNM == 0
		})
		if len(facts) < 2 {
			continue
		}
		out = append(out, Finding{Severity: Note, about: string(id), facts: append(facts, r.State.Tools[id].N),
			Text: lang.F("%s was said to be here more than once without its usable range.", r.ToolName(id)),
			Todo: lang.T("Read the range from the wrench itself or its paper, and list it again."),
			Look: lang.T("Ask where the range stands, and for a picture of the scale.")})
	}
	return out
}
