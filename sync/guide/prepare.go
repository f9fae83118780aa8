package guide

import (
	"slices"
	"sort"
	"strings"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
	"strutcard/sync/sheet"
	"strutcard/sync/units"
)

// Need is one torque at one kind of place, with the corners where it is wanted.
type Need struct {
	Place   string
	Pass    sheet.PassKind
	Torque  quantity.Torque // 0 while it is not known
	Corners []event.Corner
	Setting *Setting // the best, where one is to be said
}

// Range is what a wrench must at least reach.
type Range struct{ Low, High quantity.Torque }

// Preparation is what this sheet asks of these tools, to be known before the car
// goes up.
type Preparation struct {
	Wrenches   bool     // any torque wrench with a range is listed
	Missing    []Need   // no listed wrench can be set for it
	Adapter    []Need   // only with an adapter, which changes what is set
	Borrow     []Range  // what covers the missing ones; without a wrench, all of them
	NotKnown   []Need   // no torque is known
	Unverified []Need   // the torque is questioned
	Ratings    []Rating // of jack and stands
	Unreversed []string // gauges without a check
	Unsaid     []string // what is not known of the tools, a sentence each
}

// Prepare compares the sheet with the tools that are listed.
func (g Guide) Prepare() Preparation {
	p := Preparation{Ratings: g.Ratings()}
	var asked []quantity.Torque
	for i := range g.Sheet.Fasteners {
		f := &g.Sheet.Fasteners[i]
		for j := range f.Passes {
			pass := &f.Passes[j]
			if pass.Kind == sheet.Recheck || pass.Kind == sheet.BackOff {
				continue
			}
			if t := p.add(g, f, pass); t > 0 {
				asked = append(asked, t)
			}
		}
	}
	p.tools(g)
	if p.Wrenches {
		asked = nil
		for _, n := range p.Missing {
			asked = append(asked, n.Torque)
		}
	} else {
		p.Missing = nil
	}
	p.Borrow = borrow(asked)
	return p
}

// add files one pass where it belongs, and returns its torque when it has one.
func (p *Preparation) add(g Guide, f *sheet.Fastener, pass *sheet.Pass) quantity.Torque {
	spec, known := g.Spec(f, pass)
	need := Need{Place: f.Place, Pass: pass.Kind, Torque: quantity.TorqueFromCNM(spec.TorqueCNM)}
	switch {
	case !known:
		if pass.Kind != sheet.Partial { // a share is known when the whole is
			p.NotKnown = with(p.NotKnown, need, f.Corner)
		}
		return 0
	case spec.Unverified():
		p.Unverified = with(p.Unverified, need, f.Corner)
	}
	if pass.Kind == sheet.Angle || spec.TorqueCNM == 0 { // snug by hand
		return 0
	}
	usable := g.usable(spec)
	switch {
	case len(usable) == 0:
		p.Missing = with(p.Missing, need, f.Corner)
	case usable[0].Adapter != "":
		need.Setting = &usable[0].Setting
		p.Adapter = with(p.Adapter, need, f.Corner)
	}
	return need.Torque
}

// with adds a corner to the need that is the same but for it.
func with(needs []Need, n Need, corner event.Corner) []Need {
	for i := range needs {
		same := needs[i].Place == n.Place && needs[i].Pass == n.Pass && needs[i].Torque.CNM() == n.Torque.CNM()
		if same && !slices.Contains(needs[i].Corners, corner) {
			needs[i].Corners = append(needs[i].Corners, corner)
			return needs
		}
	}
	n.Corners = []event.Corner{corner}
	return append(needs, n)
}

// tools says what is not known of the tools that are listed.
func (p *Preparation) tools(g Guide) {
	adapters := g.AtHand(sheet.Adapter)
	inLine := slices.ContainsFunc(adapters, func(id event.ToolID) bool { return !g.State.Tools[id].Across })
	for _, id := range g.AtHand(sheet.TorqueWrench) {
		t, name := g.State.Tools[id], g.ToolName(id)
		if t.HighCNM == 0 {
			p.Unsaid = append(p.Unsaid, lang.F("%s: its usable range is not recorded.", name))
			continue
		}
		p.Wrenches = true
		if s, err := g.setting(Spec{TorqueCNM: t.HighCNM}, id, ""); err == nil && s.tolerance == 0 {
			p.Unsaid = append(p.Unsaid, lang.F("%s: its tolerance and class are not recorded, so how far a torque may be off is not known.", name))
		}
		if t.LengthUM == 0 && inLine {
			p.Unsaid = append(p.Unsaid, lang.F("%s: its length is not recorded, so what to set with an adapter is not known.", name))
		}
	}
	for _, id := range adapters {
		if t := g.State.Tools[id]; t.LengthUM == 0 && !t.Across {
			p.Unsaid = append(p.Unsaid, lang.F("%s: its length is not recorded.", g.ToolName(id)))
		}
	}
	for _, id := range g.AtHand(sheet.Gauge) {
		if g.State.Tools[id].Checked == "" {
			p.Unreversed = append(p.Unreversed, g.ToolName(id))
		}
	}
}

// spread is how far the range of one wrench reaches: from a fifth of its highest
// value up, where a maker states no lowest (ISO 6789:2003 test range).
const spread = 5

// borrow is the smallest ranges that cover the torques, as few as can be.
func borrow(torques []quantity.Torque) []Range {
	sort.Slice(torques, func(i, j int) bool { return torques[i] < torques[j] })
	var out []Range
	for _, t := range torques {
		if last := len(out) - 1; last >= 0 && t <= spread*out[last].Low {
			out[last].High = t
			continue
		}
		out = append(out, Range{t, t})
	}
	return out
}

// nearest is the sheet's wrench that is here and comes nearest to a torque: the
// one whose range to correct, or to do without. It is "" when none is here.
func (g Guide) nearest(torqueCNM int64) event.ToolID {
	var best event.ToolID
	var least int64
	for _, id := range g.AtHand(sheet.TorqueWrench) {
		t := g.State.Tools[id]
		gap := max(t.LowCNM-torqueCNM, torqueCNM-t.HighCNM)
		if g.Sheet.Tool(id) != nil && (best == "" || gap < least) {
			best, least = id, gap
		}
	}
	return best
}

// Section is a part of the preparation in words.
type Section struct {
	Title string
	Lines []string
	Stop  bool
}

// Sections puts the preparation in words, what stops the work first.
func (p Preparation) Sections(g Guide, u units.Set) []Section {
	var weak, strong, ranges []string
	for _, r := range p.Ratings {
		if r.Stop {
			weak = append(weak, lang.F("%s. Do not lift with it.", r.Words(u)))
		} else {
			strong = append(strong, r.Words(u)+".")
		}
	}
	for _, r := range p.Borrow {
		ranges = append(ranges, lang.F("One whose usable range holds %s.", r.words(u)))
	}
	wrenches := lang.T("To borrow")
	if !p.Wrenches {
		wrenches = lang.T("Torque wrenches that this sheet asks for")
	}
	all := []Section{
		{Title: lang.T("Too weak"), Lines: weak, Stop: true},
		{Title: lang.T("No wrench here can do these"), Lines: needs(p.Missing, u)},
		{Title: wrenches, Lines: ranges},
		{Title: lang.T("Only with an adapter: what to set"), Lines: p.settings(g, u)},
		{Title: lang.T("Torque not known: look it up"), Lines: needs(p.NotKnown, u)},
		{Title: lang.T("Torque questioned: check and confirm"), Lines: needs(p.Unverified, u)},
		{Title: lang.T("Jack and stands"), Lines: strong},
		{Title: lang.T("Not known of the tools"), Lines: p.Unsaid},
		{Title: lang.T("Gauges without a check"), Lines: p.Unreversed},
	}
	return slices.DeleteFunc(all, func(s Section) bool { return len(s.Lines) == 0 })
}

func (r Range) words(u units.Set) string {
	if r.Low == r.High {
		return u.FormatTorque(r.Low)
	}
	return lang.F("%s to %s", u.TorqueFigure(r.Low), u.FormatTorque(r.High))
}

func needs(all []Need, u units.Set) []string {
	all = slices.Clone(all)
	sort.SliceStable(all, func(i, j int) bool { return all[i].Torque < all[j].Torque })
	var out []string
	for _, n := range all {
		out = append(out, n.Words(u))
	}
	return out
}

// Words is the torque and where it is wanted.
func (n Need) Words(u units.Set) string {
	var corners []string
	for _, c := range n.Corners {
		corners = append(corners, lang.T(c.Words()))
	}
	where := n.Place + ": " + strings.Join(corners, ", ")
	switch {
	case n.Pass == sheet.Angle:
		return lang.F("%s (angle)", where)
	case n.Torque == 0:
		return where
	case n.Pass == sheet.Partial:
		where = lang.F("%s (first stage)", where)
	case n.Pass == sheet.Snug:
		where = lang.F("%s (snug)", where)
	}
	return u.FormatTorque(n.Torque) + ", " + where
}

func (p Preparation) settings(g Guide, u units.Set) []string {
	var out []string
	for _, n := range p.Adapter {
		out = append(out, lang.F("%s. Set %s on %s with %s.", n.Words(u), u.FormatTorque(n.Setting.Set), g.ToolName(n.Setting.Wrench), g.ToolName(n.Setting.Adapter)))
	}
	return out
}
