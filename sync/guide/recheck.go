package guide

import (
	"slices"
	"sort"
	"strings"

	"strutcard/calc/lang"
	"strutcard/sync/sheet"
)

// Due is what is to be checked again after a distance on the road.
type Due struct {
	KM        int64 // 0 when the sheet gives no distance
	Fasteners []*sheet.Fastener
	Step      *sheet.Step // the step that asks for it and is still open
}

// Rechecks lists what is to be checked again on the road, the shortest distance
// first. It is empty before the car may be driven and once every step that comes
// after the job is behind. A sheet whose steps ask for it but whose fasteners
// give no distance gets one entry without one.
func (g Guide) Rechecks() []Due {
	step := g.openLater()
	if step == nil || !g.driven() {
		return nil
	}
	var out []Due
	for i := range g.Sheet.Fasteners {
		f := &g.Sheet.Fasteners[i]
		if f.Recheck == 0 || !g.State.Fasteners[f.ID].Touched() {
			continue
		}
		at := slices.IndexFunc(out, func(d Due) bool { return d.KM == f.Recheck })
		if at < 0 {
			at = len(out)
			out = append(out, Due{KM: f.Recheck, Step: step})
		}
		out[at].Fasteners = append(out[at].Fasteners, f)
	}
	sort.Slice(out, func(i, j int) bool { return out[i].KM < out[j].KM })
	if len(out) == 0 {
		out = append(out, Due{Step: step})
	}
	return out
}

// openLater returns the first step of those after the job that is not behind.
func (g Guide) openLater() *sheet.Step {
	for _, step := range g.Sheet.Steps() {
		if step.Later && !g.passed(step) {
			return step
		}
	}
	return nil
}

// driven reports whether the car was, or may be, on the road.
func (g Guide) driven() bool {
	return g.State.Finished != nil || slices.ContainsFunc(g.Sheet.Steps(), func(s *sheet.Step) bool { return s.Drive && g.passed(s) })
}

// What names what is checked, each once: wheel nuts are one thing on all corners.
func (d Due) What() string {
	var names []string
	for _, f := range d.Fasteners {
		name := f.Name()
		if f.Wheel {
			name = lang.T("wheel nuts")
		}
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return strings.Join(names, "; ")
}
