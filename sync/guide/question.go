package guide

import (
	"slices"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
)

// found lists what a step wants before its work: what must be true, pictures
// and positions as found.
func (g Guide) found(step *sheet.Step) []Ask {
	out := append(g.questions(step, sheet.Before), g.photos(step, sheet.Before)...)
	for i := range step.Positions {
		if p := &step.Positions[i]; p.Purpose == event.Before && g.State.Position(p.Adjuster, p.Corner, event.Before) == nil {
			out = append(out, Ask{Text: lang.F("Note where it stands: %s adjuster, %s", lang.T(p.Adjuster.Words()), lang.T(p.Corner.Words())), Position: p})
		}
	}
	for i := range step.Clicks {
		if c := &step.Clicks[i]; c.Purpose == event.Before && g.State.Clicks(c.Corner, c.Knob, event.Before) == nil {
			out = append(out, Ask{Text: lang.F("Count the clicks as found: %s", knobWords(c)), Clicks: c})
		}
	}
	return out
}

// setTodo lists the settings that are to be written down.
func (g Guide) setTodo(step *sheet.Step) []Ask {
	var out []Ask
	for i := range step.Positions {
		if p := &step.Positions[i]; p.Purpose == event.Setting && !g.positionHolds(p) {
			out = append(out, Ask{Text: lang.F("Note where it stands now: %s adjuster, %s", lang.T(p.Adjuster.Words()), lang.T(p.Corner.Words())), Position: p})
		}
	}
	for i := range step.Clicks {
		if c := &step.Clicks[i]; c.Purpose == event.Setting && g.State.Clicks(c.Corner, c.Knob, event.Setting) == nil {
			out = append(out, Ask{Text: lang.F("Set and count the clicks: %s", knobWords(c)), Clicks: c})
		}
	}
	return out
}

// left lists what a step wants when its work is done: the bench, pictures, and
// the questions before it is closed.
func (g Guide) left(step *sheet.Step) []Ask {
	var out []Ask
	if step.Leftovers {
		switch got := g.State.Steps[step.ID].Leftovers; {
		case got == nil || got.N < g.lastFitted():
			out = append(out, Ask{Text: lang.T("Count what is left over on the bench"), Leftovers: true})
		case got.Count > 0:
			out = append(out, Ask{Text: lang.F("%d left over. Find where each belongs before anything moves, then count again", got.Count), Leftovers: true})
		}
	}
	return append(append(out, g.photos(step, sheet.After)...), g.questions(step, sheet.After)...)
}

func knobWords(c *sheet.ClicksAsk) string {
	if c.Knob == "" {
		return lang.F("damper, %s", lang.T(c.Corner.Words()))
	}
	return lang.F("damper, %s, %s", lang.T(c.Knob), lang.T(c.Corner.Words()))
}

// positionHolds reports whether an adjuster's position was noted since it was
// last moved.
func (g Guide) positionHolds(p *sheet.PositionAsk) bool {
	got := g.State.Position(p.Adjuster, p.Corner, event.Setting)
	return got != nil && !slices.ContainsFunc(g.State.Adjusted, func(a job.Adjustment) bool {
		return a.Quantity == p.Adjuster && a.Corner == p.Corner && a.N > got.N
	})
}

// lastFitted is when a fastener was last loosened or fitted.
func (g Guide) lastFitted() job.N {
	var last job.N
	for _, f := range g.State.Fasteners {
		last = max(last, f.LoosenedN, f.FittedN)
	}
	return last
}

func (g Guide) questions(step *sheet.Step, when sheet.When) []Ask {
	var out []Ask
	for i := range step.Checks {
		if c := &step.Checks[i]; c.When == when && !g.Accepted(step, c) {
			out = append(out, Ask{Text: c.Ask, Question: c})
		}
	}
	return out
}

func (g Guide) photos(step *sheet.Step, when sheet.When) []Ask {
	var out []Ask
	for i := range step.Photos {
		if p := &step.Photos[i]; p.When == when && !g.Photographed(step, p) {
			out = append(out, Ask{Text: lang.F("Photo: %s", p.What), Photo: p})
		}
	}
	return out
}

// Photographed reports whether a picture is there, or was left out with a reason.
func (g Guide) Photographed(step *sheet.Step, p *sheet.PhotoAsk) bool {
	if _, out := g.State.Steps[step.ID].LeftOut[p.ID]; out {
		return true
	}
	return slices.ContainsFunc(g.State.Photos, func(got job.Photo) bool { return got.Step == step.ID && got.Photo == p.ID })
}

// Accepted reports whether a question of a step is answered so that work may go
// on. An answer given before the car was last raised or lowered counts no more.
func (g Guide) Accepted(step *sheet.Step, c *sheet.StepCheck) bool {
	a, answered := g.State.Steps[step.ID].Checks[c.ID]
	if !answered || a.N < g.movedSince(step) {
		return false
	}
	return a.Answer == event.Yes || a.Answer == event.Override && !c.Must
}

// Refused reports whether a must-question stands answered with no.
func (g Guide) Refused(step *sheet.Step, c *sheet.StepCheck) bool {
	a := g.State.Steps[step.ID].Checks[c.ID]
	return c.Must && a.Answer == event.No && a.N >= g.movedSince(step)
}

// movedSince is when the car was last moved, or work was last taken up after a
// pause: a step's answers do not survive it. A step that raises or lowers outlives its own move.
func (g Guide) movedSince(step *sheet.Step) job.N {
	raised, lowered := g.lastMoved(step.Axle)
	switch step.Move {
	case event.Raise:
		return max(lowered, g.resumed())
	case event.Lower:
		return max(raised, g.resumed())
	}
	return max(raised, lowered, g.resumed())
}

// unmet lists the questions that stand before any work of a step.
func (g Guide) unmet(step *sheet.Step) []Blocker {
	var out []Blocker
	for _, ask := range g.questions(step, sheet.Before) {
		text := lang.F("First answer: %s", ask.Question.Ask)
		if g.Refused(step, ask.Question) {
			text = lang.F("Answered with no: %s %s", ask.Question.Ask, ask.Question.Stop)
		}
		out = append(out, Blocker{Text: text, Step: step.ID})
	}
	return out
}

// unmetForPass lists the open questions of the steps in which a pass is made. A
// step that is blocked is not asked: its questions cannot be answered yet.
func (g Guide) unmetForPass(ref sheet.PassRef) []Blocker {
	for _, step := range g.Sheet.Makers(ref) {
		if status, _ := g.Status(step); status == Open {
			return g.unmet(step)
		}
	}
	return nil
}

// allowQuestion keeps must-questions without a way round, and the order: first
// what must be true before the work, last what is looked at after it.
func (g Guide) allowQuestion(p *event.StepChecked) error {
	step := g.Sheet.Step(p.Step)
	if step == nil {
		return refuse(lang.T("This sheet has no such step."), lang.T("Go back to the list of steps."))
	}
	i := slices.IndexFunc(step.Checks, func(c sheet.StepCheck) bool { return c.ID == p.Check })
	if i < 0 {
		return refuse(lang.T("This step has no such question."), lang.T("Go back to the step."))
	}
	c := &step.Checks[i]
	if c.Must && p.Answer == event.Override {
		return refuse(lang.T("This question has no way round."), lang.T("Stop, make it safe, and ask someone competent."))
	}
	if blockers := g.blockers(step); len(blockers) > 0 {
		return refuseAll(lang.T("Not now."), blockers, lang.T("Clear that first. Nothing was recorded."))
	}
	if c.When == sheet.After {
		for _, ask := range append(g.found(step), g.workTodo(step)...) {
			if ask != (Ask{Text: ask.Text}) && !g.tooLate(ask) {
				return refuse(lang.F("Something of this step comes first: %s.", ask.Text), lang.T("Do it, then answer."))
			}
		}
	}
	return nil
}

// tooLate reports whether an ask is for the car as it was found, which it is no more.
func (g Guide) tooLate(ask Ask) bool {
	return ask.Reading != nil && ask.Reading.Purpose == event.Before && g.State.HeightN+g.State.LoweredN > 0
}

// allowLeaveOut lets a picture be left out only where one is asked for.
func (g Guide) allowLeaveOut(p *event.PhotoLeftOut) error {
	step := g.Sheet.Step(p.Step)
	if step == nil {
		return refuse(lang.T("This sheet has no such step."), lang.T("Go back to the list of steps."))
	}
	if p.Photo == HoldPhoto && step.Hold || slices.ContainsFunc(step.Photos, func(a sheet.PhotoAsk) bool { return a.ID == p.Photo }) {
		return nil
	}
	return refuse(lang.T("This step asks for no such picture."), lang.T("Go back to the step."))
}

// allowReopen sends back only what can be done again as the car stands now.
func (g Guide) allowReopen(p *event.StepReopened) error {
	step := g.Sheet.Step(p.Step)
	switch {
	case step == nil:
		return refuse(lang.T("This sheet has no such step."), lang.T("Go back to the list of steps."))
	case step.Move != "":
		return refuse(lang.T("Raising and lowering are not done again by opening a step."), lang.T("Go through the checks of the move that is needed."))
	case !g.passed(step) && g.behind(step) != Waiting:
		return refuse(lang.T("This step is open already."), lang.T("Do it now."))
	}
	for i := range step.Readings {
		if g.tooLate(Ask{Reading: &step.Readings[i]}) {
			return refuse(lang.T("The car is no longer as it was found."), lang.T("Take a new reading under Measure."))
		}
	}
	if blockers := g.blockers(step); len(blockers) > 0 {
		return refuseAll(lang.T("Not as the car stands now."), blockers, lang.T("Clear that first. Nothing was recorded."))
	}
	return nil
}
