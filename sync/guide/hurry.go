package guide

import (
	"fmt"
	"slices"
	"time"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
)

// The least time that hands need, from one record of work to the next. Common
// practice, no source: chosen short, so that a fast worker is not asked.
const (
	leastTorque = 4 * time.Second // fetch the next nut, pull, hear the click
	leastMove   = 4 * time.Second // work the jack, set a stand, push the car
	leastHand   = 2 * time.Second // fit or loosen one by hand
	leastRead   = time.Second     // read a question
)

// TooFast asks, in words, about a record of work that comes sooner after the one
// before than hands can work; "" when there is nothing to ask. A clock that ran
// backwards, or stood for long, tells nothing.
func (g Guide) TooFast(p event.Payload, now int64) string {
	least, what := LeastTime(g.Sheet, p)
	if least == 0 {
		return ""
	}
	since := time.Duration(now-g.lastWork()) * time.Millisecond
	if since < 0 || since >= least {
		return ""
	}
	return lang.F("Only %s s after the last one. %s", lang.Number(fmt.Sprintf("%.1f", since.Seconds())), what)
}

// LeastTime is the least time that hands need for a record of work since the one
// before, and what to ask when it came sooner; 0 for what is no such work.
func LeastTime(s *sheet.Sheet, p event.Payload) (time.Duration, string) {
	switch p := p.(type) {
	case *event.PassDone:
		if p.TorqueCNM > 0 || p.AngleMdeg > 0 {
			return leastTorque, lang.T("Was this one really tightened? Press again when it is.")
		}
		return leastHand, lang.T("Is this one really snug? Press again when it is.")
	case *event.FastenerLoosened:
		return leastHand, lang.T("Is this one really loose? Press again when it is.")
	case *event.FastenerFitted:
		return leastHand, lang.T("Is this one really in? Press again when it is.")
	case *event.CheckAnswered:
		hands := func(c sheet.Check) bool { return c.ID == p.Check && c.Move == p.Move && c.Hands }
		if p.Answer == event.Yes && slices.ContainsFunc(s.Checks, hands) {
			return leastMove, lang.T("Do it at the car first, and look. Then answer.")
		}
	case *event.StepChecked:
	default:
		return 0, ""
	}
	return leastRead, lang.T("Read the question first. Then answer.")
}

// lastWork is when the record last took in work of the hands or an answer, in
// ms UTC of the device that wrote it.
func (g Guide) lastWork() int64 {
	var last struct {
		n  job.N
		at int64
	}
	see := func(n job.N, at int64) {
		if n > last.n {
			last.n, last.at = n, at
		}
	}
	for _, f := range g.State.Fasteners {
		see(f.LastN, f.LastAt)
		for _, p := range f.Passes {
			see(p.N, p.At)
		}
	}
	for _, axle := range g.State.Axles {
		for _, answers := range axle.Answers {
			for _, a := range answers {
				see(a.N, a.At)
			}
		}
	}
	for _, step := range g.State.Steps {
		for _, a := range step.Checks {
			see(a.N, a.At)
		}
	}
	return last.at
}
