package guide

import (
	"slices"
	"strings"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
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
	return map[Phase]string{Untouched: lang.T("not touched"), Loose: lang.T("loose"), Finger: lang.T("finger tight"), Snugged: lang.C("snug", "of a fastener"),
		Part: lang.T("part of its torque"), FinalDone: lang.C("final", "of a fastener"), Marked: lang.T("final and marked")}[p]
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
		if g.touched(f) {
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
	if !g.touched(f) {
		return item
	}
	switch standing := g.Sheet.Standing(f); {
	case standing:
		item.Phase = Loose
		if len(rec.Passes) == 0 {
			item.Reopened = lang.T("its adjuster was moved")
		}
	case rec.FittedN == 0 && len(rec.Passes) == 0:
		item.Phase, item.Reason = Loose, lang.T("Loose. Fit it, then tighten it.")
		return item
	case rec.FittedN == 0:
		item.Phase, item.Reason = Loose, lang.T("Tightened, but never recorded as fitted. Say whether it is new, then tighten it again.")
		return item
	default:
		item.Phase = Finger
	}
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
		parts = append(parts, lang.F("open again: %s", item.Reopened))
	}
	for _, id := range p.After {
		if step := g.Sheet.Step(id); !g.passed(step) {
			parts = append(parts, lang.F("%s after “%s”", passWords(p), step.Title))
		}
	}
	if why := carWait(p); why != "" {
		parts = append(parts, why)
	}
	if spec, ok := g.Spec(f, p); !ok {
		parts = append(parts, lang.T("its torque is not known: look it up"))
	} else if spec.Unverified() && p.Kind != sheet.Snug {
		parts = append(parts, lang.T("its torque is questioned: confirm it"))
	}
	if len(parts) == 0 {
		parts = append(parts, lang.F("%s comes next", passWords(p)))
	}
	return capital(item.Phase.Words()+"; "+strings.Join(parts, "; ")) + "."
}

func passWords(p *sheet.Pass) string {
	return map[sheet.PassKind]string{sheet.Snug: lang.C("snug", "a pass"), sheet.Partial: PartWords(p), sheet.Final: lang.C("final", "a pass"),
		sheet.Angle: lang.T("the angle"), sheet.BackOff: lang.T("backing off"), sheet.Recheck: lang.T("last round")}[p.Kind]
}

// PartWords is what share of the final torque a pass asks for.
func PartWords(p *sheet.Pass) string {
	if p.Share == 500 {
		return lang.T("half torque")
	}
	return lang.F("%s of the torque", quantity.Ratio(float64(p.Share)/1000).String())
}

// carWait says what state of the car a pass waits for, or "".
func carWait(p *sheet.Pass) string {
	switch p.Car {
	case sheet.AtRide:
		return lang.F("%s with the weight on the wheels, settled", passWords(p))
	case sheet.OnWheels:
		return lang.F("%s with the wheels on the ground", passWords(p))
	}
	return ""
}

// DriveBlockers lists what forbids moving the car on the road.
func (g Guide) DriveBlockers() []Blocker {
	var out []Blocker
	for _, axle := range event.Axles {
		if g.State.Axles[axle].Up {
			out = append(out, Blocker{Text: lang.F("The %s is up.", AxleWords(axle))})
		}
	}
	for _, step := range g.Sheet.Steps() {
		if step.Hold && g.State.Steps[step.ID].DoneN > 0 && !g.passed(step) {
			out = append(out, Blocker{Text: lang.F("Held: someone competent must look at “%s”.", step.Title), Step: step.ID})
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
			out = append(out, Blocker{Text: lang.F("Not done: %s.", step.Title), Step: step.ID})
		}
	}
	return out
}
