package paper

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"strutcard/calc/quantity"
	"strutcard/sync/card"
	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/units"
)

// when writes a card's time for people, in UTC: the zone of the garage is not in
// the record.
func when(at string) string {
	t, err := time.Parse(time.RFC3339, at)
	if err != nil {
		return "–"
	}
	return t.Format("2 Jan 2006 15:04")
}

func asked(f card.Fastener) string {
	if f.TorqueCNM == 0 && f.AngleMdeg == 0 {
		return "not known"
	}
	return force(f.TorqueCNM, f.TolCNM, f.AngleMdeg)
}

func force(torque, tolerance, angle int64) string {
	var parts []string
	if torque > 0 {
		text := guide.Torque(torque)
		if tolerance > 0 {
			text += " ± " + guide.Torque(tolerance)
		}
		parts = append(parts, text)
	}
	if angle > 0 {
		parts = append(parts, quantity.FormatAngle(quantity.AngleFromMdeg(angle), quantity.Degree))
	}
	return strings.Join(parts, " + ")
}

// before lists the passes that came before the last.
func before(f card.Fastener) string {
	var parts []string
	for i, p := range f.Passes {
		if i < len(f.Passes)-1 {
			parts = append(parts, made(p))
		}
	}
	return strings.Join(parts, "; ")
}

func last(f card.Fastener) *card.Pass {
	if len(f.Passes) == 0 {
		return nil
	}
	return &f.Passes[len(f.Passes)-1]
}

func made(p card.Pass) string {
	text := strings.TrimSpace(strings.ReplaceAll(p.Kind, "_", " ") + " " + force(p.TorqueCNM, 0, p.AngleMdeg))
	if p.TorqueCNM == 0 && p.AngleMdeg == 0 {
		text += " by hand"
	}
	if !p.Holds {
		text += " (undone since)"
	}
	return text
}

func wrench(p card.Pass) string {
	text := p.Wrench
	if text == "" {
		text = "no wrench named"
	}
	if p.Adapter != "" {
		text += " with " + p.Adapter
	}
	if p.SetCNM > 0 && p.SetCNM != p.TorqueCNM {
		text += ", set to " + guide.Torque(p.SetCNM)
	}
	if p.Hurried {
		text += "; faster than hands can work"
	}
	return text
}

func standing(f card.Fastener) string {
	if f.Reason != "" {
		return "NOT FINAL. " + f.Reason
	}
	return f.Phase
}

func source(f card.Fastener) string {
	if f.Questioned != "" {
		return f.Source + " (questioned: " + f.Questioned + ")"
	}
	return f.Source
}

// name is a fastener with what tells it from its like.
func name(f card.Fastener) string {
	parts := []string{f.Place}
	if f.Count > 1 {
		parts = append(parts, fmt.Sprintf("%d of them", f.Count))
	}
	for _, more := range []string{f.Thread, f.Hardware} {
		if more != "" {
			parts = append(parts, more)
		}
	}
	return strings.Join(parts, ", ")
}

// pair is what was measured at one place: as found, and last.
type pair struct {
	what          string
	before, after *card.Reading
}

func pairs(c card.Card) []pair {
	var out []pair
	for _, q := range event.Quantities() {
		for _, at := range q.Places() {
			p := pair{what: guide.ReadingWords(q, at)}
			for i := range c.Readings {
				switch r := &c.Readings[i]; {
				case r.Quantity != q || r.Place != at:
				case r.Purpose == event.Before:
					p.before = r
				case p.after == nil || r.Purpose == event.Final || p.after.Purpose != event.Final:
					p.after = r
				}
			}
			if p.before != nil || p.after != nil {
				out = append(out, p)
			}
		}
	}
	return out
}

// value says so when nobody knows how sure it is: "± 0" would be a claim.
func value(r *card.Reading) string {
	switch {
	case r == nil:
		return "–"
	case r.U95 == 0:
		return units.Metric.Value(r.Quantity, r.Value) + ", uncertainty not known"
	}
	taken := event.ReadingTaken{Quantity: r.Quantity}
	taken.SetAmount(r.Value, r.U95)
	return units.Metric.Reading(&taken)
}

func (p pair) target() string {
	if p.after == nil || p.after.Target == nil {
		return "–"
	}
	return units.Metric.Target(p.after.Quantity, p.after.Target.Value, p.after.Target.Tol)
}

func (p pair) verdict() string {
	switch {
	case p.after == nil:
		return "not measured again"
	case p.after.Stale != "":
		return "stale: " + p.after.Stale
	case p.after.Verdict == "":
		return "no target"
	}
	return guide.Verdict(p.after.Verdict).Words()
}

func (p pair) method() string {
	var out []string
	for _, r := range []*card.Reading{p.before, p.after} {
		if r == nil {
			continue
		}
		text := r.Method
		for _, more := range []string{r.Instrument, r.Load} {
			if more != "" {
				text += ", " + more
			}
		}
		if len(r.Takes) > 0 {
			text += fmt.Sprintf(", mean of %d", len(r.Takes))
		}
		if !slices.Contains(out, text) {
			out = append(out, text)
		}
	}
	return strings.Join(out, "; then ")
}

// setting is an adjuster or a damper, as found and as set.
type setting struct{ what, found, set, asked string }

func settings(c card.Card) []setting {
	var out []setting
	at := map[string]int{}
	put := func(what string, purpose event.Purpose, text, asked string) {
		i, there := at[what]
		if !there {
			i = len(out)
			at[what] = i
			out = append(out, setting{what: what, found: "–", set: "–"})
		}
		if purpose == event.Before {
			out[i].found = text
			return
		}
		out[i].set, out[i].asked = text, asked
	}
	for _, d := range c.Clicks {
		asked := ""
		if d.Sheet != nil {
			asked = fmt.Sprintf("%d clicks; %s", *d.Sheet, d.Source)
		}
		put(strings.TrimSpace("damper "+d.Knob)+", "+d.Corner.Words(), d.Purpose, clicks(d), asked)
	}
	for _, p := range c.Positions {
		text := p.Text
		if p.LengthUM > 0 {
			text += ", " + quantity.FormatLength(quantity.LengthFromUM(p.LengthUM), quantity.Millimetre)
		}
		put(p.Adjuster.Words()+" adjuster, "+p.Corner.Words(), p.Purpose, text, "")
	}
	return out
}

func clicks(d card.Clicks) string {
	text := fmt.Sprintf("%d clicks from %s, the stop counts %d", d.Clicks, d.From, d.StopCount)
	if d.Total > 0 {
		text += fmt.Sprintf(", %d in all", d.Total)
	}
	return text
}

func part(p card.Part) string {
	text := fmt.Sprintf("%d of %d", p.Found, p.Count)
	if p.Damaged > 0 {
		text += fmt.Sprintf(", %d damaged", p.Damaged)
	}
	return strings.TrimSpace(text + " " + p.Note)
}

func tool(t card.Tool) string {
	var parts []string
	if t.HighCNM > 0 {
		parts = append(parts, guide.Torque(t.LowCNM)+" to "+guide.Torque(t.HighCNM))
	}
	if t.RatingG > 0 {
		parts = append(parts, fmt.Sprintf("marked %d kg", t.RatingG/1000))
	}
	if t.Checked != "" {
		parts = append(parts, "checked "+t.Checked)
	}
	if len(parts) == 0 {
		return "at hand"
	}
	return strings.Join(parts, ", ")
}

func lift(l card.Lift) string {
	down := "still up"
	if l.Lowered != "" {
		down = "down " + when(l.Lowered)
	}
	text := fmt.Sprintf("The %s axle: up %s, %s. %d checks answered with yes.", l.Axle, when(l.Raised), down, l.Yes)
	for _, a := range l.Other {
		said := string(a.Answer)
		if a.Answer == event.Override {
			said = "passed over"
		}
		text += strings.TrimSuffix(fmt.Sprintf(" “%s” %s: %s", a.Ask, said, a.Reason), ": ") + "."
	}
	return text
}

func recheck(r card.Recheck) string {
	switch {
	case r.KM > 0:
		return fmt.Sprintf("After %d km on the road: %s.", r.KM, r.What)
	case r.Done != "":
		return r.What + ": done " + when(r.Done) + "."
	}
	return r.What + ": not done yet."
}

func leftovers(l card.Leftovers) string {
	return strings.TrimSpace(fmt.Sprintf("Left over on the bench: %d. %s", l.Count, l.Note))
}

// decided is a reviewer's decision in words.
func decided(kind string) string {
	return map[string]string{"accept": "accepted", "ask": "asked", "redo": "to be done again", "return": "returned"}[kind]
}

func decision(f card.Finding) string {
	if f.Decision == nil {
		return "no decision"
	}
	return strings.TrimSuffix(fmt.Sprintf("%s by %s, %s: %s", decided(f.Decision.Kind), f.Decision.Name, when(f.Decision.At), f.Decision.Text), ": ")
}

func word(c card.Card, w card.Word) string {
	who := w.Name
	if who == "" {
		who = c.DeviceName(w.By)
	}
	text := when(w.At) + ", " + who
	if w.Kind != "" {
		text += ", " + decided(w.Kind)
	}
	if w.About != "" {
		text += ", about " + w.About
	}
	return text + ": " + w.Text
}

// byCorner is one corner's fasteners.
func byCorner(c card.Card, at event.Corner) (out []card.Fastener) {
	for _, f := range c.Fasteners {
		if f.Corner == at {
			out = append(out, f)
		}
	}
	return out
}
