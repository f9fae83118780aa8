package web

import (
	"strconv"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/sheet"
	"strutcard/templates"
)

// preview draws the step at, or around, a place as the phone will. It goes by
// the sheet alone, and so also by one that is not sound yet.
func (d *draft) preview(p place, check templates.DraftCheck) *templates.Step {
	if len(p.path) < 4 || p.path[0] != stageShape.key || p.path[2] != stepShape.key {
		return nil
	}
	i, _ := strconv.Atoi(p.path[1])
	j, _ := strconv.Atoi(p.path[3])
	if i >= len(d.sheet.Stages) || j >= len(d.sheet.Stages[i].Steps) {
		return nil
	}
	said := draft{sheet: d.sheet.Said()}
	stage := &said.sheet.Stages[i]
	step := &stage.Steps[j]
	v := &templates.Step{ID: string(step.ID), Stage: stage.Title, Progress: lang.F("step %d of %d", j+1, len(stage.Steps)),
		Title: step.Title, Do: step.Do, Why: step.Why, First: step.First, Cautions: step.Cautions, Picture: step.Picture}
	for _, id := range step.Tools {
		name := string(id)
		if t := said.sheet.Tool(id); t != nil {
			name = t.Name
		}
		v.Tools = append(v.Tools, name)
	}
	v.Asks = said.asks(step, check)
	return v
}

// asks lists what the step wants, in the order in which it is asked.
func (d *draft) asks(step *sheet.Step, check templates.DraftCheck) []templates.AskRow {
	rows := questions(step, sheet.Before)
	if step.Move != "" {
		for _, c := range d.sheet.ChecksFor(step.Axle, step.Move) {
			rows = append(rows, templates.AskRow{Text: c.Ask})
		}
	}
	for _, id := range step.Loosen {
		rows = append(rows, d.fastenerAsk(lang.T("Loosen"), id))
	}
	for _, id := range step.Fit {
		rows = append(rows, d.fastenerAsk(lang.T("Fit"), id))
	}
	for _, ref := range step.Passes {
		rows = append(rows, d.passAsk(ref, check))
	}
	for _, r := range step.Readings {
		rows = append(rows, templates.AskRow{Text: sentence(guide.ReadingWords(r.Quantity, r.Place())) + ", " + purposeWords(r.Purpose)})
	}
	for _, p := range step.Positions {
		rows = append(rows, templates.AskRow{Text: lang.F("Position, %s, %s, %s", lang.T(p.Adjuster.Words()), cornerWords(p.Corner), purposeWords(p.Purpose))})
	}
	for _, c := range step.Clicks {
		rows = append(rows, templates.AskRow{Text: knobWords(c.Knob) + ", " + cornerWords(c.Corner) + ", " + purposeWords(c.Purpose)})
	}
	return append(rows, questions(step, sheet.After)...)
}

func knobWords(knob string) string {
	switch knob {
	case "bump":
		return lang.T("Damper clicks bump")
	case "rebound":
		return lang.T("Damper clicks rebound")
	}
	return lang.T("Damper clicks")
}

// questions are the step's own checks and photos of one moment.
func questions(step *sheet.Step, when sheet.When) []templates.AskRow {
	var rows []templates.AskRow
	for _, c := range step.Checks {
		if c.When == when {
			rows = append(rows, templates.AskRow{Text: c.Ask})
		}
	}
	for _, p := range step.Photos {
		if p.When == when {
			rows = append(rows, templates.AskRow{Text: lang.F("Photo: %s", p.What)})
		}
	}
	return rows
}

func (d *draft) fastenerAsk(verb string, id event.FastenerID) templates.AskRow {
	f := d.sheet.Fastener(id)
	if f == nil {
		return templates.AskRow{Text: verb + ": " + string(id), Note: lang.T("not in this sheet")}
	}
	return templates.AskRow{Text: verb + ": " + f.Place + ", " + cornerWords(f.Corner), Phase: string(guide.Untouched)}
}

func (d *draft) passAsk(ref sheet.PassRef, check templates.DraftCheck) templates.AskRow {
	row := d.fastenerAsk(sentence(guide.PassName(ref.Pass)), ref.Fastener)
	f := d.sheet.Fastener(ref.Fastener)
	if f == nil {
		return row
	}
	p := f.Pass(ref.Pass)
	switch {
	case p == nil:
		row.Note = lang.T("this pass is not in this sheet")
	case p.TorqueCNM > 0:
		row.Figure = newtonMetres(p.TorqueCNM)
	case p.Kind == sheet.Angle && p.AngleMdeg > 0:
		row.Figure = degrees(p.AngleMdeg)
	case p.Kind == sheet.Final:
		row.Note = lang.T("to be looked up")
	}
	if doubted(check, d.sheet, ref) {
		row.Note = lang.T("unverified")
	}
	return row
}
