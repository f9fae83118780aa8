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

// lints are the rules, by what they want.
var lints = map[string]func(*sheet.Sheet) string{
	"every step but the first waits for one before":  unchained,
	"an adjuster is noted before it comes loose":     notNoted,
	"clicks are counted before the damper comes out": notCounted,
	"work at a brake hose warns or asks about it":    hoseWithoutWord,
	"the order of measuring is stated":               noOrder,
	"the check that lifts is known":                  noLift,
	"the drive asks about the brake pedal":           noPedal,
	"the bench is counted before the drive":          noBench,
	"a fitting step says or asks what goes where":    nothingToldApart,
	"wheel nuts are checked again":                   noRecheck,
	"texts are short":                                longText,
}

// TestLintSees spoils one thing of a demo sheet for each rule.
func TestLintSees(t *testing.T) {
	spoil := map[string]func(*sheet.Sheet){
		"every step but the first waits for one before":  func(s *sheet.Sheet) { s.Step("settle").Needs = nil },
		"an adjuster is noted before it comes loose":     func(s *sheet.Sheet) { each(s, func(p *sheet.Step) { p.Positions = nil }) },
		"clicks are counted before the damper comes out": func(s *sheet.Sheet) { each(s, func(p *sheet.Step) { p.Clicks = nil }) },
		"work at a brake hose warns or asks about it": func(s *sheet.Sheet) {
			each(s, func(p *sheet.Step) { p.Do, p.Why, p.Cautions, p.First, p.Checks = "x", "", nil, nil, nil })
		},
		"the order of measuring is stated":            func(s *sheet.Sheet) { s.Order = s.Order[:1] },
		"the check that lifts is known":               func(s *sheet.Sheet) { clearLifts(s) },
		"the drive asks about the brake pedal":        func(s *sheet.Sheet) { s.Step("first_drive").Checks = nil },
		"the bench is counted before the drive":       func(s *sheet.Sheet) { each(s, func(p *sheet.Step) { p.Leftovers = false }) },
		"a fitting step says or asks what goes where": func(s *sheet.Sheet) { each(s, func(p *sheet.Step) { p.Checks = nil }) },
		"wheel nuts are checked again":                func(s *sheet.Sheet) { s.Fastener("wheel_nuts_FL").Recheck = 0 },
		"texts are short":                             func(s *sheet.Sheet) { s.Step("box").Do = strings.Repeat("x", 400) },
	}
	for rule, lint := range lints {
		s := sheet.Demo()[0]
		spoil[rule](s)
		if lint(s) == "" {
			t.Errorf("%s: the rule does not see it", rule)
		}
	}
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

func TestLint(t *testing.T) {
	for name, s := range everySheet(t) {
		for rule, lint := range lints {
			if what := lint(s); what != "" {
				t.Errorf("%s: %s: %s", name, rule, what)
			}
		}
	}
}

func unchained(s *sheet.Sheet) string {
	for _, step := range s.Steps()[1:] {
		if len(step.Needs) == 0 {
			return string(step.ID)
		}
	}
	return ""
}

func notNoted(s *sheet.Sheet) string {
	noted := map[event.Corner]map[event.Quantity]bool{event.FL: {}, event.FR: {}, event.RL: {}, event.RR: {}}
	for _, step := range s.Steps() {
		for _, p := range step.Positions {
			noted[p.Corner][p.Adjuster] = true
		}
		for _, id := range step.Loosen {
			if f := s.Fastener(id); f.Holds != "" && !noted[f.Corner][f.Holds] {
				return string(step.ID) + " loosens " + string(id)
			}
		}
	}
	return ""
}

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

func longText(s *sheet.Sheet) string {
	for _, step := range s.Steps() {
		if len(step.Do) > 320 {
			return string(step.ID)
		}
	}
	return ""
}
