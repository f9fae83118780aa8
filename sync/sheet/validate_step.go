package sheet

import (
	"slices"

	"strutcard/calc/lang"
	"strutcard/sync/event"
)

func (s *Sheet) checkSteps() string {
	var reasons []string
	before := map[event.StepID]bool{}
	for _, step := range s.index.order {
		for _, check := range []func(*Step) string{s.checkStep, s.checkReadings, checkQuestions, checkSettings} {
			reasons = append(reasons, check(step))
		}
		for _, id := range step.Needs {
			if !before[id] {
				reasons = append(reasons, lang.F("Step %q needs step %q, which does not come before it.", step.ID, id))
			}
		}
		before[step.ID] = true
	}
	return firstOf(reasons)
}

func (s *Sheet) checkStep(step *Step) string {
	switch {
	case blank(step.Title) || blank(step.Do):
		return lang.F("Step %q does not say what to do.", step.ID)
	case (step.Move != "" || step.Car == Up) && !step.Axle.Valid():
		return lang.F("Step %q does not name its axle.", step.ID)
	case step.Move != "" && step.Move != event.Raise && step.Move != event.Lower:
		return lang.F("Step %q makes the unknown move %q.", step.ID, step.Move)
	case !carStates[step.Car]:
		return lang.F("Step %q needs the unknown state of the car %q.", step.ID, step.Car)
	case step.Picture != "" && !slices.Contains(Pictures, step.Picture):
		return lang.F("Step %q shows the picture %q, which is not known.", step.ID, step.Picture)
	}
	for _, id := range append(append([]event.FastenerID{}, step.Loosen...), step.Fit...) {
		if s.Fastener(id) == nil {
			return lang.F("Step %q names fastener %q, which is not there.", step.ID, id)
		}
	}
	for _, ref := range step.Passes {
		f := s.Fastener(ref.Fastener)
		if f == nil || f.Pass(ref.Pass) == nil {
			return lang.F("Step %q names pass %q of fastener %q, which is not there.", step.ID, ref.Pass, ref.Fastener)
		}
	}
	for _, id := range step.Tools {
		if s.Tool(id) == nil {
			return lang.F("Step %q names tool %q, which is not there.", step.ID, id)
		}
	}
	return ""
}

func (s *Sheet) checkReadings(step *Step) string {
	for _, r := range step.Readings {
		switch {
		case !r.Quantity.Known():
			return lang.F("Step %q asks for a reading of %q, which is not known.", step.ID, r.Quantity)
		case r.Quantity.PerAxle() && (r.Corner != "" || !r.Axle.Valid()):
			return lang.F("Step %q asks for %s without an axle.", step.ID, lang.T(r.Quantity.Words()))
		case !r.Quantity.PerAxle() && (r.Axle != "" || !r.Corner.Valid()):
			return lang.F("Step %q asks for %s without a corner.", step.ID, lang.T(r.Quantity.Words()))
		case r.Purpose != event.Before && r.Purpose != event.Setting && r.Purpose != event.Final:
			return lang.F("Step %q asks for %s, but not whether as found, while setting, or at the end.", step.ID, lang.T(r.Quantity.Words()))
		}
	}
	return ""
}

// checkQuestions looks at what a step asks in words and in pictures.
func checkQuestions(step *Step) string {
	seen := map[string]bool{}
	odd := func(id string) bool {
		again := seen[id]
		seen[id] = true
		return again || !plain(id)
	}
	for _, c := range step.Checks {
		switch {
		case odd(string(c.ID)):
			return lang.F("Step %q has two questions named %q, or one without a plain name.", step.ID, c.ID)
		case c.When != Before && c.When != After:
			return lang.F("Step %q does not say when it asks question %q.", step.ID, c.ID)
		case blank(c.Ask):
			return lang.F("Step %q asks nothing in question %q.", step.ID, c.ID)
		case c.Must && blank(c.Stop):
			return lang.F("Step %q has no way round question %q, and does not say what to do on a no.", step.ID, c.ID)
		case c.Corner != "" && !c.Corner.Valid():
			return lang.F("Step %q asks question %q at the unknown corner %q.", step.ID, c.ID, c.Corner)
		}
	}
	clear(seen)
	for _, p := range step.Photos {
		switch {
		case odd(string(p.ID)):
			return lang.F("Step %q has two pictures named %q, or one without a plain name.", step.ID, p.ID)
		case blank(p.What):
			return lang.F("Step %q does not say what picture %q shows.", step.ID, p.ID)
		case p.When != Before && p.When != After:
			return lang.F("Step %q does not say when it asks for picture %q.", step.ID, p.ID)
		}
	}
	return ""
}

// checkSettings looks at what a step wants to know of adjusters and knobs.
func checkSettings(step *Step) string {
	for _, p := range step.Positions {
		switch {
		case !adjusters[p.Adjuster]:
			return lang.F("Step %q asks where the adjuster of %q stands, which nothing on the car sets.", step.ID, p.Adjuster)
		case !p.Corner.Valid():
			return lang.F("Step %q asks where the %s adjuster stands without a corner.", step.ID, lang.T(p.Adjuster.Words()))
		case p.Purpose != event.Before && p.Purpose != event.Setting:
			return lang.F("Step %q asks where the %s adjuster stands, but not whether as found or as set.", step.ID, lang.T(p.Adjuster.Words()))
		}
	}
	for _, c := range step.Clicks {
		switch {
		case !c.Corner.Valid():
			return lang.F("Step %q asks for clicks without a corner.", step.ID)
		case !knobs[c.Knob]:
			return lang.F("Step %q asks for clicks of the unknown knob %q.", step.ID, c.Knob)
		case c.Purpose != event.Before && c.Purpose != event.Setting:
			return lang.F("Step %q asks for clicks, but not whether as found or as set.", step.ID)
		}
	}
	return ""
}

// checkOrder makes sure that no reading stands before one that it depends on,
// and that nothing is moved again after it.
func (s *Sheet) checkOrder() string {
	for _, o := range s.Order {
		switch {
		case !o.First.Known() || !o.Then.Known() || o.First == o.Then:
			return lang.F("Its order %q before %q does not name two readings.", o.First, o.Then)
		case blank(o.Why):
			return lang.F("Its order %s before %s does not say why.", lang.T(o.First.Words()), lang.T(o.Then.Words()))
		}
		for _, purpose := range []event.Purpose{event.Before, event.Setting, event.Final} {
			if reason := s.outOfOrder(o, purpose); reason != "" {
				return reason
			}
		}
	}
	return ""
}

func (s *Sheet) outOfOrder(o Order, purpose event.Purpose) string {
	var then event.StepID // the step that already asked for the later reading
	for _, step := range s.index.order {
		moves := step.Adjust == o.First && purpose != event.Before
		for _, r := range step.Readings {
			if then != "" && (moves || r.Quantity == o.First && r.Purpose == purpose) {
				return lang.F("Step %q reads or sets %s after step %q, but %s comes before %s.", step.ID, lang.T(o.First.Words()), then, lang.T(o.First.Words()), lang.T(o.Then.Words()))
			}
			if r.Quantity == o.Then && r.Purpose == purpose {
				then = step.ID
			}
		}
	}
	return ""
}
