package sheet

import (
	"slices"
	"strings"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/fault"
)

// Build makes a complete, validated sheet. The same start always gives the same
// bytes.
func Build(start Start) (*Sheet, error) {
	b := builder{start: start, common: map[event.Corner]common{}, layout: map[event.Corner]Pattern{}, sheet: &Sheet{Format: Format,
		Title: start.Title, Version: start.Version, Invented: start.Invented, Own: start.Own, Note: start.Note, Vehicle: start.Vehicle, Parts: start.Parts,
		Targets: slices.Clone(start.Targets), Dampers: slices.Clone(start.Dampers), Perches: slices.Clone(start.Perches)}}
	if err := b.run(); err != nil {
		return nil, err
	}
	b.source()
	if err := b.sheet.Validate(); err != nil {
		return nil, err
	}
	return b.sheet, nil
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

// works reports whether anything is done at an axle. One may be left alone: it is
// measured with the other, but never raised.
func (b *builder) works(axle event.Axle) bool { return b.pattern(axle) != "" }

// leaveOut drops the presets of an axle that is left alone: nothing sets them.
func (b *builder) leaveOut() {
	b.sheet.Dampers = slices.DeleteFunc(b.sheet.Dampers, func(d Damper) bool { return d.Axle.Valid() && !b.works(d.Axle) })
	b.sheet.Perches = slices.DeleteFunc(b.sheet.Perches, func(p Perch) bool { return p.Axle.Valid() && !b.works(p.Axle) })
}

// onlyWorked takes the corners of an axle that is left alone out of steps that
// go round the car.
func (b *builder) onlyWorked(steps []Step) {
	for i := range steps {
		step := &steps[i]
		step.Checks = slices.DeleteFunc(step.Checks, func(c StepCheck) bool { return c.Corner != "" && !b.works(c.Corner.Axle()) })
		step.Passes = slices.DeleteFunc(step.Passes, func(ref PassRef) bool {
			return slices.ContainsFunc(event.Corners, func(c event.Corner) bool {
				return !b.works(c.Axle()) && strings.HasSuffix(string(ref.Fastener), "_"+string(c))
			})
		})
	}
}

func (b *builder) run() error {
	if err := b.read(); err != nil {
		return err
	}
	b.leaveOut()
	base := b.common[event.FL]
	b.sheet.Tools, b.sheet.Checks, b.sheet.Order = append(base.Tools, b.start.Tools...), base.Checks, base.Order
	last := b.add(base.Prepare, "")
	for _, axle := range event.Axles {
		if b.works(axle) {
			last = b.axle(axle, last)
		}
	}
	finals := b.settle(base.Settle, last)
	base.Close.Steps[0].Needs = finals
	b.onlyWorked(base.Close.Steps)
	last = b.add(base.Close, "")
	b.add(base.Later, last)
	return nil
}

// axle adds raising, the work on both sides and lowering.
func (b *builder) axle(axle event.Axle, last event.StepID) event.StepID {
	left := axle.Corners()[0]
	base, p := b.common[left], b.layout[left]
	for _, corner := range axle.Corners() {
		b.fasteners(corner)
	}
	last = b.add(base.Open, last)
	last = b.work("both_"+string(axle), "Both sides, "+string(axle), "", axle, p.AxleBefore, last)
	for _, corner := range axle.Corners() {
		last = b.work("swap_"+string(corner), "Swap, "+cornerWords[corner], corner, axle, b.layout[corner].Steps, last)
	}
	last = b.work("join_"+string(axle), "Both sides again, "+string(axle), "", axle, p.AxleAfter, last)
	if axle == event.Front {
		base.Shut.Steps = slices.Insert(base.Shut.Steps, 1, base.Hanging)
	}
	return b.add(base.Shut, last)
}

func (b *builder) fasteners(corner event.Corner) {
	all := slices.Concat(b.common[corner].Fasteners, b.layout[corner].Fasteners)
	if corner.Axle() == event.Front {
		all = append(all, b.common[corner].Steering...)
	}
	for _, f := range all {
		f.Corner = corner
		b.specify(&f, strings.TrimSuffix(string(f.ID), "_"+string(corner)))
		b.sheet.Fasteners = append(b.sheet.Fasteners, f)
	}
}

// work adds a stage of a layout's steps, of one corner or of the whole axle.
func (b *builder) work(id, title string, corner event.Corner, axle event.Axle, steps []Step, after event.StepID) event.StepID {
	for i := range steps {
		steps[i].Axle, steps[i].Corner, steps[i].Clicks = axle, corner, b.knobs(steps[i].Clicks)
	}
	return b.add(Stage{ID: id, Title: title, Steps: steps}, after)
}

// knobs asks for each knob that the sheet presets, and for none where there is none.
func (b *builder) knobs(asks []ClicksAsk) []ClicksAsk {
	var out []ClicksAsk
	for _, ask := range asks {
		for _, d := range b.start.Dampers {
			if d.Axle == ask.Corner.Axle() {
				ask.Knob = d.Knob
				out = append(out, ask)
			}
		}
	}
	return out
}

// settle adds measuring, camber and the final passes that wait for both. It
// returns the steps that make those passes.
func (b *builder) settle(stage Stage, after event.StepID) []event.StepID {
	heights := &stage.Steps[len(stage.Steps)-1]
	var cambers, finals []Step
	var ids []event.StepID
	for _, corner := range event.Corners {
		if !b.works(corner.Axle()) {
			continue
		}
		base, p := b.common[corner], b.layout[corner]
		if slices.ContainsFunc(p.Fasteners, func(f Fastener) bool { return f.ID == event.FastenerID("perch_lock_"+corner) }) {
			heights.Positions = append(heights.Positions, PositionAsk{Adjuster: event.RideHeight, Corner: corner, Purpose: event.Setting})
		}
		base.Finals.Needs, base.Finals.Passes = []event.StepID{heights.ID}, b.atRide(corner)
		if p.Camber != "" {
			base.Camber.Do, base.Camber.Needs = p.Camber+" "+base.Camber.Do, []event.StepID{heights.ID}
			base.Finals.Needs = []event.StepID{base.Camber.ID}
			base.Finals.Positions = []PositionAsk{{Adjuster: event.Camber, Corner: corner, Purpose: event.Setting}}
			cambers = append(cambers, base.Camber)
		}
		finals, ids = append(finals, base.Finals), append(ids, base.Finals.ID)
	}
	stage.Steps = append(append(stage.Steps, cambers...), finals...)
	b.add(stage, after)
	return ids
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
	t, ok := b.start.Torques[kind+"_"+string(f.Corner.Axle())]
	if !ok {
		t, ok = b.start.Torques[kind]
	}
	if !ok {
		return
	}
	f.Thread, f.Source = t.Thread, b.start.Source
	if t.Prepare != "" {
		f.Prepare = t.Prepare
	}
	if t.Count > 0 {
		f.Count = t.Count
	}
	for i := range f.Passes {
		p := &f.Passes[i]
		switch p.Kind {
		case Snug:
			p.TorqueCNM = t.SnugCNM
		case Final, Recheck:
			p.TorqueCNM, p.TolCNM = t.CNM, t.TolCNM
		case Angle:
			p.AngleMdeg = t.AngleMdeg
		}
		if p.TorqueCNM > 0 || p.AngleMdeg > 0 {
			p.Source, p.Confirmed = t.Source, t.Confirmed
		}
	}
}

// source names the start's source for every preset that has none of its own.
func (b *builder) source() {
	set := func(s *string) {
		if *s == "" {
			*s = b.start.Source
		}
	}
	for i := range b.sheet.Targets {
		set(&b.sheet.Targets[i].Source)
	}
	for i := range b.sheet.Dampers {
		set(&b.sheet.Dampers[i].Source)
	}
	for i := range b.sheet.Perches {
		set(&b.sheet.Perches[i].Source)
	}
}

// read expands the common skeleton and each axle's layout for every corner.
func (b *builder) read() error {
	if !b.works(event.Front) && !b.works(event.Rear) {
		return fault.New(fault.Invalid, "Neither axle has a layout pattern.", "Choose one for at least one axle. Nothing was changed.")
	}
	for _, corner := range event.Corners {
		var err error
		if b.common[corner], err = expand[common]("patterns/common.json", corner.Axle(), corner); err != nil {
			return err
		}
		if !b.works(corner.Axle()) {
			continue
		}
		id := b.pattern(corner.Axle())
		noSuch := fault.New(fault.Invalid, lang.F("There is no layout pattern %q for the %s.", id, axleWords(corner.Axle())),
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

// add adds a stage and returns its last step. A step that names no needs waits
// for the one before it, the first for the step given.
func (b *builder) add(stage Stage, after event.StepID) event.StepID {
	if len(stage.Steps) == 0 {
		return after
	}
	for i := range stage.Steps {
		step := &stage.Steps[i]
		if len(step.Needs) == 0 && after != "" {
			step.Needs = []event.StepID{after}
		}
		after = step.ID
	}
	b.sheet.Stages = append(b.sheet.Stages, stage)
	return after
}
