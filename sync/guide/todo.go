package guide

import (
	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
	"strutcard/sync/units"
)

// Ask is one thing that a step still wants. Exactly one of the names is set,
// or none for what is only said.
type Ask struct {
	Text    string
	Part    event.PartID
	Tool    event.ToolID
	Check   event.CheckID
	Loosen  event.FastenerID
	Fit     event.FastenerID
	Pass    sheet.PassRef
	Reading *sheet.ReadingAsk
	Spec    sheet.PassRef // a torque or angle that is not known

	Question  *sheet.StepCheck
	Photo     *sheet.PhotoAsk
	Position  *sheet.PositionAsk
	Clicks    *sheet.ClicksAsk
	Leftovers bool // count what is left on the bench
}

// Todo lists what a step still wants, in working order; none means that it can
// be closed. The questions of a step that is done are asked again only when
// there is work to do again.
func (g Guide) Todo(step *sheet.Step) []Ask {
	work := g.workTodo(step)
	if g.State.Steps[step.ID].DoneN > 0 && len(work) == 0 {
		return nil
	}
	out := append(g.found(step), work...)
	return append(out, g.left(step)...)
}

// workTodo lists what hands do in a step, without its questions and pictures.
func (g Guide) workTodo(step *sheet.Step) []Ask {
	var out []Ask
	reopened := g.State.Steps[step.ID].ReopenedN
	if step.Box {
		out = append(out, g.boxTodo(reopened)...)
	}
	if step.Kit {
		out = append(out, g.kitTodo()...)
	}
	if step.Specs {
		out = append(out, g.specTodo()...)
	}
	if step.Move != "" {
		out = append(out, g.moveTodo(step)...)
	}
	for _, id := range step.Loosen {
		if rec := g.State.Fasteners[id]; !rec.Touched() || reopened > max(rec.LoosenedN, rec.FittedN) {
			out = append(out, Ask{Text: lang.F("Loosen: %s", g.place(id)), Loosen: id})
		}
	}
	for _, id := range step.Fit {
		if n := g.State.Fasteners[id].FittedN; n == 0 || n < reopened {
			out = append(out, Ask{Text: lang.F("Fit: %s", g.place(id)), Fit: id})
		}
	}
	for _, ref := range step.Passes {
		if f := g.Sheet.Fastener(ref.Fastener); !g.PassHolds(ref) && !g.LeftAlone(f) {
			out = append(out, Ask{Text: lang.F("Tighten: %s", g.place(ref.Fastener)), Pass: ref})
		}
	}
	for i := range step.Readings {
		if !g.has(step.Readings[i], reopened) {
			r := &step.Readings[i]
			out = append(out, Ask{Text: lang.F("Measure: %s", ReadingWords(r.Quantity, r.Place())), Reading: r})
		}
	}
	out = append(out, g.setTodo(step)...)
	if step.Settle && g.State.Steps[step.ID].DoneN > 0 && !g.settled() {
		out = append(out, Ask{Text: lang.T("Settle the car again: it was lowered or its height was changed since.")})
	}
	if step.Hold && g.tightenedAfter(g.State.Steps[step.ID].DoneN) {
		out = append(out, Ask{Text: lang.T("Look again: something was tightened since.")})
	}
	return out
}

// tightenedAfter reports whether any pass but a last round was made after a
// place in the record; 0 means that there is no such place yet.
func (g Guide) tightenedAfter(n job.N) bool {
	for id, rec := range g.State.Fasteners {
		f := g.Sheet.Fastener(id)
		for passID, made := range rec.Passes {
			if f == nil || n == 0 || made.N < n {
				continue
			}
			if p := f.Pass(passID); p != nil && p.Kind != sheet.Recheck {
				return true
			}
		}
	}
	return false
}

func (g Guide) place(id event.FastenerID) string {
	f := g.Sheet.Fastener(id)
	return f.Name()
}

func (g Guide) boxTodo(reopened job.N) []Ask {
	var out []Ask
	for _, p := range g.Sheet.Parts {
		got, counted := g.State.Parts[p.ID]
		switch {
		case !counted || got.N < reopened:
			out = append(out, Ask{Text: lang.F("Count: %s", p.Name), Part: p.ID})
		case got.Found-got.Damaged < p.Count:
			out = append(out, Ask{Text: lang.F("%s: %d good of %d. Get the rest before anything is loosened.", p.Name, got.Found-got.Damaged, p.Count), Part: p.ID})
		}
	}
	return out
}

func (g Guide) kitTodo() []Ask {
	var out []Ask
	for i := range g.Sheet.Tools {
		t := &g.Sheet.Tools[i]
		got, listed := g.State.Tools[t.ID]
		switch {
		case !listed:
			out = append(out, Ask{Text: lang.F("Say whether it is here: %s", t.Name), Tool: t.ID})
		case t.Must && !got.Have:
			out = append(out, Ask{Text: lang.F("No lift without it: %s", t.Name), Tool: t.ID})
		case t.Kind == sheet.TorqueWrench && got.Have && got.HighCNM == 0:
			out = append(out, Ask{Text: lang.F("Give its usable range: %s", t.Name), Tool: t.ID})
		case t.Kind == sheet.Adapter && got.Have && got.LengthUM == 0 && !got.Across:
			out = append(out, Ask{Text: lang.F("Give its length: %s", t.Name), Tool: t.ID})
		case lifts(t) && got.Have && got.RatingG == 0:
			out = append(out, Ask{Text: lang.F("Give the marked rating of one piece: %s", t.Name), Tool: t.ID})
		case lifts(t) && got.Have && g.tooWeak(t):
			out = append(out, Ask{Text: lang.F("%s. Read the plate again, or use stronger equipment", g.Rating(t).Words(units.Metric)), Tool: t.ID})
		}
	}
	if len(out) > 0 {
		return out
	}
	for _, ref := range g.OutOfRange() {
		f := g.Sheet.Fastener(ref.Fastener)
		spec, _ := g.Spec(f, f.Pass(ref.Pass))
		out = append(out, Ask{Text: lang.F("No wrench here covers %s: %s. Borrow one, correct the ranges, or skip this step with a reason", g.place(f.ID), newtonMetres(spec.TorqueCNM)), Tool: g.nearest(spec.TorqueCNM)})
	}
	return out
}

// specTodo asks for every torque and angle that is not known or is questioned.
func (g Guide) specTodo() []Ask {
	var out []Ask
	for i := range g.Sheet.Fasteners {
		f := &g.Sheet.Fasteners[i]
		if g.LeftAlone(f) {
			continue // it is asked for when its adjuster was moved: most never do
		}
		for j := range f.Passes {
			p := &f.Passes[j]
			if p.Kind != sheet.Final && p.Kind != sheet.Angle {
				continue
			}
			if spec, ok := g.Spec(f, p); !ok {
				out = append(out, Ask{Text: lang.F("Look up the torque: %s", g.place(f.ID)), Spec: sheet.PassRef{Fastener: f.ID, Pass: p.ID}})
			} else if spec.Unverified() {
				out = append(out, Ask{Text: lang.F("Check and confirm the torque: %s", g.place(f.ID)), Spec: sheet.PassRef{Fastener: f.ID, Pass: p.ID}})
			}
		}
	}
	return out
}

// moveTodo asks the checks of a raise or lower one by one, in the sheet's
// order, and then for the move itself.
func (g Guide) moveTodo(step *sheet.Step) []Ask {
	if g.moved(step) {
		return nil
	}
	for _, c := range g.Sheet.ChecksFor(step.Axle, step.Move) {
		if !g.Answered(step.Axle, c) {
			return []Ask{{Text: c.Ask, Check: c.ID}}
		}
	}
	return []Ask{{Text: lang.T("Record that it is done.")}}
}

// moved reports whether the axle was raised at least once, or is down after a lift.
func (g Guide) moved(step *sheet.Step) bool {
	lifted := false
	for _, l := range g.State.Lifts {
		lifted = lifted || l.Axle == step.Axle
	}
	if step.Move == event.Raise {
		return lifted
	}
	return lifted && !g.State.Axles[step.Axle].Up
}

// Answered reports whether a check lets the move go on. A "no" to a must-check
// ends that attempt: every answer given before it counts no more.
func (g Guide) Answered(axle event.Axle, c sheet.Check) bool {
	return g.State.Axles[axle].Answers[c.Move][c.ID].N > g.resumed() && g.saidYes(axle, c)
}

// resumed is when work was last taken up after a pause: what was true at the car
// before it is asked again.
func (g Guide) resumed() job.N {
	if last := len(g.State.Pauses) - 1; last >= 0 {
		return g.State.Pauses[last].ResumedN
	}
	return 0
}

func (g Guide) saidYes(axle event.Axle, c sheet.Check) bool {
	a := g.State.Axles[axle].Answers[c.Move][c.ID]
	if stopped, _ := g.Stopped(axle, c.Move); stopped != nil && a.N < g.State.Axles[axle].Answers[c.Move][stopped.ID].N {
		return false
	}
	switch a.Answer {
	case event.Yes:
		return true
	case event.Override:
		return !c.Must
	}
	return false
}

// Stopped returns the must-check whose "no" ended the attempt, or nil; fresh
// tells that nothing was answered since.
func (g Guide) Stopped(axle event.Axle, move event.Move) (check *sheet.Check, fresh bool) {
	answers := g.State.Axles[axle].Answers[move]
	checks := g.Sheet.ChecksFor(axle, move)
	for i := range checks {
		if checks[i].Must && answers[checks[i].ID].Answer == event.No && (check == nil || answers[checks[i].ID].N > answers[check.ID].N) {
			check = &checks[i]
		}
	}
	if check == nil {
		return nil, false
	}
	for _, a := range answers {
		if a.N > answers[check.ID].N {
			return check, false
		}
	}
	return check, true
}

// has reports whether a reading is there and still holds.
func (g Guide) has(r sheet.ReadingAsk, reopened job.N) bool {
	got := g.State.Reading(r.Quantity, r.Place(), r.Purpose)
	return got != nil && (r.Purpose == event.Before || got.N > reopened && g.Stale(got) == "")
}

// Stale says why a reading no longer holds, or "". Beside what the log itself
// shows, a reading taken before its adjuster was clamped is stale.
func (g Guide) Stale(r *job.Reading) string {
	if r.Stale != "" || r.Purpose != event.Final {
		return lang.T(r.Stale)
	}
	for i := range g.Sheet.Fasteners {
		f := &g.Sheet.Fasteners[i]
		if f.Holds == "" || !job.Moves(f.Holds, f.Corner, &r.ReadingTaken) {
			continue
		}
		for _, p := range g.State.Fasteners[f.ID].Passes {
			if p.N > r.N {
				return lang.F("a fastener that holds it was tightened after it: %s", f.Place)
			}
		}
	}
	return ""
}
