package paper

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/sync/card"
	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/method"
	"strutcard/sync/units"
)

// when writes a card's time for people, in UTC: the zone of the garage is not in
// the record.
func when(at string) string {
	t, err := time.Parse(time.RFC3339, at)
	if err != nil {
		return "–"
	}
	return t.Format(lang.T("2 Jan 2006 15:04"))
}

func asked(f card.Fastener) string {
	if f.TorqueCNM == 0 && f.AngleMdeg == 0 {
		return lang.T("not known")
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
	text := lang.C(strings.ReplaceAll(p.Kind, "_", " "), "a pass") + " "
	if p.TorqueCNM == 0 && p.AngleMdeg == 0 {
		text += lang.T("by hand")
	} else {
		text += force(p.TorqueCNM, 0, p.AngleMdeg)
	}
	if !p.Holds {
		text += " " + lang.T("(undone since)")
	}
	return text
}

func wrench(p card.Pass) string {
	text := p.Wrench
	if text == "" {
		text = lang.T("no wrench named")
	}
	if p.Adapter != "" {
		text = lang.F("%s with %s", text, p.Adapter)
	}
	if p.SetCNM > 0 && p.SetCNM != p.TorqueCNM {
		text += ", " + lang.F("set to %s", guide.Torque(p.SetCNM))
	}
	if p.Hurried {
		text += "; " + lang.T("faster than hands can work")
	}
	return text
}

func standing(f card.Fastener) string {
	if f.Reason != "" {
		return lang.F("NOT FINAL. %s", f.Reason)
	}
	return f.Phase
}

func source(f card.Fastener) string {
	if f.Questioned != "" {
		return lang.F("%s (questioned: %s)", f.Source, f.Questioned)
	}
	return f.Source
}

// name is a fastener with what tells it from its like.
func name(f card.Fastener) string {
	parts := []string{f.Place}
	if f.Count > 1 {
		parts = append(parts, lang.F("%d of them", f.Count))
	}
	for _, more := range []string{f.Thread, lang.T(f.Hardware)} {
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
		return lang.F("%s, uncertainty not known", units.Metric.Value(r.Quantity, r.Value))
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
		return lang.T("not measured again")
	case p.after.Stale != "":
		return lang.F("stale: %s", p.after.Stale)
	case p.after.Verdict == "":
		return lang.T("no target")
	}
	return guide.Verdict(p.after.Verdict).Words()
}

func (p pair) method() string {
	var out []string
	for _, r := range []*card.Reading{p.before, p.after} {
		if r == nil {
			continue
		}
		text := lang.T(r.Method)
		for _, more := range []string{method.Instrument(r.Instrument), lang.T(r.Load)} {
			if more != "" {
				text += ", " + more
			}
		}
		if len(r.Takes) > 0 {
			text += ", " + lang.F("mean of %d", len(r.Takes))
		}
		if !slices.Contains(out, text) {
			out = append(out, text)
		}
	}
	if len(out) == 2 {
		return lang.F("%s; then %s", out[0], out[1])
	}
	return strings.Join(out, "")
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
			asked = lang.F("%d clicks; %s", *d.Sheet, d.Source)
		}
		at := lang.T(d.Corner.Words())
		what := lang.F("damper, %s", at)
		if d.Knob != "" {
			what = lang.F("damper %s, %s", lang.T(d.Knob), at)
		}
		put(what, d.Purpose, clicks(d), asked)
	}
	for _, p := range c.Positions {
		text := p.Text
		if p.LengthUM > 0 {
			text += ", " + quantity.FormatLength(quantity.LengthFromUM(p.LengthUM), quantity.Millimetre)
		}
		put(lang.F("%s adjuster, %s", lang.T(p.Adjuster.Words()), lang.T(p.Corner.Words())), p.Purpose, text, "")
	}
	return out
}

func clicks(d card.Clicks) string {
	text := lang.F("%d clicks from %s, the stop counts %d", d.Clicks, lang.T(d.From), d.StopCount)
	if d.Total > 0 {
		text += ", " + lang.F("%d in all", d.Total)
	}
	return text
}

func part(p card.Part) string {
	text := lang.F("%d of %d", p.Found, p.Count)
	if p.Damaged > 0 {
		text += ", " + lang.F("%d damaged", p.Damaged)
	}
	return strings.TrimSpace(text + " " + p.Note)
}

func tool(t card.Tool) string {
	var parts []string
	if t.HighCNM > 0 {
		parts = append(parts, lang.F("%s to %s", guide.Torque(t.LowCNM), guide.Torque(t.HighCNM)))
	}
	if t.RatingG > 0 {
		parts = append(parts, lang.F("marked %d kg", t.RatingG/1000))
	}
	if t.Checked != "" {
		parts = append(parts, lang.F("checked %s", t.Checked))
	}
	if len(parts) == 0 {
		return lang.T("at hand")
	}
	return strings.Join(parts, ", ")
}

func lift(l card.Lift) string {
	down := lang.T("still up")
	if l.Lowered != "" {
		down = lang.F("down %s", when(l.Lowered))
	}
	text := lang.F("The %s: up %s, %s. %d checks answered with yes.", lang.T(event.Place(l.Axle).Words()), when(l.Raised), down, l.Yes)
	for _, a := range l.Other {
		said := lang.T("no")
		if a.Answer == event.Override {
			said = lang.T("overridden")
		}
		text += " " + strings.TrimSuffix(lang.F("“%s” %s: %s", a.Ask, said, a.Reason), ": ") + "."
	}
	return text
}

func recheck(r card.Recheck) string {
	switch {
	case r.KM > 0:
		return lang.F("After %d km on the road: %s.", r.KM, r.What)
	case r.Done != "":
		return lang.F("%s: done %s.", r.What, when(r.Done))
	}
	return lang.F("%s: not done yet.", r.What)
}

func leftovers(l card.Leftovers) string {
	return strings.TrimSpace(lang.F("Left over on the bench: %d. %s", l.Count, l.Note))
}

// decided is a reviewer's decision in words.
func decided(kind string) string {
	return map[string]string{"accept": lang.T("accepted"), "ask": lang.T("asked"), "redo": lang.T("to be done again"), "return": lang.T("returned")}[kind]
}

func decision(f card.Finding) string {
	if f.Decision == nil {
		return lang.T("no decision")
	}
	return strings.TrimSuffix(lang.F("%s by %s, %s: %s", decided(f.Decision.Kind), f.Decision.Name, when(f.Decision.At), f.Decision.Text), ": ")
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
		text += ", " + fmt.Sprintf(lang.C("about %s", "in what was said"), w.About)
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
