package sheet_test

import (
	"slices"
	"strings"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/sheet"
)

// rules are what every layout must do at the car; each is seen red by its spoil.
var rules = map[string]struct {
	broken func(*sheet.Sheet) string
	spoil  func(*sheet.Sheet)
}{
	"every step leads back to the first": {cutOff, func(s *sheet.Sheet) { s.Step("raise_step_rear").Needs = nil }},
	"an adjuster is noted as found in a step before the one that loosens it": {notedLate, func(s *sheet.Sheet) {
		s.Step("strut_out_FL").Positions, s.Step("free_FL").Positions = s.Step("free_FL").Positions, nil
	}},
	"what is undone in the air warns of the hose": {silentAtHose, func(s *sheet.Sheet) { s.Step("spring_out_RL").Cautions = nil }},
	"a bar link is made with both wheels hanging": {barLoaded, func(s *sheet.Sheet) { s.Step("arm_close_RL").Checks = nil }},
	"what comes down is held by a jack":           {notHeld, func(s *sheet.Sheet) { s.Step("damper_out_RR").Checks = nil }},
	"clicks are asked at every corner":            {notCounted, func(s *sheet.Sheet) { each(s, func(p *sheet.Step) { p.Clicks = nil }) }},
	"work at a brake hose warns or asks about it": {hoseWithoutWord, func(s *sheet.Sheet) {
		each(s, func(p *sheet.Step) { p.Do, p.Why, p.Cautions, p.First, p.Checks = "x", "", nil, nil, nil })
	}},
	"the order of measuring is stated":            {noOrder, func(s *sheet.Sheet) { s.Order = s.Order[:1] }},
	"the check that lifts is known":               {noLift, clearLifts},
	"the drive asks about the brake pedal":        {noPedal, func(s *sheet.Sheet) { s.Step("first_drive").Checks = nil }},
	"the bench is counted before the drive":       {noBench, func(s *sheet.Sheet) { each(s, func(p *sheet.Step) { p.Leftovers = false }) }},
	"a fitting step says or asks what goes where": {nothingToldApart, func(s *sheet.Sheet) { each(s, func(p *sheet.Step) { p.Checks = nil }) }},
	"wheel nuts are checked again":                {noRecheck, func(s *sheet.Sheet) { s.Fastener("wheel_nuts_FL").Recheck = 0 }},
	"every text is short":                         {wordy, func(s *sheet.Sheet) { s.Step("strut_out_FL").Checks[0].Stop = strings.Repeat("x", 301) }},
}

func TestRules(t *testing.T) {
	sheets := everySheet(t)
	for name, rule := range rules {
		t.Run(name, func(t *testing.T) {
			for title, s := range sheets {
				if what := rule.broken(s); what != "" {
					t.Errorf("%s: %s", title, what)
				}
			}
			spoiled := sheet.Demo()[0]
			rule.spoil(spoiled)
			if rule.broken(spoiled) == "" {
				t.Error("the rule does not see a sheet that breaks it")
			}
		})
	}
}

func cutOff(s *sheet.Sheet) string {
	steps := s.Steps()
	reached := map[event.StepID]bool{steps[0].ID: true}
	for _, step := range steps[1:] {
		reached[step.ID] = slices.ContainsFunc(step.Needs, func(id event.StepID) bool { return reached[id] })
		if !reached[step.ID] {
			return string(step.ID)
		}
	}
	return ""
}

func notedLate(s *sheet.Sheet) string {
	noted := map[sheet.PositionAsk]bool{}
	for _, step := range s.Steps() {
		for _, id := range step.Loosen {
			f := s.Fastener(id)
			if f.Holds != "" && !noted[sheet.PositionAsk{Adjuster: f.Holds, Corner: f.Corner, Purpose: event.Before}] {
				return string(id)
			}
		}
		for _, p := range step.Positions {
			noted[p] = true
		}
	}
	return ""
}

func silentAtHose(s *sheet.Sheet) string {
	for _, step := range s.Steps() {
		if step.Car == sheet.Up && len(step.Loosen) > 0 && !strings.Contains(strings.Join(step.Cautions, " "), "brake hose") {
			return string(step.ID)
		}
	}
	return ""
}

func barLoaded(s *sheet.Sheet) string {
	for _, step := range s.Steps() {
		for _, ref := range step.Passes {
			if strings.HasPrefix(string(ref.Fastener), "link") && !asks(step, "bar_free") {
				return string(step.ID)
			}
		}
	}
	return ""
}

// notHeld finds a step that undoes a damper, or a unit with its spring, below,
// without asking what holds the arm, the axle or the hub.
func notHeld(s *sheet.Sheet) string {
	for _, step := range s.Steps() {
		for _, id := range step.Loosen {
			below := strings.HasPrefix(string(id), "damper_lower") || strings.HasPrefix(string(id), "unit_lower") || strings.HasPrefix(string(id), "knuckle_lower")
			if below && !asks(step, "jack_arm") && !asks(step, "jack_axle") && !asks(step, "hub_held") {
				return string(step.ID)
			}
		}
	}
	return ""
}

func asks(step *sheet.Step, id event.CheckID) bool {
	return slices.ContainsFunc(step.Checks, func(c sheet.StepCheck) bool { return c.ID == id && c.Must && c.When == sheet.Before })
}

func wordy(s *sheet.Sheet) string {
	const most = 300
	for _, step := range s.Steps() {
		texts := append([]string{step.Title, step.Do, step.Why}, append(step.Cautions, step.First...)...)
		for _, c := range step.Checks {
			texts = append(texts, c.Ask, c.Why, c.Stop)
		}
		for _, text := range texts {
			if len([]rune(text)) > most {
				return string(step.ID) + ": " + text
			}
		}
	}
	return ""
}

// TestBothSidesTogether: where one axle joins both wheels, its dampers come off
// in one step, and the axle's own steps name no single corner.
func TestBothSidesTogether(t *testing.T) {
	for _, id := range []sheet.PatternID{"twist_beam", "live_axle", "leaf"} {
		s := everySheet(t)["front_strut / "+string(id)]
		step := s.Step("dampers_out_rear")
		for _, f := range []event.FastenerID{"damper_lower_RL", "damper_lower_RR", "damper_upper_RL", "damper_upper_RR"} {
			if !slices.Contains(step.Loosen, f) {
				t.Errorf("%s: step %s leaves %s", id, step.ID, f)
			}
		}
		if step.Corner != "" || !asks(step, "jack_axle") {
			t.Errorf("%s: corner %q, checks %+v", id, step.Corner, step.Checks)
		}
	}
	for _, p := range sheet.Patterns() { // with its corner placeholders standing
		for _, step := range append(slices.Clone(p.AxleBefore), p.AxleAfter...) {
			s := sheet.Sheet{Stages: []sheet.Stage{{Steps: []sheet.Step{step}}}}
			if strings.Contains(string(s.Encode()), "{corner") {
				t.Errorf("%s: step %s of the whole axle names a corner", p.ID, step.ID)
			}
		}
	}
}

// TestIDsStand: records and tests name these; they stay.
func TestIDsStand(t *testing.T) {
	s := sheet.Demo()[0]
	for _, id := range strings.Fields(`box tools specs heights_before camber_before toe_before crack_front raise_step_front free_FL strut_out_FL strut_bench_FL
		strut_in_FL strut_close_FL wheels_front lower_step_front nuts_front crack_rear raise_step_rear free_RL damper_out_RL spring_out_RL spring_in_RL damper_in_RL
		arm_close_RL wheels_rear lower_step_rear nuts_rear settle heights_set camber_set_FL finals_FL camber_final toe_final look_over nuts_round first_drive recheck`) {
		if s.Step(event.StepID(id)) == nil {
			t.Errorf("step %s is gone", id)
		}
	}
}

func TestBuild(t *testing.T) {
	start := sheet.Start{Title: "own", Version: "1", Source: "manual", Vehicle: sheet.Vehicle{Name: "a car"}, Front: "front_strut", Rear: "rear_strut",
		Torques: map[string]sheet.Torque{"perch_lock": {CNM: 2000}, "perch_lock_rear": {CNM: 3000, Source: "kit sheet"}, "rod_nut": {CNM: 4000, Prepare: "dry"}},
		Dampers: []sheet.Damper{{Axle: event.Rear, Knob: "bump", From: "full_soft", Clicks: 4}, {Axle: event.Rear, Knob: "rebound", From: "full_soft", Clicks: 5}},
		Perches: []sheet.Perch{{Axle: event.Rear, From: "from the foot", UM: 20_000}}}
	s, err := sheet.Build(start)
	if err != nil {
		t.Fatal(err)
	}
	again, err := sheet.Build(start)
	if err != nil || again.Hash() != s.Hash() {
		t.Errorf("built again it is another sheet: %v", err)
	}
	front, rear := s.Fastener("perch_lock_FL"), s.Fastener("perch_lock_RL")
	if front.Final().TorqueCNM != 2000 || front.Final().Source != "" || rear.Final().TorqueCNM != 3000 || rear.Final().Source != "kit sheet" || rear.Source != "manual" {
		t.Errorf("perch locks: %+v and %+v", front, rear)
	}
	if got := s.Fastener("rod_nut_FR").Prepare; got != "dry" {
		t.Errorf("Prepare = %q, want the one given", got)
	}
	if s.Dampers[0].Source != "manual" || s.Perches[0].Source != "manual" || start.Dampers[0].Source != "" {
		t.Errorf("sources: %+v %+v, and the start's own %+v", s.Dampers, s.Perches, start.Dampers[0])
	}
	if f, r := len(s.Step("strut_bench_FL").Clicks), len(s.Step("strut_bench_RL").Clicks); f != 0 || r != 4 {
		t.Errorf("asks for %d counts in front and %d behind, want 0 and both knobs twice", f, r)
	}
	if got := len(s.Step("heights_set").Positions); got != 4 {
		t.Errorf("asks for %d perches as set, want 4", got)
	}
}

// TestPassesOfAnAngle: what turns on and what turns back stand in an order that
// can be carried out.
func TestPassesOfAnAngle(t *testing.T) {
	seat, back := sheet.Pass{ID: "seat", Kind: sheet.Snug, Car: sheet.Up}, sheet.Pass{ID: "back", Kind: sheet.BackOff, AngleMdeg: 180_000, Car: sheet.Up}
	turn, final := sheet.Pass{ID: "turn", Kind: sheet.Angle, AngleMdeg: 90_000, Car: sheet.Up}, sheet.Pass{ID: "final", Kind: sheet.Final, TorqueCNM: 4000, Car: sheet.Up}
	for name, test := range map[string]struct {
		passes []sheet.Pass
		want   string // "" for a sound one
	}{
		"torque, then angle":      {[]sheet.Pass{final, turn}, ""},
		"seat, back off, torque":  {[]sheet.Pass{seat, back, final}, ""},
		"angle without torque":    {[]sheet.Pass{turn, final}, "no torque comes before it"},
		"back off at the start":   {[]sheet.Pass{back, final}, "needs a pass before it"},
		"back off at the end":     {[]sheet.Pass{final, back}, "needs a pass before it"},
		"back off by three turns": {[]sheet.Pass{seat, {ID: "back", Kind: sheet.BackOff, AngleMdeg: 1_080_000, Car: sheet.Up}, final}, "720 degrees"},
	} {
		t.Run(name, func(t *testing.T) {
			s := sheet.Demo()[0]
			f, step := s.Fastener("link_RL"), s.Step("arm_close_RL")
			f.Passes = test.passes
			step.Passes = slices.DeleteFunc(step.Passes, func(ref sheet.PassRef) bool { return ref.Fastener == f.ID })
			for _, p := range test.passes {
				step.Passes = append(step.Passes, sheet.PassRef{Fastener: f.ID, Pass: p.ID})
			}
			var got string
			if err := s.Validate(); err != nil {
				got = fault.Of(err).Message
			}
			if !strings.Contains(got, test.want) || (got == "") != (test.want == "") {
				t.Errorf("got %q, want %q in it", got, test.want)
			}
		})
	}
}
