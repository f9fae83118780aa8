package card

import (
	"slices"
	"sort"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
)

func (b builder) fasteners(g guide.Guide) []Fastener {
	out := []Fastener{}
	for _, corner := range event.Corners {
		for i := range b.sheet.Fasteners {
			if f := &b.sheet.Fasteners[i]; f.Corner == corner {
				out = append(out, b.fastener(g, f))
			}
		}
	}
	return out
}

func (b builder) fastener(g guide.Guide, f *sheet.Fastener) Fastener {
	item, facts := g.Item(f), b.state.Fasteners[f.ID]
	out := Fastener{ID: f.ID, Place: f.Place, Corner: f.Corner, Thread: f.Thread, Count: f.Count,
		Phase: item.Phase.Words(), Clear: item.Clear, Reason: item.Reason, Passes: []Pass{}}
	if spec, known := g.Spec(f, f.Final()); known {
		out.TorqueCNM, out.TolCNM, out.AngleMdeg = spec.TorqueCNM, spec.TolCNM, spec.AngleMdeg
		out.Source, out.Questioned = spec.Source, spec.Questioned
	}
	if facts.FittedN > 0 {
		out.Hardware = map[bool]string{true: "new", false: "used again"}[facts.Renewed]
	}
	for i := range f.Passes {
		if p := &f.Passes[i]; facts.Passes[p.ID].N > 0 {
			out.Passes = append(out.Passes, b.pass(g, f, p, facts.Passes[p.ID]))
		}
	}
	return out
}

func (b builder) pass(g guide.Guide, f *sheet.Fastener, p *sheet.Pass, made job.Pass) Pass {
	out := Pass{Pass: p.ID, Kind: string(p.Kind), TorqueCNM: made.TorqueCNM, AngleMdeg: made.AngleMdeg, SetCNM: made.SetCNM,
		Count: made.Count, Hurried: made.Hurried, Holds: g.PassHolds(sheet.PassRef{Fastener: f.ID, Pass: p.ID}),
		At: Time(made.At), By: b.by[made.Event]}
	if made.Wrench != "" {
		out.Wrench = g.ToolName(made.Wrench)
	}
	if made.Adapter != "" {
		out.Adapter = g.ToolName(made.Adapter)
	}
	return out
}

// readings are all that were taken, in order. Without a guide there are no
// targets.
func (b builder) readings(g *guide.Guide) []Reading {
	out := []Reading{}
	for i := range b.state.Readings {
		r := &b.state.Readings[i]
		value, u95 := r.Amount()
		row := Reading{Quantity: r.Quantity, Place: r.Place(), Purpose: r.Purpose, Value: value, U95: u95, Unit: r.Quantity.Unit(),
			Stale: lang.T(r.Stale), Method: r.Method, Formula: r.Formula, Instrument: r.Instrument, Load: r.Load,
			Typed: r.Inputs, Takes: r.Takes, At: Time(r.At), By: b.by[r.ID]}
		if g != nil {
			judge(*g, r, &row)
		}
		out = append(out, row)
	}
	return out
}

// judge adds the target and how the reading stands to it; one that is stale is
// not judged.
func judge(g guide.Guide, r *job.Reading, row *Reading) {
	if t := g.Sheet.Target(r.Quantity, r.Place().Axle()); t != nil {
		value, tolerance := t.Amount()
		row.Target = &Target{Value: value, Tol: tolerance, Source: t.Source}
	}
	if r.Purpose != event.Before {
		row.Stale = g.Stale(r)
	}
	if row.Stale == "" {
		row.Verdict = string(g.Verdict(r))
	}
}

var knobs = []string{"", "bump", "rebound"}

func (b builder) clicks() []Clicks {
	out := []Clicks{}
	for _, corner := range event.Corners {
		for _, knob := range knobs {
			for _, purpose := range []event.Purpose{event.Before, event.Setting} {
				d := b.state.Clicks(corner, knob, purpose)
				if d == nil {
					continue
				}
				row := Clicks{Corner: corner, Knob: knob, Purpose: purpose, Clicks: d.DamperSet.Clicks, From: event.StopWords(d.From),
					StopCount: d.StopCount, Total: d.Total}
				if asked := b.sheet.Damper(corner.Axle(), knob); asked != nil && purpose == event.Setting {
					row.Sheet, row.Source = &asked.Clicks, asked.Source
				}
				out = append(out, row)
			}
		}
	}
	return out
}

func (b builder) positions() []Position {
	out := []Position{}
	for _, corner := range event.Corners {
		for _, q := range []event.Quantity{event.RideHeight, event.Caster, event.Camber, event.Toe} {
			for _, purpose := range []event.Purpose{event.Before, event.Setting} {
				if p := b.state.Position(q, corner, purpose); p != nil {
					out = append(out, Position{Adjuster: q, Corner: corner, Purpose: purpose, Text: p.Text, LengthUM: p.LengthUM})
				}
			}
		}
	}
	return out
}

func (b builder) parts() []Part {
	out := []Part{}
	for _, p := range b.sheet.Parts {
		got := b.state.Parts[p.ID]
		out = append(out, Part{ID: p.ID, Name: p.Name, Count: p.Count, Found: got.Found, Damaged: got.Damaged, Note: got.Note})
	}
	return out
}

// tools are those at hand that measure, carry or tighten.
func (b builder) tools(g guide.Guide) []Tool {
	out := []Tool{}
	for _, kind := range []sheet.ToolKind{sheet.TorqueWrench, sheet.Adapter, sheet.Jack, sheet.Stands, sheet.Gauge} {
		for _, id := range g.AtHand(kind) {
			t := b.state.Tools[id]
			out = append(out, Tool{ID: id, Name: g.ToolName(id), LowCNM: t.LowCNM, HighCNM: t.HighCNM, RatingG: t.RatingG, Checked: t.Checked})
		}
	}
	return out
}

func (b builder) lifts() []Lift {
	out := []Lift{}
	for _, l := range b.state.Lifts {
		row := Lift{Axle: l.Axle, Raised: Time(l.RaisedAt), Lowered: Time(l.LoweredAt)}
		for _, c := range b.sheet.Checks {
			answers := l.Raise
			if c.Move == event.Lower {
				answers = l.Lower
			}
			switch a, answered := answers[c.ID]; {
			case answered && a.Answer == event.Yes:
				row.Yes++
			case answered:
				row.Other = append(row.Other, CheckSaid{Ask: c.Ask, Answer: a.Answer, Reason: a.Reason})
			}
		}
		out = append(out, row)
	}
	return out
}

func (b builder) leftovers() []Leftovers {
	out := []Leftovers{}
	for _, step := range b.sheet.Steps() {
		if l := b.state.Steps[step.ID].Leftovers; l != nil {
			out = append(out, Leftovers{Step: step.ID, Count: l.Count, Note: l.Note})
		}
	}
	return out
}

// rechecks are the distances after which fasteners of this job are looked at
// again, the shortest first, and the steps for it.
func (b builder) rechecks(g guide.Guide) []Recheck {
	due := map[int64]*guide.Due{}
	for i := range b.sheet.Fasteners {
		f := &b.sheet.Fasteners[i]
		if f.Recheck == 0 || !b.state.Fasteners[f.ID].Touched() {
			continue
		}
		if due[f.Recheck] == nil {
			due[f.Recheck] = &guide.Due{KM: f.Recheck}
		}
		due[f.Recheck].Fasteners = append(due[f.Recheck].Fasteners, f)
	}
	out := []Recheck{}
	for _, d := range due {
		out = append(out, Recheck{KM: d.KM, What: d.What()})
	}
	sort.Slice(out, func(i, j int) bool { return out[i].KM < out[j].KM })
	for _, step := range b.sheet.Steps() {
		if status, _ := g.Status(step); step.Later {
			row := Recheck{What: step.Title}
			if slices.Contains([]guide.Status{guide.Done, guide.Waiting}, status) {
				row.Done = Time(b.state.Steps[step.ID].DoneAt)
			}
			out = append(out, row)
		}
	}
	return out
}
