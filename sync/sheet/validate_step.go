package sheet

import (
	"fmt"
	"slices"

	"strutcard/sync/event"
)

func (s *Sheet) checkSteps() string {
	var reasons []string
	before := map[event.StepID]bool{}
	for _, step := range s.index.order {
		for _, check := range []func(*Step) string{s.checkStep, s.checkReadings, checkQuestions, checkSettings} {
			if reason := check(step); reason != "" {
				reasons = append(reasons, fmt.Sprintf("Step %q %s", step.ID, reason))
			}
		}
		for _, id := range step.Needs {
			if !before[id] {
				reasons = append(reasons, fmt.Sprintf("Step %q needs step %q, which does not come before it.", step.ID, id))
			}
		}
		before[step.ID] = true
	}
	return firstOf(reasons)
}

func (s *Sheet) checkStep(step *Step) string {
	switch {
	case blank(step.Title) || blank(step.Do):
		return "does not say what to do."
	case (step.Move != "" || step.Car == Up) && !step.Axle.Valid():
		return "does not name its axle."
	case step.Move != "" && step.Move != event.Raise && step.Move != event.Lower:
		return fmt.Sprintf("makes the unknown move %q.", step.Move)
	case !carStates[step.Car]:
		return fmt.Sprintf("needs the unknown state of the car %q.", step.Car)
	case step.Picture != "" && !slices.Contains(Pictures, step.Picture):
		return fmt.Sprintf("shows the picture %q, which is not known.", step.Picture)
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
	for _, id := range step.Tools {
		if s.Tool(id) == nil {
			return fmt.Sprintf("names tool %q, which is not there.", id)
		}
	}
	return ""
}

func (s *Sheet) checkReadings(step *Step) string {
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
			return fmt.Sprintf("has two questions named %q, or one without a plain name.", c.ID)
		case c.When != Before && c.When != After:
			return fmt.Sprintf("does not say when it asks question %q.", c.ID)
		case blank(c.Ask):
			return fmt.Sprintf("asks nothing in question %q.", c.ID)
		case c.Must && blank(c.Stop):
			return fmt.Sprintf("has no way round question %q, and does not say what to do on a no.", c.ID)
		case c.Corner != "" && !c.Corner.Valid():
			return fmt.Sprintf("asks question %q at the unknown corner %q.", c.ID, c.Corner)
		}
	}
	clear(seen)
	for _, p := range step.Photos {
		switch {
		case odd(string(p.ID)):
			return fmt.Sprintf("has two pictures named %q, or one without a plain name.", p.ID)
		case blank(p.What):
			return fmt.Sprintf("does not say what picture %q shows.", p.ID)
		case p.When != Before && p.When != After:
			return fmt.Sprintf("does not say when it asks for picture %q.", p.ID)
		}
	}
	return ""
}

// checkSettings looks at what a step wants to know of adjusters and knobs.
func checkSettings(step *Step) string {
	for _, p := range step.Positions {
		switch {
		case !adjusters[p.Adjuster]:
			return fmt.Sprintf("asks where the adjuster of %q stands, which nothing on the car sets.", p.Adjuster)
		case !p.Corner.Valid():
			return fmt.Sprintf("asks where the %s adjuster stands without a corner.", p.Adjuster.Words())
		case p.Purpose != event.Before && p.Purpose != event.Setting:
			return fmt.Sprintf("asks where the %s adjuster stands, but not whether as found or as set.", p.Adjuster.Words())
		}
	}
	for _, c := range step.Clicks {
		switch {
		case !c.Corner.Valid():
			return "asks for clicks without a corner."
		case !knobs[c.Knob]:
			return fmt.Sprintf("asks for clicks of the unknown knob %q.", c.Knob)
		case c.Purpose != event.Before && c.Purpose != event.Setting:
			return "asks for clicks, but not whether as found or as set."
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
			return fmt.Sprintf("Its order %q before %q does not name two readings.", o.First, o.Then)
		case blank(o.Why):
			return fmt.Sprintf("Its order %s before %s does not say why.", o.First.Words(), o.Then.Words())
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
				return fmt.Sprintf("Step %q reads or sets %s after step %q, but %s comes before %s.", step.ID, o.First.Words(), then, o.First.Words(), o.Then.Words())
			}
			if r.Quantity == o.Then && r.Purpose == purpose {
				then = step.ID
			}
		}
	}
	return ""
}
