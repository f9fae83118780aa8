package client

import (
	"slices"
	"strings"
	"time"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/job"
	"strutcard/sync/method"
	"strutcard/templates"
)

// measure lists every reading, what else can be measured, and what was changed.
func (c *Client) measure(g guide.Guide) templates.Measure {
	v := templates.Measure{Up: c.log.State().Up(), Groups: templates.ReadingsOf(g), Adjust: adjustable(), Counted: countedIn(), Changed: changed(g.State), Draft: c.drafts}
	for i := range v.Groups {
		c.inUnits(g, &v.Groups[i])
	}
	for _, q := range event.Quantities() {
		if slices.ContainsFunc(v.Groups, func(shown templates.ReadingGroup) bool { return shown.Quantity == string(q) }) {
			continue
		}
		for _, at := range q.Places() {
			if len(method.For(q)) > 0 {
				v.More = append(v.More, templates.ReadingRow{Quantity: string(q), Place: string(at), Words: capital(guide.ReadingWords(q, at))})
			}
		}
	}
	return v
}

// inUnits writes a group's values in the person's units; the card keeps those of
// the record.
func (c *Client) inUnits(g guide.Guide, group *templates.ReadingGroup) {
	q := event.Quantity(group.Quantity)
	for i := range group.Rows {
		row := &group.Rows[i]
		at := event.Place(row.Place)
		for purpose, into := range map[event.Purpose]*string{event.Before: &row.Before, event.Setting: &row.Setting, event.Final: &row.Final} {
			if r := g.State.Reading(q, at, purpose); r != nil {
				*into = c.units.Reading(&r.ReadingTaken)
			}
		}
		if t := g.Sheet.Target(q, at.Axle()); t != nil {
			row.Target = c.target(t)
		}
		if i+1 == len(group.Rows) || event.Place(group.Rows[i+1].Place).Axle() != at.Axle() {
			row.Note = mixedFloors(g, q, at.Axle())
		}
	}
}

// mixedFloors says which readings of an axle must not be compared, or is "": a
// camber that is corrected for the floor is another number than one that is not.
func mixedFloors(g guide.Guide, q event.Quantity, axle event.Axle) string {
	var with, without []string
	add := func(r *job.Reading, words string) {
		if r == nil || q != event.Camber {
			return
		}
		if method.FloorOut(&r.ReadingTaken) {
			with = append(with, words)
		} else {
			without = append(without, words)
		}
	}
	for _, at := range q.Places() {
		if at.Axle() == axle {
			add(g.State.Reading(q, at, event.Before), lang.F("%s as found", lang.T(at.Words())))
			add(g.Latest(q, at), lang.F("%s now", lang.T(at.Words())))
		}
	}
	if len(with) == 0 || len(without) == 0 {
		return ""
	}
	return lang.F("Not comparable. Corrected for the floor: %s. Not corrected: %s.", strings.Join(with, ", "), strings.Join(without, ", "))
}

// changed lists what was changed on the car, the newest first.
func changed(st *job.State) []method.Row {
	var out []method.Row
	for _, a := range slices.Backward(st.Adjusted) {
		out = append(out, method.Row{Label: changeWords(a.Quantity, a.Corner), Value: changeMade(&a.AdjustmentMade) + ", " + time.UnixMilli(a.At).Local().Format(lang.T("2 Jan 15:04"))})
	}
	return out
}

func changeWords(q event.Quantity, corner event.Corner) string {
	if corner == "" {
		return adjusterWords(q)
	}
	return adjusterWords(q) + ", " + lang.T(corner.Words())
}

// changeMade says how it was and how it is, with a counted position.
func changeMade(p *event.AdjustmentMade) string {
	words := p.After
	if p.Before != "" {
		words = p.Before + " → " + p.After
	}
	if p.Unit == "" {
		return words
	}
	for _, u := range countedIn() {
		if u.Value == p.Unit {
			words = lang.F("%s (at %s %s from as found)", words, quantity.Count(float64(p.Position)/1000).String(), u.Label)
		}
	}
	return words
}
