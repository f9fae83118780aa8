package client

import (
	"context"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/calc/torque"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/guide"
	"strutcard/sync/kit"
	"strutcard/sync/sheet"
	"strutcard/templates"
)

// draftWay is where the wrench and adapter chosen for a fastener are kept. It is
// of one fastener: an adapter taken for one must not change another's setting.
func (c *Client) draftWay(f event.FastenerID) string {
	return "way." + string(c.view.Job) + "." + string(f)
}

func wayKey(wrench, adapter event.ToolID) string { return string(wrench) + " " + string(adapter) }

// chosen is what to set for a pass on the wrench and adapter that the person
// took, or on the best of those here; ok is false when none can be used.
func (c *Client) chosen(g guide.Guide, f *sheet.Fastener, p *sheet.Pass) (s guide.Setting, ok bool) {
	for _, way := range g.Choices(f, p) {
		if way.Why != "" {
			continue
		}
		if here := wayKey(way.Wrench, way.Adapter) == c.drafts[c.draftWay(f.ID)]; here || !ok {
			s, ok = way.Setting, true
			if here {
				break
			}
		}
	}
	if ok {
		s = c.onMark(g, s)
	}
	return s, ok
}

// onMark rounds a setting down to a mark of the wrench's scale where that is
// known and the fastener still gets what the sheet allows.
func (c *Client) onMark(g guide.Guide, s guide.Setting) guide.Setting {
	x := c.mine(g, s.Wrench)
	if x == nil || x.StepCNM == 0 {
		return s
	}
	down, err := s.Down(quantity.TorqueFromCNM(x.StepCNM))
	if err != nil || down.Fit != torque.Within || down.Bolt < s.Target-s.Tolerated && s.Tolerated > 0 {
		return s
	}
	return down
}

// mine is the owner's tool that stands in a job's place, or nil.
func (c *Client) mine(g guide.Guide, id event.ToolID) *kit.Item {
	x := c.kit.Match(id, g.State.Tools[id])
	if x == nil || x.Kind != c.toolKind(id) {
		return nil
	}
	return x
}

// withWrench puts wrench and adapter, what to set on it and what that comes to
// on the torque sheet.
func (c *Client) withWrench(t *templates.Torque, g guide.Guide, f *sheet.Fastener, p *sheet.Pass) {
	s, ok := c.chosen(g, f, p)
	t.NoWrench = !ok && t.Figure != ""
	if ok {
		t.Wrench = lang.F("On: %s", wayName(g, s))
		if words := c.itemOf(sheet.TorqueWrench, g.State.Tools[s.Wrench]).Words(c.units); words != "" {
			t.Wrench += ", " + words
		}
		if set := c.units.TorqueFigure(s.Set); set != t.Figure {
			t.Set = set
		}
		t.Said = append(c.scaleWords(g, s), s.Words(c.units)...)
	}
	for _, way := range g.Choices(f, p) {
		switch {
		case way.Why == "":
			here := ok && way.Wrench == s.Wrench && way.Adapter == s.Adapter
			t.Ways = append(t.Ways, templates.TorqueWay{Wrench: string(way.Wrench), Adapter: string(way.Adapter), Here: here, Label: c.wayWords(g, c.onMark(g, way.Setting))})
		case way.Fit != "":
			t.Cannot = append(t.Cannot, lang.F("%s: %s to set is %s.", capital(wayName(g, way.Setting)), c.units.FormatTorque(way.Set), way.Fit.Words()))
		default:
			t.Cannot = append(t.Cannot, capital(wayName(g, way.Setting))+": "+way.Why)
		}
	}
}

// scaleWords give the number in the unit of the wrench's own scale, where that
// is not the one of the display.
func (c *Client) scaleWords(g guide.Guide, s guide.Setting) []string {
	x := c.mine(g, s.Wrench)
	if x == nil || !quantity.TorqueUnit(x.Unit).Valid() || x.Unit == string(c.units.OrDefault().Torque) {
		return nil
	}
	return []string{lang.F("On its own scale: %s.", quantity.FormatTorque(s.Set, quantity.TorqueUnit(x.Unit)))}
}

func wayName(g guide.Guide, s guide.Setting) string {
	if s.Adapter == "" {
		return g.ToolName(s.Wrench)
	}
	return lang.F("%s with %s", g.ToolName(s.Wrench), g.ToolName(s.Adapter))
}

func (c *Client) wayWords(g guide.Guide, s guide.Setting) string {
	return wayName(g, s) + ": " + c.units.FormatTorque(s.Set)
}

// useWrench takes another wrench or adapter for a fastener.
func useWrench(c *Client, ctx context.Context, args map[string]string) error {
	f := c.findFastener(args["fastener"])
	if f == nil {
		return fault.New(fault.NotFound, "This sheet has no such fastener.", "Go back to the step.")
	}
	c.drafts[c.draftWay(f.ID)] = wayKey(event.ToolID(args["wrench"]), event.ToolID(args["adapter"]))
	c.saveJSON(ctx, metaDrafts, c.drafts)
	return nil
}
