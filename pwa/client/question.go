package client

import (
	"context"
	"fmt"
	"strings"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/guide"
	"strutcard/sync/sheet"
	"strutcard/templates"
)

// extraAsk draws what a step asks beside its fasteners and readings; nil for
// anything else. Forms bring their own buttons.
func (c *Client) extraAsk(step *sheet.Step, g guide.Guide, a guide.Ask) (*templates.Ask, []templates.Button) {
	switch {
	case a.Question != nil:
		return c.questionAsk(step, g, a.Question)
	case a.Photo != nil:
		return &templates.Ask{Kind: "photo", Text: a.Text, Photo: c.photoAsk(a.Photo)}, nil
	case a.Position != nil:
		return &templates.Ask{Kind: "position", Text: a.Text, Position: c.positionForm(a.Position)}, nil
	case a.Clicks != nil:
		return &templates.Ask{Kind: "clicks", Text: a.Text, Clicks: c.clicksForm(a.Clicks)}, nil
	case a.Leftovers:
		return &templates.Ask{Kind: "leftovers", Text: a.Text}, nil
	}
	return nil, nil
}

// questionAsk is one question of a step; after a "no" to a must-question its
// stop stands alone until the person says that it was made safe.
func (c *Client) questionAsk(step *sheet.Step, g guide.Guide, q *sheet.StepCheck) (*templates.Ask, []templates.Button) {
	if g.Refused(step, q) && c.view.Again != q.ID {
		return &templates.Ask{Kind: "stop", Text: q.Ask, Stop: withoutStop(q.Stop)},
			[]templates.Button{{Do: "look_again", Label: lang.T("Made safe: ask again"), Args: map[string]string{"check": string(q.ID)}}}
	}
	answered := c.log.State().Steps[step.ID].Checks[q.ID]
	ask := &templates.Ask{Kind: "check", Text: q.Ask, Why: q.Why, Must: q.Must, Over: "question_over",
		Override: !q.Must && answered.Answer == event.No}
	if q.Corner != "" {
		ask.Corner = c.cornerRows(g, q.Corner)
	}
	args := func(answer string) map[string]string {
		return map[string]string{"check": string(q.ID), "answer": answer}
	}
	return ask, []templates.Button{{Do: "question", Label: lang.T("Yes"), Primary: true, Args: args("yes")}, {Do: "question", Label: lang.T("No"), Args: args("no")}}
}

// cornerRows lists a corner's fasteners as they stand, for the round.
func (c *Client) cornerRows(g guide.Guide, corner event.Corner) []templates.AskRow {
	var rows []templates.AskRow
	for _, item := range g.Tally() {
		if item.Fastener.Corner == corner {
			rows = append(rows, templates.AskRow{Text: item.Fastener.Place, Phase: string(item.Phase), Note: item.Phase.Words()})
		}
	}
	return rows
}

func answerQuestion(c *Client, ctx context.Context, args map[string]string) error {
	step, _, err := c.wantStep()
	if err != nil {
		return err
	}
	if err := c.record(ctx, &event.StepChecked{Step: step.ID, Check: event.CheckID(args["check"]), Answer: event.Answer(args["answer"])}); err != nil {
		return err
	}
	c.view.Again = ""
	return nil
}

// questionOver passes over a should-question with a reason.
func questionOver(c *Client, ctx context.Context, args map[string]string) error {
	step, g, err := c.wantStep()
	if err != nil {
		return err
	}
	asks := g.Todo(step)
	if len(asks) == 0 || asks[0].Question == nil {
		return fault.New(fault.NotFound, "No question is open.", "Look at the step again.")
	}
	if strings.TrimSpace(args["reason"]) == "" {
		return fault.New(fault.Invalid, "A question is overridden only with a reason.", "Write the reason, or make it true and answer yes.")
	}
	err = c.record(ctx, &event.StepChecked{Step: step.ID, Check: asks[0].Question.ID, Answer: event.Override, Reason: args["reason"]})
	if err == nil {
		c.dropDrafts(ctx, "override.reason")
	}
	return err
}

// lookAgain leaves the stop after a "no" and asks once more.
func lookAgain(c *Client, _ context.Context, args map[string]string) error {
	c.view.Again = event.CheckID(args["check"])
	return nil
}

// giveUp records that an attempt to raise ended with the car on its wheels.
func giveUp(c *Client, ctx context.Context, _ map[string]string) error {
	g, ok := c.guide()
	if !ok || g.Lifting() == "" {
		return fault.New(fault.NotFound, "No axle is being raised.", "Go on with the work.")
	}
	return c.record(ctx, &event.CarLowered{Axle: g.Lifting()})
}

func (c *Client) positionForm(p *sheet.PositionAsk) *templates.PositionForm {
	form := &templates.PositionForm{Adjuster: string(p.Adjuster), Corner: string(p.Corner), Purpose: string(p.Purpose),
		Where: noteWords(p.Adjuster) + ", " + lang.T(p.Corner.Words()), AsFound: p.Purpose == event.Before}
	if p.Adjuster == event.RideHeight {
		form.Length, form.Unit = true, string(c.units.OrDefault().Length)
		if perch := c.sheet.Perch(p.Corner.Axle()); perch != nil {
			form.From = perch.From
			if p.Purpose == event.Setting {
				form.Target = lang.F("Start from %s. %s", c.units.FormatLength(quantity.LengthFromUM(perch.UM)), perch.Source)
			}
		}
	}
	return form
}

// noteWords name the adjuster whose place is noted.
func noteWords(q event.Quantity) string {
	if q == event.Toe {
		return lang.T("Toe of one wheel adjuster")
	}
	return adjusterWords(q)
}

func notePosition(c *Client, ctx context.Context, args map[string]string) error {
	p := &event.PositionNoted{Adjuster: event.Quantity(args["adjuster"]), Corner: event.Corner(args["corner"]), Purpose: event.Purpose(args["purpose"]), Text: strings.TrimSpace(args["text"])}
	if args["length"] != "" {
		length, err := quantity.ParseLength(args["length"] + " " + string(c.units.OrDefault().Length))
		if err != nil {
			return fault.Wrap(err, fault.Invalid, "The length cannot be read. Nothing was recorded.", "Type a number in the unit beside the field.")
		}
		p.LengthUM = length.UM()
		if p.Text == "" {
			p.Text = c.units.FormatLength(length)
		}
	}
	if p.Text == "" {
		return fault.New(fault.Invalid, "Where it stands is not said yet.", "Write the mark, the count of threads, or the length.")
	}
	if err := c.record(ctx, p); err != nil {
		return err
	}
	c.dropDrafts(ctx, "position.text", "position.length")
	return nil
}

func (c *Client) clicksForm(a *sheet.ClicksAsk) *templates.ClicksForm {
	form := &templates.ClicksForm{Corner: string(a.Corner), Knob: a.Knob, Purpose: string(a.Purpose), AsFound: a.Purpose == event.Before,
		Where: lang.F("Damper, %s", lang.T(a.Corner.Words())), From: c.drafts["clicks.from"], Stop: c.drafts["clicks.stop"]}
	if a.Knob != "" {
		form.Where = lang.F("Damper, %s, %s", knobWords(a.Knob), lang.T(a.Corner.Words()))
	}
	d := c.sheet.Damper(a.Corner.Axle(), a.Knob)
	if d == nil {
		return form
	}
	form.From, form.Stop = pick(form.From, d.From), pick(form.Stop, fmt.Sprint(d.StopCounts))
	form.Rule = lang.F("Count from %s; the stop itself counts %d.", lang.T(event.StopWords(d.From)), d.StopCounts)
	if d.Total > 0 {
		form.Rule += " " + lang.F("Its maker says %d from stop to stop.", d.Total)
	}
	if a.Purpose == event.Setting {
		form.Target = lang.F("Set to %d clicks from %s. Source: %s", d.Clicks, lang.T(event.StopWords(d.From)), d.Source)
	}
	return form
}

func countClicks(c *Client, ctx context.Context, args map[string]string) error {
	clicks, err := whole(args["clicks"], lang.T("The clicks"))
	if err != nil {
		return err
	}
	stop, err := whole(pick(args["stop"], "0"), lang.T("What the stop counts"))
	if err != nil {
		return err
	}
	total, err := whole(pick(args["total"], "0"), lang.T("The total"))
	if err != nil {
		return err
	}
	if d := c.sheet.Damper(event.Corner(args["corner"]).Axle(), args["knob"]); d != nil && total == 0 && d.Total > 0 && clicks > d.Total {
		return fault.New(fault.Invalid, lang.F("Its maker says %d clicks from stop to stop, and this is more. Nothing was recorded.", d.Total),
			"Count again. If there really are more, count from stop to stop too and type it.")
	}
	if total > 0 && clicks > total {
		return fault.New(fault.Invalid, "There are more clicks than from stop to stop. Nothing was recorded.", "Count both again.")
	}
	if err := c.record(ctx, &event.DamperSet{Corner: event.Corner(args["corner"]), Knob: args["knob"], Purpose: event.Purpose(args["purpose"]),
		From: args["from"], Clicks: clicks, StopCount: stop, Total: total}); err != nil {
		return err
	}
	c.dropDrafts(ctx, "clicks.clicks", "clicks.total")
	return nil
}

func countLeftovers(c *Client, ctx context.Context, args map[string]string) error {
	step, _, err := c.wantStep()
	if err != nil {
		return err
	}
	count, err := whole(args["count"], lang.T("The count"))
	if err != nil {
		return err
	}
	if before := c.log.State().Steps[step.ID].Leftovers; before != nil && before.Count > 0 && count == 0 && len(strings.TrimSpace(args["note"])) < fewWords {
		return fault.New(fault.Invalid, "It is not said where the pieces went. Nothing was recorded.", "Write where each one belongs, and that it is tight there.")
	}
	if err := c.record(ctx, &event.LeftoversCounted{Step: step.ID, Count: count, Note: strings.TrimSpace(args["note"])}); err != nil {
		return err
	}
	c.dropDrafts(ctx, "leftovers.count", "leftovers.note")
	if count > 0 {
		return fault.New(fault.Blocked, lang.N(int(count), "%d piece is left over. That is a stop.", "%d pieces are left over. That is a stop.", count),
			"Do not move the car. Go round by corner, find where each belongs, fit and tighten it. Then count again.")
	}
	return nil
}

// fewWords is the least that tells somebody else anything, in bytes.
const fewWords = 10

// reopen sends the shown step back to be done again.
func reopen(c *Client, ctx context.Context, args map[string]string) error {
	step, _, err := c.wantStep()
	if err != nil {
		return err
	}
	if strings.TrimSpace(args["reason"]) == "" {
		return fault.New(fault.Invalid, "A step is done again only with a reason.", "Write why. What was recorded before stays beside it.")
	}
	if err := c.record(ctx, &event.StepReopened{Step: step.ID, Reason: args["reason"]}); err != nil {
		return err
	}
	c.dropDrafts(ctx, "reopen.reason")
	c.view.Step = step.ID
	return nil
}

// overWithdrawal goes on with a sheet that was withdrawn, on somebody's word.
func overWithdrawal(c *Client, ctx context.Context, args map[string]string) error {
	if strings.TrimSpace(args["reason"]) == "" {
		return fault.New(fault.Invalid, "Say with whom you agreed to go on, and on what.", "Ask the shop first. If nobody can be reached, make the car safe and wait.")
	}
	if err := c.record(ctx, &event.WithdrawalSeen{Reason: args["reason"]}); err != nil {
		return err
	}
	c.dropDrafts(ctx, "withdrawal.reason")
	return nil
}

// hasty asks once about work that comes faster than hands can do it. The same
// press again records it, and says that it was asked.
func (c *Client) hasty(g guide.Guide, p event.Payload) error {
	text := g.TooFast(p, c.cfg.Now().UnixMilli())
	key := pressKey(p)
	again := c.pressed == key
	c.pressed = ""
	switch {
	case text == "":
		return nil
	case again && !isAnswer(p):
		if pass, is := p.(*event.PassDone); is {
			pass.Hurried = true
		}
		return nil
	}
	c.pressed = key
	return fault.New(fault.Invalid, text, "Nothing was recorded.")
}

func isAnswer(p event.Payload) bool {
	switch p.(type) {
	case *event.CheckAnswered, *event.StepChecked:
		return true
	}
	return false
}

func pressKey(p event.Payload) string {
	switch p := p.(type) {
	case *event.PassDone:
		return fmt.Sprint(p.Kind(), p.Fastener, p.Pass, p.Count)
	case *event.FastenerLoosened:
		return fmt.Sprint(p.Kind(), p.Fastener)
	case *event.FastenerFitted:
		return fmt.Sprint(p.Kind(), p.Fastener)
	}
	return string(p.Kind())
}

// partsHere names the parts that belong at a step's corner or axle, with the
// mark that tells each from its mirror image.
func (c *Client) partsHere(step *sheet.Step) []string {
	if len(step.Fit) == 0 {
		return nil
	}
	var out []string
	for _, p := range c.sheet.Parts {
		if p.Corner == "" && p.Axle == "" || p.Corner != "" && p.Corner != step.Corner || p.Axle != "" && p.Axle != step.Axle {
			continue
		}
		text := p.Name
		if p.Mark != "" {
			text = lang.F("%s, marked %s", text, p.Mark)
		}
		out = append(out, text)
	}
	return out
}

// points says where the sheet puts jack and stands at an axle.
func (c *Client) points(axle event.Axle) []string {
	var out []string
	for _, p := range c.sheet.Vehicle.Points {
		if p.Axle != axle {
			continue
		}
		text := lang.F("Stands: %s.", p.Place)
		if p.Use == sheet.UseJack {
			text = lang.F("Jack: %s.", p.Place)
		}
		if p.Caution != "" {
			text += " " + p.Caution
		}
		out = append(out, text)
	}
	if len(out) == 0 {
		return nil
	}
	return append(out, lang.F("Source: %s. The maker's manual decides.", pick(c.sheet.Vehicle.Source, lang.T("not named"))))
}
