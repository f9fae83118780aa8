package templates

import (
	"fmt"
	"strings"
	"time"

	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/job"
	"strutcard/sync/review"
	"strutcard/sync/sheet"
)

// when writes an instant for people, in the reader's zone.
func when(ms int64) string {
	if ms == 0 {
		return ""
	}
	return time.UnixMilli(ms).Local().Format("2 Jan 2006, 15:04")
}

// DecidedWords tells a reviewer's decision; "" for none.
func DecidedWords(d *job.Decision) string {
	if d == nil {
		return ""
	}
	said := map[event.Decision]string{event.Accept: "accepted this", event.Query: "asked the installer", event.Redo: "wants it done again", event.Return: "returned the job"}[d.Decision]
	return strings.TrimSpace(d.Name + " " + said + ", " + when(d.At) + ". " + d.Text)
}

// CardOf makes the card of a job. The sheet may be nil: then only the record
// itself is shown.
func CardOf(s *sheet.Sheet, st *job.State, findings []review.Finding) Card {
	v := Card{Events: int(st.Count), Unknown: st.Unknown, Withdrawn: st.Withdrawn, Sheet: s != nil, State: "In work."}
	if st.Opened != nil {
		v.Title, v.Vehicle, v.Opened = st.Opened.Title, st.Opened.Vehicle, when(st.Opened.At)
	}
	if st.Finished != nil {
		v.Finished, v.State = when(st.Finished.At), "Finished by the installer."
	}
	for _, f := range findings {
		v.Findings = append(v.Findings, FindingRow{Severity: f.Severity.Words(), Text: f.Text, Todo: f.Todo, Decided: DecidedWords(st.DecisionOn(f.ID))})
	}
	for _, n := range st.Notes {
		v.Notes = append(v.Notes, when(n.At)+": "+n.Text)
	}
	for _, axle := range event.Axles {
		if st.Axles[axle].Up {
			v.Up = append(v.Up, fmt.Sprintf("The %s axle is up.", axle))
		}
	}
	v.Taken = takenOf(st.Readings)
	v.Photos = photosOf(s, st)
	if s == nil {
		return v
	}
	g := guide.New(s, st)
	v.Version, v.Invented = s.Version, s.Invented
	if open := len(g.NotFinal()); open > 0 {
		v.State += fmt.Sprintf(" %d not final: do not drive.", open)
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
	row := ToolRow{Name: t.Name, Have: "not here"}
	if got.Have {
		row.Have = "here"
	}
	if got.HighCNM > 0 {
		row.Detail = guide.Torque(got.LowCNM) + " to " + guide.Torque(got.HighCNM)
	}
	if got.RatingG > 0 {
		row.Detail = fmt.Sprintf("marked %d kg each", got.RatingG/1000)
	}
	return row
}

func fastenersOf(g guide.Guide) []CornerFasteners {
	var out []CornerFasteners
	for _, corner := range event.Corners {
		c := CornerFasteners{Corner: corner.Words()}
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
	row := FastenerRow{Place: f.Place, Thread: f.Thread, Spec: "not known", Phase: string(item.Phase), Words: item.Phase.Words(), Reason: item.Reason}
	if f.Count > 1 {
		row.Place = fmt.Sprintf("%s, %d", f.Place, f.Count)
	}
	if spec, ok := g.Spec(f, f.Final()); ok {
		row.Spec, row.Source = guide.Torque(spec.TorqueCNM), spec.Source
		if spec.TolCNM > 0 {
			row.Spec += " ± " + guide.Torque(spec.TolCNM)
		}
		if spec.Questioned != "" {
			row.Source += " (questioned: " + spec.Questioned + ")"
		}
	}
	if rec.FittedN > 0 {
		row.New = map[bool]string{true: "new", false: "used again"}[rec.Renewed]
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
		row := LiftRow{Axle: string(l.Axle), Raised: when(l.RaisedAt), Lowered: when(l.LoweredAt)}
		if l.LoweredN == 0 {
			row.Lowered = "not yet"
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
	if a == event.Override {
		return "passed over"
	}
	return string(a)
}

// StagesOf lists the steps with where each stands.
func StagesOf(g guide.Guide) []StageRow {
	words := map[guide.Status]string{guide.Done: "done", guide.Open: "open", guide.Blocked: "not yet", guide.Skipped: "skipped", guide.Waiting: "held"}
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
		row := TakenRow{What: fmt.Sprintf("%s, %s, %s: %s.", capital(guide.ReadingWords(r.Quantity, r.Place())), r.Purpose, when(r.At), guide.Value(&r.ReadingTaken)),
			How: r.Method + "."}
		if r.Instrument != "" {
			row.How += " With: " + r.Instrument + "."
		}
		var raw []string
		for _, in := range r.Inputs {
			raw = append(raw, rawWords(in))
		}
		if len(raw) > 0 {
			row.How += " Typed: " + join(raw) + "."
		}
		if n := len(r.Takes); n > 0 {
			row.How += fmt.Sprintf(" Mean of %d takes; the last is shown.", n)
		}
		if r.Load != "" {
			row.How += " In the car: " + r.Load + "."
		}
		if r.Stale != "" {
			row.How += " Stale: " + r.Stale + "."
		}
		out = append(out, row)
	}
	return out
}

const longestRaw = 60 // characters; a recording of a sensor is longer

func rawWords(in event.Input) string {
	text := in.Text
	if len(text) > longestRaw && in.Name != "questioned" {
		text = fmt.Sprintf("a recording, %d characters", len(text))
	}
	words := strings.ReplaceAll(in.Name, "_", " ") + " " + text
	if in.Unit != "" {
		words += " " + in.Unit
	}
	return words
}

// ReadingsOf puts every reading beside its target, left and right together. It
// shows what was measured and what has a target.
func ReadingsOf(g guide.Guide) []ReadingGroup {
	var groups []ReadingGroup
	for _, q := range event.Quantities() {
		group := ReadingGroup{Title: capital(q.Words()), Quantity: string(q)}
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
	row := ReadingRow{Quantity: string(q), Place: string(at), Words: at.Words()}
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
