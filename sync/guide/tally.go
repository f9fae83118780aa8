package guide

import (
	"fmt"
	"slices"
	"strings"

	"strutcard/sync/event"
	"strutcard/sync/sheet"
)

// Phase is how far a fastener is done up.
type Phase string

const (
	Untouched Phase = "untouched"
	Loose     Phase = "loose"
	Finger    Phase = "finger" // fitted by hand
	Snugged   Phase = "snug"   // holds without clamping
	Part      Phase = "part"   // some passes of its torque are made
	FinalDone Phase = "final"  // every pass made and still holding
	Marked    Phase = "marked" // final, with a paint stripe
)

// Words returns the phase as people say it.
func (p Phase) Words() string {
	return map[Phase]string{Untouched: "not touched", Loose: "loose", Finger: "finger tight", Snugged: "snug",
		Part: "part of its torque", FinalDone: "final", Marked: "final and marked"}[p]
}

// Item is one fastener in the tally.
type Item struct {
	Fastener *sheet.Fastener
	Phase    Phase
	Clear    bool
	Next     *sheet.Pass // the pass that comes next; nil when clear or not fitted
	Reason   string      // why it is not clear, and what will clear it
	Reopened string      // what undid a pass that was made
}

// Tally lists every fastener touched in this job, in the sheet's order.
func (g Guide) Tally() []Item {
	var out []Item
	for i := range g.Sheet.Fasteners {
		f := &g.Sheet.Fasteners[i]
		if g.State.Fasteners[f.ID].Touched() {
			out = append(out, g.Item(f))
		}
	}
	return out
}

// NotFinal returns the tally's items that are not clear.
func (g Guide) NotFinal() []Item {
	return slices.DeleteFunc(g.Tally(), func(i Item) bool { return i.Clear })
}

// Item returns where one fastener stands.
func (g Guide) Item(f *sheet.Fastener) Item {
	rec := g.State.Fasteners[f.ID]
	item := Item{Fastener: f, Phase: Untouched}
	if !rec.Touched() {
		return item
	}
	if rec.FittedN == 0 && len(rec.Passes) == 0 {
		item.Phase, item.Reason = Loose, "Loose. Fit it, then tighten it."
		return item
	}
	if rec.FittedN == 0 {
		item.Reason = "Tightened, but never recorded as fitted. Say whether it is new, then tighten it again."
		item.Phase = Loose
		return item
	}
	item.Phase = Finger
	for i := range f.Passes {
		p := &f.Passes[i]
		ref := sheet.PassRef{Fastener: f.ID, Pass: p.ID}
		if !g.PassHolds(ref) {
			if _, made := rec.Passes[p.ID]; made {
				item.Reopened = g.undone(ref)
			}
			item.Next, item.Reason = p, g.reason(f, p, item)
			return item
		}
		item.Phase = phaseAfter(p.Kind)
	}
	item.Phase, item.Clear = FinalDone, true
	if rec.MarkedN > 0 {
		item.Phase = Marked
	}
	return item
}

func phaseAfter(kind sheet.PassKind) Phase {
	if kind == sheet.Snug {
		return Snugged
	}
	return Part
}

// reason says in words what a fastener waits for.
func (g Guide) reason(f *sheet.Fastener, p *sheet.Pass, item Item) string {
	var parts []string
	if item.Reopened != "" {
		parts = append(parts, "open again: "+item.Reopened)
	}
	for _, id := range p.After {
		if step := g.Sheet.Step(id); !g.passed(step) {
			parts = append(parts, fmt.Sprintf("%s after “%s”", passWords(p), step.Title))
		}
	}
	if why := carWait(p); why != "" {
		parts = append(parts, passWords(p)+" "+why)
	}
	if spec, ok := g.Spec(f, p); !ok {
		parts = append(parts, "its torque is not known: look it up")
	} else if spec.Unverified() && p.Kind != sheet.Snug {
		parts = append(parts, "its torque is questioned: confirm it")
	}
	if len(parts) == 0 {
		parts = append(parts, passWords(p)+" comes next")
	}
	text := item.Phase.Words() + "; " + strings.Join(parts, "; ") + "."
	return strings.ToUpper(text[:1]) + text[1:]
}

func passWords(p *sheet.Pass) string {
	return map[sheet.PassKind]string{sheet.Snug: "snug", sheet.Partial: "half torque", sheet.Final: "final",
		sheet.Angle: "the angle", sheet.BackOff: "backing off", sheet.Recheck: "last round"}[p.Kind]
}

func carWait(p *sheet.Pass) string {
	switch p.Car {
	case sheet.AtRide:
		return "with the weight on the wheels, settled"
	case sheet.OnWheels:
		return "with the wheels on the ground"
	}
	return ""
}

// DriveBlockers lists what forbids moving the car on the road.
func (g Guide) DriveBlockers() []Blocker {
	var out []Blocker
	for _, axle := range event.Axles {
		if g.State.Axles[axle].Up {
			out = append(out, Blocker{Text: fmt.Sprintf("The %s axle is up.", axle)})
		}
	}
	for _, step := range g.Sheet.Steps() {
		if step.Hold && g.State.Steps[step.ID].DoneN > 0 && !g.passed(step) {
			out = append(out, Blocker{Text: fmt.Sprintf("Held: someone competent must look at “%s”.", step.Title), Step: step.ID})
		}
	}
	for _, item := range g.NotFinal() {
		out = append(out, Blocker{Text: g.place(item.Fastener.ID) + ": " + item.Reason, Fastener: item.Fastener.ID})
	}
	return out
}

// FinishBlockers lists what forbids calling the job done.
func (g Guide) FinishBlockers() []Blocker {
	out := g.DriveBlockers()
	for _, step := range g.Sheet.Steps() {
		if !step.Later && !g.passed(step) {
			out = append(out, Blocker{Text: "Not done: " + step.Title + ".", Step: step.ID})
		}
	}
	return out
}
