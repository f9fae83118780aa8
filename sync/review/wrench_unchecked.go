package review

import (
	"strconv"
	"strings"
	"time"
	"unicode"

	"strutcard/calc/lang"
	"strutcard/calc/torque"
	"strutcard/sync/event"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
)

// wrenchUnchecked: passes were made with a wrench of which no check is noted, or
// one that is certainly older than the usual interval (see torque.Interval).
func wrenchUnchecked(r record) []Finding {
	used := map[event.ToolID][]job.N{}
	var tools []event.ToolID // in order of use
	for i := range r.Sheet.Fasteners {
		f := &r.Sheet.Fasteners[i]
		for _, p := range f.Passes {
			if made, ok := r.State.Fasteners[f.ID].Passes[p.ID]; ok && made.Wrench != "" && p.Kind != sheet.Snug {
				if used[made.Wrench] == nil {
					tools = append(tools, made.Wrench)
				}
				used[made.Wrench] = append(used[made.Wrench], made.N)
			}
		}
	}
	var out []Finding
	for _, id := range tools {
		tool := r.State.Tools[id]
		text := lang.T("no check of it is noted.")
		if tool.Checked != "" {
			if !longAgo(tool.Checked, r.State.Opened) {
				continue
			}
			text = lang.F("its last check is long ago: %s.", tool.Checked)
		}
		out = append(out, Finding{Severity: Note, about: string(id), facts: append([]job.N{tool.N}, used[id]...),
			Text: lang.F("%d passes were made with %s: %s", len(used[id]), r.ToolName(id), text),
			Todo: lang.T("Note when it was last checked. If it was not, have it checked, and tighten again what it made if it is off."),
			Look: lang.T("Ask for its paper. Without one nobody knows how far the torques may be off.")})
	}
	return out
}

// longAgo reports whether the year in an owner's words lies so far before the
// job that even its last day is more than the usual interval away. Words without
// a year tell nothing.
func longAgo(checked string, opened *job.Opened) bool {
	if opened == nil {
		return false
	}
	now := time.UnixMilli(opened.At).UTC().Year()
	last := 0
	for _, word := range strings.FieldsFunc(checked, func(c rune) bool { return !unicode.IsDigit(c) }) {
		if year, err := strconv.Atoi(word); err == nil && year >= 1900 && year <= now {
			last = max(last, year)
		}
	}
	months, _ := torque.Interval()
	return last > 0 && float64(12*(now-last-1)) >= float64(months)
}
