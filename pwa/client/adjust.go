package client

import (
	"context"
	"math"
	"strings"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/templates"
)

// adjustable lists what can be changed on the car and makes readings stale.
func adjustable() []templates.Choice {
	out := []templates.Choice{{Value: string(event.Load) + ":", Label: lang.T("Load in the car")}}
	for _, q := range []event.Quantity{event.RideHeight, event.Camber, event.Caster, event.Toe, event.Spring, event.TyrePressure} {
		for _, corner := range event.Corners {
			out = append(out, templates.Choice{Value: string(q) + ":" + string(corner), Label: changeWords(q, corner)})
		}
	}
	return out
}

func adjusterWords(q event.Quantity) string {
	switch q {
	case event.RideHeight:
		return lang.T("Ride height adjuster")
	case event.Camber:
		return lang.T("Camber adjuster")
	case event.Caster:
		return lang.T("Caster adjuster")
	case event.Toe:
		return lang.T("Track rod or toe adjuster")
	}
	return capital(lang.T(q.Words()))
}

// countedIn are the units that a position is counted in.
func countedIn() []templates.Choice {
	return []templates.Choice{{Value: "", Label: lang.T("not counted")}, {Value: "mm", Label: "mm"},
		{Value: "turn", Label: lang.C("turns", "counted")}, {Value: "graduation", Label: lang.C("graduations", "counted")}}
}

// adjust records that something was changed. A counted position lets the next
// move be learned from this corner.
func adjust(c *Client, ctx context.Context, args map[string]string) error {
	q, corner, ok := strings.Cut(args["which"], ":")
	if !ok {
		return fault.New(fault.Invalid, "Say what was changed.", "Choose it from the list.")
	}
	if strings.TrimSpace(args["after"]) == "" {
		return fault.New(fault.Invalid, "Say how it is now.", "A number, a mark, or a count from a stop.")
	}
	p := &event.AdjustmentMade{Quantity: event.Quantity(q), Corner: event.Corner(corner), Before: strings.TrimSpace(args["before"]), After: strings.TrimSpace(args["after"]), Unit: args["unit"]}
	if p.Unit != "" {
		count, err := quantity.CountOf(args["position"])
		if err != nil {
			return input(err)
		}
		p.Position = int64(math.Round(count.Count() * 1000))
	}
	if p.Before == p.After && p.Unit == "" {
		return fault.New(fault.Invalid, "It is the same before and after, so nothing was changed. Nothing was recorded.", "Say how it was and how it is now.")
	}
	if err := c.record(ctx, p); err != nil {
		return err
	}
	c.dropDrafts(ctx, "adjust.before", "adjust.after", "adjust.position")
	c.message = &templates.Message{Text: lang.F("Recorded: %s, %s.", changeWords(p.Quantity, p.Corner), changeMade(p)), Hint: lang.T("Readings that depend on it are stale now.") + c.unlocked(p)}
	return nil
}

// unlocked says which fasteners must be made final again because of a change.
func (c *Client) unlocked(p *event.AdjustmentMade) string {
	g, ok := c.guide()
	if !ok {
		return ""
	}
	var names []string
	for _, item := range g.NotFinal() {
		if f := item.Fastener; f.Holds == p.Quantity && f.Corner == p.Corner {
			names = append(names, f.Name())
		}
	}
	if len(names) == 0 {
		return ""
	}
	return " " + lang.F("Not final in the tally: %s.", strings.Join(names, "; "))
}
