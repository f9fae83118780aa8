package sheet

import (
	"bytes"
	"embed"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"strutcard/sync/event"
	"strutcard/sync/fault"
)

//go:embed patterns/*.json demo/*.json
var data embed.FS

// PatternID names a layout pattern.
type PatternID string

// Pattern is a skeleton of fasteners and steps for one suspension layout. It
// carries no torque. Its texts hold {corner}, {corner_words} and {axle}.
type Pattern struct {
	ID        PatternID    `json:"id"`
	Title     string       `json:"title"`
	Axles     []event.Axle `json:"axles"`
	Camber    string       `json:"camber"` // how camber is set; "" when it cannot be
	Fasteners []Fastener   `json:"fasteners"`
	Steps     []Step       `json:"steps"`
}

var patternIDs = []PatternID{"front_strut", "rear_separate", "double_wishbone"}

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
	Prepare   Stage      `json:"prepare"`
	Open      Stage      `json:"open"` // per axle, before the swap
	Shut      Stage      `json:"shut"` // per axle, after it
	Settle    Stage      `json:"settle"`
	Camber    Step       `json:"camber"` // per corner
	Finals    Step       `json:"finals"` // per corner
	Close     Stage      `json:"close"`
	Later     Stage      `json:"later"`
}

// Torque is the spec of one kind of fastener, all corners alike.
type Torque struct {
	Thread    string `json:"thread,omitempty"`
	CNM       int64  `json:"cnm,omitempty"`
	TolCNM    int64  `json:"tol_cnm,omitempty"`
	SnugCNM   int64  `json:"snug_cnm,omitempty"`
	AngleMdeg int64  `json:"angle_mdeg,omitempty"`
}

// Start is what a new sheet begins with. Fasteners named in Torques, without
// their corner, get that spec; all others are left for the installer to look up.
type Start struct {
	Title    string            `json:"title"`
	Version  string            `json:"version"`
	Invented bool              `json:"invented,omitempty"`
	Own      bool              `json:"own,omitempty"`
	Source   string            `json:"source,omitempty"`
	Vehicle  Vehicle           `json:"vehicle"`
	Front    PatternID         `json:"front"`
	Rear     PatternID         `json:"rear"`
	Parts    []Part            `json:"parts"`
	Torques  map[string]Torque `json:"torques,omitempty"`
	Targets  []Target          `json:"targets,omitempty"`
}

// Build makes a complete, validated sheet.
func Build(start Start) (*Sheet, error) {
	b := builder{start: start, common: map[event.Corner]common{}, layout: map[event.Corner]Pattern{}, sheet: &Sheet{Format: Format, Title: start.Title, Version: start.Version,
		Invented: start.Invented, Own: start.Own, Vehicle: start.Vehicle, Parts: start.Parts, Targets: start.Targets}}
	if err := b.run(); err != nil {
		return nil, err
	}
	for i := range b.sheet.Targets {
		if b.sheet.Targets[i].Source == "" {
			b.sheet.Targets[i].Source = start.Source
		}
	}
	if err := b.sheet.Validate(); err != nil {
		return nil, err
	}
	return b.sheet, nil
}

// Demo builds the invented example sheets anew.
func Demo() []*Sheet {
	var out []*Sheet
	for _, name := range []string{"demo/wren.json", "demo/dart.json"} {
		start, err := expand[Start](name, event.Front, "")
		if err == nil {
			var s *Sheet
			if s, err = Build(start); err == nil {
				out = append(out, s)
			}
		}
		if err != nil {
			panic("sheet: " + err.Error()) // the data is part of the program; a test reads it all
		}
	}
	return out
}

type builder struct {
	start  Start
	sheet  *Sheet
	common map[event.Corner]common // expanded once a corner: reading is the slow part
	layout map[event.Corner]Pattern
}

func (b *builder) pattern(axle event.Axle) PatternID {
	if axle == event.Front {
		return b.start.Front
	}
	return b.start.Rear
}

func (b *builder) run() error {
	if err := b.read(); err != nil {
		return err
	}
	base := b.common[event.FL]
	b.sheet.Tools, b.sheet.Checks = base.Tools, base.Checks
	b.add(base.Prepare)
	last := lastStep(base.Prepare)
	for _, axle := range event.Axles {
		last = b.axle(axle, last)
	}
	chain(&base.Settle, last)
	b.settle(base.Settle)
	b.add(base.Close)
	b.add(base.Later)
	return nil
}

// axle adds raising, both swaps and lowering, each waiting for the one before.
func (b *builder) axle(axle event.Axle, after event.StepID) event.StepID {
	base := b.common[axle.Corners()[0]]
	chain(&base.Open, after)
	b.add(base.Open)
	last := lastStep(base.Open)
	for _, corner := range axle.Corners() {
		last = b.swap(corner, last)
	}
	chain(&base.Shut, last)
	b.add(base.Shut)
	return lastStep(base.Shut)
}

func (b *builder) swap(corner event.Corner, after event.StepID) event.StepID {
	p, base := b.layout[corner], b.common[corner]
	for _, f := range append(base.Fasteners, p.Fasteners...) {
		f.Corner = corner
		b.specify(&f, strings.TrimSuffix(string(f.ID), "_"+string(corner)))
		b.sheet.Fasteners = append(b.sheet.Fasteners, f)
	}
	for i := range p.Steps {
		p.Steps[i].Axle, p.Steps[i].Corner = corner.Axle(), corner
	}
	stage := Stage{ID: "swap_" + string(corner), Title: "Swap, " + corner.Words(), Steps: p.Steps}
	chain(&stage, after)
	b.add(stage)
	return lastStep(stage)
}

// settle adds measuring, camber and the final passes that wait for both.
func (b *builder) settle(stage Stage) {
	var cambers, finals []Step
	for _, corner := range event.Corners {
		base, p := b.common[corner], b.layout[corner]
		base.Finals.Needs = []event.StepID{lastStep(stage)}
		if p.Camber != "" {
			base.Camber.Do = p.Camber + " " + base.Camber.Do
			cambers = append(cambers, base.Camber)
			base.Finals.Needs = []event.StepID{base.Camber.ID}
		}
		base.Finals.Passes = b.atRide(corner)
		finals = append(finals, base.Finals)
	}
	stage.Steps = append(append(stage.Steps, cambers...), finals...)
	b.add(stage)
}

// atRide collects the final passes of a corner that wait for ride height, the
// fasteners that hold an adjuster first, so that what was set cannot move.
func (b *builder) atRide(corner event.Corner) []PassRef {
	var holding, other []PassRef
	for _, f := range b.sheet.Fasteners {
		for _, p := range f.Passes {
			if f.Corner != corner || p.Car != AtRide || p.Kind == Recheck {
				continue
			}
			if f.Holds != "" {
				holding = append(holding, PassRef{f.ID, p.ID})
			} else {
				other = append(other, PassRef{f.ID, p.ID})
			}
		}
	}
	return append(holding, other...)
}

func (b *builder) specify(f *Fastener, kind string) {
	t, ok := b.start.Torques[kind]
	if !ok {
		return
	}
	f.Thread, f.Source = t.Thread, b.start.Source
	for i := range f.Passes {
		switch p := &f.Passes[i]; p.Kind {
		case Snug:
			p.TorqueCNM = t.SnugCNM
		case Final, Recheck:
			p.TorqueCNM, p.TolCNM = t.CNM, t.TolCNM
		case Angle:
			p.AngleMdeg = t.AngleMdeg
		}
	}
}

// read expands the common skeleton and each axle's layout for every corner.
func (b *builder) read() error {
	for _, corner := range event.Corners {
		var err error
		if b.common[corner], err = expand[common]("patterns/common.json", corner.Axle(), corner); err != nil {
			return err
		}
		id := b.pattern(corner.Axle())
		noSuch := fault.New(fault.Invalid, fmt.Sprintf("There is no layout pattern %q for the %s axle.", id, corner.Axle()),
			"Choose one from the list. Nothing was changed.")
		if !slices.Contains(patternIDs, id) {
			return noSuch
		}
		if b.layout[corner], err = expand[Pattern]("patterns/"+string(id)+".json", corner.Axle(), corner); err != nil {
			return err
		}
		if !slices.Contains(b.layout[corner].Axles, corner.Axle()) {
			return noSuch
		}
	}
	return nil
}

func (b *builder) add(stage Stage) { b.sheet.Stages = append(b.sheet.Stages, stage) }

// chain makes the stage's first step wait for a step of the stage before.
func chain(stage *Stage, after event.StepID) {
	if len(stage.Steps) > 0 && !slices.Contains(stage.Steps[0].Needs, after) {
		stage.Steps[0].Needs = append(stage.Steps[0].Needs, after)
	}
}

func lastStep(stage Stage) event.StepID { return stage.Steps[len(stage.Steps)-1].ID }

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
		text = strings.NewReplacer("{corner}", string(corner), "{corner_words}", corner.Words()).Replace(text)
	}
	dec := json.NewDecoder(bytes.NewReader([]byte(text)))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&out); err != nil {
		return out, fmt.Errorf("decode %s: %w", name, err)
	}
	return out, nil
}
