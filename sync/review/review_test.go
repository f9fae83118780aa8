package review_test

import (
	"slices"
	"strings"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/guide/guidetest"
	"strutcard/sync/job"
	"strutcard/sync/review"
	"strutcard/sync/sheet"
)

func wren() *sheet.Sheet { return sheet.Demo()[0] }

func findings(j *guidetest.Job) []review.Finding {
	return review.Findings(j.Sheet, j.Log.State(), j.Events())
}

// TestClean: a job done by the book has nothing to look at.
func TestClean(t *testing.T) {
	for _, s := range sheet.Demo() {
		events := guidetest.Walk(t, s)
		if got := review.Findings(s, job.Fold(events[0].Job, events), events); len(got) != 0 {
			t.Errorf("%s: findings in a clean job: %+v", s.Title, got)
		}
	}
}

// TestRules: each rule sees its own trouble, in a job that is otherwise clean.
func TestRules(t *testing.T) {
	own, err := sheet.Build(sheet.Start{Title: "own", Version: "1", Own: true, Vehicle: sheet.Vehicle{Name: "a car"}, Front: "double_wishbone", Rear: "double_wishbone"})
	if err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		name  string
		sheet *sheet.Sheet
		at    event.StepID // where the trouble begins
		do    func(*guidetest.Job)
		rule  string
		grave review.Severity
		says  string
	}{
		{"bush clamped in the air", wren(), "lower_step_rear", func(j *guidetest.Job) {
			j.Force(j.Pass("arm_inner_RL", "final"))
		}, "air_final", review.Stop, "Lower arm to subframe, inner, rear left"},
		{"wheel nuts made final in the air", wren(), "lower_step_rear", func(j *guidetest.Job) {
			j.Force(j.Pass("wheel_nuts_RL", "final"))
		}, "air_final", review.Stop, "Wheel nuts, rear left"},
		{"finished by force", wren(), "nuts_round", func(j *guidetest.Job) {
			j.Force(&event.JobFinished{})
		}, "not_final", review.Stop, "Wheel nuts, front left"},
		{"height changed after the end", wren(), "", func(j *guidetest.Job) {
			j.Force(&event.AdjustmentMade{Quantity: event.RideHeight, Corner: event.FL, After: "lower"})
		}, "not_final", review.Stop, "ride height was changed"},
		{"released by oneself", wren(), "look_over", func(j *guidetest.Job) {
			j.Finish("look_over")
			j.Do(photo("look_over", guide.HoldPhoto), &event.HoldReleased{Step: "look_over", By: "installer", Reason: "alone here"})
		}, "self_released", review.Ask, "alone here"},
		{"should-check passed over", wren(), "raise_step_front", func(j *guidetest.Job) {
			for _, c := range j.Sheet.ChecksFor(event.Front, event.Raise) {
				a := &event.CheckAnswered{Axle: event.Front, Move: event.Raise, Check: c.ID, Answer: event.Yes}
				if c.ID == "eyes" {
					a.Answer, a.Reason = event.Override, "full visor"
				}
				j.Do(a)
			}
			j.Do(&event.CarRaised{Axle: event.Front})
		}, "override", review.Ask, "full visor"},
		{"out of target", wren(), "camber_final", func(j *guidetest.Job) {
			r := j.Reading(event.Camber, event.FL.Place(), event.Final)
			r.ValueMD = -4000
			j.Do(r)
		}, "out_of_target", review.Ask, "camber, front left is outside"},
		{"too close to tell", wren(), "camber_final", func(j *guidetest.Job) {
			r := j.Reading(event.Camber, event.FL.Place(), event.Final)
			r.ValueMD -= 500
			j.Do(r)
		}, "out_of_target", review.Note, "too close"},
		{"one-use hardware used again", wren(), "arm_close_RL", func(j *guidetest.Job) {
			finishAsk(j, "arm_close_RL")
			j.Do(&event.FastenerFitted{Fastener: "link_RL"})
		}, "reused", review.Ask, "Anti-roll bar link to arm, rear left"},
		{"torque looked up", own, "specs", func(j *guidetest.Job) {
			for i := range j.Sheet.Fasteners {
				j.Do(j.LookUp(j.Sheet.Fasteners[i].ID))
			}
		}, "own_torque", review.Note, "test manual, page 1"},
		{"questioned torque kept", own, "specs", func(j *guidetest.Job) {
			j.Do(&event.SpecGiven{Fastener: "link_FL", Pass: "final", TorqueCNM: 15_000, Source: "p. 2", Questioned: "High for its size.", Confirmed: true})
		}, "own_torque", review.Ask, "High for its size. The installer kept it. Source given: p. 2."},
		{"no wrench for it", wren(), "nuts_front", func(j *guidetest.Job) {
			p := j.Pass("wheel_nuts_FL", "half")
			p.Wrench = ""
			j.Do(p)
		}, "no_wrench", review.Ask, "Wheel nuts, front left"},
		{"box short", wren(), "", func(j *guidetest.Job) {
			j.Do(&event.PartCounted{Part: "rear_damper", Found: 2, Damaged: 1})
		}, "part_short", review.Ask, "Rear damper, 1 good of 2"},
		{"step skipped", wren(), "camber_before", func(j *guidetest.Job) {
			j.Do(&event.StepSkipped{Step: "camber_before", Reason: "no level"})
		}, "skipped", review.Ask, "no level"},
		{"released without a picture", wren(), "look_over", func(j *guidetest.Job) {
			j.Finish("look_over")
			j.Do(&event.PhotoLeftOut{Step: "look_over", Photo: guide.HoldPhoto, Reason: "no light"}, &event.HoldReleased{Step: "look_over", By: "mentor", Reason: "seen"})
		}, "no_photo", review.Ask, "no light"},
		{"required picture left out", asking(), "box", func(j *guidetest.Job) {
			j.Do(&event.PhotoLeftOut{Step: "box", Photo: "t_all", Reason: "lens is broken"})
		}, "no_photo", review.Ask, "no photo of all parts: lens is broken"},
		{"question passed over", asking(), "box", func(j *guidetest.Job) {
			j.Do(&event.StepChecked{Step: "box", Check: "t_light", Answer: event.Override, Reason: "a lamp"})
		}, "passed_over", review.Ask, "a lamp"},
		{"faster than hands", wren(), "nuts_front", func(j *guidetest.Job) {
			finishAsk(j, "nuts_front")
			p := j.Pass("wheel_nuts_FL", "half")
			p.Hurried = true
			j.Do(p)
		}, "hurried", review.Ask, "Wheel nuts, front left"},
		{"stands of which nobody can tell", wren(), "raise_step_front", func(j *guidetest.Job) {
			j.Do(&event.ToolListed{Tool: "stands", Have: true, RatingG: 1_500_000})
			j.Until("free_FL")
		}, "weak_equipment", review.Ask, "marked 1500 kg each"},
		{"went on with a withdrawn sheet", wren(), "box", func(j *guidetest.Job) {
			j.Force(&event.WithdrawalSeen{Reason: "asked by phone"})
		}, "withdrawn_sheet", review.Stop, "asked by phone"},
		{"different after a pause", wren(), "box", func(j *guidetest.Job) {
			j.Do(&event.WorkParked{}, &event.WorkResumed{Note: "a chock had moved"})
		}, "different", review.Ask, "a chock had moved"},
		{"newer app", wren(), "box", func(j *guidetest.Job) {
			e := j.Force(&event.NoteAdded{Text: "x"})
			newer, err := event.Decode([]byte(strings.NewReplacer("note_added", "wing_flapped", string(e.ID), string(guidetest.NewID[event.ID]()),
				`"seq":2`, `"seq":3`, `"prev":"`+string(e.Prev), `"prev":"`+string(e.Hash())).Replace(e.Line())))
			if err != nil {
				t.Fatal(err)
			}
			j.Log.Add(newer)
			j.Chain = j.Chain.See(newer)
		}, "newer_app", review.Ask, "1 events need a newer app"},
		{"an event lost", wren(), "box", func(j *guidetest.Job) {
			lost, err := j.Chain.Seal(guidetest.NewID[event.ID](), j.Events()[0].Time(), &event.NoteAdded{Text: "lost"})
			if err != nil {
				t.Fatal(err)
			}
			j.Chain = j.Chain.See(lost)
		}, "chain_gap", review.Ask, "missing"},
	}
	seen := map[string]bool{}
	for _, test := range tests {
		seen[test.rule] = true
		t.Run(test.name, func(t *testing.T) {
			j := guidetest.New(t, test.sheet)
			j.Until(test.at)
			test.do(j)
			if test.rule == "chain_gap" {
				j.Until("tools")
			}
			got := findings(j)
			i := slices.IndexFunc(got, func(f review.Finding) bool { return f.Rule == test.rule && strings.Contains(f.Text, test.says) })
			if i < 0 {
				t.Fatalf("no %s that says %q in %+v", test.rule, test.says, got)
			}
			if got[i].Severity != test.grave || got[i].Todo == "" || got[i].Severity.Words() == "" {
				t.Errorf("finding = %+v, want severity %s and something to do", got[i], test.grave.Words())
			}
			for _, f := range got {
				if f.Rule != test.rule {
					t.Errorf("another rule sees it too: %+v", f)
				}
			}
		})
	}
	for _, rule := range []string{"air_final", "not_final", "self_released", "override", "out_of_target", "reused", "own_torque", "no_wrench", "part_short", "skipped", "newer_app", "chain_gap",
		"no_photo", "passed_over", "hurried", "withdrawn_sheet", "different", "weak_equipment"} {
		if !seen[rule] {
			t.Errorf("rule %s is not tried", rule)
		}
	}
}

// asking is a demo sheet whose first step has a question and wants a picture.
func asking() *sheet.Sheet {
	s := wren()
	box := s.Step("box")
	box.Checks = append(box.Checks, sheet.StepCheck{ID: "t_light", When: sheet.Before, Ask: "Is there light enough?"})
	box.Photos = append(box.Photos, sheet.PhotoAsk{ID: "t_all", When: sheet.Before, Must: true, What: "all parts"})
	return s
}

func photo(step event.StepID, id event.PhotoID) *event.PhotoTaken {
	return &event.PhotoTaken{Step: step, Photo: id, SHA256: strings.Repeat("0f", 32), Bytes: 9, Width: 4, Height: 3}
}

// finishAsk answers what a step asks before anything is fitted or tightened.
func finishAsk(j *guidetest.Job, id event.StepID) {
	j.Ask(id, func(a guide.Ask) bool { return a.Fit != "" || a.Pass != (sheet.PassRef{}) })
}

// TestMended: a finding about the work goes when the work is done again.
func TestMended(t *testing.T) {
	j := guidetest.New(t, wren())
	j.Until("lower_step_rear")
	j.Force(j.Pass("arm_inner_RL", "final"))
	if len(findings(j)) == 0 {
		t.Fatal("a bush clamped in the air is no finding")
	}
	j.Until("")
	if got := findings(j); len(got) != 0 {
		t.Errorf("tightened again on its wheels, and yet %+v", got)
	}
}

func TestGravestFirst(t *testing.T) {
	j := guidetest.New(t, wren())
	j.Until("camber_before")
	j.Do(&event.StepSkipped{Step: "camber_before", Reason: "no level"})
	j.Until("lower_step_front")
	j.Force(j.Pass("wheel_nuts_FL", "final"), &event.JobFinished{})
	r := j.Reading(event.Camber, event.FL.Place(), event.Setting)
	r.ValueMD -= 500
	j.Force(r)
	got := findings(j)
	if len(got) < 4 || got[0].Severity != review.Stop || got[len(got)-1].Severity != review.Note {
		t.Errorf("findings from %+v to %+v, want stop first and note last", got[0], got[len(got)-1])
	}
	if !slices.IsSortedFunc(got, func(a, b review.Finding) int { return int(b.Severity) - int(a.Severity) }) {
		t.Error("the findings are not in order of gravity")
	}
}

// TestWithoutSheet: the shop may lack the sheet; the chain is judged all the same.
func TestWithoutSheet(t *testing.T) {
	events := guidetest.Walk(t, wren())
	st := job.Fold(events[0].Job, events)
	if got := review.Findings(nil, st, events); len(got) != 0 {
		t.Errorf("without the sheet: %+v", got)
	}
	got := review.Findings(nil, st, slices.Delete(slices.Clone(events), 5, 6))
	if len(got) != 1 || got[0].Rule != "chain_gap" {
		t.Errorf("with an event missing: %+v", got)
	}
}

// TestSamePhoneAndShop: what the phone shows before the end is what the shop sees.
func TestSamePhoneAndShop(t *testing.T) {
	j := guidetest.New(t, wren())
	j.Until("camber_final")
	j.Do(&event.StepSkipped{Step: "camber_final", Reason: "dark"})
	phone := findings(j)
	shuffled := slices.Clone(j.Events())
	slices.Reverse(shuffled)
	shop := review.Findings(wren(), job.Fold(j.Chain.Job, shuffled), shuffled)
	if !slices.Equal(phone, shop) {
		t.Errorf("phone %+v\nshop %+v", phone, shop)
	}
}
