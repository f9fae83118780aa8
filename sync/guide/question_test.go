package guide_test

import (
	"strings"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/guide"
	"strutcard/sync/sheet"
)

// asking is a demo sheet in which one step, with the front in the air, asks for
// everything that a step can ask for.
func asking(t *testing.T) (*sheet.Sheet, *sheet.Step) {
	t.Helper()
	s := sheet.Demo()[0]
	step := s.Step("free_FL")
	step.Checks = []sheet.StepCheck{
		{ID: "t_held", When: sheet.Before, Must: true, Ask: "Is the hub held up?", Stop: "Hold it up."},
		{ID: "t_bag", When: sheet.Before, Ask: "Is there a bag for the nuts?"},
		{ID: "t_hose", When: sheet.After, Must: true, Ask: "Does the hose hang free?", Stop: "Free it."},
	}
	step.Photos = []sheet.PhotoAsk{{ID: "t_bolt", What: "the camber bolt", Must: true, When: sheet.Before}}
	step.Positions = []sheet.PositionAsk{{Adjuster: event.Camber, Corner: event.FL, Purpose: event.Before}}
	step.Clicks = []sheet.ClicksAsk{{Corner: event.FL, Purpose: event.Before}}
	step.Leftovers = true
	if err := s.Validate(); err != nil {
		t.Fatal(err)
	}
	return s, step
}

func asked(asks []guide.Ask) string {
	var out []string
	for _, a := range asks {
		out = append(out, a.Text)
	}
	return strings.Join(out, " | ")
}

// TestQuestionsComeInOrder: first what must be true, pictures and positions as
// found; then the work; then the bench and what is looked at last.
func TestQuestionsComeInOrder(t *testing.T) {
	s, step := asking(t)
	j := at(t, s, step.ID)
	want := []string{"Is the hub held up?", "Is there a bag", "Photo: the camber bolt", "camber adjuster, front left", "clicks as found", "Loosen"}
	for _, text := range want {
		todo := j.Guide().Todo(step)
		if !strings.Contains(todo[0].Text, text) {
			t.Fatalf("asks %q first, want %q; all: %s", todo[0].Text, text, asked(todo))
		}
		j.Do(j.Answer(step, todo[0]))
	}
	for _, ask := range j.Guide().Todo(step) {
		if ask.Loosen != "" {
			j.Do(j.Answer(step, ask))
		}
	}
	if got := asked(j.Guide().Todo(step)); got != "Count what is left over on the bench | Does the hose hang free?" {
		t.Errorf("after the work it asks %q", got)
	}
}

func TestErrWorkBeforeTheQuestion(t *testing.T) {
	s, step := asking(t)
	j := at(t, s, step.ID)
	loosen := &event.FastenerLoosened{Fastener: step.Loosen[0]}
	blocked(t, j.Try(loosen), "Is the hub held up?")
	blocked(t, j.Try(&event.StepChecked{Step: step.ID, Check: "t_hose", Answer: event.Yes}), "comes first")
	j.Do(&event.StepChecked{Step: step.ID, Check: "t_held", Answer: event.No})
	blocked(t, j.Try(loosen), "Answered with no", "Hold it up.")
	if !j.Guide().Refused(step, &step.Checks[0]) {
		t.Error("a no to a must-question is no stop")
	}
	blocked(t, j.Try(&event.StepChecked{Step: step.ID, Check: "t_held", Answer: event.Override, Reason: "hurry"}), "no way round")
	j.Do(&event.StepChecked{Step: step.ID, Check: "t_held", Answer: event.Yes})
	blocked(t, j.Try(loosen), "Is there a bag")
	j.Do(&event.StepChecked{Step: step.ID, Check: "t_bag", Answer: event.Override, Reason: "a tin"}, loosen)
}

// TestAnswersDieWithTheLift: what was true before the car went down and up again
// is asked again.
func TestAnswersDieWithTheLift(t *testing.T) {
	s, step := asking(t)
	j := at(t, s, step.ID)
	j.Do(&event.StepChecked{Step: step.ID, Check: "t_held", Answer: event.Yes})
	if !j.Guide().Accepted(step, &step.Checks[0]) {
		t.Fatal("the answer does not count")
	}
	j.Force(&event.CarLowered{Axle: event.Front}, &event.CarRaised{Axle: event.Front})
	if j.Guide().Accepted(step, &step.Checks[0]) {
		t.Error("an answer from the lift before still counts")
	}
	j.Force(&event.CarRaised{Axle: event.Rear})
	j.Do(&event.StepChecked{Step: step.ID, Check: "t_held", Answer: event.Yes})
	j.Force(&event.CarLowered{Axle: event.Rear})
	if !j.Guide().Accepted(step, &step.Checks[0]) {
		t.Error("the other axle's move took the answer away")
	}
}

func TestLeftoverIsAStop(t *testing.T) {
	s, step := asking(t)
	j := at(t, s, step.ID)
	for len(j.Guide().Todo(step)) > 0 && !j.Guide().Todo(step)[0].Leftovers {
		j.Do(j.Answer(step, j.Guide().Todo(step)[0]))
	}
	j.Do(&event.LeftoversCounted{Step: step.ID, Count: 1, Note: "an M8 nut"})
	blocked(t, j.Try(&event.StepDone{Step: step.ID}), "1 left over")
	j.Do(&event.LeftoversCounted{Step: step.ID}, &event.StepChecked{Step: step.ID, Check: "t_hose", Answer: event.Yes})
	j.Do(&event.StepDone{Step: step.ID})
}

func TestPhotoOrReason(t *testing.T) {
	s, step := asking(t)
	j := at(t, s, step.ID)
	blocked(t, j.Try(&event.PhotoLeftOut{Step: step.ID, Photo: "other", Reason: "r"}), "no such picture")
	j.Do(&event.PhotoLeftOut{Step: step.ID, Photo: "t_bolt", Reason: "lens is broken"})
	if got := asked(j.Guide().Todo(step)); strings.Contains(got, "Photo") {
		t.Errorf("a picture that was left out is asked for: %s", got)
	}
}

// TestReopen: a step that is opened again asks for its work again.
func TestReopen(t *testing.T) {
	j := at(t, wren(), "strut_close_FL")
	blocked(t, j.Try(&event.StepReopened{Step: "strut_close_FL", Reason: "r"}), "open already")
	blocked(t, j.Try(&event.StepReopened{Step: "raise_step_front", Reason: "r"}), "Raising and lowering")
	blocked(t, j.Try(&event.StepReopened{Step: "crack_front", Reason: "r"}), "down on its wheels")
	j.Do(&event.StepReopened{Step: "strut_in_FL", Reason: "the mount sat crooked"})
	step := j.Sheet.Step("strut_in_FL")
	if status, _ := j.Guide().Status(step); status != guide.Open {
		t.Fatalf("a reopened step is %s", status)
	}
	if got := j.Guide().Next(); got != step {
		t.Errorf("the guide goes on at %s", got.ID)
	}
	if j.Guide().PassHolds(sheet.PassRef{Fastener: "strut_top_FL", Pass: "final"}) {
		t.Error("a pass made before the step was opened again still holds")
	}
	if j.Guide().Todo(step)[0].Fit == "" && j.Guide().Todo(step)[0].Question == nil {
		t.Errorf("it asks %q first, want to fit again", asked(j.Guide().Todo(step)))
	}
	j.Until("strut_close_FL")
	if got := j.Log.State().Steps["strut_in_FL"].ReopenedAs; got != "the mount sat crooked" {
		t.Errorf("the reason is %q", got)
	}
}

func TestSelfReleaseWantsAPicture(t *testing.T) {
	j := at(t, wren(), "look_over")
	step := j.Sheet.Step("look_over")
	for status, _ := j.Guide().Status(step); status != guide.Waiting; status, _ = j.Guide().Status(step) {
		if todo := j.Guide().Todo(step); len(todo) > 0 {
			j.Do(j.Answer(step, todo[0]))
			continue
		}
		j.Do(&event.StepDone{Step: step.ID})
	}
	alone := &event.HoldReleased{Step: step.ID, By: "installer", Reason: "nobody answers"}
	if !j.Guide().Shown(step.ID) {
		blocked(t, j.Try(alone), "no picture")
		j.Do(&event.PhotoLeftOut{Step: step.ID, Photo: guide.HoldPhoto, Reason: "the lens is broken"})
	}
	j.Do(alone)
}

func TestWithdrawn(t *testing.T) {
	j := at(t, wren(), "crack_rear")
	g := j.Guide()
	g.Withdrawn = &sheet.Withdrawal{Reason: "A torque was wrong.", Before: "crack_rear"}
	loosen := &event.FastenerLoosened{Fastener: "wheel_nuts_RL"}
	blocked(t, g.Allow(loosen), "withdrawn", "A torque was wrong.")
	if !strings.Contains(g.WithdrawalWords(), "stop before “Loosen the rear wheel nuts a quarter turn”") {
		t.Errorf("it says %q", g.WithdrawalWords())
	}
	g.Withdrawn.Before = "first_drive"
	if err := g.Allow(loosen); err != nil && strings.Contains(err.Error(), "withdrawn") {
		t.Errorf("a step before the stop is refused: %v", err)
	}
	up := at(t, wren(), "lower_step_front")
	g = up.Guide()
	g.Withdrawn = &sheet.Withdrawal{Reason: "A torque was wrong."}
	for _, c := range up.Sheet.ChecksFor(event.Front, event.Lower) {
		up.Do(&event.CheckAnswered{Axle: event.Front, Move: event.Lower, Check: c.ID, Answer: event.Yes})
	}
	if err := g.Allow(&event.CarLowered{Axle: event.Front}); err != nil {
		t.Errorf("the car may not be made safe: %v", err)
	}
	if err := up.Guide().Allow(&event.WithdrawalSeen{Reason: "r"}); !fault.Is(err, fault.Blocked) {
		t.Errorf("agreeing to a withdrawal that is none = %v", err)
	}
	j.Force(&event.WithdrawalSeen{Reason: "asked the shop"})
	g = guide.New(j.Sheet, j.Log.State())
	g.Withdrawn = &sheet.Withdrawal{Reason: "A torque was wrong."}
	if g.Stops() {
		t.Error("the withdrawal still stops after it was agreed to go on")
	}
}

func TestTooFast(t *testing.T) {
	j := at(t, wren(), "nuts_front")
	j.Do(j.Answer(j.Sheet.Step("nuts_front"), j.Guide().Todo(j.Sheet.Step("nuts_front"))[0]))
	events := j.Events()
	last := events[len(events)-1].At
	pass := &event.PassDone{Fastener: "wheel_nuts_FL", Pass: "final", TorqueCNM: 11_200, Count: 1}
	tests := map[string]struct {
		p     event.Payload
		after int64
		asked bool
	}{
		"torque at once":     {pass, 400, true},
		"torque after 3.9 s": {pass, 3900, true},
		"torque after 4 s":   {pass, 4000, false},
		"loosened at once":   {&event.FastenerLoosened{Fastener: "x"}, 1500, true},
		"fitted after 2 s":   {&event.FastenerFitted{Fastener: "x"}, 2000, false},
		"answered at once":   {&event.StepChecked{Step: "s", Check: "c", Answer: event.Yes}, 300, true},
		"answered after 1 s": {&event.CheckAnswered{Axle: event.Front}, 1000, false},
		"push, at once":      {&event.CheckAnswered{Axle: event.Front, Move: event.Raise, Check: "still", Answer: event.Yes}, 1400, true},
		"push, after 4 s":    {&event.CheckAnswered{Axle: event.Front, Move: event.Raise, Check: "still", Answer: event.Yes}, 4000, false},
		"it did not stand":   {&event.CheckAnswered{Axle: event.Front, Move: event.Raise, Check: "still", Answer: event.No}, 1400, false},
		"eyes, after 1.4 s":  {&event.CheckAnswered{Axle: event.Front, Move: event.Raise, Check: "eyes", Answer: event.Yes}, 1400, false},
		"clock went back":    {pass, -60_000, false},
		"a note":             {&event.NoteAdded{Text: "x"}, 1, false},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			if got := j.Guide().TooFast(test.p, last+test.after); (got != "") != test.asked {
				t.Errorf("asks %q, want asked %v", got, test.asked)
			}
		})
	}
}

// TestGroupIsCountedUp: of five nuts, three done is neither final nor lost.
func TestGroupIsCountedUp(t *testing.T) {
	j := at(t, wren(), "nuts_front")
	ref := sheet.PassRef{Fastener: "wheel_nuts_FL", Pass: "half"}
	for n := int64(1); n <= 3; n++ {
		p := j.Pass(ref.Fastener, ref.Pass)
		p.Count = n
		j.Do(p)
	}
	if got := j.Guide().Counted(ref); got != 3 || j.Guide().PassHolds(ref) {
		t.Errorf("Counted = %d, holds %v, want 3 and not yet", got, j.Guide().PassHolds(ref))
	}
	j.Do(j.Pass(ref.Fastener, ref.Pass))
	if got := j.Guide().Counted(ref); got != 0 || !j.Guide().PassHolds(ref) {
		t.Errorf("after all: Counted = %d, holds %v", got, j.Guide().PassHolds(ref))
	}
}

// TestLifting: the strip says "being raised" from the check at which the car
// leaves the ground, and an attempt can be given up.
func TestLifting(t *testing.T) {
	j := at(t, wren(), "raise_step_front")
	lifts := -1
	for i := range j.Sheet.Checks {
		if c := &j.Sheet.Checks[i]; c.ID == "still" {
			c.Lifts = true
		}
	}
	checks := j.Sheet.ChecksFor(event.Front, event.Raise)
	for i, c := range checks {
		if c.Lifts {
			lifts = i
			break
		}
	}
	blocked(t, j.Try(&event.CarLowered{Axle: event.Front}), "already down")
	for i, c := range checks[:lifts] {
		if got := j.Guide().Lifting(); got != "" {
			t.Fatalf("after %d answers the %s is said to be raised", i, got)
		}
		j.Do(&event.CheckAnswered{Axle: event.Front, Move: event.Raise, Check: c.ID, Answer: event.Yes})
	}
	if j.Guide().Lifting() != event.Front {
		t.Error("at the check with the car lifted, nothing is said to be raised")
	}
	j.Do(&event.CheckAnswered{Axle: event.Front, Move: event.Raise, Check: checks[lifts].ID, Answer: event.No})
	if j.Guide().Lifting() != event.Front || len(j.Guide().Reminders()) == 0 {
		t.Error("after a no with the car lifted, it is said to stand on its wheels")
	}
	blocked(t, j.Guide().Allow(j.Reading(event.Camber, event.FL.Place(), event.Setting)), "being raised")
	j.Do(&event.CarLowered{Axle: event.Front})
	if j.Guide().Lifting() != "" || j.Guide().Answered(event.Front, checks[0]) {
		t.Error("the attempt was given up, and its answers still count")
	}
}

// TestLoweringIsStoppedBeforeTheFirstCheck: the last check is answered with the
// car down, so a loose fastener must stop it before the first.
func TestLoweringIsStoppedBeforeTheFirstCheck(t *testing.T) {
	j := at(t, wren(), "lower_step_front")
	j.Force(&event.FastenerFitted{Fastener: "knuckle_upper_FL"})
	step := j.Sheet.Step("lower_step_front")
	status, why := j.Guide().Status(step)
	if status != guide.Blocked || len(why) != 1 || why[0].Step != "strut_in_FL" {
		t.Errorf("with a finger-tight bolt the step is %s: %v, want blocked, with the step that makes it snug", status, why)
	}
	first := j.Sheet.ChecksFor(event.Front, event.Lower)[0]
	blocked(t, j.Try(&event.CheckAnswered{Axle: event.Front, Move: event.Lower, Check: first.ID, Answer: event.Yes}), "finger tight")
}

func TestErrSkipWhatIsTakenApart(t *testing.T) {
	j := at(t, wren(), "strut_in_FL")
	j.Ask("strut_in_FL", isWork)
	blocked(t, j.Try(&event.StepSkipped{Step: "strut_in_FL", Reason: "stuck"}), "taken apart", "is loose")
	j = at(t, wren(), "special")
	blocked(t, j.Try(&event.StepSkipped{Step: "special", Reason: "no time"}), "answered with yes", "spring")
}

// TestAnswersDieWithAPause: chocks and ground are looked at again the next day.
func TestAnswersDieWithAPause(t *testing.T) {
	j := at(t, wren(), "raise_step_front")
	checks := j.Sheet.ChecksFor(event.Front, event.Raise)
	yes(j, event.Front, event.Raise)
	j.Do(&event.WorkParked{}, &event.WorkResumed{AsLeft: true})
	if j.Guide().Answered(event.Front, checks[0]) {
		t.Error("an answer from before the pause still counts")
	}
	blocked(t, j.Try(&event.CarRaised{Axle: event.Front}), checks[0].Ask)
	if j.Guide().Lifting() != event.Front {
		t.Error("after the pause it is said to stand on its wheels, though it may be in the air")
	}
}
