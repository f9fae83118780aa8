package templates

import (
	"fmt"
	"strings"
	"time"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/job"
	"strutcard/sync/method"
	"strutcard/sync/review"
	"strutcard/sync/sheet"
)

// when writes an instant for people, in the reader's zone.
func when(ms int64) string {
	if ms == 0 {
		return ""
	}
	return time.UnixMilli(ms).Local().Format(lang.T("2 Jan 2006, 15:04"))
}

// DecidedWords tells a reviewer's decision; "" for none.
func DecidedWords(d *job.Decision) string {
	if d == nil {
		return ""
	}
	said := ""
	switch d.Decision {
	case event.Accept:
		said = lang.F("%s accepted this, %s.", d.Name, when(d.At))
	case event.Query:
		said = lang.F("%s asked the installer, %s.", d.Name, when(d.At))
	case event.Redo:
		said = lang.F("%s wants it done again, %s.", d.Name, when(d.At))
	case event.Return:
		said = lang.F("%s returned the job, %s.", d.Name, when(d.At))
	}
	return strings.TrimSpace(said + " " + d.Text)
}

// CardOf makes the card of a job. The sheet may be nil: then only the record
// itself is shown.
func CardOf(s *sheet.Sheet, st *job.State, findings []review.Finding) Card {
	v := Card{Events: int(st.Count), Unknown: st.Unknown, Withdrawn: st.Withdrawn, Sheet: s != nil, State: lang.T("In work.")}
	if st.Opened != nil {
		v.Title, v.Vehicle, v.Opened = st.Opened.Title, st.Opened.Vehicle, when(st.Opened.At)
	}
	if st.Finished != nil {
		v.Finished, v.State = when(st.Finished.At), lang.T("Finished by the installer.")
	}
	for _, f := range findings {
		v.Findings = append(v.Findings, FindingRow{Severity: f.Severity.Words(), Text: f.Text, Todo: f.Todo, Decided: DecidedWords(st.DecisionOn(f.ID))})
	}
	for _, n := range st.Notes {
		v.Notes = append(v.Notes, when(n.At)+": "+n.Text)
	}
	for _, axle := range event.Axles {
		if st.Axles[axle].Up {
			v.Up = append(v.Up, lang.F("The %s is up.", lang.T(event.Place(axle).Words())))
		}
	}
	v.Taken = takenOf(st.Readings)
	v.Photos = photosOf(s, st)
	if s == nil {
		return v
	}
	g := guide.New(s, st)
	v.Title, v.Version, v.Invented = s.Title, s.Version, s.Invented
	if open := len(g.NotFinal()); open > 0 {
		v.State += " " + lang.F("%d not final: do not drive.", open)
	}
	v.Settings, v.Pauses = settingsOf(g), pausesOf(st)
	if words := g.WithdrawalWords(); words != "" {
		v.Up = append(v.Up, words)
	}
	v.Fasteners, v.Readings, v.Lifts, v.Steps = fastenersOf(g), ReadingsOf(g), liftsOf(g), StagesOf(g)
	for _, p := range s.Parts {
		got := st.Parts[p.ID]
		v.Parts = append(v.Parts, PartRow{Name: p.Name, Found: got.Found - got.Damaged, Count: p.Count, Note: got.Note})
	}
	for _, t := range s.Tools {
		v.Tools = append(v.Tools, toolRow(t, st.Tools[t.ID]))
	}
	for _, kind := range []sheet.ToolKind{sheet.TorqueWrench, sheet.Adapter} {
		for _, id := range g.AtHand(kind) {
			if s.Tool(id) == nil {
				v.Tools = append(v.Tools, toolRow(sheet.Tool{Name: g.ToolName(id)}, st.Tools[id]))
			}
		}
	}
	return v
}

func toolRow(t sheet.Tool, got job.Tool) ToolRow {
	row := ToolRow{Name: t.Name, Have: lang.T("not here")}
	if got.Have {
		row.Have = lang.T("here")
	}
	if got.HighCNM > 0 {
		row.Detail = lang.F("%s to %s", guide.Torque(got.LowCNM), guide.Torque(got.HighCNM))
	}
	if got.RatingG > 0 {
		row.Detail = lang.F("marked %d kg each", got.RatingG/1000)
	}
	return row
}

func fastenersOf(g guide.Guide) []CornerFasteners {
	var out []CornerFasteners
	for _, corner := range event.Corners {
		c := CornerFasteners{Corner: lang.T(corner.Words())}
		for i := range g.Sheet.Fasteners {
			if f := &g.Sheet.Fasteners[i]; f.Corner == corner {
				c.Rows = append(c.Rows, fastenerRow(g, f))
			}
		}
		if len(c.Rows) > 0 {
			out = append(out, c)
		}
	}
	return out
}

func fastenerRow(g guide.Guide, f *sheet.Fastener) FastenerRow {
	item, rec := g.Item(f), g.State.Fasteners[f.ID]
	row := FastenerRow{Place: f.Place, Thread: f.Thread, Spec: lang.T("not known"), Phase: string(item.Phase), Words: item.Phase.Words(), Reason: item.Reason}
	if f.Count > 1 {
		row.Place = fmt.Sprintf("%s, %d", f.Place, f.Count)
	}
	if spec, ok := g.Spec(f, f.Final()); ok {
		row.Spec, row.Source = guide.Torque(spec.TorqueCNM), spec.Source
		if spec.TolCNM > 0 {
			row.Spec += " ± " + guide.Torque(spec.TolCNM)
		}
		if spec.Questioned != "" {
			row.Source += " " + lang.F("(questioned: %s)", spec.Questioned)
		}
	}
	if rec.FittedN > 0 {
		row.New = map[bool]string{true: lang.T("new"), false: lang.T("used again")}[rec.Renewed]
	}
	if made, ok := rec.Passes[f.Final().ID]; ok {
		row.Made = guide.Torque(made.TorqueCNM) + ", " + when(made.At)
		row.Wrench = wrenchWords(g, made)
	}
	return row
}

func liftsOf(g guide.Guide) []LiftRow {
	var out []LiftRow
	for _, l := range g.State.Lifts {
		row := LiftRow{Axle: axleWords(l.Axle), Raised: when(l.RaisedAt), Lowered: when(l.LoweredAt)}
		if l.LoweredN == 0 {
			row.Lowered = lang.T("not yet")
		}
		for _, c := range g.Sheet.Checks {
			a, ok := l.Raise[c.ID]
			if c.Move == event.Lower {
				a, ok = l.Lower[c.ID]
			}
			if ok {
				row.Answers = append(row.Answers, AnswerRow{Ask: c.Ask, Answer: answerWords(a.Answer), Reason: a.Reason})
			}
		}
		out = append(out, row)
	}
	return out
}

func answerWords(a event.Answer) string {
	switch a {
	case event.Yes:
		return lang.T("yes")
	case event.No:
		return lang.T("no")
	}
	return lang.T("overridden")
}

// StagesOf lists the steps with where each stands.
func StagesOf(g guide.Guide) []StageRow {
	words := map[guide.Status]string{guide.Done: lang.T("done"), guide.Open: lang.T("open"), guide.Blocked: lang.T("not yet"), guide.Skipped: lang.T("skipped"), guide.Waiting: lang.T("held")}
	next := g.Next()
	var out []StageRow
	for i := range g.Sheet.Stages {
		stage := &g.Sheet.Stages[i]
		row := StageRow{Title: stage.Title}
		for j := range stage.Steps {
			step := &stage.Steps[j]
			status, _ := g.Status(step)
			row.Steps = append(row.Steps, StepRow{ID: string(step.ID), Title: step.Title, Status: string(status), Words: words[status], Here: step == next})
		}
		out = append(out, row)
	}
	return out
}

// takenOf lists every reading as it was taken: the value can be worked out again
// from it by hand.
func takenOf(readings []job.Reading) []TakenRow {
	var out []TakenRow
	for _, r := range readings {
		row := TakenRow{What: fmt.Sprintf("%s, %s, %s: %s.", capital(guide.ReadingWords(r.Quantity, r.Place())), lang.C(string(r.Purpose), "of a reading"), when(r.At), guide.Value(&r.ReadingTaken)),
			How: lang.T(r.Method) + "."}
		if r.Instrument != "" {
			row.How += " " + lang.F("With: %s.", method.Instrument(r.Instrument))
		}
		if len(r.Inputs) > 0 {
			row.How += " " + lang.F("Typed: %s.", strings.Join(method.Typed(r.Method, r.Inputs), "; "))
		}
		if n := len(r.Takes); n > 0 {
			row.How += " " + lang.F("Mean of %d takes; the last is shown.", n)
		}
		if r.Load != "" {
			row.How += " " + lang.F("In the car: %s.", lang.T(r.Load))
		}
		if r.Stale != "" {
			row.How += " " + lang.F("Stale: %s.", lang.T(r.Stale))
		}
		out = append(out, row)
	}
	return out
}

// ReadingsOf puts every reading beside its target, left and right together. It
// shows what was measured and what has a target.
func ReadingsOf(g guide.Guide) []ReadingGroup {
	var groups []ReadingGroup
	for _, q := range event.Quantities() {
		group := ReadingGroup{Title: capital(lang.T(q.Words())), Quantity: string(q)}
		shown := false
		for _, at := range q.Places() {
			row := readingRow(g, q, at)
			shown = shown || row.Before+row.Setting+row.Final+row.Target != ""
			group.Rows = append(group.Rows, row)
		}
		if shown {
			groups = append(groups, group)
		}
	}
	return groups
}

func readingRow(g guide.Guide, q event.Quantity, at event.Place) ReadingRow {
	row := ReadingRow{Quantity: string(q), Place: string(at), Words: lang.T(at.Words())}
	for purpose, into := range map[event.Purpose]*string{event.Before: &row.Before, event.Setting: &row.Setting, event.Final: &row.Final} {
		if r := g.State.Reading(q, at, purpose); r != nil {
			*into = guide.Value(&r.ReadingTaken)
		}
	}
	if t := g.Sheet.Target(q, at.Axle()); t != nil {
		row.Target = guide.TargetWords(t)
	}
	latest := g.Latest(q, at)
	if latest == nil {
		return row
	}
	if why := g.Stale(latest); why != "" {
		row.Stale = why
		return row
	}
	verdict := g.Judge(&latest.ReadingTaken)
	row.Verdict, row.VerdictMark = verdict.Words(), string(verdict)
	return row
}
