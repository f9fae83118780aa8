package method

import (
	"maps"
	"slices"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/calc/torque"
	"strutcard/sync/event"
	"strutcard/sync/job"
	"strutcard/sync/units"
)

// None of these gives a torque to use: every torque is typed from a source.
var torqueMethods = []Method{torqueConvert, torqueAdapter, torqueWrench, torqueWeight, torquePasses, castleNut, recheck, threadQuestion, threadEngagement, threadSurface}

const makerDecides = "The maker's manual decides. When it says something else, it is right."

// wrenchFields ask what the maker marks on the wrench.
func wrenchFields(optional bool) []Field {
	return []Field{
		{Name: "wrench_high", Label: "Highest value on the wrench", Kind: TorqueValue, Keep: true, Optional: optional},
		{Name: "wrench_low", Label: "Lowest value that its maker states", Kind: TorqueValue, Keep: true, Optional: true},
	}
}

// wrench reads them.
func (in *In) wrench() torque.Wrench {
	return torque.Wrench{Lowest: in.Torque("wrench_low"), Highest: in.Torque("wrench_high")}
}

// wrenches are the torque wrenches at hand whose range is recorded, by name.
func (r Record) wrenches() (names []string, tools []job.Tool) {
	if r.State == nil {
		return nil, nil
	}
	for _, id := range slices.Sorted(maps.Keys(r.State.Tools)) {
		if t := r.State.Tools[id]; t.Have && t.HighCNM > 0 {
			names, tools = append(names, r.toolName(id, t)), append(tools, t)
		}
	}
	return names, tools
}

func (r Record) toolName(id event.ToolID, t job.Tool) string {
	if t.Label != "" {
		return t.Label
	}
	if r.Sheet != nil {
		if known := r.Sheet.Tool(id); known != nil {
			return known.Name
		}
	}
	return lang.T("Wrench")
}

func marked(t job.Tool) torque.Wrench {
	return torque.Wrench{Lowest: quantity.TorqueFromCNM(t.LowCNM), Highest: quantity.TorqueFromCNM(t.HighCNM)}
}

// fillWrench offers the range of the recorded wrench. Of several none is offered:
// which one is in the hand is not known.
func fillWrench(r Record) map[string]string {
	_, tools := r.wrenches()
	if len(tools) != 1 {
		return nil
	}
	w := marked(tools[0])
	out := map[string]string{"wrench_high": r.Units.TorqueFigure(w.Highest)}
	if w.Lowest > 0 {
		out["wrench_low"] = r.Units.TorqueFigure(w.Lowest)
	}
	return out
}

// torques writes a range.
func torques(u units.Set, low, high quantity.Torque) string {
	return lang.F("%s to %s", u.TorqueFigure(low), u.FormatTorque(high))
}

// typedAs is an answer as it was typed, with its unit.
func (in *In) typedAs(name string) string { return in.Typed(name) + " " + in.Unit(in.field(name).Kind) }

// turnedBy writes an angle that something is turned by, without empty decimals.
func turnedBy(a quantity.Angle) string { return quantity.Count(a.Degrees()).String() + "°" }

// only keeps the sentences that say something.
func only(sentences ...string) []string {
	return slices.DeleteFunc(sentences, func(s string) bool { return s == "" })
}
