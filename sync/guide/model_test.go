package guide_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/guide/guidetest"
	"strutcard/sync/sheet"
)

// model is a second, plainer reading of a log by one device: what a person who
// stood beside the car would know.
type model struct {
	sheet                    *sheet.Sheet
	up                       map[event.Axle]bool
	answers                  map[event.CheckAnswered]bool // without reasons
	lowered, height, settled int                          // when last, counted in events
	touched, fitted          map[event.FastenerID]bool
	made                     map[sheet.PassRef]bool    // and still good
	asked                    map[event.StepChecked]int // the answer given last, and when
	moved                    map[event.Axle]int
	leftover                 int64
}

func replay(s *sheet.Sheet, events []event.Event) *model {
	m := &model{sheet: s, up: map[event.Axle]bool{}, answers: map[event.CheckAnswered]bool{}, touched: map[event.FastenerID]bool{},
		fitted: map[event.FastenerID]bool{}, made: map[sheet.PassRef]bool{},
		asked: map[event.StepChecked]int{}, moved: map[event.Axle]int{}}
	for _, f := range s.Fasteners {
		m.fitted[f.ID] = standing(s, f.ID)
	}
	gone := map[event.ID]bool{}
	for _, e := range slices.Backward(events) {
		if c, ok := e.Payload().(*event.Corrected); ok && !gone[e.ID] {
			gone[c.Event] = true
		}
	}
	for i, e := range events {
		if !gone[e.ID] {
			m.see(i+1, e.Payload())
		}
	}
	return m
}

// standing reports whether no step works on a fastener.
func standing(s *sheet.Sheet, id event.FastenerID) bool {
	return !slices.ContainsFunc(s.Steps(), func(step *sheet.Step) bool { return slices.Contains(step.Loosen, id) || slices.Contains(step.Fit, id) })
}

func (m *model) see(n int, p event.Payload) {
	switch p := p.(type) {
	case *event.FastenerLoosened:
		m.touched[p.Fastener], m.fitted[p.Fastener] = true, false
		m.undo(func(f *sheet.Fastener, _ *sheet.Pass) bool { return f.ID == p.Fastener })
	case *event.FastenerFitted:
		m.touched[p.Fastener], m.fitted[p.Fastener] = true, true
		m.undo(func(f *sheet.Fastener, _ *sheet.Pass) bool { return f.ID == p.Fastener })
	case *event.PassDone:
		m.touched[p.Fastener] = true
		m.made[sheet.PassRef{Fastener: p.Fastener, Pass: p.Pass}] = p.Count == m.sheet.Fastener(p.Fastener).Count
	case *event.SpecGiven:
		final := m.sheet.Fastener(p.Fastener).Final().ID == p.Pass
		m.undo(func(f *sheet.Fastener, pass *sheet.Pass) bool {
			return f.ID == p.Fastener && (pass.ID == p.Pass || final && (pass.Kind == sheet.Partial || pass.Kind == sheet.Recheck))
		})
	case *event.AdjustmentMade:
		if p.Quantity == event.RideHeight {
			m.height = n
			m.undo(func(f *sheet.Fastener, pass *sheet.Pass) bool { return f.Bushed && pass.Car == sheet.AtRide })
			return
		}
		m.undo(func(f *sheet.Fastener, pass *sheet.Pass) bool {
			held := f.Holds == p.Quantity && f.Corner == p.Corner && pass.Kind == sheet.Final
			m.touched[f.ID] = m.touched[f.ID] || held && standing(m.sheet, f.ID)
			return held
		})
	case *event.CheckAnswered:
		for _, a := range []event.Answer{event.Yes, event.No, event.Override} {
			m.answers[event.CheckAnswered{Axle: p.Axle, Move: p.Move, Check: p.Check, Answer: a}] = a == p.Answer
		}
	case *event.StepChecked:
		for _, a := range []event.Answer{event.Yes, event.No, event.Override} {
			delete(m.asked, event.StepChecked{Step: p.Step, Check: p.Check, Answer: a})
		}
		m.asked[event.StepChecked{Step: p.Step, Check: p.Check, Answer: p.Answer}] = n
	case *event.StepReopened:
		m.reopen(p.Step)
	case *event.DecisionMade:
		m.reopen(p.Step)
	case *event.LeftoversCounted:
		m.leftover = p.Count
	case *event.CarRaised:
		m.moved[p.Axle] = n
		m.move(p.Axle, true)
	case *event.CarLowered:
		m.moved[p.Axle] = n
		m.move(p.Axle, false)
		m.lowered = n
	case *event.StepDone:
		if m.sheet.Step(p.Step).Settle {
			m.settled = n
		}
	}
}

func (m *model) reopen(step event.StepID) {
	for a := range m.asked {
		if a.Step == step {
			delete(m.asked, a)
		}
	}
	m.undo(func(f *sheet.Fastener, pass *sheet.Pass) bool {
		return slices.Contains(m.sheet.Step(step).Passes, sheet.PassRef{Fastener: f.ID, Pass: pass.ID})
	})
}

func (m *model) undo(which func(*sheet.Fastener, *sheet.Pass) bool) {
	for i := range m.sheet.Fasteners {
		f := &m.sheet.Fasteners[i]
		for j := range f.Passes {
			if which(f, &f.Passes[j]) {
				delete(m.made, sheet.PassRef{Fastener: f.ID, Pass: f.Passes[j].ID})
			}
		}
	}
}

func (m *model) move(axle event.Axle, up bool) {
	m.up[axle] = up
	for a := range m.answers {
		if a.Axle == axle {
			delete(m.answers, a)
		}
	}
}

// notFinal lists what was touched and lacks a pass; loose lists, of one axle,
// what does not even have its first.
func (m *model) notFinal() (out []event.FastenerID) {
	return m.lacking(func(f *sheet.Fastener) []sheet.Pass { return f.Passes })
}

func (m *model) loose(axle event.Axle) []event.FastenerID {
	return m.lacking(func(f *sheet.Fastener) []sheet.Pass {
		if f.Corner.Axle() != axle {
			return nil
		}
		return f.Passes[:1]
	})
}

func (m *model) lacking(passes func(*sheet.Fastener) []sheet.Pass) (out []event.FastenerID) {
	for i := range m.sheet.Fasteners {
		f := &m.sheet.Fasteners[i]
		lacks := func(p sheet.Pass) bool { return !m.fitted[f.ID] || !m.made[sheet.PassRef{Fastener: f.ID, Pass: p.ID}] }
		if m.touched[f.ID] && slices.ContainsFunc(passes(f), lacks) {
			out = append(out, f.ID)
		}
	}
	return out
}

func (m *model) checked(axle event.Axle, move event.Move) bool {
	for _, c := range m.sheet.ChecksFor(axle, move) {
		a := event.CheckAnswered{Axle: axle, Move: move, Check: c.ID, Answer: event.Yes}
		override := a
		override.Answer = event.Override
		if !m.answers[a] && (c.Must || !m.answers[override]) {
			return false
		}
	}
	return true
}

func (m *model) anyUp() bool { return m.up[event.Front] || m.up[event.Rear] }

// wrong says what is dangerous about an event that the guide has just allowed, or "".
func (m *model) wrong(p event.Payload) string {
	switch p := p.(type) {
	case *event.JobFinished:
		return m.mayDrive()
	case *event.StepDone:
		step := m.sheet.Step(p.Step)
		if what := m.unasked(step, true); what != "" {
			return "closed without " + what
		}
		if step.Leftovers && m.leftover > 0 {
			return "closed with something left over"
		}
		if step.Drive {
			return m.mayDrive()
		}
	case *event.FastenerLoosened:
		return m.under(func(s *sheet.Step) bool { return slices.Contains(s.Loosen, p.Fastener) })
	case *event.FastenerFitted:
		if m.sheet.Fastener(p.Fastener).Wheel {
			return "" // may be run up again where the wheel stands
		}
		return m.under(func(s *sheet.Step) bool { return slices.Contains(s.Fit, p.Fastener) })
	case *event.CarRaised:
		other := map[event.Axle]event.Axle{event.Front: event.Rear, event.Rear: event.Front}[p.Axle]
		if m.up[other] || !m.checked(p.Axle, event.Raise) {
			return "raised with the other axle up, or a check open"
		}
	case *event.CarLowered:
		if !m.up[p.Axle] {
			return "" // an attempt to raise it is given up
		}
		if loose := m.loose(p.Axle); len(loose) > 0 || !m.checked(p.Axle, event.Lower) {
			return "lowered with a check open, or loose: " + string(append(loose, "")[0])
		}
	case *event.PassDone:
		f := m.sheet.Fastener(p.Fastener)
		if pass := f.Pass(p.Pass); !f.Bushed || pass.Kind != sheet.Final {
			return ""
		}
		if m.anyUp() || m.settled == 0 || m.settled < m.lowered || m.settled < m.height || p.TorqueCNM == 0 {
			return "a bush was clamped in the air, unsettled, or without a torque"
		}
	}
	return ""
}

// under says why work at a car in the air may not begin: the axle is not up by a
// lift that was checked, or a question before the work has no good answer.
func (m *model) under(belongs func(*sheet.Step) bool) string {
	why := ""
	for _, step := range m.sheet.Steps() {
		if !belongs(step) {
			continue
		}
		switch what := m.unasked(step, false); {
		case step.Car == sheet.Up && !m.up[step.Axle]:
			why = "worked on in the air with the axle down"
		case what != "":
			why = "worked on without " + what
		default:
			return ""
		}
	}
	return why
}

// unasked names a must-question of the step without a yes since the car last moved.
func (m *model) unasked(step *sheet.Step, all bool) string {
	if step.Move != "" {
		return ""
	}
	since := m.moved[step.Axle]
	if step.Axle == "" {
		since = max(m.moved[event.Front], m.moved[event.Rear])
	}
	for _, c := range step.Checks {
		if n := m.asked[event.StepChecked{Step: step.ID, Check: c.ID, Answer: event.Yes}]; c.Must && (all || c.When == sheet.Before) && (n == 0 || n < since) {
			return "a yes to: " + c.Ask
		}
	}
	return ""
}

func (m *model) mayDrive() string {
	if open := m.notFinal(); m.anyUp() || len(open) > 0 {
		return "driven or finished with an axle up, or not final: " + string(append(open, "")[0])
	}
	return ""
}

// randomAction draws anything that a person, or a bug, might try.
func randomAction(t *rapid.T, j *guidetest.Job) event.Payload {
	f := &j.Sheet.Fasteners[rapid.IntRange(0, len(j.Sheet.Fasteners)-1).Draw(t, "fastener")]
	step := j.Sheet.Steps()[rapid.IntRange(0, len(j.Sheet.Steps())-1).Draw(t, "step")]
	axle := rapid.SampledFrom(event.Axles).Draw(t, "axle")
	corner := rapid.SampledFrom(event.Corners).Draw(t, "corner")
	check := j.Sheet.Checks[rapid.IntRange(0, len(j.Sheet.Checks)-1).Draw(t, "check")]
	pass := j.Pass(f.ID, f.Passes[rapid.IntRange(0, len(f.Passes)-1).Draw(t, "pass")].ID)
	pass.Count = min(pass.Count, int64(rapid.IntRange(1, 9).Draw(t, "count")))
	old := j.Events()[rapid.IntRange(0, len(j.Events())-1).Draw(t, "old event")]
	quantity := rapid.SampledFrom([]event.Quantity{event.RideHeight, event.Camber, event.Toe}).Draw(t, "quantity")
	reply := rapid.SampledFrom([]event.Answer{event.Yes, event.No, event.Override}).Draw(t, "answer")
	asked := &event.StepChecked{Step: step.ID, Check: "none", Answer: reply, Reason: "a reason"}
	if len(step.Checks) > 0 {
		asked.Check = step.Checks[rapid.IntRange(0, len(step.Checks)-1).Draw(t, "question")].ID
	}
	questioned := rapid.SampledFrom([]string{"", "High for its thread."}).Draw(t, "question")
	return rapid.SampledFrom([]event.Payload{
		pass, pass, &event.FastenerLoosened{Fastener: f.ID}, &event.FastenerFitted{Fastener: f.ID, Renewed: true}, &event.FastenerMarked{Fastener: f.ID},
		&event.CarRaised{Axle: axle}, &event.CarLowered{Axle: axle},
		answer(axle, check.Move, check.ID, reply),
		&event.StepDone{Step: step.ID}, &event.StepSkipped{Step: step.ID, Reason: "no time"}, &event.StepStarted{Step: step.ID},
		&event.HoldReleased{Step: step.ID, By: "installer", Reason: "nobody here"},
		&event.AdjustmentMade{Quantity: quantity, Corner: corner, After: "moved"},
		j.Reading(quantity, corner.Place(), event.Setting), j.Reading(quantity, corner.Place(), event.Final),
		&event.SpecGiven{Fastener: f.ID, Pass: f.Final().ID, TorqueCNM: 4700, Source: "manual", Questioned: questioned},
		&event.Corrected{Event: old.ID, Reason: "a slip"}, &event.JobFinished{},
		asked, &event.StepReopened{Step: step.ID, Reason: "came loose"}, &event.LeftoversCounted{Step: step.ID, Count: int64(rapid.IntRange(0, 1).Draw(t, "left over"))},
		&event.WorkParked{}, &event.WorkResumed{AsLeft: true},
	}).Draw(t, "action")
}

// TestNeverUnsafeNeverStuck works through jobs with wrong turns of every kind.
// Nothing dangerous is ever allowed, and from anywhere there is a way to the end.
func TestNeverUnsafeNeverStuck(t *testing.T) {
	sheets := append(sheet.Demo(), own(t))
	rapid.Check(t, func(rt *rapid.T) {
		s := randomSheet(rt)
		if i := rapid.IntRange(0, 2*len(sheets)-1).Draw(rt, "sheet"); i < len(sheets) {
			s = sheets[i]
		}
		j := guidetest.New(t, s)
		act := func(p event.Payload) {
			before := replay(j.Sheet, j.Events())
			if j.Try(p) == nil {
				if what := before.wrong(p); what != "" {
					rt.Fatalf("after %d events the guide allows %s %+v: %s", len(j.Events()), p.Kind(), p, what)
				}
			}
		}
		for range rapid.IntRange(1, 10).Draw(rt, "turns") {
			for range rapid.IntRange(0, 60).Draw(rt, "work") {
				if !j.Advance() {
					break
				}
			}
			act(randomAction(rt, j))
			if rapid.IntRange(0, 3).Draw(rt, "reviewer") == 0 {
				j.Force(randomRedo(rt, s))
			}
			act(&event.JobFinished{})
			inTheAir(rt, j)
		}
		if !j.Rescue() {
			rt.Fatalf("stuck after %d events: %v\n%s", len(j.Events()), j.Guide().FinishBlockers(), stand(j))
		}
		if what := replay(j.Sheet, j.Events()).mayDrive(); what != "" || j.Log.State().Finished == nil || len(j.Guide().NotFinal()) != 0 {
			rt.Fatalf("the finished job is %s; not final %v", what, j.Guide().NotFinal())
		}
	})
}

// randomRedo is a reviewer's wish. They sit elsewhere and do not know how the car
// stands by now: whenever it arrives, nobody may be stuck.
func randomRedo(t *rapid.T, s *sheet.Sheet) event.Payload {
	var steps []event.StepID
	for _, step := range s.Steps() {
		if step.Move == "" {
			steps = append(steps, step.ID)
		}
	}
	return &event.DecisionMade{Finding: "f", Decision: event.Redo, Step: rapid.SampledFrom(steps).Draw(t, "wanted again"), Name: "Ann", Text: "again", Proof: "-"}
}

// inTheAir tries every bushed final pass while an axle is up.
func inTheAir(t *rapid.T, j *guidetest.Job) {
	if !j.Log.State().Up() {
		return
	}
	g := guide.New(j.Sheet, j.Log.State())
	for i := range j.Sheet.Fasteners {
		if f := &j.Sheet.Fasteners[i]; f.Bushed && g.Allow(j.Pass(f.ID, f.Final().ID)) == nil {
			t.Fatalf("the final pass of %s is allowed in the air", f.ID)
		}
	}
}

// stand says where every step stands, for a job that is stuck.
func stand(j *guidetest.Job) string {
	var b strings.Builder
	for _, step := range j.Sheet.Steps() {
		status, why := j.Guide().Status(step)
		if status != guide.Done {
			fmt.Fprintf(&b, "%s %s %v: %s\n", step.ID, status, why, texts(j.Guide(), step.ID))
		}
	}
	return b.String()
}
