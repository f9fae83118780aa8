package sheet

import (
	"bytes"
	"embed"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"strutcard/sync/event"
)

//go:embed patterns/*.json demo/*.json
var data embed.FS

// cornerWords are English in every language: Build writes them into a sheet, and
// they are part of its hash. Said says them.
var cornerWords = map[event.Corner]string{event.FL: "front left", event.FR: "front right", event.RL: "rear left", event.RR: "rear right"}

// PatternID names a layout pattern.
type PatternID string

// Pattern is a skeleton of fasteners and steps for one suspension layout. It
// carries no torque. Its texts hold {corner}, {corner_words}, {axle}, {left} and
// {right}; the axle's own steps hold no {corner}.
type Pattern struct {
	ID         PatternID    `json:"id"`
	Title      string       `json:"title"`
	Axles      []event.Axle `json:"axles"`
	Camber     string       `json:"camber"` // how camber is set; "" when it cannot be
	Fasteners  []Fastener   `json:"fasteners"`
	AxleBefore []Step       `json:"axle_before,omitempty"` // both sides at once, before the corners
	Steps      []Step       `json:"steps"`                 // of one corner
	AxleAfter  []Step       `json:"axle_after,omitempty"`  // both sides at once, after the corners
}

var patternIDs = []PatternID{"front_strut", "rear_strut", "double_wishbone", "rear_separate", "twist_beam", "live_axle", "leaf"}

// Patterns lists the layouts that a sheet can start from.
func Patterns() []Pattern {
	var out []Pattern
	for _, id := range patternIDs {
		p, err := expand[Pattern]("patterns/"+string(id)+".json", event.Front, "")
		if err != nil {
			panic("sheet: " + err.Error()) // the data is part of the program; a test reads it all
		}
		out = append(out, p)
	}
	return out
}

// common is what every layout shares: preparation, lifting, closing out.
type common struct {
	Tools     []Tool     `json:"tools"`
	Checks    []Check    `json:"checks"`
	Fasteners []Fastener `json:"fasteners"` // per corner
	Steering  []Fastener `json:"steering"`  // per corner of the axle that steers
	Prepare   Stage      `json:"prepare"`
	Open      Stage      `json:"open"`    // per axle, before the swap
	Shut      Stage      `json:"shut"`    // per axle, after it
	Hanging   Step       `json:"hanging"` // of the axle that steers, before it is lowered
	Settle    Stage      `json:"settle"`
	Camber    Step       `json:"camber"` // per corner
	Finals    Step       `json:"finals"` // per corner
	Close     Stage      `json:"close"`
	Later     Stage      `json:"later"`
	Order     []Order    `json:"order"`
}

// Torque is the spec of one kind of fastener, all corners alike.
type Torque struct {
	Thread    string `json:"thread,omitempty"`
	Prepare   string `json:"prepare,omitempty"` // the state of the thread, when not the pattern's
	Source    string `json:"source,omitempty"`  // when it stands elsewhere than the others
	Count     int64  `json:"count,omitempty"`   // of a group, when not the pattern's
	CNM       int64  `json:"cnm,omitempty"`
	TolCNM    int64  `json:"tol_cnm,omitempty"`
	SnugCNM   int64  `json:"snug_cnm,omitempty"`
	AngleMdeg int64  `json:"angle_mdeg,omitempty"`
	Confirmed string `json:"confirmed,omitempty"` // an implausible number was checked: by whom, against what
}

// Start is what a new sheet begins with. Fasteners named in Torques, without
// their corner, get that spec: a name with its axle ("perch_lock_rear") goes
// before one without. All others are left for the installer to look up. Source
// stands for whatever names none of its own. Front or Rear "" leaves that axle
// alone.
type Start struct {
	Title    string            `json:"title"`
	Version  string            `json:"version"`
	Invented bool              `json:"invented,omitempty"`
	Own      bool              `json:"own,omitempty"`
	Note     string            `json:"note,omitempty"`
	Source   string            `json:"source,omitempty"`
	Vehicle  Vehicle           `json:"vehicle"`
	Front    PatternID         `json:"front"`
	Rear     PatternID         `json:"rear"`
	Parts    []Part            `json:"parts"`
	Tools    []Tool            `json:"tools,omitempty"` // beside those that every job needs
	Torques  map[string]Torque `json:"torques,omitempty"`
	Targets  []Target          `json:"targets,omitempty"`
	Dampers  []Damper          `json:"dampers,omitempty"`
	Perches  []Perch           `json:"perches,omitempty"`
}

// Example is an invented sheet that is part of the program, as a list shows it.
// Building a sheet takes a slow phone a while, so it is built when it is needed.
type Example struct {
	Hash           event.SheetHash
	Title, Version string
	file           string
}

// Examples are the invented example sheets.
var Examples = []Example{
	{"4edaa5e42584ad1e150f49b295eb009c18a63c2b1ef3835663bb25ff296fa522", "Ostler Wren, kit BY-24", "demo 1", "demo/wren.json"},
	{"447970b2cea0f8ef627b2928b34b47901c8da34383a6cbf81b1b4eb6856c6478", "Ostler Dart, four coil-overs", "demo 1", "demo/dart.json"},
}

// Minute is an invented sheet without a car: a look at the app in one minute. It is
// written out whole, since no layout is like it.
var Minute = Example{"44c2712096022599ef17b35f2cca8bd041ded6708e3716a67220c5bf61c1984a", "One minute at the workbench", "demo 1", "demo/minute.json"}

// Sheet builds the sheet anew.
func (e Example) Sheet() *Sheet {
	build := buildStart
	if e == Minute {
		build = readWhole
	}
	s, err := build(e.file)
	if err != nil {
		panic("sheet: " + err.Error()) // the data is part of the program; a test reads it all
	}
	return s
}

func readWhole(name string) (*Sheet, error) {
	raw, err := data.ReadFile(name)
	if err != nil {
		return nil, err
	}
	return Decode(raw)
}

func buildStart(name string) (*Sheet, error) {
	start, err := expand[Start](name, event.Front, "")
	if err != nil {
		return nil, err
	}
	return Build(start)
}

// ExampleOf builds the example of that hash anew; nil when there is none.
func ExampleOf(hash event.SheetHash) *Sheet {
	for _, e := range append(slices.Clone(Examples), Minute) {
		if e.Hash == hash {
			return e.Sheet()
		}
	}
	return nil
}

// Demo builds the invented example sheets anew.
func Demo() []*Sheet {
	var out []*Sheet
	for _, e := range Examples {
		out = append(out, e.Sheet())
	}
	return out
}

// expand reads a data file with its placeholders filled in. Corner "" leaves
// corner placeholders standing.
func expand[T any](name string, axle event.Axle, corner event.Corner) (T, error) {
	var out T
	raw, err := data.ReadFile(name)
	if err != nil {
		return out, fmt.Errorf("read %s: %w", name, err)
	}
	text := strings.NewReplacer("{axle}", string(axle), "{left}", string(axle.Corners()[0]), "{right}", string(axle.Corners()[1])).Replace(string(raw))
	if corner != "" {
		text = strings.NewReplacer("{corner}", string(corner), "{corner_words}", cornerWords[corner]).Replace(text)
	}
	dec := json.NewDecoder(bytes.NewReader([]byte(text)))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&out); err != nil {
		return out, fmt.Errorf("decode %s: %w", name, err)
	}
	return out, nil
}
