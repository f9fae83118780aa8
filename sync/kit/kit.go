// Package kit is the register of the owner's own tools: what is marked on them,
// how long they are, when they were last checked. It belongs to no job. What a
// job uses is copied into its record; a register that is lost or cannot be read
// takes nothing away from a job.
package kit

import (
	"encoding/json"
	"slices"
	"strings"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
)

// Kinds of tools that the register keeps, in the order of the list.
var Kinds = []sheet.ToolKind{sheet.Jack, sheet.Stands, sheet.TorqueWrench, sheet.Adapter, sheet.Gauge}

// Item is one tool, or one pair of stands. Numbers are in the unit that the
// field names; 0 is not known.
type Item struct {
	ID    event.ToolID   `json:"id"`
	Kind  sheet.ToolKind `json:"kind"`
	Label string         `json:"label"` // in the owner's words

	RatingG int64 `json:"rating_g,omitempty"` // of the jack, or of one stand
	Pair    bool  `json:"pair,omitempty"`     // the label rates a pair: rating_g is half of that

	LowCNM    int64  `json:"low_cnm,omitempty"`
	HighCNM   int64  `json:"high_cnm,omitempty"`
	StepCNM   int64  `json:"step_cnm,omitempty"` // between two marks
	Unit      string `json:"unit,omitempty"`     // that its scale is marked in
	Class     string `json:"class,omitempty"`
	Tolerance int64  `json:"tolerance_permille,omitempty"`

	LengthUM int64 `json:"length_um,omitempty"` // wrench: grip to drive centre; adapter: drive to fastener centre
	Across   bool  `json:"across,omitempty"`    // an adapter that stands square to the handle

	Resolution string `json:"resolution,omitempty"` // of a gauge or level, as marked
	Checked    string `json:"checked,omitempty"`    // last check; of a gauge or level, the reversal check
}

// Register is every tool, in the order in which they were added.
type Register struct {
	Items []Item `json:"items"`
}

// Decode reads a register. What cannot be read is left out; lost says that there
// was some of it.
func Decode(text string) (r Register, lost bool) {
	if strings.TrimSpace(text) == "" {
		return r, false
	}
	var raw struct {
		Items []json.RawMessage `json:"items"`
	}
	if json.Unmarshal([]byte(text), &raw) != nil {
		return r, true
	}
	for _, line := range raw.Items {
		var item Item
		if json.Unmarshal(line, &item) != nil || item.check() != nil || r.Find(item.ID) != nil {
			lost = true
			continue
		}
		r.Items = append(r.Items, item)
	}
	return r, lost
}

// Encode is the inverse of Decode.
func (r Register) Encode() string {
	text, err := json.Marshal(r)
	if err != nil {
		panic("kit: a struct of strings and integers failed to marshal: " + err.Error())
	}
	return string(text)
}

// Find returns the named tool, or nil.
func (r Register) Find(id event.ToolID) *Item {
	for i := range r.Items {
		if r.Items[i].ID == id {
			return &r.Items[i]
		}
	}
	return nil
}

// Of lists the tools of a kind.
func (r Register) Of(kind sheet.ToolKind) []Item {
	return slices.DeleteFunc(slices.Clone(r.Items), func(x Item) bool { return x.Kind != kind })
}

// Put adds a tool, or replaces the one of the same id.
func (r Register) Put(item Item) (Register, error) {
	if err := item.check(); err != nil {
		return r, err
	}
	out := Register{Items: slices.Clone(r.Items)}
	if old := out.Find(item.ID); old != nil {
		*old = item
		return out, nil
	}
	out.Items = append(out.Items, item)
	return out, nil
}

// Remove takes a tool away; one that is not there changes nothing.
func (r Register) Remove(id event.ToolID) Register {
	return Register{Items: slices.DeleteFunc(slices.Clone(r.Items), func(x Item) bool { return x.ID == id })}
}

// Match finds the tool that a job's record was copied from, or nil: by its id,
// or, listed in the place of one of the sheet's tools, by all that was copied.
func (r Register) Match(id event.ToolID, t job.Tool) *Item {
	if found := r.Find(id); found != nil {
		return found
	}
	for i, x := range r.Items {
		if x.Label != t.Label || t.Label == "" {
			continue
		}
		if x.LowCNM == t.LowCNM && x.HighCNM == t.HighCNM && x.LengthUM == t.LengthUM && x.Across == t.Across && x.RatingG == t.RatingG {
			return &r.Items[i]
		}
	}
	return nil
}

// Listed is what a job records of it: as the sheet's tool, or under its own id
// as one that the sheet does not name.
func (x Item) Listed(as event.ToolID) *event.ToolListed {
	p := &event.ToolListed{Tool: as, Have: true, Label: x.Label, Checked: x.Checked, RatingG: x.RatingG, Pair: x.Pair,
		LowCNM: x.LowCNM, HighCNM: x.HighCNM, Class: x.Class, Tolerance: x.Tolerance, LengthUM: x.LengthUM, Across: x.Across}
	if as == x.ID {
		p.Type = string(x.Kind)
	}
	return p
}

// check refuses what no such tool can be.
func (x Item) check() error {
	refuse := func(what, next string) error { return fault.New(fault.Invalid, what, next) }
	const mostCNM, mostUM = 200_000, 3_000_000 // as far as the record goes
	switch {
	case x.ID == "" || !slices.Contains(Kinds, x.Kind):
		return refuse(lang.T("It is not said what kind of tool this is."), lang.T("Choose one of those shown."))
	case strings.TrimSpace(x.Label) == "":
		return refuse(lang.T("The tool has no name."), lang.T("Write which one it is, in your own words."))
	case len(x.Label) > 200 || len(x.Class) > 200 || len(x.Resolution) > 200 || len(x.Checked) > 200:
		return refuse(lang.T("A text is too long for a tool."), lang.T("Write it in fewer words."))
	case x.RatingG < 0 || x.LowCNM < 0 || x.HighCNM < 0 || x.StepCNM < 0 || x.LengthUM < 0 || x.Tolerance < 0:
		return refuse(lang.T("A number is below zero."), lang.T("Type it again."))
	case x.HighCNM > mostCNM || x.LengthUM > mostUM || x.Tolerance > 500:
		return refuse(lang.T("A number is more than any such tool has."), lang.T("Check it and its unit."))
	case x.HighCNM > 0 && x.LowCNM >= x.HighCNM || x.HighCNM == 0 && x.LowCNM > 0:
		return refuse(lang.T("The lowest torque is not below the highest."), lang.T("Read both from the wrench's own paper."))
	}
	return nil
}
