package review_test

import (
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

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

// TestClean: a job done by the book has nothing to look at, whatever the layout.
func TestClean(t *testing.T) {
	for _, s := range append(sheet.Demo(), everyLayout(t)...) {
		t.Run(s.Title, func(t *testing.T) {
			events := guidetest.Walk(t, s)
			for _, f := range review.Findings(s, job.Fold(events[0].Job, events), events) {
				t.Errorf("in a clean job: %+v", f)
			}
		})
	}
}

// everyLayout builds each layout at each axle that it names, with torques that a
// shop gave and dampers that are set by clicks.
func everyLayout(t *testing.T) []*sheet.Sheet {
	t.Helper()
	var out []*sheet.Sheet
	for _, p := range sheet.Patterns() {
		for _, axle := range p.Axles {
			start := sheet.Start{Title: string(p.ID) + " " + string(axle), Version: "1", Source: "p. 1", Vehicle: sheet.Vehicle{Name: "a car"}, Front: "front_strut", Rear: "rear_separate",
				Dampers: []sheet.Damper{{Axle: event.Front, From: "full_soft", StopCounts: 1, Clicks: 6, Total: 20}, {Axle: event.Rear, From: "full_hard", Clicks: 3}}}
			if axle == event.Front {
				start.Front = p.ID
			} else {
				start.Rear = p.ID
			}
			bare := build(t, start)
			start.Torques = map[string]sheet.Torque{}
			for _, f := range bare.Fasteners {
				start.Torques[strings.TrimSuffix(string(f.ID), "_"+string(f.Corner))] = sheet.Torque{CNM: 9000, TolCNM: 500, AngleMdeg: 90_000}
			}
			out = append(out, build(t, start))
		}
	}
	return out
}

func build(t *testing.T, start sheet.Start) *sheet.Sheet {
	t.Helper()
	s, err := sheet.Build(start)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestRules: each rule sees its own trouble, in a job that is otherwise clean.
func TestRules(t *testing.T) {
	own := build(t, sheet.Start{Title: "own", Version: "1", Own: true, Vehicle: sheet.Vehicle{Name: "a car"}, Front: "double_wishbone", Rear: "double_wishbone"})
	tests := []struct {
		name  string
		sheet *sheet.Sheet
		at    event.StepID // where the trouble begins
		do    func(*guidetest.Job)
		rule  string
		grave review.Severity
		says  string
		also  string // a rule that rightly sees it too
	}{
		{"bush clamped in the air", wren(), "lower_step_rear", func(j *guidetest.Job) {
			j.Force(j.Pass("arm_inner_RL", "final"))
		}, "air_final", review.Stop, "Lower arm to subframe, inner, rear left", ""},
		{"wheel nuts made final in the air", wren(), "lower_step_rear", func(j *guidetest.Job) {
			j.Force(j.Pass("wheel_nuts_RL", "final"))
		}, "air_final", review.Stop, "Wheel nuts, rear left", ""},
		{"finished by force", wren(), "nuts_round", func(j *guidetest.Job) {
			j.Force(&event.JobFinished{})
		}, "not_final", review.Stop, "Wheel nuts, front left", ""},
		{"height changed after the end", wren(), "", func(j *guidetest.Job) {
			j.Force(&event.AdjustmentMade{Quantity: event.RideHeight, Corner: event.FL, After: "lower"})
		}, "not_final", review.Stop, "ride height was changed", "stale_reading"},
		{"released by oneself", wren(), "look_over", func(j *guidetest.Job) {
			j.Finish("look_over")
			j.Do(photo("look_over", guide.HoldPhoto), &event.HoldReleased{Step: "look_over", By: "installer", Reason: "alone here"})
		}, "self_released", review.Ask, "alone here", ""},
		{"raised by a reviewer", wren(), "look_over", func(j *guidetest.Job) {
			j.Force(&event.FindingRaised{Step: "look_over", Severity: "stop", Name: "Reviewer", Text: "the hose is twisted", Proof: "x"})
		}, "raised", review.Stop, "the hose is twisted", ""},
		{"should-check passed over", wren(), "raise_step_front", func(j *guidetest.Job) {
			for _, c := range j.Sheet.ChecksFor(event.Front, event.Raise) {
				a := &event.CheckAnswered{Axle: event.Front, Move: event.Raise, Check: c.ID, Answer: event.Yes}
				if c.ID == "eyes" {
					a.Answer, a.Reason = event.Override, "full visor"
				}
				j.Do(a)
			}
			j.Do(&event.CarRaised{Axle: event.Front})
		}, "override", review.Ask, "full visor", ""},
		{"out of target", wren(), "camber_final", func(j *guidetest.Job) {
			r := j.Reading(event.Camber, event.FL.Place(), event.Final)
			r.ValueMD = -4000
			j.Do(r)
		}, "out_of_target", review.Ask, "camber, front left is outside", ""},
		{"too close to tell", wren(), "camber_final", func(j *guidetest.Job) {
			r := j.Reading(event.Camber, event.FL.Place(), event.Final)
			r.ValueMD -= 500
			j.Do(r)
		}, "out_of_target", review.Note, "too close", ""},
		{"one-use hardware used again", wren(), "arm_close_RL", func(j *guidetest.Job) {
			finishAsk(j, "arm_close_RL")
			j.Do(&event.FastenerFitted{Fastener: "link_RL"})
		}, "reused", review.Ask, "Anti-roll bar link to arm, rear left", ""},
		{"torque looked up", own, "specs", func(j *guidetest.Job) {
			for i := range j.Sheet.Fasteners {
				j.Do(j.LookUp(j.Sheet.Fasteners[i].ID))
			}
		}, "own_torque", review.Note, "test manual, page 1", ""},
		{"questioned torque kept", own, "specs", func(j *guidetest.Job) {
			j.Do(&event.SpecGiven{Fastener: "link_FL", Pass: "final", TorqueCNM: 15_000, Source: "p. 2", Questioned: "High for its size.", Confirmed: true})
		}, "own_torque", review.Note, "High for its size. The installer kept it. Source given: p. 2.", ""},
		{"no wrench for it", wren(), "nuts_front", func(j *guidetest.Job) {
			p := j.Pass("wheel_nuts_FL", "half")
			p.Wrench = ""
			j.Do(p)
		}, "no_wrench", review.Ask, "Wheel nuts, front left", ""},
		{"box short", wren(), "", func(j *guidetest.Job) {
			j.Do(&event.PartCounted{Part: "rear_damper", Found: 2, Damaged: 1})
		}, "part_short", review.Ask, "Rear damper, 1 good of 2", ""},
		{"step skipped", wren(), "camber_before", func(j *guidetest.Job) {
			j.Do(&event.StepSkipped{Step: "camber_before", Reason: "no level"})
		}, "skipped", review.Ask, "no level", ""},
		{"released without a picture", wren(), "look_over", func(j *guidetest.Job) {
			j.Finish("look_over")
			j.Do(&event.PhotoLeftOut{Step: "look_over", Photo: guide.HoldPhoto, Reason: "no light"}, &event.HoldReleased{Step: "look_over", By: "mentor", Reason: "seen"})
		}, "no_photo", review.Ask, "no light", ""},
		{"required picture left out", asking(), "box", func(j *guidetest.Job) {
			j.Do(&event.PhotoLeftOut{Step: "box", Photo: "t_all", Reason: "lens is broken"})
		}, "no_photo", review.Ask, "no photo of all parts: lens is broken", ""},
		{"question passed over", asking(), "box", func(j *guidetest.Job) {
			j.Do(&event.StepChecked{Step: "box", Check: "t_light", Answer: event.Override, Reason: "a lamp"})
		}, "passed_over", review.Ask, "a lamp", ""},
		{"faster than hands", wren(), "nuts_front", func(j *guidetest.Job) {
			finishAsk(j, "nuts_front")
			p := j.Pass("wheel_nuts_FL", "half")
			p.Hurried = true
			j.Do(p)
		}, "hurried", review.Ask, "Wheel nuts, front left", ""},
		{"stands of which nobody can tell", wren(), "raise_step_front", func(j *guidetest.Job) {
			j.Do(&event.ToolListed{Tool: "stands", Have: true, RatingG: 1_500_000})
			j.Until("free_FL")
		}, "weak_equipment", review.Ask, "marked 1500 kg each", ""},
		{"went on with a withdrawn sheet", wren(), "box", func(j *guidetest.Job) {
			j.Force(&event.WithdrawalSeen{Reason: "asked by phone"})
		}, "withdrawn_sheet", review.Stop, "asked by phone", ""},
		{"different after a pause", wren(), "box", func(j *guidetest.Job) {
			j.Do(&event.WorkParked{}, &event.WorkResumed{Note: "a chock had moved"})
		}, "different", review.Ask, "a chock had moved", ""},
		{"newer app", wren(), "box", func(j *guidetest.Job) {
			e := j.Force(&event.NoteAdded{Text: "x"})
			newer, err := event.Decode([]byte(strings.NewReplacer("note_added", "wing_flapped", string(e.ID), string(guidetest.NewID[event.ID]()),
				`"seq":2`, `"seq":3`, `"prev":"`+string(e.Prev), `"prev":"`+string(e.Hash())).Replace(e.Line())))
			if err != nil {
				t.Fatal(err)
			}
			j.Log.Add(newer)
			j.Chain = j.Chain.See(newer)
		}, "newer_app", review.Ask, "1 entry needs a newer app", ""},
		{"an event lost", wren(), "box", func(j *guidetest.Job) {
			lost, err := j.Chain.Seal(guidetest.NewID[event.ID](), j.Events()[0].Time(), &event.NoteAdded{Text: "lost"})
			if err != nil {
				t.Fatal(err)
			}
			j.Chain = j.Chain.See(lost)
		}, "chain_gap", review.Ask, "missing", ""},
		{"loosened after the end", wren(), "", func(j *guidetest.Job) {
			j.Force(&event.FastenerLoosened{Fastener: "link_RL"})
		}, "not_final", review.Stop, "Anti-roll bar link to arm, rear left: Loose.", ""},
		{"wrench set too high", wren(), "nuts_front", func(j *guidetest.Job) {
			p := j.Pass("wheel_nuts_FL", "half")
			j.Do(p, with(j.Pass("wheel_nuts_FL", "final"), func(p *event.PassDone) { p.SetCNM = 12_000 }))
		}, "off_torque", review.Stop, "it got 120 N·m", ""},
		{"another torque, from another phone", wren(), "nuts_front", func(j *guidetest.Job) {
			p := j.Pass("wheel_nuts_FL", "half")
			j.Do(p)
			j.Force(with(j.Pass("wheel_nuts_FL", "final"), func(p *event.PassDone) { p.TorqueCNM, p.SetCNM = 9000, 9000 }))
		}, "off_torque", review.Stop, "tightened to 90 N·m", ""},
		{"released in a mentor's name here", wren(), "look_over", func(j *guidetest.Job) {
			j.Finish("look_over")
			j.Add(sealed(j, 0, &event.HoldReleased{Step: "look_over", By: "mentor", Reason: "all seen"}))
		}, "mentor_here", review.Ask, "all seen", ""},
		{"sides apart", wren(), "heights_final", func(j *guidetest.Job) {
			left, right := j.Reading(event.RideHeight, event.FL.Place(), event.Final), j.Reading(event.RideHeight, event.FR.Place(), event.Final)
			left.ValueUM -= 6000
			right.ValueUM += 6000
			j.Do(left, right)
		}, "sides_apart", review.Note, "ride height, front axle", ""},
		{"odd value kept", wren(), "camber_final", func(j *guidetest.Job) {
			r := j.Reading(event.Caster, event.FL.Place(), event.Final)
			r.ValueMD = 18_000
			j.Do(r)
		}, "odd_reading", review.Ask, "caster, front left", ""},
		{"pressure changed after the end", wren(), "", func(j *guidetest.Job) {
			j.Force(&event.AdjustmentMade{Quantity: event.TyrePressure, Corner: event.FL, After: "2.4"})
		}, "stale_reading", review.Ask, "a tyre pressure was changed", ""},
		{"reading taken back after the end", wren(), "", func(j *guidetest.Job) {
			j.Force(&event.Corrected{Event: j.Log.State().Reading(event.RideHeight, event.RL.Place(), event.Before).ID, Reason: "a slip"})
		}, "no_reading", review.Ask, "no reading of ride height, rear left", ""},
		{"implausible torque kept", wren(), "", func(j *guidetest.Job) {
			f := j.Sheet.Fastener("link_RL")
			j.Force(&event.SpecGiven{Fastener: f.ID, Pass: f.Final().ID, TorqueCNM: 41_000, Source: "p. 2", Questioned: "High for its size.", Confirmed: true})
			j.Force(with(j.Pass(f.ID, "final"), func(p *event.PassDone) { p.Wrench = "wrench_large"; p.SetCNM = 0 }))
		}, "own_torque", review.Ask, "High for its size.", "wrench_range"},
		{"question about the sheet open", doubtful(), "box", func(*guidetest.Job) {}, "unverified", review.Note, "the car: A track of", ""},
		{"question about a torque open", own, "specs", func(j *guidetest.Job) {
			j.Do(&event.SpecGiven{Fastener: "link_FL", Pass: "final", TorqueCNM: 15_000, Source: "p. 2", Questioned: "High for its size."})
		}, "unverified", review.Note, "the question is open. High for its size.", ""},
		{"range corrected later", wren(), "", func(j *guidetest.Job) {
			j.Do(&event.ToolListed{Tool: "wrench_large", Have: true, LowCNM: 3500, HighCNM: 12_000, Checked: "May 2026"})
		}, "wrench_range", review.Ask, "131 N·m to set, above the range", ""},
		{"never checked", wren(), "", func(j *guidetest.Job) {
			j.Do(&event.ToolListed{Tool: "wrench_large", Have: true, LowCNM: 3500, HighCNM: 21_000})
		}, "wrench_unchecked", review.Note, "no check of it is noted", ""},
		{"checked long ago", wren(), "", func(j *guidetest.Job) {
			j.Do(&event.ToolListed{Tool: "wrench_large", Have: true, LowCNM: 3500, HighCNM: 21_000, Checked: "12/2024, paper 20441"})
		}, "wrench_unchecked", review.Note, "long ago: 12/2024", ""},
		{"range given only when asked again", wren(), "tools", func(j *guidetest.Job) {
			j.Do(&event.ToolListed{Tool: "wrench_large", Have: true}, &event.ToolListed{Tool: "wrench_large", Have: true})
		}, "wrench_twice", review.Note, "more than once", ""},
		{"faster than hands, all in all", wren(), "", func(j *guidetest.Job) {
			j.Add(sealed(j, 0, &event.StepStarted{Step: "nuts_round"}))
			for i, corner := range event.Corners {
				j.Add(sealed(j, i, j.Pass(event.FastenerID("wheel_nuts_"+corner), "round")))
			}
		}, "fast_step", review.Ask, "4 records in 6 s. Hands need 12 s", ""},
		{"a clock set back", wren(), "box", func(j *guidetest.Job) {
			j.Add(sealed(j, -3600, &event.NoteAdded{Text: "x"}))
		}, "clock_back", review.Note, "set back by 1h", ""},
		{"a day within one step", wren(), "tools", func(j *guidetest.Job) {
			j.Do(&event.StepStarted{Step: "tools"})
			j.Add(sealed(j, 30*3600, &event.NoteAdded{Text: "x"}))
		}, "clock_jump", review.Note, "Check tools", ""},
		{"no, and then yes", asking(), "box", func(j *guidetest.Job) {
			j.Do(&event.StepChecked{Step: "box", Check: "t_light", Answer: event.No}, &event.StepChecked{Step: "box", Check: "t_light", Answer: event.Yes})
		}, "changed_answer", review.Note, "Is there light enough?", ""},
		{"no, and then yes, before a lift", wren(), "raise_step_front", func(j *guidetest.Job) {
			j.Do(&event.CheckAnswered{Axle: event.Front, Move: event.Raise, Check: "ground", Answer: event.No}, &event.CheckAnswered{Axle: event.Front, Move: event.Raise, Check: "ground", Answer: event.Yes})
		}, "changed_answer", review.Note, "hard and level", ""},
		{"required picture taken back", wren(), "heights_before", func(j *guidetest.Job) {
			j.Do(&event.Corrected{Event: j.Log.State().Photos[0].ID, Reason: "blurred"})
		}, "no_photo", review.Ask, "closed without the photo", ""},
		{"clicks off the preset", wren(), "", func(j *guidetest.Job) {
			j.Do(&event.DamperSet{Corner: event.FL, From: "full_hard", Clicks: 13, Total: 24, Purpose: event.Setting})
		}, "off_preset", review.Note, "front left: 13 clicks", ""},
		{"perch off the preset", wren(), "", func(j *guidetest.Job) {
			j.Do(&event.PositionNoted{Adjuster: event.RideHeight, Corner: event.RL, Purpose: event.Setting, Text: "26 mm", LengthUM: 26_000})
		}, "off_preset", review.Note, "rear left: at 26 mm", ""},
		{"driven and not checked again", wren(), "recheck", func(*guidetest.Job) {}, "recheck_due", review.Note, "after 50 km", ""},
	}
	seen := map[string]bool{}
	for _, test := range tests {
		seen[test.rule] = true
		t.Run(test.name, func(t *testing.T) {
			j := guidetest.New(t, test.sheet)
			j.Until(test.at)
			before := len(j.Events())
			test.do(j)
			made := slices.DeleteFunc(slices.Clone(j.Events()[before:]), func(e event.Event) bool { return e.Kind == event.KindCorrected })
			if test.rule == "chain_gap" {
				j.Until("tools")
			}
			got := findings(j)
			i := slices.IndexFunc(got, func(f review.Finding) bool { return f.Rule == test.rule && strings.Contains(f.Text, test.says) })
			if i < 0 {
				t.Fatalf("no %s that says %q in %+v", test.rule, test.says, got)
			}
			if got[i].Severity != test.grave {
				t.Errorf("finding = %+v, want severity %s", got[i], test.grave.Words())
			}
			sound(t, got, j.Events())
			if len(made) > 0 && test.rule != "chain_gap" && !slices.ContainsFunc(made, func(e event.Event) bool { return slices.Contains(got[i].Evidence, e.ID) }) {
				t.Errorf("it does not rest on what made the trouble: %+v", got[i])
			}
			for _, f := range got {
				if f.Rule != test.rule && f.Rule != test.also {
					t.Errorf("another rule sees it too: %+v", f)
				}
			}
		})
	}
	for _, rule := range review.Names() {
		if !seen[rule] {
			t.Errorf("rule %s is not tried", rule)
		}
	}
}

// sound wants of every finding what both readers need: words for each, and
// evidence that is in the record.
func sound(t *testing.T, found []review.Finding, events []event.Event) {
	t.Helper()
	ids := map[string]bool{}
	for _, f := range found {
		if f.Text == "" || f.Todo == "" || f.Look == "" || f.Severity.Words() == "" || len(f.Evidence) == 0 {
			t.Errorf("something is missing in %+v", f)
		}
		if len(f.ID) != 16 || ids[f.ID] {
			t.Errorf("its id is not its own: %+v", f)
		}
		ids[f.ID] = true
		for _, id := range f.Evidence {
			if !slices.ContainsFunc(events, func(e event.Event) bool { return e.ID == id }) {
				t.Errorf("its evidence is not in the record: %+v", f)
			}
		}
	}
}

// sealed is the phone's next event, so many seconds after the one before it.
func sealed(j *guidetest.Job, after int, p event.Payload) event.Event {
	j.T.Helper()
	last := j.Events()[len(j.Events())-1]
	at := last.Time().Add(time.Duration(after) * time.Second)
	e, err := j.Chain.Seal(guidetest.NewID[event.ID](), at, p)
	if err != nil {
		j.T.Fatal(err)
	}
	return e
}

func with(p *event.PassDone, change func(*event.PassDone)) *event.PassDone {
	change(p)
	return p
}

// doubtful is a demo sheet with a number that nobody confirmed.
func doubtful() *sheet.Sheet {
	s := wren()
	s.Vehicle.TrackUM = 14_700_000
	return s
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
	if !reflect.DeepEqual(phone, shop) {
		t.Errorf("phone %+v\nshop %+v", phone, shop)
	}
}

// TestNewEvidence: the same trouble made anew is another finding.
func TestNewEvidence(t *testing.T) {
	for name, do := range map[string]func(*guidetest.Job){
		"skipped": func(j *guidetest.Job) { j.Force(&event.StepSkipped{Step: "camber_before", Reason: "no level"}) },
		"reused":  func(j *guidetest.Job) { j.Force(&event.FastenerFitted{Fastener: "link_RL"}) },
		"out_of_target": func(j *guidetest.Job) {
			r := j.Reading(event.Camber, event.FL.Place(), event.Final)
			r.ValueMD = -4000
			j.Force(r)
		},
		"chain_gap": func(j *guidetest.Job) {
			fork, err := event.Chain{Job: j.Chain.Job, Device: j.Chain.Device}.Seal(guidetest.NewID[event.ID](), j.Events()[0].Time(), &event.NoteAdded{Text: "x"})
			if err != nil {
				t.Fatal(err)
			}
			j.Log.Add(fork)
		},
	} {
		t.Run(name, func(t *testing.T) {
			j := guidetest.New(t, wren())
			ids := map[string]bool{}
			for range 3 {
				do(j)
				got := findings(j)
				if len(got) != 1 || got[0].Rule != name || ids[got[0].ID] {
					t.Fatalf("findings = %+v, want one, with an id that it did not have before (%v)", got, ids)
				}
				ids[got[0].ID] = true
			}
		})
	}
}

// TestTwoDoubts: what only its words tell apart has an id of its own all the same.
func TestTwoDoubts(t *testing.T) {
	s := doubtful()
	s.Vehicle.MassG = 12
	j := guidetest.New(t, s)
	got := findings(j)
	if len(got) != 2 || got[0].Rule != "unverified" || got[1].Rule != "unverified" {
		t.Fatalf("findings = %+v, want two doubts about the car", got)
	}
	sound(t, got, j.Events())
}

// TestNoNoise: what is right, or what nobody can tell, is no finding.
func TestNoNoise(t *testing.T) {
	withAdapter := func(j *guidetest.Job, change func(*event.PassDone)) {
		j.Do(&event.ToolListed{Tool: "wrench_large", Have: true, LowCNM: 3500, HighCNM: 21_000, LengthUM: 400_000, Checked: "2026"},
			&event.ToolListed{Tool: "crowfoot", Type: "adapter", Have: true, LengthUM: 50_000}, j.Pass("wheel_nuts_FL", "half"))
		f := j.Sheet.Fastener("wheel_nuts_FL")
		set, err := j.Guide().Setting(f, f.Final(), "wrench_large", "crowfoot")
		if err != nil {
			t.Fatal(err)
		}
		j.Do(with(j.Pass(f.ID, "final"), func(p *event.PassDone) {
			p.Wrench, p.Adapter, p.SetCNM = "wrench_large", "crowfoot", set.Set.CNM()
			change(p)
		}))
	}
	for name, test := range map[string]struct {
		at   event.StepID
		do   func(*guidetest.Job)
		rule string // that speaks after all; "" for none
	}{
		"set within the tolerance": {"nuts_front", func(j *guidetest.Job) {
			j.Do(j.Pass("wheel_nuts_FL", "half"), with(j.Pass("wheel_nuts_FL", "final"), func(p *event.PassDone) { p.SetCNM = 11_700 }))
		}, ""},
		"set lower for an adapter": {"nuts_front", func(j *guidetest.Job) { withAdapter(j, func(*event.PassDone) {}) }, ""},
		"not set lower for an adapter": {"nuts_front", func(j *guidetest.Job) {
			withAdapter(j, func(p *event.PassDone) { p.SetCNM = p.TorqueCNM })
		}, "off_torque"},
		"checked, nobody knows when": {"", func(j *guidetest.Job) {
			j.Do(&event.ToolListed{Tool: "wrench_large", Have: true, LowCNM: 3500, HighCNM: 21_000, Checked: "in May, paper 20441"})
		}, ""},
		"checked in the year before": {"", func(j *guidetest.Job) {
			j.Do(&event.ToolListed{Tool: "wrench_large", Have: true, LowCNM: 3500, HighCNM: 21_000, Checked: "2021, again 2025"})
		}, ""},
		"a wrench listed once without its range": {"tools", func(j *guidetest.Job) {
			j.Do(&event.ToolListed{Tool: "wrench_large", Have: true})
		}, ""},
		"a clock put right by seconds": {"box", func(j *guidetest.Job) { j.Add(sealed(j, -30, &event.NoteAdded{Text: "x"})) }, ""},
		"another phone's clock is behind": {"box", func(j *guidetest.Job) {
			other := event.Chain{Job: j.Chain.Job, Device: guidetest.NewID[event.DeviceID](), Tick: j.Chain.Tick}
			e, err := other.Seal(guidetest.NewID[event.ID](), j.Events()[0].Time().Add(-time.Hour), &event.NoteAdded{Text: "x"})
			if err != nil {
				t.Fatal(err)
			}
			j.Add(e)
		}, ""},
		"parked for a day": {"tools", func(j *guidetest.Job) {
			j.Do(&event.StepStarted{Step: "tools"}, &event.WorkParked{})
			j.Add(sealed(j, 30*3600, &event.NoteAdded{Text: "x"}))
		}, ""},
		"come back after a day without having said so": {"tools", func(j *guidetest.Job) {
			j.Do(&event.StepStarted{Step: "tools"})
			j.Add(sealed(j, 30*3600, &event.WorkResumed{AsLeft: true}))
		}, ""},
		"a day between two steps": {"tools", func(j *guidetest.Job) {
			j.Add(sealed(j, 30*3600, &event.StepStarted{Step: "tools"}))
		}, ""},
		"a week on the road before the re-check": {"recheck", func(j *guidetest.Job) {
			j.Do(&event.StepStarted{Step: "recheck"})
			j.Add(sealed(j, 7*24*3600, &event.NoteAdded{Text: "50 km"}))
		}, "recheck_due"},
		"clicks from the other stop": {"", func(j *guidetest.Job) {
			j.Do(&event.DamperSet{Corner: event.FL, From: "full_soft", Clicks: 12, Total: 24, Purpose: event.Setting})
		}, ""},
		"a stop that counts as one": {"", func(j *guidetest.Job) {
			j.Do(&event.DamperSet{Corner: event.FL, From: "full_hard", Clicks: 13, StopCount: 1, Total: 24, Purpose: event.Setting})
		}, ""},
		"a perch moved on purpose": {"heights_set", func(j *guidetest.Job) {
			j.Do(&event.AdjustmentMade{Quantity: event.RideHeight, Corner: event.RL, After: "up"},
				&event.PositionNoted{Adjuster: event.RideHeight, Corner: event.RL, Purpose: event.Setting, Text: "26 mm", LengthUM: 26_000})
		}, ""},
		"one side out of its target": {"heights_final", func(j *guidetest.Job) {
			left, right := j.Reading(event.RideHeight, event.FL.Place(), event.Final), j.Reading(event.RideHeight, event.FR.Place(), event.Final)
			left.ValueUM -= 30_000
			j.Do(left, right)
		}, "out_of_target"},
		"sides apart by less than the measuring can tell": {"heights_final", func(j *guidetest.Job) {
			left, right := j.Reading(event.RideHeight, event.FL.Place(), event.Final), j.Reading(event.RideHeight, event.FR.Place(), event.Final)
			left.ValueUM -= 4500
			right.ValueUM += 4500
			j.Do(left, right)
		}, ""},
		"a value changed before the end": {"camber_final", func(j *guidetest.Job) {
			j.Do(&event.AdjustmentMade{Quantity: event.TyrePressure, Corner: event.FL, After: "2.4"})
		}, ""},
	} {
		t.Run(name, func(t *testing.T) {
			j := guidetest.New(t, wren())
			j.Until(test.at)
			test.do(j)
			got := findings(j)
			for _, f := range got {
				if f.Rule != test.rule {
					t.Errorf("%+v", f)
				}
			}
			if test.rule != "" && len(got) == 0 {
				t.Errorf("%s does not speak", test.rule)
			}
		})
	}
}
