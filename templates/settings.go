package templates

import (
	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/job"
)

// settingsOf lists every adjuster and damper by corner: as found, so that the
// job can be undone, and as set.
func settingsOf(g guide.Guide) []SettingRow {
	var out []SettingRow
	for _, corner := range event.Corners {
		at := capital(lang.T(corner.Words()))
		for _, q := range []event.Quantity{event.RideHeight, event.Caster, event.Camber, event.Toe} {
			found, set := g.State.Position(q, corner, event.Before), g.State.Position(q, corner, event.Setting)
			if found != nil || set != nil {
				out = append(out, SettingRow{What: lang.F("%s: %s adjuster", at, lang.T(q.Words())), Found: positionWords(found), Set: positionWords(set)})
			}
		}
		for _, knob := range []string{"", "bump", "rebound"} {
			found, set := g.State.Clicks(corner, knob, event.Before), g.State.Clicks(corner, knob, event.Setting)
			if found == nil && set == nil {
				continue
			}
			row := SettingRow{What: lang.F("%s: damper", at), Found: clickWords(found), Set: clickWords(set)}
			if knob != "" {
				row.What += ", " + lang.T(knob)
			}
			if d := g.Sheet.Damper(corner.Axle(), knob); d != nil {
				row.Rule = lang.F("sheet: %d from %s", d.Clicks, lang.T(event.StopWords(d.From)))
			}
			out = append(out, row)
		}
	}
	return out
}

func positionWords(p *job.Position) string {
	switch {
	case p == nil:
		return "–"
	case p.LengthUM > 0 && p.Text != quantity.FormatLength(quantity.LengthFromUM(p.LengthUM), quantity.Millimetre):
		return p.Text + ", " + quantity.FormatLength(quantity.LengthFromUM(p.LengthUM), quantity.Millimetre)
	}
	return p.Text
}

// clickWords says how clicks were counted beside the count.
func clickWords(d *job.Damper) string {
	if d == nil {
		return "–"
	}
	text := lang.F("%d clicks from %s, the stop counts %d", d.DamperSet.Clicks, lang.T(event.StopWords(d.From)), d.StopCount)
	if d.Total > 0 {
		text += ", " + lang.F("%d in all", d.Total)
	}
	return text
}

// pausesOf lists the longer stops.
func pausesOf(st *job.State) []string {
	var out []string
	for _, p := range st.Pauses {
		text := lang.F("Work stopped %s.", when(p.At))
		if !p.Parked {
			text = lang.T("A pause that was not announced.")
		}
		if p.Note != "" {
			text += " " + p.Note
		}
		switch {
		case p.ResumedN == 0:
			text += " " + lang.T("Not resumed yet.")
		case p.AsLeft:
			text += " " + lang.F("Resumed %s: the car stood as the record says.", when(p.ResumedAt))
		default:
			text += " " + lang.F("Resumed %s, something was different: %s", when(p.ResumedAt), p.Different)
		}
		out = append(out, text)
	}
	return out
}

// wrenchWords names the wrench of a pass and what was set on it, where an
// adapter made the setting differ from the torque.
func wrenchWords(g guide.Guide, made job.Pass) string {
	name := g.ToolName(made.Wrench)
	if made.Wrench == "" {
		return ""
	}
	if made.Adapter != "" && made.SetCNM != made.TorqueCNM {
		name = lang.F("%s with %s, set to %s", name, g.ToolName(made.Adapter), guide.Torque(made.SetCNM))
	}
	if made.Hurried {
		name += "; " + lang.T("faster than hands can work")
	}
	return name
}
