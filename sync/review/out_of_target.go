package review

import (
	"strutcard/calc/lang"
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
			f.Severity, f.Text = Ask, lang.F("%s is outside its target.", words(last))
			f.Todo = lang.T("Set it again, or have it set by a workshop.")
			f.Look = lang.T("Ask whether it was left on purpose, and when it will be set.")
		case guide.TooClose:
			f.Severity, f.Text = Note, lang.F("%s is too close to its limit to tell.", words(last))
			f.Todo = lang.T("Measure again with a finer ruler or more readings.")
			f.Look = lang.T("Look at how it was measured before you call it met.")
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
