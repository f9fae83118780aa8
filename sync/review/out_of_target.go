package review

import (
	"strutcard/sync/event"
	"strutcard/sync/guide"
)

// outOfTarget: the last word on a quantity is not surely within its target.
func outOfTarget(g guide.Guide) []Finding {
	var out []Finding
	for _, q := range event.Quantities() {
		for _, at := range q.Places() {
			r := g.Latest(q, at)
			if r == nil {
				continue
			}
			switch g.Verdict(r) {
			case guide.NotMet:
				out = append(out, Finding{Severity: Ask, Text: guide.ReadingWords(q, at) + " is outside its target.",
					Todo: "Set it again, or have it set by a workshop."})
			case guide.TooClose:
				out = append(out, Finding{Severity: Note, Text: guide.ReadingWords(q, at) + " is too close to its limit to tell.",
					Todo: "Measure again with a finer ruler or more readings."})
			}
		}
	}
	return out
}
