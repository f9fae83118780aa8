package guide_test

import (
	"strings"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/sheet"
)

// item returns where one fastener stands.
func item(g guide.Guide, id event.FastenerID) guide.Item { return g.Item(g.Sheet.Fastener(id)) }

func TestPhases(t *testing.T) {
	const arm = "arm_inner_RL"
	j := at(t, wren(), "spring_out_RL")
	phases := []struct {
		do     event.Payload
		until  event.StepID
		want   guide.Phase
		reason string
	}{
		{nil, "", guide.Untouched, ""},
		{&event.FastenerLoosened{Fastener: arm}, "", guide.Loose, "Fit it"},
		{nil, "spring_in_RL", guide.Loose, "Fit it"},
		{&event.FastenerFitted{Fastener: arm, Renewed: true}, "", guide.Finger, "Finger tight; snug comes next."},
		{j.Pass(arm, "snug"), "", guide.Snugged, "Snug; final after “Set camber, rear left”; final with the weight on the wheels, settled."},
		{nil, "finals_RL", guide.Snugged, "Snug; final with the weight on the wheels, settled."},
		{j.Pass(arm, "final"), "", guide.FinalDone, ""},
		{&event.FastenerMarked{Fastener: arm}, "", guide.Marked, ""},
	}
	for _, step := range phases {
		if step.do != nil {
			j.Ask(j.Guide().Next().ID, isWork)
			j.Do(step.do)
		}
		if step.until != "" {
			j.Until(step.until)
		}
		got := item(j.Guide(), arm)
		if got.Phase != step.want || !strings.Contains(got.Reason, step.reason) || (got.Reason == "") != (step.reason == "") {
			t.Errorf("%s with reason %q, want %s with %q", got.Phase, got.Reason, step.want, step.reason)
		}
		if got.Phase.Words() == "" || got.Clear != (step.want == guide.FinalDone || step.want == guide.Marked) {
			t.Errorf("phase %s: words %q, clear %v", got.Phase, got.Phase.Words(), got.Clear)
		}
	}
	if got := item(at(t, wren(), "nuts_front").Guide(), "wheel_nuts_FL"); got.Phase != guide.Snugged || got.Next.ID != "half" {
		t.Errorf("wheel nuts just lowered: %s, next %v", got.Phase, got.Next)
	}
}

// TestHeightReopens: a change of ride height after the final passes opens every
// bushed fastener on all four corners, and with them driving and finishing.
func TestHeightReopens(t *testing.T) {
	const why = "ride height was changed after it"
	j := at(t, wren(), "first_drive")
	j.Ask("first_drive", nil)
	if err := j.Guide().Allow(&event.StepDone{Step: "first_drive"}); err != nil {
		t.Fatalf("before the change, driving is refused: %v", err)
	}
	j.Do(&event.AdjustmentMade{Quantity: event.RideHeight, Corner: event.RL, Before: "12 threads", After: "14 threads"})
	g := j.Guide()
	bushed := 0
	for i := range j.Sheet.Fasteners {
		f := &j.Sheet.Fasteners[i]
		if g.LeftAlone(f) {
			continue
		}
		got := g.Item(f)
		if got.Clear == f.Bushed {
			t.Errorf("%s: bushed %v, clear %v (%s)", f.ID, f.Bushed, got.Clear, got.Reason)
		}
		if f.Bushed {
			bushed++
			if got.Reopened != why || !strings.Contains(got.Reason, why) || got.Phase != guide.Snugged {
				t.Errorf("%s: %s, reopened by %q, reason %q", f.ID, got.Phase, got.Reopened, got.Reason)
			}
		}
	}
	if bushed < 10 || len(g.NotFinal()) != bushed {
		t.Errorf("%d bushed fasteners, %d not final", bushed, len(g.NotFinal()))
	}
	blocked(t, j.Try(&event.StepDone{Step: "first_drive"}), why)
	blocked(t, j.Try(&event.JobFinished{}), why)
	blocked(t, j.Try(j.Pass("arm_inner_RL", "final")), "Set camber, rear left")
	if status, _ := g.Status(j.Sheet.Step("settle")); status != guide.Open {
		t.Errorf("settling is %s, want it open again", status)
	}
	if got := j.Guide().Next().ID; got != "settle" {
		t.Errorf("Next = %s, want settling", got)
	}
	if !j.Rescue() || len(j.Guide().NotFinal()) != 0 {
		t.Errorf("the job cannot be brought to its end: %v", j.Guide().FinishBlockers())
	}
}

// TestHeightAfterTheEnd: what is changed after the end shows, though the log says finished.
func TestHeightAfterTheEnd(t *testing.T) {
	j := at(t, wren(), "")
	j.Do(&event.AdjustmentMade{Quantity: event.RideHeight, Corner: event.FL, After: "lower"})
	if len(j.Guide().NotFinal()) == 0 || len(j.Guide().DriveBlockers()) == 0 {
		t.Error("a change of height after the end leaves the tally clear")
	}
	blocked(t, j.Try(&event.JobFinished{}), "ride height was changed after it")
}

func TestCamberReopensWhatHoldsIt(t *testing.T) {
	const holder, why = "camber_bolt_RL", "its adjuster was moved after it"
	j := at(t, wren(), "look_over")
	j.Do(&event.AdjustmentMade{Quantity: event.Camber, Corner: event.RL, Before: "mark 3", After: "mark 4"})
	g := j.Guide()
	for _, got := range g.NotFinal() {
		if got.Fastener.Wheel {
			continue // their last round comes later
		}
		if got.Fastener.ID != holder || got.Reopened != why {
			t.Errorf("%s is open: %s", got.Fastener.ID, got.Reason)
		}
	}
	if item(g, holder).Clear {
		t.Errorf("%s is clear though its adjuster was moved", holder)
	}
	blocked(t, j.Try(j.Pass(holder, "final")), "Set camber, rear left") // measured again first
	j.Do(j.Reading(event.Camber, event.RL.Place(), event.Setting), j.Pass(holder, "final"))
	if !item(j.Guide(), holder).Clear {
		t.Errorf("%s, made again, is %s", holder, item(j.Guide(), holder).Reason)
	}
	if status, _ := j.Guide().Status(j.Sheet.Step("camber_final")); status == guide.Done {
		t.Error("the camber read before the bolt was tightened again still counts")
	}
}

// TestMergedPasses: what another phone recorded against the rules stays in the
// log and counts for nothing.
func TestMergedPasses(t *testing.T) {
	tests := map[string]struct {
		at    event.StepID
		force func(j recorder)
		f     event.FastenerID
		want  string
	}{
		"bushed final with its axle up": {"lower_step_rear", func(j recorder) { j.Force(j.Pass("arm_inner_RL", "final")) }, "arm_inner_RL", "it was made while an axle was up"},
		"bushed final, other axle up": {"finals_RL", func(j recorder) {
			j.Force(&event.CarRaised{Axle: event.Front}, j.Pass("arm_inner_RL", "final"))
		}, "arm_inner_RL", "it was made while an axle was up"},
		"wheel nuts in the air": {"lower_step_rear", func(j recorder) { j.Force(j.Pass("wheel_nuts_RL", "half")) }, "wheel_nuts_RL", "it was made while the axle was up"},
		"never fitted":          {"damper_in_RL", func(j recorder) { j.Force(j.Pass("damper_upper_RL", "final")) }, "damper_upper_RL", "never recorded as fitted"},
		"only some of a group": {"nuts_rear", func(j recorder) {
			p := j.Pass("wheel_nuts_RL", "half")
			p.Count = 3
			j.Force(p)
		}, "wheel_nuts_RL", "only 3 of 5 were done"},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			j := at(t, wren(), test.at)
			test.force(j)
			if got := item(j.Guide(), test.f); got.Clear || !strings.Contains(got.Reason, test.want) {
				t.Errorf("%s, clear %v: %q, want %q in it", got.Phase, got.Clear, got.Reason, test.want)
			}
		})
	}
	j := at(t, wren(), "nuts_rear")
	j.Force(&event.CarRaised{Axle: event.Front}, j.Pass("wheel_nuts_RL", "half"))
	if !j.Guide().PassHolds(sheet.PassRef{Fastener: "wheel_nuts_RL", Pass: "half"}) {
		t.Error("rear wheel nuts made on the ground count for nothing because the front is up")
	}
}

// recorder is the part of a test job that a forced merge needs.
type recorder interface {
	Force(...event.Payload) event.Event
	Pass(event.FastenerID, event.PassID) *event.PassDone
}

func TestLooseningReopens(t *testing.T) {
	j := at(t, wren(), "first_drive")
	blocked(t, j.Try(&event.FastenerLoosened{Fastener: "wheel_nuts_FL"}), "First answer")
	j.Force(&event.FastenerLoosened{Fastener: "wheel_nuts_FL"})
	if got := item(j.Guide(), "wheel_nuts_FL"); got.Phase != guide.Loose || got.Clear {
		t.Errorf("loosened after the end: %s, clear %v", got.Phase, got.Clear)
	}
	blocked(t, j.Try(&event.StepDone{Step: "first_drive"}), "Wheel nuts, front left")
	if !j.Rescue() {
		t.Errorf("the job cannot be brought to its end: %v", j.Guide().FinishBlockers())
	}
	if got := len(j.Log.State().Lifts); got != 2 {
		t.Errorf("%d lifts, want no third: the nuts are run up again where the wheel stands", got)
	}
}

// TestPartWords: a share is said as what it is, and the usual one by its name.
func TestPartWords(t *testing.T) {
	for share, want := range map[int64]string{500: "half torque", 300: "30 % of the torque", 625: "62.5 % of the torque"} {
		if got := guide.PartWords(&sheet.Pass{Kind: sheet.Partial, Share: share}); got != want {
			t.Errorf("%d of a thousand is said as %q, want %q", share, got, want)
		}
	}
}
