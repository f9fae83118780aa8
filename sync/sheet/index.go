package sheet

import (
	"slices"

	"strutcard/calc/lang"
	"strutcard/sync/event"
)

// index finds things by name; Validate builds it.
type index struct {
	fasteners map[event.FastenerID]*Fastener
	steps     map[event.StepID]*Step
	order     []*Step
	stage     map[event.StepID]*Stage
	makers    map[PassRef][]*Step
	handled   map[event.FastenerID]bool // a step loosens or fits it
}

func (s *Sheet) reindex() {
	s.index = index{fasteners: map[event.FastenerID]*Fastener{}, steps: map[event.StepID]*Step{}, stage: map[event.StepID]*Stage{}, makers: map[PassRef][]*Step{}, handled: map[event.FastenerID]bool{}}
	for i := range s.Fasteners {
		s.index.fasteners[s.Fasteners[i].ID] = &s.Fasteners[i]
	}
	for i := range s.Stages {
		for j := range s.Stages[i].Steps {
			step := &s.Stages[i].Steps[j]
			s.index.steps[step.ID] = step
			s.index.stage[step.ID] = &s.Stages[i]
			s.index.order = append(s.index.order, step)
			for _, id := range slices.Concat(step.Loosen, step.Fit) {
				s.index.handled[id] = true
			}
			for _, ref := range step.Passes {
				s.index.makers[ref] = append(s.index.makers[ref], step)
			}
		}
	}
}

// Fastener returns the named fastener, or nil.
func (s *Sheet) Fastener(id event.FastenerID) *Fastener { return s.index.fasteners[id] }

// Step returns the named step, or nil.
func (s *Sheet) Step(id event.StepID) *Step { return s.index.steps[id] }

// Steps returns every step in working order.
func (s *Sheet) Steps() []*Step { return s.index.order }

// Makers returns the steps in which a pass is made.
func (s *Sheet) Makers(ref PassRef) []*Step { return s.index.makers[ref] }

// Standing reports whether a fastener stays as it was found unless the adjuster that
// it holds is moved: no step loosens or fits it.
func (s *Sheet) Standing(f *Fastener) bool { return f.Holds != "" && !s.index.handled[f.ID] }

// StageOf returns the stage of a step, or nil.
func (s *Sheet) StageOf(id event.StepID) *Stage { return s.index.stage[id] }

// Name is where the fastener is, as everybody reads it.
func (f *Fastener) Name() string { return f.Place + ", " + lang.T(f.Corner.Words()) }

// Pass returns the named pass of the fastener, or nil.
func (f *Fastener) Pass(id event.PassID) *Pass {
	for i := range f.Passes {
		if f.Passes[i].ID == id {
			return &f.Passes[i]
		}
	}
	return nil
}

// Final returns the pass that carries the fastener's own torque, or nil.
func (f *Fastener) Final() *Pass {
	for i := range f.Passes {
		if f.Passes[i].Kind == Final {
			return &f.Passes[i]
		}
	}
	return nil
}

// Tool returns the named tool, or nil.
func (s *Sheet) Tool(id event.ToolID) *Tool {
	for i := range s.Tools {
		if s.Tools[i].ID == id {
			return &s.Tools[i]
		}
	}
	return nil
}

// ChecksFor returns the questions of one move of one axle, in asking order.
func (s *Sheet) ChecksFor(axle event.Axle, move event.Move) []Check {
	var out []Check
	for _, c := range s.Checks {
		if c.Move == move && (c.Axle == "" || c.Axle == axle) {
			out = append(out, c)
		}
	}
	return out
}

// Target returns what a quantity should be on an axle, or nil.
func (s *Sheet) Target(q event.Quantity, axle event.Axle) *Target {
	for i := range s.Targets {
		if s.Targets[i].Quantity == q && s.Targets[i].Axle == axle {
			return &s.Targets[i]
		}
	}
	return nil
}

// Damper returns what a knob of an axle's dampers is set to, or nil.
func (s *Sheet) Damper(axle event.Axle, knob string) *Damper {
	for i := range s.Dampers {
		if s.Dampers[i].Axle == axle && s.Dampers[i].Knob == knob {
			return &s.Dampers[i]
		}
	}
	return nil
}

// Perch returns where an axle's perches are set to begin with, or nil.
func (s *Sheet) Perch(axle event.Axle) *Perch {
	for i := range s.Perches {
		if s.Perches[i].Axle == axle {
			return &s.Perches[i]
		}
	}
	return nil
}

// Repeats reports whether the step is done again by saying so again, after
// something later has undone it.
func (s *Step) Repeats() bool { return s.Settle || s.Hold }
