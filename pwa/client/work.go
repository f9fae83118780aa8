package client

import (
	"context"
	"strconv"
	"strings"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/guide"
	"strutcard/sync/sheet"
)

// step returns the step that is shown.
func (c *Client) step() (*sheet.Step, guide.Guide) {
	g, ok := c.guide()
	if !ok {
		return nil, g
	}
	if c.view.Step != "" && c.sheet.Step(c.view.Step) != nil {
		return c.sheet.Step(c.view.Step), g
	}
	return g.Next(), g
}

// wantStep returns the shown step, or says that there is none.
func (c *Client) wantStep() (*sheet.Step, guide.Guide, error) {
	step, g := c.step()
	if step == nil {
		return nil, g, fault.New(fault.NotFound, "No step is open.", "Open the list of steps.")
	}
	return step, g, nil
}

func whole(text, what string) (int64, error) {
	text = strings.TrimSpace(text)
	n, err := strconv.ParseInt(text, 10, 64)
	if err != nil || n < 0 {
		return 0, fault.New(fault.Invalid, lang.F("%s must be a whole number.", what), "Type digits only.")
	}
	return n, nil
}

func countPart(c *Client, ctx context.Context, args map[string]string) error {
	found, err := whole(args["found"], lang.T("The count"))
	if err != nil {
		return err
	}
	damaged := int64(0)
	if args["damaged"] != "" {
		if damaged, err = whole(args["damaged"], lang.T("The damaged count")); err != nil {
			return err
		}
	}
	if err := c.record(ctx, &event.PartCounted{Part: event.PartID(args["part"]), Found: found, Damaged: damaged}); err != nil {
		return err
	}
	c.dropDrafts(ctx, "part.found", "part.damaged")
	return nil
}

func answer(c *Client, ctx context.Context, args map[string]string) error {
	step, _, err := c.wantStep()
	if err != nil {
		return err
	}
	c.view.Again = ""
	return c.record(ctx, &event.CheckAnswered{Axle: step.Axle, Move: step.Move, Check: event.CheckID(args["check"]), Answer: event.Answer(args["answer"])})
}

// askAgain leaves the stop and asks every check of the move from the first.
func askAgain(c *Client, _ context.Context, _ map[string]string) error {
	step, g, err := c.wantStep()
	if err != nil {
		return err
	}
	if check, _ := g.Stopped(step.Axle, step.Move); check != nil {
		c.view.Again = check.ID
	}
	return nil
}

func override(c *Client, ctx context.Context, args map[string]string) error {
	step, g, err := c.wantStep()
	if err != nil {
		return err
	}
	asks := g.Todo(step)
	if len(asks) == 0 || asks[0].Check == "" {
		return fault.New(fault.NotFound, "No check is open.", "Look at the step again.")
	}
	if strings.TrimSpace(args["reason"]) == "" {
		return fault.New(fault.Invalid, "A check is overridden only with a reason.", "Write the reason, or make it true and answer yes.")
	}
	err = c.record(ctx, &event.CheckAnswered{Axle: step.Axle, Move: step.Move, Check: asks[0].Check, Answer: event.Override, Reason: args["reason"]})
	if err == nil {
		c.dropDrafts(ctx, "override.reason")
	}
	return err
}

// move records the raise or lower and closes its step.
func move(c *Client, ctx context.Context, _ map[string]string) error {
	step, _, err := c.wantStep()
	if err != nil {
		return err
	}
	if step.Move == event.Raise {
		err = c.record(ctx, &event.CarRaised{Axle: step.Axle})
	} else {
		err = c.record(ctx, &event.CarLowered{Axle: step.Axle})
	}
	if err != nil {
		return err
	}
	return stepDone(c, ctx, nil)
}

func loosen(c *Client, ctx context.Context, args map[string]string) error {
	return c.record(ctx, &event.FastenerLoosened{Fastener: event.FastenerID(args["fastener"])})
}

func fit(c *Client, ctx context.Context, args map[string]string) error {
	return c.record(ctx, &event.FastenerFitted{Fastener: event.FastenerID(args["fastener"]), Renewed: args["renewed"] == "yes"})
}

func mark(c *Client, ctx context.Context, args map[string]string) error {
	return c.record(ctx, &event.FastenerMarked{Fastener: event.FastenerID(args["fastener"])})
}

// makePass records a pass at the torque that was on the screen: if the number
// has changed since it was painted, the guide refuses. So is a changed setting.
func makePass(c *Client, ctx context.Context, args map[string]string) error {
	g, ok := c.guide()
	if !ok {
		return fault.New(fault.NotFound, "No job is open.", "Open a job first.")
	}
	f := c.sheet.Fastener(event.FastenerID(args["fastener"]))
	if f == nil || f.Pass(event.PassID(args["pass"])) == nil {
		return fault.New(fault.NotFound, "This sheet has no such pass.", "Go back to the step.")
	}
	shown, err := whole(args["shown"], lang.T("The torque"))
	if err != nil {
		return err
	}
	p := c.passPayload(g, f, f.Pass(event.PassID(args["pass"])))
	p.TorqueCNM = shown
	if set, painted := args["set"]; painted && (set != strconv.FormatInt(p.SetCNM, 10) || args["wrench"] != string(p.Wrench) || args["adapter"] != string(p.Adapter)) {
		return fault.New(fault.Conflict, "What to set on the wrench has changed since it was shown. Nothing was recorded.", "Look at the new number, set it and tighten again.")
	}
	return c.record(ctx, p)
}

// stepDone closes the shown step and goes to the next one.
func stepDone(c *Client, ctx context.Context, _ map[string]string) error {
	step, _, err := c.wantStep()
	if err != nil {
		return err
	}
	if err := c.record(ctx, &event.StepDone{Step: step.ID}); err != nil {
		return err
	}
	return c.goOn(ctx)
}

// begin records that the shown step was read and started.
func begin(c *Client, ctx context.Context, args map[string]string) error {
	return c.record(ctx, &event.StepStarted{Step: event.StepID(args["step"])})
}

// goOn follows the guide to where the work goes on. A step with nothing to read
// first begins by itself.
func (c *Client) goOn(ctx context.Context) error {
	c.view.Step = ""
	g, ok := c.guide()
	if !ok {
		return nil
	}
	next := g.Next()
	if next == nil || next.Later || c.unread(next) {
		return nil
	}
	if status, _ := g.Status(next); status != guide.Open || c.log.State().Here == next.ID {
		return nil
	}
	return c.record(ctx, &event.StepStarted{Step: next.ID})
}

func skipStep(c *Client, ctx context.Context, args map[string]string) error {
	step, _, err := c.wantStep()
	if err != nil {
		return err
	}
	if strings.TrimSpace(args["reason"]) == "" {
		return fault.New(fault.Invalid, "A step is skipped only with a reason.", "Write the reason. The shop sees it.")
	}
	if err := c.record(ctx, &event.StepSkipped{Step: step.ID, Reason: args["reason"]}); err != nil {
		return err
	}
	c.dropDrafts(ctx, "skip.reason")
	return c.goOn(ctx)
}

func release(c *Client, ctx context.Context, args map[string]string) error {
	if args["as"] == "mentor" {
		return c.releaseAsMentor(ctx, event.StepID(args["step"]), args["reason"])
	}
	step, _, err := c.wantStep()
	if err != nil {
		return err
	}
	if len(strings.TrimSpace(args["reason"])) < fewWords {
		return fault.New(fault.Invalid, "A hold point is released only with a word on who looked, or what you checked.", "Write it. The shop sees it.")
	}
	if err := c.record(ctx, &event.HoldReleased{Step: step.ID, By: "installer", Reason: args["reason"], Done: c.log.State().Steps[step.ID].DoneBy}); err != nil {
		return err
	}
	c.dropDrafts(ctx, "release.reason")
	return c.goOn(ctx)
}
