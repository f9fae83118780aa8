package review

import (
	"time"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/job"
)

// fastStep: the records of one step came faster, all in all, than hands can
// work. What was asked about one by one is the business of hurried.
func fastStep(r record) []Finding {
	var out []Finding
	for _, w := range works(r) {
		took := time.Duration(w.to-w.from) * time.Millisecond
		step := r.Sheet.Step(w.step)
		if step == nil || took < 0 || took >= w.needs {
			continue
		}
		out = append(out, Finding{Severity: Ask, Step: w.step, facts: w.facts,
			Text: lang.F("“%s”: %d records in %.0f s. Hands need %.0f s at least.", step.Title, len(w.facts), took.Seconds(), w.needs.Seconds()),
			Todo: lang.T("Go through this step once more at the car."),
			Look: lang.T("Ask whether it was recorded at the car or afterwards from memory.")})
	}
	return out
}

// work is what one phone recorded in one stay at a step.
type work struct {
	step     event.StepID
	from, to int64         // that phone's clock, ms UTC
	needs    time.Duration // from the first record to the last
	facts    []job.N
}

func works(r record) []*work {
	var out []*work
	now := map[event.DeviceID]*work{}
	for i, e := range r.events {
		if r.gone[e.ID] {
			continue
		}
		if p, ok := e.Payload().(*event.StepStarted); ok {
			now[e.Device] = &work{step: p.Step}
			out = append(out, now[e.Device])
			continue
		}
		w := now[e.Device]
		least, _ := guide.LeastTime(r.Sheet, e.Payload())
		if p, ok := e.Payload().(*event.PassDone); w == nil || least == 0 || ok && p.Hurried {
			continue
		}
		if len(w.facts) == 0 {
			w.from = e.At
		} else {
			w.needs += least
		}
		w.to, w.facts = e.At, append(w.facts, job.N(i+1))
	}
	return out
}
