package sheet

import (
	"slices"
	"strings"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/fault"
)

// Limits of a sheet.
const (
	maxTorqueCNM = 200_000 // 2,000 N·m, as in the log
	maxAngleMdeg = 720_000
	maxFasteners = 500
	maxSteps     = 500
	maxRecheckKM = 5000
)

// adjusters lists what an adjuster on the car can set.
var adjusters = map[event.Quantity]bool{event.RideHeight: true, event.Camber: true, event.Caster: true, event.Toe: true}

var carStates = map[CarState]bool{Anywhere: true, Up: true, OnWheels: true, AtRide: true}

const maxID = 60 // bytes

// plain reports whether an id is a plain name: letters, digits, - and _.
func plain(id string) bool {
	if len(id) == 0 || len(id) > maxID {
		return false
	}
	for _, r := range id {
		if (r < 'a' || r > 'z') && (r < 'A' || r > 'Z') && (r < '0' || r > '9') && r != '-' && r != '_' {
			return false
		}
	}
	return true
}

// Validate checks the whole sheet and, when it is sound, prepares its look-ups.
// The error names the first fault in words that its author can act on.
func (s *Sheet) Validate() error {
	s.reindex()
	for _, check := range []func() string{s.checkHead, s.checkLists, s.checkVehicle, s.checkPresets, s.checkFasteners, s.checkSteps, s.checkOrder, s.checkClosure} {
		if reason := check(); reason != "" {
			return fault.New(fault.Invalid, lang.F("This fitting sheet cannot be used. %s", reason), "Nothing was changed. Mend the sheet and load it again.")
		}
	}
	return nil
}

func (s *Sheet) checkHead() string {
	switch {
	case s.Format != Format:
		return lang.F("Its format is %d; this app reads %d.", s.Format, Format)
	case strings.TrimSpace(s.Title) == "" || strings.TrimSpace(s.Version) == "" || strings.TrimSpace(s.Vehicle.Name) == "":
		return lang.T("Its title, version or vehicle has no name.")
	case len(s.Fasteners) == 0 || len(s.Fasteners) > maxFasteners:
		return lang.F("It has %d fasteners; 1 to %d are allowed.", len(s.Fasteners), maxFasteners)
	case len(s.index.order) == 0 || len(s.index.order) > maxSteps:
		return lang.F("It has %d steps; 1 to %d are allowed.", len(s.index.order), maxSteps)
	case s.Vehicle.FrontShare < 0 || s.Vehicle.FrontShare > 1000:
		return lang.T("The front axle's share of the mass is not between 0 and 1000 per mille.")
	}
	return ""
}

// checkLists looks at names that must be there once.
func (s *Sheet) checkLists() string {
	once := func(what string) func(id string) string {
		seen := map[string]bool{}
		return func(id string) string {
			if !plain(id) {
				return lang.F("The %s %q is not a plain name.", what, id)
			}
			if seen[id] {
				return lang.F("The %s %q stands twice.", what, id)
			}
			seen[id] = true
			return ""
		}
	}
	part, tool, check, fastener, step := once(lang.T("part id")), once(lang.T("tool id")), once(lang.T("check id")), once(lang.T("fastener id")), once(lang.T("step id"))
	var reasons []string
	for _, p := range s.Parts {
		reasons = append(reasons, part(string(p.ID)), checkPart(p))
	}
	for _, t := range s.Tools {
		reasons = append(reasons, tool(string(t.ID)), checkTool(t))
	}
	for _, c := range s.Checks {
		reasons = append(reasons, check(string(c.ID)), checkCheck(c))
	}
	for _, f := range s.Fasteners {
		reasons = append(reasons, fastener(string(f.ID)))
	}
	for _, one := range s.index.order {
		reasons = append(reasons, step(string(one.ID)))
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
	switch {
	case strings.TrimSpace(f.Place) == "":
		return lang.F("Fastener %q has no place.", f.ID)
	case !f.Corner.Valid():
		return lang.F("Fastener %q has no corner.", f.ID)
	case f.Count < 1 || f.Count > 100:
		return lang.F("Fastener %q has an impossible count.", f.ID)
	case f.Final() == nil:
		return lang.F("Fastener %q has no final pass.", f.ID)
	case f.Turn != "" && f.Turn != "nut" && f.Turn != "bolt":
		return lang.F("Fastener %q is turned by %q, which is neither nut nor bolt.", f.ID, f.Turn)
	case f.Holds != "" && !adjusters[f.Holds]:
		return lang.F("Fastener %q holds %q, which nothing on the car sets.", f.ID, f.Holds)
	case f.Recheck < 0 || f.Recheck > maxRecheckKM:
		return lang.F("Fastener %q is checked again after %d km; 0 to %d are possible.", f.ID, f.Recheck, maxRecheckKM)
	}
	seen := map[event.PassID]bool{}
	for i, p := range f.Passes {
		if !plain(string(p.ID)) || seen[p.ID] {
			return lang.F("Fastener %q has two passes of one name, or a pass without one.", f.ID)
		}
		seen[p.ID] = true
		if reason := s.checkPass(f, i); reason != "" {
			return reason
		}
	}
	return ""
}

// checkPass looks at one pass of a fastener, by its place in the list.
func (s *Sheet) checkPass(f *Fastener, i int) string {
	p := f.Passes[i]
	switch p.Kind {
	case Snug, Final, Recheck:
	case Partial:
		if p.Share < 1 || p.Share > 999 {
			return lang.F("Fastener %q pass %q is a part of the final torque but does not say which share.", f.ID, p.ID)
		}
	case Angle:
		if i == 0 {
			return lang.F("Fastener %q pass %q turns by an angle, but no torque comes before it.", f.ID, p.ID)
		}
	case BackOff:
		if i == 0 || !slices.ContainsFunc(f.Passes[i+1:], func(next Pass) bool { return next.Kind == Final || next.Kind == Angle }) {
			return lang.F("Fastener %q pass %q loosens again, so it needs a pass before it and a final pass or an angle after it.", f.ID, p.ID)
		}
	default:
		return lang.F("Fastener %q pass %q is of the unknown kind %q.", f.ID, p.ID, p.Kind)
	}
	switch {
	case p.AngleMdeg < 0 || p.AngleMdeg > maxAngleMdeg:
		return lang.F("Fastener %q pass %q has an angle outside 0 to 720 degrees.", f.ID, p.ID)
	case p.TorqueCNM < 0 || p.TorqueCNM > maxTorqueCNM:
		return lang.F("Fastener %q pass %q has a torque outside 0 to 2,000 N·m.", f.ID, p.ID)
	case (p.TorqueCNM > 0 || p.AngleMdeg > 0) && strings.TrimSpace(f.Source) == "" && strings.TrimSpace(p.Source) == "":
		return lang.F("Fastener %q pass %q has a torque or an angle, but no source is named for it.", f.ID, p.ID)
	case p.TolCNM < 0 || p.TorqueCNM > 0 && p.TolCNM >= p.TorqueCNM:
		return lang.F("Fastener %q pass %q has a tolerance as wide as its torque.", f.ID, p.ID)
	case p.Confirmed != "" && strings.TrimSpace(p.Confirmed) == "":
		return lang.F("Fastener %q pass %q is confirmed, but does not say by whom and against what.", f.ID, p.ID)
	case f.Bushed && p.Kind == Final && p.Car != AtRide:
		return lang.F("Fastener %q pass %q clamps a rubber bush, so it must be made at ride height.", f.ID, p.ID)
	case !carStates[p.Car]:
		return lang.F("Fastener %q pass %q needs the unknown state of the car %q.", f.ID, p.ID, p.Car)
	}
	for _, id := range p.After {
		if s.Step(id) == nil {
			return lang.F("Fastener %q pass %q waits for step %q, which is not there.", f.ID, p.ID, id)
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
