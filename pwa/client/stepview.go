package client

import (
	"strconv"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/job"
	"strutcard/sync/method"
	"strutcard/sync/sheet"
	"strutcard/templates"
)

// stepView draws the shown step and its main action.
func (c *Client) stepView() (templates.Step, []templates.Button) {
	step, g := c.step()
	status, blockers := g.Status(step)
	v := templates.Step{ID: string(step.ID), Stage: c.sheet.StageOf(step.ID).Title, Title: step.Title, Do: step.Do, Why: step.Why,
		Progress: progressWords(g), First: step.First, Cautions: step.Cautions,
		Status: string(status), Draft: c.drafts, Lift: step.Move != "", Hold: status == guide.Waiting,
		Skip: status == guide.Open && g.Allow(&event.StepSkipped{Step: step.ID}) == nil}
	v.Picture, v.Reminders, v.Parts, v.Withdrawn = step.Picture, g.Reminders(), c.partsHere(step), g.WithdrawalWords()
	v.GoOn = g.Stops()
	v.Reopen = g.Allow(&event.StepReopened{Step: step.ID}) == nil
	if v.Hold && !g.Shown(step.ID) {
		v.HoldPhoto = c.photoAsk(&sheet.PhotoAsk{ID: guide.HoldPhoto, What: lang.T("what a second pair of eyes would look at"), Must: true})
	}
	if step.Move == event.Raise {
		v.Points = c.points(step.Axle)
	}
	if step.Move == event.Raise && status == guide.Open {
		v.Plan, _ = method.LiftSummary(c.lookup(step.Axle.Place()), step.Axle)
	}
	for _, id := range step.Tools {
		v.Tools = append(v.Tools, c.sheet.Tool(id).Name)
	}
	v.Others, v.Said = true, c.saidHere(step.ID)
	for _, n := range c.log.State().Notes {
		if n.Step == step.ID {
			v.Notes = append(v.Notes, n.Text)
		}
	}
	if e, ok := c.lastOwn(); ok {
		v.Undo = guide.Describe(c.sheet, e)
	}
	v.StatusWords = statusWords(status, c.log.State().Steps[step.ID])
	v.Guest = v.Hold && c.guest()
	switch status {
	case guide.Blocked:
		return c.blockedView(v, blockers)
	case guide.Open:
		return c.openView(v, step, g)
	}
	v.Asks = c.askRows(step, g)
	return v, []templates.Button{{Do: "work", Label: lang.T("Go to where the work is"), Primary: status != guide.Waiting, Quiet: status == guide.Waiting}}
}

func statusWords(s guide.Status, rec job.Step) string {
	switch s {
	case guide.Done:
		return lang.T("Done.")
	case guide.Skipped:
		return lang.F("Skipped: %s", rec.Reason)
	case guide.Waiting:
		return lang.T("Held: someone competent must look before work goes on.")
	}
	if rec.ReopenedN > 0 {
		return lang.F("To be done again. %s", rec.ReopenedAs)
	}
	return ""
}

func (c *Client) blockedView(v templates.Step, blockers []guide.Blocker) (templates.Step, []templates.Button) {
	var buttons []templates.Button
	for _, b := range blockers {
		v.Blockers = append(v.Blockers, b.Text)
		if b.Step != "" && len(buttons) == 0 {
			buttons = append(buttons, templates.Button{Do: "go", Args: map[string]string{"step": string(b.Step)}, Label: lang.F("Go to: %s", c.sheet.Step(b.Step).Title), Primary: true})
		}
	}
	if len(buttons) == 0 {
		buttons = append(buttons, templates.Button{Do: "tally", Label: lang.T("Open the tally"), Primary: true})
	}
	return v, buttons
}

func (c *Client) openView(v templates.Step, step *sheet.Step, g guide.Guide) (templates.Step, []templates.Button) {
	if c.unread(step) {
		v.Begin = beginLabel(step) // below what it stands for, not in the foot: nobody shall press it unread
		return v, nil
	}
	todo := g.Todo(step)
	v.Asks = c.askRows(step, g)
	if len(todo) == 0 || step.Repeats() && todo[0] == (guide.Ask{Text: todo[0].Text}) {
		return v, []templates.Button{{Do: "done", Label: doneLabel(step), Primary: true}}
	}
	ask, buttons := c.askView(step, g, todo[0])
	v.Ask = ask
	return v, buttons
}

// beginLabel says what the press stands for: cautions are read, conditions are true.
func beginLabel(step *sheet.Step) string {
	if len(step.First) > 0 {
		return lang.F("Everything under “%s” is true: begin", lang.T("First make sure"))
	}
	return lang.T("Cautions read: begin")
}

// unread reports whether a step's cautions and conditions are still to be read:
// until then they stand alone, with nothing to press past them.
func (c *Client) unread(step *sheet.Step) bool {
	return len(step.First)+len(step.Cautions) > 0 && c.log.State().Steps[step.ID].StartedN == 0
}

func doneLabel(step *sheet.Step) string {
	switch {
	case step.Settle:
		return lang.T("Rolled and bounced: settled")
	case step.Drive:
		return lang.T("Driven, all well")
	}
	return lang.T("Step done")
}

// askView is the one thing to do now, and its buttons. Forms bring their own.
func (c *Client) askView(step *sheet.Step, g guide.Guide, a guide.Ask) (*templates.Ask, []templates.Button) {
	button := func(do, label string, primary bool, args ...string) templates.Button {
		b := templates.Button{Do: do, Label: label, Primary: primary, Args: map[string]string{}}
		for i := 0; i+1 < len(args); i += 2 {
			b.Args[args[i]] = args[i+1]
		}
		return b
	}
	switch {
	case a.Part != "":
		return c.partAsk(a), nil
	case a.Tool != "":
		return c.toolAsk(a), nil
	case a.Check != "" && c.stopped(step, g) != nil:
		return c.stopped(step, g), c.stopButtons(step, g)
	case a.Check != "":
		return c.checkAsk(step, g, a), []templates.Button{
			button("answer", lang.T("Yes"), true, "check", string(a.Check), "answer", "yes"),
			button("answer", lang.T("No"), false, "check", string(a.Check), "answer", "no")}
	case a.Loosen != "":
		return &templates.Ask{Kind: "loosen", Text: a.Text}, []templates.Button{button("loosen", lang.T("Loosened"), true, "fastener", string(a.Loosen))}
	case a.Fit != "":
		return c.fitAsk(a), []templates.Button{
			button("fit", lang.T("Fitted by hand: new"), c.sheet.Fastener(a.Fit).Renew, "fastener", string(a.Fit), "renewed", "yes"),
			button("fit", lang.T("Fitted by hand: used again"), !c.sheet.Fastener(a.Fit).Renew, "fastener", string(a.Fit), "renewed", "no")}
	case a.Spec != (sheet.PassRef{}):
		f := c.sheet.Fastener(a.Spec.Fastener)
		return &templates.Ask{Kind: "spec", Text: a.Text, Torque: &templates.Torque{Form: c.specForm(g, f, f.Pass(a.Spec.Pass))}}, nil
	case a.Pass != (sheet.PassRef{}):
		return c.passAsk(g, a)
	case a.Reading != nil:
		return &templates.Ask{Kind: "reading", Text: a.Text, Reading: c.methodForm(c.want(a.Reading.Quantity, a.Reading.Place(), a.Reading.Purpose))}, nil
	case a != (guide.Ask{Text: a.Text}):
		return c.extraAsk(step, g, a)
	case step.Move != "":
		return &templates.Ask{Kind: "say", Text: lang.T("Every check is answered.")}, []templates.Button{button("move", moveLabel(step), true)}
	}
	return &templates.Ask{Kind: "say", Text: a.Text}, []templates.Button{button("done", lang.T("Check again"), false)}
}

func moveLabel(step *sheet.Step) string {
	front := step.Axle == event.Front
	switch raise := step.Move == event.Raise; {
	case raise && front:
		return lang.T("The front stands on both stands")
	case raise:
		return lang.T("The rear stands on both stands")
	case front:
		return lang.T("The front is on its wheels")
	}
	return lang.T("The rear is on its wheels")
}

func (c *Client) partAsk(a guide.Ask) *templates.Ask {
	for _, p := range c.sheet.Parts {
		if p.ID == a.Part {
			return &templates.Ask{Kind: "part", Text: a.Text, Part: &templates.PartForm{ID: string(p.ID), Name: p.Name, Count: p.Count, Again: c.again(a)}}
		}
	}
	return nil
}

// again says why a part or tool that was answered is asked once more.
func (c *Client) again(a guide.Ask) string {
	_, counted := c.log.State().Parts[a.Part]
	_, listed := c.log.State().Tools[a.Tool]
	if counted || listed {
		return lang.F("Recorded, but not enough to go on. %s", a.Text)
	}
	return ""
}

func (c *Client) toolAsk(a guide.Ask) *templates.Ask {
	g, _ := c.guide()
	form := c.toolFormOf(g, a.Tool)
	form.Again = c.again(a)
	return &templates.Ask{Kind: "tool", Text: a.Text, Tool: form}
}

func (c *Client) checkAsk(step *sheet.Step, g guide.Guide, a guide.Ask) *templates.Ask {
	ask := &templates.Ask{Kind: "check", Text: a.Text, Over: "override"}
	for _, check := range c.sheet.ChecksFor(step.Axle, step.Move) {
		if check.ID != a.Check {
			continue
		}
		ask.Why, ask.Must = check.Why, check.Must
		if g.State.Axles[step.Axle].Answers[step.Move][check.ID].Answer == event.No {
			ask.Override = !check.Must
		}
	}
	return ask
}

// stopped is the stop after a "no" to a must-check. It stands alone until the
// person says that it was made safe; a restart of the app shows it again.
func (c *Client) stopped(step *sheet.Step, g guide.Guide) *templates.Ask {
	check, fresh := g.Stopped(step.Axle, step.Move)
	if !fresh || c.view.Again == check.ID {
		return nil
	}
	return &templates.Ask{Kind: "stop", Text: check.Ask, Stop: withoutStop(check.Stop)}
}

// stopButtons lead on from a stop. Once the car may be in the air, the only way
// on is to say that it stands on its wheels again.
func (c *Client) stopButtons(step *sheet.Step, g guide.Guide) []templates.Button {
	if step.Move == event.Raise && g.Lifting() == step.Axle {
		return []templates.Button{{Do: "give_up", Label: lang.T("It stands on its wheels: ask every check again")}}
	}
	return []templates.Button{{Do: "ask_again", Label: lang.T("Made safe: ask every check again"), Args: map[string]string{"step": string(step.ID)}}}
}

func (c *Client) fitAsk(a guide.Ask) *templates.Ask {
	ask := &templates.Ask{Kind: "fit", Text: a.Text}
	if c.sheet.Fastener(a.Fit).Renew {
		ask.Why = lang.T("One-use: a new one is wanted here.")
	}
	return ask
}

func (c *Client) passAsk(g guide.Guide, a guide.Ask) (*templates.Ask, []templates.Button) {
	f := c.sheet.Fastener(a.Pass.Fastener)
	p := f.Pass(a.Pass.Pass)
	t := c.torque(g, f, p)
	ask := &templates.Ask{Kind: "pass", Text: a.Text, Torque: t}
	if err := g.Allow(c.passPayload(g, f, p)); err != nil && !t.Unknown && t.Unverified == "" {
		ask.Kind, ask.Text = "say", err.Error()
		return ask, []templates.Button{{Do: "tally", Label: lang.T("Open the tally"), Primary: true}}
	}
	if t.Unknown || t.Unverified != "" {
		return ask, nil
	}
	done := c.passPayload(g, f, p)
	return ask, []templates.Button{{Do: "pass", Label: passLabel(g, f, p, t), Primary: true,
		Args: map[string]string{"fastener": string(f.ID), "pass": string(p.ID), "shown": strconv.FormatInt(done.TorqueCNM, 10),
			"set": strconv.FormatInt(done.SetCNM, 10), "wrench": string(done.Wrench), "adapter": string(done.Adapter)}}}
}

func (c *Client) passPayload(g guide.Guide, f *sheet.Fastener, p *sheet.Pass) *event.PassDone {
	spec, _ := g.Spec(f, p)
	done := &event.PassDone{Fastener: f.ID, Pass: p.ID, TorqueCNM: spec.TorqueCNM, AngleMdeg: spec.AngleMdeg, Count: nextCount(g, f, p)}
	if s, ok := c.chosen(g, f, p); ok {
		done.SetCNM, done.Wrench, done.Adapter = s.Set.CNM(), s.Wrench, s.Adapter
	}
	return done
}

// nextCount is how many of a group are done after the next press: a group that
// is tightened to a torque is counted up one by one.
func nextCount(g guide.Guide, f *sheet.Fastener, p *sheet.Pass) int64 {
	if spec, _ := g.Spec(f, p); f.Count == 1 || spec.TorqueCNM == 0 {
		return f.Count
	}
	return g.Counted(sheet.PassRef{Fastener: f.ID, Pass: p.ID}) + 1
}

func passLabel(g guide.Guide, f *sheet.Fastener, p *sheet.Pass, t *templates.Torque) string {
	what := map[sheet.PassKind]string{sheet.Snug: lang.C("Snug", "as it was made"), sheet.Partial: lang.T("Tightened"), sheet.Final: lang.T("Final, tightened"),
		sheet.Angle: lang.T("Turned"), sheet.BackOff: lang.T("Backed off"), sheet.Recheck: lang.T("Clicks without turning")}[p.Kind]
	if t.Figure != "" {
		what = lang.F("%s at %s %s", what, t.Figure, t.Unit)
	}
	if f.Count == 1 {
		return what
	}
	if t.Figure == "" {
		return lang.F("%s, all %d", what, f.Count)
	}
	return lang.F("%s %d of %d: %s", turnWords(f.Turn), nextCount(g, f, p), f.Count, lower(what))
}

// askRows lists what the step wants, done and to do.
func (c *Client) askRows(step *sheet.Step, g guide.Guide) []templates.AskRow {
	var rows []templates.AskRow
	todo := g.Todo(step)
	first := func(match func(guide.Ask) bool) bool { return len(todo) > 0 && match(todo[0]) }
	for _, id := range step.Loosen {
		rows = append(rows, c.fastenerRow(g, id, lang.C("Loosen", "a fastener"), g.State.Fasteners[id].Touched(), first(func(a guide.Ask) bool { return a.Loosen == id })))
	}
	for _, id := range step.Fit {
		rows = append(rows, c.fastenerRow(g, id, lang.C("Fit", "a fastener"), g.State.Fasteners[id].FittedN > 0, first(func(a guide.Ask) bool { return a.Fit == id })))
	}
	for _, ref := range step.Passes {
		f := c.sheet.Fastener(ref.Fastener)
		if g.LeftAlone(f) {
			continue
		}
		row := c.fastenerRow(g, ref.Fastener, passVerb(f.Pass(ref.Pass)), g.PassHolds(ref), first(func(a guide.Ask) bool { return a.Pass == ref }))
		if spec, ok := g.Spec(f, f.Pass(ref.Pass)); ok && spec.TorqueCNM > 0 {
			row.Figure = c.units.FormatTorque(quantity.TorqueFromCNM(spec.TorqueCNM))
		}
		rows = append(rows, row)
	}
	for i := range step.Readings {
		rows = append(rows, c.readingRow(g, step.Readings[i], first(func(a guide.Ask) bool { return a.Reading == &step.Readings[i] })))
	}
	if step.Move != "" {
		rows = append(rows, c.checkRows(step, g, todo)...)
	}
	return rows
}

func passVerb(p *sheet.Pass) string {
	return map[sheet.PassKind]string{sheet.Snug: lang.C("Snug", "a pass"), sheet.Partial: capital(guide.PartWords(p)), sheet.Final: lang.C("Final", "a pass"),
		sheet.Angle: lang.C("Angle", "a pass"), sheet.BackOff: lang.T("Back off"), sheet.Recheck: lang.T("Last round")}[p.Kind]
}

func (c *Client) fastenerRow(g guide.Guide, id event.FastenerID, verb string, done, now bool) templates.AskRow {
	f := c.sheet.Fastener(id)
	return templates.AskRow{Text: verb + ": " + f.Name(), Phase: string(g.Item(f).Phase), Done: done, Now: now}
}

func (c *Client) readingRow(g guide.Guide, ask sheet.ReadingAsk, now bool) templates.AskRow {
	row := templates.AskRow{Text: capital(guide.ReadingWords(ask.Quantity, ask.Place())), Now: now}
	if r := g.State.Reading(ask.Quantity, ask.Place(), ask.Purpose); r != nil {
		row.Figure = c.units.Reading(&r.ReadingTaken)
		if why := g.Stale(r); why != "" {
			row.Note = lang.F("Stale: %s", why)
		} else {
			row.Done = true
			if v := g.Verdict(r); v != guide.Met {
				row.Note = v.Words()
			}
		}
	}
	return row
}

func (c *Client) checkRows(step *sheet.Step, g guide.Guide, todo []guide.Ask) []templates.AskRow {
	var rows []templates.AskRow
	for _, check := range c.sheet.ChecksFor(step.Axle, step.Move) {
		a := g.State.Axles[step.Axle].Answers[step.Move][check.ID]
		row := templates.AskRow{Text: check.Ask, Done: g.Answered(step.Axle, check),
			Now: len(todo) > 0 && todo[0].Check == check.ID}
		if a.Answer == event.No {
			row.Note = lang.T("Answered no")
		}
		if a.Answer == event.Override {
			row.Note = lang.F("Overridden: %s", a.Reason)
		}
		rows = append(rows, row)
	}
	return rows
}
