package sheet_test

import (
	"slices"
	"strings"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/sheet"
)

// everySheet builds every pairing of layouts and both demos. That each is closed
// (all that is loosened is fitted and made final, every lift is lowered, no bush
// is clamped in the air, no step asks what cannot be had any more) is checked by
// Validate, which Build calls; what follows are the rules for our own data.
func everySheet(t *testing.T) map[string]*sheet.Sheet {
	t.Helper()
	out := map[string]*sheet.Sheet{}
	for _, s := range sheet.Demo() {
		out[s.Title] = s
	}
	for _, front := range sheet.Patterns() {
		for _, rear := range sheet.Patterns() {
			if !slices.Contains(front.Axles, event.Front) || !slices.Contains(rear.Axles, event.Rear) {
				continue
			}
			s, err := sheet.Build(sheet.Start{Title: "own", Version: "1", Own: true, Vehicle: sheet.Vehicle{Name: "a car"}, Front: front.ID, Rear: rear.ID,
				Dampers: []sheet.Damper{{Axle: event.Front, From: "full_hard", Clicks: 3, Source: "p. 1"}, {Axle: event.Rear, From: "full_hard", Clicks: 3, Source: "p. 1"}}})
			if err != nil {
				t.Fatalf("%s/%s: %v", front.ID, rear.ID, err)
			}
			out[string(front.ID)+" / "+string(rear.ID)] = s
		}
	}
	return out
}

// notCounted finds a corner whose dampers are preset and never asked about.
func notCounted(s *sheet.Sheet) string {
	if len(s.Dampers) == 0 {
		return ""
	}
	counted := map[event.Corner]bool{}
	for _, step := range s.Steps() {
		for _, c := range step.Clicks {
			counted[c.Corner] = true
		}
	}
	for _, corner := range event.Corners {
		if !counted[corner] {
			return corner.Words()
		}
	}
	return ""
}

func hoseWithoutWord(s *sheet.Sheet) string {
	for _, step := range s.Steps() {
		about := strings.ToLower(strings.Join(append(append([]string{step.Do, step.Why}, step.Cautions...), step.First...), " "))
		for _, c := range step.Checks {
			about += strings.ToLower(c.Ask + c.Stop)
		}
		for _, id := range append(slices.Clone(step.Loosen), step.Fit...) {
			if strings.HasPrefix(string(id), "hose_") && !strings.Contains(about, "hose") {
				return string(step.ID)
			}
		}
	}
	return ""
}

func noOrder(s *sheet.Sheet) string {
	for _, o := range s.Order {
		if o.First == event.RideHeight && o.Then == event.Camber {
			return ""
		}
	}
	return "ride height before camber is missing"
}

func noLift(s *sheet.Sheet) string {
	for _, axle := range event.Axles {
		checks := s.ChecksFor(axle, event.Raise)
		i := slices.IndexFunc(checks, func(c sheet.Check) bool { return c.Lifts })
		if i < 1 || !checks[i].Must {
			return string(axle)
		}
	}
	return ""
}

func noPedal(s *sheet.Sheet) string {
	for _, step := range s.Steps() {
		asks := slices.ContainsFunc(step.Checks, func(c sheet.StepCheck) bool {
			return c.Must && c.When == sheet.Before && strings.Contains(c.Ask, "pedal")
		})
		if (step.Drive || step.Settle) && !asks {
			return string(step.ID)
		}
	}
	return ""
}

func noBench(s *sheet.Sheet) string {
	for _, step := range s.Steps() {
		if step.Leftovers {
			return ""
		}
		if step.Drive {
			return string(step.ID)
		}
	}
	return "nobody drives"
}

// nothingToldApart: wherever a part of the kit goes in, something tells left from
// right or front from rear.
func nothingToldApart(s *sheet.Sheet) string {
	for _, corner := range event.Corners {
		told := false
		for _, step := range s.Steps() {
			if step.Corner != corner && (step.Corner != "" || step.Axle != corner.Axle()) {
				continue
			}
			for _, c := range step.Checks {
				text := strings.ToLower(c.Ask)
				told = told || c.Must && (strings.Contains(text, "marked for") || strings.Contains(text, "for this"))
			}
		}
		if !told {
			return corner.Words()
		}
	}
	return ""
}

func noRecheck(s *sheet.Sheet) string {
	for _, f := range s.Fasteners {
		if f.Wheel && f.Recheck == 0 {
			return string(f.ID)
		}
	}
	return ""
}

func each(s *sheet.Sheet, change func(*sheet.Step)) {
	for _, step := range s.Steps() {
		change(step)
	}
}

func clearLifts(s *sheet.Sheet) {
	for i := range s.Checks {
		s.Checks[i].Lifts = false
	}
}
