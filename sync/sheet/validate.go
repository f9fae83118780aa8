package sheet

import (
	"fmt"
	"regexp"
	"strings"

	"strutcard/sync/event"
	"strutcard/sync/fault"
)

// Limits of a sheet.
const (
	maxTorqueCNM = 200_000 // 2,000 N·m, as in the log
	maxFasteners = 500
	maxSteps     = 500
)

var idPattern = regexp.MustCompile(`^[A-Za-z0-9_-]{1,60}$`)

// Validate checks the whole sheet and, when it is sound, prepares its look-ups.
// The error names the first fault in words that its author can act on.
func (s *Sheet) Validate() error {
	s.reindex()
	for _, check := range []func() string{s.checkHead, s.checkLists, s.checkFasteners, s.checkSteps, s.checkClosure} {
		if reason := check(); reason != "" {
			return fault.New(fault.Invalid, "This fitting sheet cannot be used. "+reason, "Nothing was changed. Mend the sheet and load it again.")
		}
	}
	return nil
}

func (s *Sheet) checkHead() string {
	switch {
	case s.Format != Format:
		return fmt.Sprintf("Its format is %d; this app reads %d.", s.Format, Format)
	case strings.TrimSpace(s.Title) == "" || strings.TrimSpace(s.Version) == "" || strings.TrimSpace(s.Vehicle.Name) == "":
		return "Its title, version or vehicle has no name."
	case len(s.Fasteners) == 0 || len(s.Fasteners) > maxFasteners:
		return fmt.Sprintf("It has %d fasteners; 1 to %d are allowed.", len(s.Fasteners), maxFasteners)
	case len(s.index.order) == 0 || len(s.index.order) > maxSteps:
		return fmt.Sprintf("It has %d steps; 1 to %d are allowed.", len(s.index.order), maxSteps)
	case s.Vehicle.FrontShare < 0 || s.Vehicle.FrontShare > 1000:
		return "The front axle's share of the mass is not between 0 and 1000 per mille."
	}
	return ""
}

// checkLists looks at names that must be there once.
func (s *Sheet) checkLists() string {
	seen := map[string]bool{}
	once := func(what, id string) string {
		key := what + " " + id
		if !idPattern.MatchString(id) {
			return fmt.Sprintf("The %s id %q is not a plain name.", what, id)
		}
		if seen[key] {
			return fmt.Sprintf("The %s id %q stands twice.", what, id)
		}
		seen[key] = true
		return ""
	}
	var reasons []string
	for _, p := range s.Parts {
		reasons = append(reasons, once("part", string(p.ID)))
		if p.Count < 1 {
			reasons = append(reasons, fmt.Sprintf("Part %q has no count.", p.ID))
		}
	}
	for _, t := range s.Tools {
		reasons = append(reasons, once("tool", string(t.ID)))
	}
	for _, c := range s.Checks {
		reasons = append(reasons, once("check", string(c.ID)))
		if c.Move != event.Raise && c.Move != event.Lower || strings.TrimSpace(c.Ask) == "" {
			reasons = append(reasons, fmt.Sprintf("Check %q does not say what it asks, or before which move.", c.ID))
		}
	}
	for _, f := range s.Fasteners {
		reasons = append(reasons, once("fastener", string(f.ID)))
	}
	for _, step := range s.index.order {
		reasons = append(reasons, once("step", string(step.ID)))
	}
	return firstOf(reasons)
}

func (s *Sheet) checkFasteners() string {
	var reasons []string
	for i := range s.Fasteners {
		reasons = append(reasons, s.checkFastener(&s.Fasteners[i]))
	}
	return firstOf(reasons)
}

func (s *Sheet) checkFastener(f *Fastener) string {
	say := func(format string, args ...any) string {
		return fmt.Sprintf("Fastener %q ", f.ID) + fmt.Sprintf(format, args...)
	}
	switch {
	case strings.TrimSpace(f.Place) == "":
		return say("has no place.")
	case !f.Corner.Valid():
		return say("has no corner.")
	case f.Count < 1 || f.Count > 100:
		return say("has an impossible count.")
	case f.Final() == nil:
		return say("has no final pass.")
	}
	seen := map[event.PassID]bool{}
	for _, p := range f.Passes {
		if !idPattern.MatchString(string(p.ID)) || seen[p.ID] {
			return say("has two passes of one name, or a pass without one.")
		}
		seen[p.ID] = true
		if reason := s.checkPass(f, p); reason != "" {
			return say("pass %q %s", p.ID, reason)
		}
	}
	return ""
}

func (s *Sheet) checkPass(f *Fastener, p Pass) string {
	switch p.Kind {
	case Snug, Final, BackOff, Recheck:
	case Partial:
		if p.Share < 1 || p.Share > 999 {
			return "is a part of the final torque but does not say which share."
		}
	case Angle:
		if p.AngleMdeg < 0 || p.AngleMdeg > 720_000 {
			return "has an angle outside 0 to 720 degrees."
		}
	default:
		return fmt.Sprintf("is of the unknown kind %q.", p.Kind)
	}
	switch {
	case p.TorqueCNM < 0 || p.TorqueCNM > maxTorqueCNM:
		return "has a torque outside 0 to 2,000 N·m."
	case p.TorqueCNM > 0 && strings.TrimSpace(f.Source) == "":
		return "has a torque, but the fastener names no source for it."
	case p.TolCNM < 0 || p.TorqueCNM > 0 && p.TolCNM >= p.TorqueCNM:
		return "has a tolerance as wide as its torque."
	case f.Bushed && p.Kind == Final && p.Car != AtRide:
		return "clamps a rubber bush, so it must be made at ride height."
	case p.Car != Anywhere && p.Car != Up && p.Car != OnWheels && p.Car != AtRide:
		return fmt.Sprintf("needs the unknown state of the car %q.", p.Car)
	}
	for _, id := range p.After {
		if s.Step(id) == nil {
			return fmt.Sprintf("waits for step %q, which is not there.", id)
		}
	}
	return ""
}

func (s *Sheet) checkSteps() string {
	var reasons []string
	before := map[event.StepID]bool{}
	for _, step := range s.index.order {
		if reason := s.checkStep(step, before); reason != "" {
			reasons = append(reasons, fmt.Sprintf("Step %q %s", step.ID, reason))
		}
		before[step.ID] = true
	}
	return firstOf(reasons)
}

func (s *Sheet) checkStep(step *Step, before map[event.StepID]bool) string {
	if strings.TrimSpace(step.Title) == "" || strings.TrimSpace(step.Do) == "" {
		return "does not say what to do."
	}
	if (step.Move != "" || step.Car == Up) && !step.Axle.Valid() {
		return "does not name its axle."
	}
	for _, id := range step.Needs {
		if !before[id] {
			return fmt.Sprintf("needs step %q, which does not come before it.", id)
		}
	}
	for _, id := range append(append([]event.FastenerID{}, step.Loosen...), step.Fit...) {
		if s.Fastener(id) == nil {
			return fmt.Sprintf("names fastener %q, which is not there.", id)
		}
	}
	for _, ref := range step.Passes {
		f := s.Fastener(ref.Fastener)
		if f == nil || f.Pass(ref.Pass) == nil {
			return fmt.Sprintf("names pass %q of fastener %q, which is not there.", ref.Pass, ref.Fastener)
		}
	}
	for _, r := range step.Readings {
		switch {
		case !r.Quantity.Known():
			return fmt.Sprintf("asks for a reading of %q, which is not known.", r.Quantity)
		case r.Quantity.PerAxle() && (r.Corner != "" || !r.Axle.Valid()):
			return fmt.Sprintf("asks for %s without an axle.", r.Quantity.Words())
		case !r.Quantity.PerAxle() && (r.Axle != "" || !r.Corner.Valid()):
			return fmt.Sprintf("asks for %s without a corner.", r.Quantity.Words())
		}
	}
	for _, id := range step.Tools {
		if s.Tool(id) == nil {
			return fmt.Sprintf("names tool %q, which is not there.", id)
		}
	}
	return ""
}

// checkClosure makes sure that following every step leaves nothing loose and
// nothing in the air.
func (s *Sheet) checkClosure() string {
	made := map[PassRef]bool{}
	fitted := map[event.FastenerID]bool{}
	up := map[event.Axle]bool{}
	for _, step := range s.index.order {
		for _, ref := range step.Passes {
			made[ref] = true
		}
		for _, id := range step.Fit {
			fitted[id] = true
			if first := s.Fastener(id).Passes[0]; step.Car == Up && first.Car != Up && first.Car != Anywhere {
				return fmt.Sprintf("Fastener %q is fitted with the axle up, but its first pass cannot be made there: it needs a snug pass, or the axle could never be lowered.", id)
			}
		}
		if step.Move != "" {
			up[step.Axle] = step.Move == event.Raise
		}
		if step.Drive && (up[event.Front] || up[event.Rear]) {
			return fmt.Sprintf("Step %q drives while an axle is still up.", step.ID)
		}
	}
	for _, f := range s.Fasteners {
		if !fitted[f.ID] {
			return fmt.Sprintf("No step fits fastener %q.", f.ID)
		}
		for _, p := range f.Passes {
			if !made[PassRef{f.ID, p.ID}] {
				return fmt.Sprintf("No step makes pass %q of fastener %q.", p.ID, f.ID)
			}
		}
	}
	for axle, still := range up {
		if still {
			return fmt.Sprintf("The %s axle is raised and never lowered.", axle)
		}
	}
	return ""
}

func firstOf(reasons []string) string {
	for _, r := range reasons {
		if r != "" {
			return r
		}
	}
	return ""
}
