package client

import (
	"context"
	"fmt"
	"strings"

	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/guide"
	"strutcard/templates"
)

const defaultLoad = "as it stands, nobody in the car"

func isReadingDraft(key string) bool { return strings.HasPrefix(key, "reading.") }

// readingForm shows the inputs as they stand and what they come to.
func (c *Client) readingForm(g guide.Guide, q event.Quantity, corner event.Corner, purpose event.Purpose) *templates.ReadingForm {
	f := &templates.ReadingForm{Quantity: string(q), Corner: string(corner), Purpose: string(purpose),
		Title: capital(guide.ReadingWords(q, corner)), Unit: c.units.lengthName(), Load: defaultLoad,
		Gap: c.drafts["reading.gap"], Span: c.drafts["reading.span"], Res: c.drafts["reading.resolution"], Value: c.drafts["reading.value"],
		GapAt: c.drafts["reading.gap_at"], Along: c.drafts["reading.along"]}
	if q == event.Camber {
		f.Words = "Hold the level plumb against the rim, one end touching. Measure the gap at the other end."
	} else {
		f.Words = "Measure straight up from the hub centre to the arch edge."
	}
	if corner != "" && c.sheet != nil {
		if t := c.sheet.Target(q, corner.Axle()); t != nil {
			f.Target = c.units.target(t)
		}
		if before := g.State.Reading(q, corner, event.Before); before != nil && purpose != event.Before {
			f.Before = c.units.reading(before)
		}
	}
	reading, err := c.compute(readingArgs(f), q, corner, purpose)
	if err != nil {
		f.Problem = fault.Of(err).Message
		return f
	}
	f.Result = c.result(g, reading)
	return f
}

func readingArgs(f *templates.ReadingForm) map[string]string {
	return map[string]string{"gap": f.Gap, "span": f.Span, "resolution": f.Res, "value": f.Value, "gap_at": f.GapAt, "along": f.Along}
}

// compute turns what was typed into a reading, with its uncertainty.
func (c *Client) compute(args map[string]string, q event.Quantity, corner event.Corner, purpose event.Purpose) (*event.ReadingTaken, error) {
	r := &event.ReadingTaken{Quantity: q, Corner: corner, Purpose: purpose, Load: defaultLoad}
	var err error
	if r.ResUM, err = c.units.length(args["resolution"], "The ruler's smallest mark"); err != nil {
		return nil, err
	}
	if q == event.RideHeight {
		return c.computeHeight(r, args)
	}
	return c.computeCamber(r, args)
}

func (c *Client) computeHeight(r *event.ReadingTaken, args map[string]string) (*event.ReadingTaken, error) {
	var err error
	r.Method, r.Formula = "tape, hub centre to arch edge", ""
	if r.ValueUM, err = c.units.length(args["value"], "The height"); err != nil {
		return nil, err
	}
	if r.ResUM <= 0 {
		return nil, fault.New(fault.Invalid, "The ruler's smallest mark must be above zero.", "Type the distance between two marks, such as 1 mm.")
	}
	r.U95UM = resolutionU95(r.ResUM)
	return r, nil
}

func (c *Client) result(g guide.Guide, r *event.ReadingTaken) *templates.Result {
	out := &templates.Result{Value: c.units.taken(r)}
	if r.Quantity == event.Camber {
		out.Words = camberWords(r.ValueMD)
		out.Line = c.units.camberLine(r)
		out.Draw = c.units.triangle(r)
	} else {
		out.Line = fmt.Sprintf("One reading, ruler marked every %s", c.units.lengthWords(r.ResUM))
	}
	if c.sheet != nil && r.Corner != "" {
		verdict := g.Judge(r)
		out.Verdict, out.VerdictMark = verdict.Words(), string(verdict)
	}
	return out
}

func takeReading(c *Client, ctx context.Context, args map[string]string) error {
	q, corner, purpose := event.Quantity(args["quantity"]), event.Corner(args["corner"]), event.Purpose(args["purpose"])
	r, err := c.compute(args, q, corner, purpose)
	if err != nil {
		return err
	}
	if err := c.record(ctx, r); err != nil {
		return err
	}
	c.dropDrafts(ctx, "reading.gap", "reading.gap_at", "reading.value") // the span and the ruler stay
	if c.view.Place == "reading" {
		c.view.Place = "measure"
	}
	return nil
}

func adjust(c *Client, ctx context.Context, args map[string]string) error {
	q, corner, ok := strings.Cut(args["which"], ":")
	if !ok {
		return fault.New(fault.Invalid, "Say which adjuster was moved.", "Choose it from the list.")
	}
	if strings.TrimSpace(args["after"]) == "" {
		return fault.New(fault.Invalid, "Say where the adjuster stands now.", "A number, a mark, or a count from a stop.")
	}
	err := c.record(ctx, &event.AdjustmentMade{Quantity: event.Quantity(q), Corner: event.Corner(corner), Before: args["before"], After: args["after"]})
	if err == nil {
		c.dropDrafts(ctx, "adjust.before", "adjust.after")
	}
	return err
}

func camberWords(mdeg int64) string {
	switch {
	case mdeg < 0:
		return "Negative: the top of the wheel leans in, towards the car."
	case mdeg > 0:
		return "Positive: the top of the wheel leans out, away from the car."
	}
	return "Upright."
}
