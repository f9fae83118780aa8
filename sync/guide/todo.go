package guide

import (
	"fmt"

	"strutcard/sync/event"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
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
}

// Todo lists what a step still wants, in working order; none means that it can
// be closed.
func (g Guide) Todo(step *sheet.Step) []Ask {
	var out []Ask
	if step.Box {
		out = append(out, g.boxTodo()...)
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
		if !g.State.Fasteners[id].Touched() {
			out = append(out, Ask{Text: "Loosen: " + g.place(id), Loosen: id})
		}
	}
	for _, id := range step.Fit {
		if g.State.Fasteners[id].FittedN == 0 {
			out = append(out, Ask{Text: "Fit: " + g.place(id), Fit: id})
		}
	}
	for _, ref := range step.Passes {
		if !g.PassHolds(ref) {
			out = append(out, Ask{Text: "Tighten: " + g.place(ref.Fastener), Pass: ref})
		}
	}
	for i := range step.Readings {
		if !g.has(step.Readings[i]) {
			r := &step.Readings[i]
			out = append(out, Ask{Text: "Measure: " + ReadingWords(r.Quantity, r.Place()), Reading: r})
		}
	}
	if step.Settle && g.State.Steps[step.ID].DoneN > 0 && !g.settled() {
		out = append(out, Ask{Text: "Settle the car again: it was lowered or its height was changed since."})
	}
	if step.Hold && g.tightenedAfter(g.State.Steps[step.ID].DoneN) {
		out = append(out, Ask{Text: "Look again: something was tightened since."})
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
	return f.Place + ", " + f.Corner.Words()
}

func (g Guide) boxTodo() []Ask {
	var out []Ask
	for _, p := range g.Sheet.Parts {
		got, counted := g.State.Parts[p.ID]
		switch {
		case !counted:
			out = append(out, Ask{Text: "Count: " + p.Name, Part: p.ID})
		case got.Found-got.Damaged < p.Count:
			out = append(out, Ask{Text: fmt.Sprintf("%s: %d good of %d. Get the rest before anything is loosened.", p.Name, got.Found-got.Damaged, p.Count), Part: p.ID})
		}
	}
	return out
}

func (g Guide) kitTodo() []Ask {
	var out []Ask
	for _, t := range g.Sheet.Tools {
		got, listed := g.State.Tools[t.ID]
		switch {
		case !listed:
			out = append(out, Ask{Text: "Say whether it is here: " + t.Name, Tool: t.ID})
		case t.Must && !got.Have:
			out = append(out, Ask{Text: "No lift without it: " + t.Name, Tool: t.ID})
		case t.Kind == sheet.TorqueWrench && got.Have && got.HighCNM == 0:
			out = append(out, Ask{Text: "Give its usable range: " + t.Name, Tool: t.ID})
		case (t.Kind == sheet.Jack || t.Kind == sheet.Stands) && got.Have && got.RatingG < g.leastRating():
			out = append(out, Ask{Text: ratingWords(t, got.RatingG, g.leastRating()), Tool: t.ID})
		}
	}
	if len(out) > 0 {
		return out
	}
	for _, f := range g.OutOfRange() {
		spec, _ := g.Spec(f, f.Final())
		out = append(out, Ask{Text: fmt.Sprintf("No wrench here covers %s: %s. Borrow one, or correct the ranges.", g.place(f.ID), newtonMetres(spec.TorqueCNM))})
	}
	return out
}

// leastRating is the mass that the jack, and each stand by itself, must at least
// be marked for: half the car, or 500 kg where its mass is not known. It only
// finds what is hopeless or mistyped (common practice, no source); whether the
// equipment is enough is the maker's word and the lift check's.
func (g Guide) leastRating() int64 {
	const unknown = 500_000
	return max(unknown, g.Sheet.Vehicle.MassG/2)
}

func ratingWords(t sheet.Tool, got, least int64) string {
	if got == 0 {
		return "Give the marked rating of one piece, in kg: " + t.Name
	}
	return fmt.Sprintf("%s: %d kg is recorded for one piece, less than %d kg. Read the plate again. Do not lift with weaker equipment", t.Name, got/1000, least/1000)
}

// specTodo asks for every torque and angle that is not known or is questioned.
func (g Guide) specTodo() []Ask {
	var out []Ask
	for i := range g.Sheet.Fasteners {
		f := &g.Sheet.Fasteners[i]
		for j := range f.Passes {
			p := &f.Passes[j]
			if p.Kind != sheet.Final && p.Kind != sheet.Angle {
				continue
			}
			if spec, ok := g.Spec(f, p); !ok {
				out = append(out, Ask{Text: "Look up the torque: " + g.place(f.ID), Spec: sheet.PassRef{Fastener: f.ID, Pass: p.ID}})
			} else if spec.Unverified() {
				out = append(out, Ask{Text: "Check and confirm the torque: " + g.place(f.ID), Spec: sheet.PassRef{Fastener: f.ID, Pass: p.ID}})
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
	return []Ask{{Text: "Record that it is done."}}
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

// Lifting returns the axle whose raising has begun to be asked but is not
// recorded: it may be in the air already. It is "" when there is none.
func (g Guide) Lifting() event.Axle {
	for _, axle := range event.Axles {
		if !g.State.Axles[axle].Up && len(g.State.Axles[axle].Answers[event.Raise]) > 0 {
			return axle
		}
	}
	return ""
}

// has reports whether a reading is there and still holds.
func (g Guide) has(r sheet.ReadingAsk) bool {
	got := g.State.Reading(r.Quantity, r.Place(), r.Purpose)
	return got != nil && (r.Purpose == event.Before || g.Stale(got) == "")
}

// Stale says why a reading no longer holds, or "". Beside what the log itself
// shows, a reading taken before its adjuster was clamped is stale.
func (g Guide) Stale(r *job.Reading) string {
	if r.Stale != "" || r.Purpose != event.Final {
		return r.Stale
	}
	for i := range g.Sheet.Fasteners {
		f := &g.Sheet.Fasteners[i]
		if f.Holds == "" || !job.Moves(f.Holds, f.Corner, &r.ReadingTaken) {
			continue
		}
		for _, p := range g.State.Fasteners[f.ID].Passes {
			if p.N > r.N {
				return "a fastener that holds it was tightened after it: " + f.Place
			}
		}
	}
	return ""
}
