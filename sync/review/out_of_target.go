package review

import (
	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/job"
)

// outOfTarget: the last word on a quantity is not surely within its target.
func outOfTarget(r record) []Finding {
	var out []Finding
	for _, last := range latest(r) {
		f := Finding{about: where(last), facts: []job.N{last.N}}
		switch r.Verdict(last) {
		case guide.NotMet:
			f.Severity, f.Text = Ask, words(last)+" is outside its target."
			f.Todo = "Set it again, or have it set by a workshop."
			f.Look = "Ask whether it was left on purpose, and when it will be set."
		case guide.TooClose:
			f.Severity, f.Text = Note, words(last)+" is too close to its limit to tell."
			f.Todo = "Measure again with a finer ruler or more readings."
			f.Look = "Look at how it was measured before you call it met."
		default:
			continue
		}
		out = append(out, f)
	}
	return out
}

// latest lists the last word on each quantity at each place after the car was changed.
func latest(r record) []*job.Reading {
	var out []*job.Reading
	for _, q := range event.Quantities() {
		for _, at := range q.Places() {
			if last := r.Latest(q, at); last != nil {
				out = append(out, last)
			}
		}
	}
	return out
}

func where(r *job.Reading) string { return string(r.Quantity) + " " + string(r.Place()) }

// words names a reading.
func words(r *job.Reading) string { return guide.ReadingWords(r.Quantity, r.Place()) }
