package client

import (
	"context"
	"math"
	"strings"

	"strutcard/calc/quantity"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/templates"
)

// adjustable lists what can be changed on the car and makes readings stale.
func adjustable() []templates.Choice {
	out := []templates.Choice{{Value: string(event.Load) + ":", Label: "Load in the car"}}
	for _, q := range []event.Quantity{event.RideHeight, event.Camber, event.Caster, event.Toe, event.Spring, event.TyrePressure} {
		for _, corner := range event.Corners {
			out = append(out, templates.Choice{Value: string(q) + ":" + string(corner), Label: changeWords(q, corner)})
		}
	}
	return out
}

func adjusterWords(q event.Quantity) string {
	switch q {
	case event.RideHeight, event.Camber, event.Caster:
		return capital(q.Words()) + " adjuster"
	case event.Toe:
		return "Track rod or toe adjuster"
	}
	return capital(q.Words())
}

var countedIn = []templates.Choice{{Value: "", Label: "not counted"}, {Value: "mm", Label: "mm"}, {Value: "turn", Label: "turns"}, {Value: "graduation", Label: "graduations"}}

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
	if err := c.record(ctx, p); err != nil {
		return err
	}
	c.dropDrafts(ctx, "adjust.before", "adjust.after", "adjust.position")
	c.message = &templates.Message{Text: "Recorded: " + changeWords(p.Quantity, p.Corner) + ", " + changeMade(p) + ".", Hint: "Readings that depend on it are stale now."}
	return nil
}
