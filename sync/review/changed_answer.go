package review

import (
	"fmt"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/job"
)

// changedAnswer: a question was answered with no, and then with yes. That is
// right when something was put right in between; only a person can tell.
func changedAnswer(r record) []Finding {
	var out []Finding
	no := map[string]job.N{}
	for i, e := range r.events {
		a := answered(r, e)
		if a.asked == "" || r.gone[e.ID] {
			continue
		}
		n := job.N(i + 1)
		before := no[a.key]
		delete(no, a.key)
		switch {
		case a.is == event.No:
			no[a.key] = n
		case a.is == event.Yes && before > 0:
			out = append(out, Finding{Severity: Note, Step: a.step, about: a.key, facts: []job.N{before, n},
				Text: lang.F("“%s” was answered with no, and later with yes.", a.asked),
				Todo: lang.T("Say in a note what you changed in between."),
				Look: lang.T("Ask what was changed between the two answers.")})
		}
	}
	return out
}

// reply is one answer to a question of the sheet.
type reply struct {
	key   string // of the question
	asked string // in words; "" when it is no answer, or none of this sheet
	step  event.StepID
	is    event.Answer
}

func answered(r record, e event.Event) reply {
	switch p := e.Payload().(type) {
	case *event.CheckAnswered:
		for _, c := range r.Sheet.ChecksFor(p.Axle, p.Move) {
			if c.ID == p.Check {
				return reply{key: fmt.Sprint(p.Axle, " ", p.Move, " ", p.Check), asked: c.Ask, is: p.Answer}
			}
		}
	case *event.StepChecked:
		if step := r.Sheet.Step(p.Step); step != nil {
			for _, c := range step.Checks {
				if c.ID == p.Check {
					return reply{key: fmt.Sprint(p.Step, " ", p.Check), asked: c.Ask, step: p.Step, is: p.Answer}
				}
			}
		}
	}
	return reply{}
}
