package guide

import (
	"cmp"
	"errors"
	"maps"
	"slices"
	"sort"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/calc/torque"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
	"strutcard/sync/units"
)

// Setting is what to set on one wrench, with one adapter or none, so that the
// fastener gets its torque.
type Setting struct {
	Wrench    event.ToolID
	Adapter   event.ToolID // "" for none
	Target    quantity.Torque
	Tolerated quantity.Torque // what the sheet allows either way; 0 when it does not say
	Set       quantity.Torque
	Fit       torque.Fit      // of what is set, not of the target, in the range of the wrench
	Bolt      quantity.Torque // what the fastener gets from a wrench without error
	Low, High quantity.Torque // and from this one; 0 while its tolerance is not known
	Across    bool            // the adapter stands square to the handle

	wrench    torque.Wrench
	tolerance quantity.Ratio
	lever     quantity.Length
	adapter   torque.Adapter // its length is 0 where it changes nothing
}

// Choice is one wrench with one adapter or none, and why it cannot be used.
type Choice struct {
	Setting
	Why string // "" when it can
}

// Setting reckons what to set for a pass on the given wrench with the given
// adapter ("" for none). It fails when the torque, or a length that is needed,
// is not known, or the tool is not here. Look at Fit before using it.
func (g Guide) Setting(f *sheet.Fastener, p *sheet.Pass, wrench, adapter event.ToolID) (Setting, error) {
	spec, known := g.Spec(f, p)
	if !known || spec.TorqueCNM == 0 {
		return Setting{}, fault.New(fault.Invalid, "There is no torque to set for this pass.", "Look it up, or make it as the step says.")
	}
	return g.setting(spec, wrench, adapter)
}

func (g Guide) setting(spec Spec, wrench, adapter event.ToolID) (Setting, error) {
	s := Setting{Wrench: wrench, Adapter: adapter, Target: quantity.TorqueFromCNM(spec.TorqueCNM), Tolerated: quantity.TorqueFromCNM(spec.TolCNM)}
	w := g.State.Tools[wrench]
	if !slices.Contains(g.AtHand(sheet.TorqueWrench), wrench) || w.HighCNM == 0 {
		return s, fault.New(fault.NotFound, "This wrench is not on the list, or its range is not.", "List it with its usable range at the step that checks the tools.")
	}
	s.wrench = rangeOf(w)
	s.tolerance, s.lever = toleranceOf(w, s.wrench), quantity.LengthFromUM(w.LengthUM)
	if adapter != "" {
		a := g.State.Tools[adapter]
		if !slices.Contains(g.AtHand(sheet.Adapter), adapter) {
			return s, fault.New(fault.NotFound, "This adapter is not on the list.", "List it at the step that checks the tools.")
		}
		if s.Across = a.Across; !s.Across {
			s.adapter.Length = quantity.LengthFromUM(a.LengthUM)
			if a.LengthUM == 0 {
				return s, fault.New(fault.Invalid, lang.F("The length of %s is not known.", g.ToolName(adapter)), "Measure from the middle of the drive to the middle of the fastener.")
			}
		}
	}
	set := s.Target
	if s.adapter.Length > 0 {
		var err error
		if set, err = torque.Setting(s.Target, s.lever, s.adapter); err != nil {
			return s, input(err)
		}
	}
	return s.at(set)
}

func rangeOf(t job.Tool) torque.Wrench {
	return torque.Wrench{Lowest: quantity.TorqueFromCNM(t.LowCNM), Highest: quantity.TorqueFromCNM(t.HighCNM)}
}

// toleranceOf is what its owner noted of it, or what its class permits; 0 while
// neither is known.
func toleranceOf(t job.Tool, w torque.Wrench) quantity.Ratio {
	if t.Tolerance > 0 {
		return quantity.Ratio(t.Tolerance) / 1000
	}
	permitted, err := torque.Class(t.Class).Tolerance(w.Highest)
	if err != nil {
		return 0
	}
	return permitted
}

// at fills in what follows from the value that is set.
func (s Setting) at(set quantity.Torque) (Setting, error) {
	var err error
	s.Set = set
	if s.Fit, err = s.wrench.Fit(set); err != nil {
		return s, input(err)
	}
	if s.Bolt, err = s.delivered(set); err != nil {
		return s, input(err)
	}
	if s.tolerance == 0 {
		return s, nil
	}
	low, high, err := torque.Window(set, s.tolerance)
	if err != nil {
		return s, input(err)
	}
	if s.Low, err = s.delivered(low); err != nil {
		return s, input(err)
	}
	s.High, err = s.delivered(high)
	return s, err
}

func (s Setting) delivered(set quantity.Torque) (quantity.Torque, error) {
	if s.adapter.Length == 0 {
		return set, nil
	}
	return torque.Delivered(set, s.lever, s.adapter)
}

// Down is the same setting rounded down to a mark of the wrench.
func (s Setting) Down(step quantity.Torque) (Setting, error) {
	set, err := torque.Graduate(s.Set, step)
	if err != nil {
		return s, input(err)
	}
	return s.at(set)
}

// Words say what the adapter and the wrench make of it, one sentence each.
func (s Setting) Words(u units.Set) []string {
	var out []string
	switch {
	case s.Across:
		out = append(out, lang.T("The adapter stands square to the handle: it changes nothing. Keep it square while you pull."))
	case s.Adapter != "":
		out = append(out, lang.T("The adapter makes the lever longer, so the wrench is set lower than what the fastener gets. Keep it straight in line, and pull at the middle of the grip."))
	}
	if s.Low == 0 {
		if s.Bolt.CNM() < s.Target.CNM() {
			out = append(out, lang.F("Rounded down to a mark, the fastener gets %s.", u.FormatTorque(s.Bolt)))
		}
		return append(out, lang.T("How far this wrench may be off is not known."))
	}
	out = append(out, lang.F("While the wrench keeps its tolerance, the fastener gets %s to %s.", u.TorqueFigure(s.Low), u.FormatTorque(s.High)))
	if s.Tolerated > 0 && (s.Low < s.Target-s.Tolerated || s.High > s.Target+s.Tolerated) {
		out = append(out, lang.T("That reaches beyond what the sheet allows. A finer wrench would not."))
	}
	return out
}

// Choices lists every wrench that is here, with every adapter and without. Those
// that can be used come first, the best of them first: no adapter before one,
// then the wrench whose range reaches least far up, since its marks are finer. A
// wrench is as good at the ends of its range as in the middle: its tolerance is
// of the value set, from the lowest to the highest (ISO 6789, package torque).
// For a share of the final torque, a wrench that goes on to the end comes first.
func (g Guide) Choices(f *sheet.Fastener, p *sheet.Pass) []Choice {
	spec, known := g.Spec(f, p)
	if !known || spec.TorqueCNM == 0 {
		return nil
	}
	out := g.choices(spec)
	if p.Kind == sheet.Partial {
		last, _ := g.Spec(f, f.Final())
		sort.SliceStable(out, func(i, j int) bool {
			a, b := out[i], out[j]
			return cmp.Or(rank(a.Why != "", b.Why != ""), rank(!g.reaches(a, last), !g.reaches(b, last))) < 0
		})
	}
	return out
}

// reaches reports whether a wrench and adapter can be set for another torque too.
func (g Guide) reaches(c Choice, spec Spec) bool {
	s, err := g.setting(spec, c.Wrench, c.Adapter)
	return err == nil && s.Fit == torque.Within
}

func (g Guide) choices(spec Spec) []Choice {
	var out []Choice
	adapters := append([]event.ToolID{""}, g.AtHand(sheet.Adapter)...)
	for _, wrench := range g.AtHand(sheet.TorqueWrench) {
		for _, adapter := range adapters {
			c := Choice{}
			s, err := g.setting(spec, wrench, adapter)
			c.Setting = s
			switch {
			case err != nil:
				c.Why = err.Error()
			case s.Fit != torque.Within:
				c.Why = lang.F("To set: %s, %s.", newtonMetres(s.Set.CNM()), s.Fit.Words())
			}
			out = append(out, c)
		}
	}
	sort.SliceStable(out, func(i, j int) bool {
		a, b := out[i], out[j]
		return cmp.Or(rank(a.Why != "", b.Why != ""), rank(a.Adapter != "", b.Adapter != ""), cmp.Compare(a.wrench.Highest, b.wrench.Highest)) < 0
	})
	return out
}

func rank(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

// usable are the choices that can be used.
func (g Guide) usable(spec Spec) []Choice {
	return slices.DeleteFunc(g.choices(spec), func(c Choice) bool { return c.Why != "" })
}

// AtHand lists the tools of a kind that are here: the sheet's in its order, then
// the owner's own.
func (g Guide) AtHand(kind sheet.ToolKind) []event.ToolID {
	var out []event.ToolID
	for _, t := range g.Sheet.Tools {
		if t.Kind == kind && g.State.Tools[t.ID].Have {
			out = append(out, t.ID)
		}
	}
	for _, id := range slices.Sorted(maps.Keys(g.State.Tools)) {
		t := g.State.Tools[id]
		if g.Sheet.Tool(id) == nil && t.Have && t.Type == string(kind) && kind != sheet.Plain {
			out = append(out, id)
		}
	}
	return out
}

// ToolName is what its owner calls a tool, or what the sheet does.
func (g Guide) ToolName(id event.ToolID) string {
	known, got := g.Sheet.Tool(id), g.State.Tools[id]
	switch {
	case got.Label != "":
		return got.Label
	case known != nil:
		return known.Name
	case got.Type == string(sheet.Adapter):
		return lang.T("an adapter")
	}
	return lang.T("a torque wrench")
}

// input turns a formula's complaint into a fault.
func input(err error) error {
	var e *quantity.InputError
	if errors.As(err, &e) {
		return fault.New(fault.Invalid, e.What, e.Next)
	}
	return err
}
