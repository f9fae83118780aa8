package guide_test

import (
	"strings"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/guide/guidetest"
)

func TestDescribe(t *testing.T) {
	tests := []struct {
		p           event.Payload
		with, alone string // in the words with the sheet, and without it
	}{
		{&event.JobOpened{Sheet: wren().Hash(), Title: "t", Vehicle: "blue one"}, "blue one", "blue one"},
		{&event.PartCounted{Part: "rear_damper", Found: 2}, "Rear damper: 2", "rear_damper: 2"},
		{&event.ToolListed{Tool: "jack", Have: true}, "At hand: Trolley jack", "At hand: jack"},
		{&event.ToolListed{Tool: "own_1", Have: true, Type: "adapter", Label: "the crowfoot"}, "At hand: the crowfoot", "the crowfoot"},
		{&event.ToolListed{Tool: "jack"}, "Not here: Trolley jack", "Not here: jack"},
		{&event.SpecGiven{Fastener: "link_RL", Pass: "final", TorqueCNM: 4100, Source: "page 9"}, "page 9", "link_RL: 41"},
		{&event.ReadingTaken{Quantity: event.Camber, Corner: event.FL, Purpose: event.Final, Method: "m"}, "camber, front left", "camber, front left"},
		{&event.CheckAnswered{Axle: event.Front, Move: event.Raise, Check: "ground", Answer: event.Yes}, "hard and level", "ground: yes"},
		{&event.CarRaised{Axle: event.Front}, "front axle stands on stands", "front axle"},
		{&event.CarLowered{Axle: event.Rear}, "rear axle is down", "rear axle"},
		{&event.StepStarted{Step: "box"}, "At step: Count the box", "At step: box"},
		{&event.StepDone{Step: "box"}, "Step done: Count the box", "Step done: box"},
		{&event.StepSkipped{Step: "box", Reason: "known"}, "Count the box: known", "box: known"},
		{&event.FastenerLoosened{Fastener: "link_RL"}, "Loosened: Anti-roll bar link to arm, rear left", "Loosened: link_RL"},
		{&event.FastenerFitted{Fastener: "link_RL", Renewed: true}, "Fitted new: Anti-roll", "Fitted new: link_RL"},
		{&event.FastenerFitted{Fastener: "link_RL"}, "used again: Anti-roll", "used again: link_RL"},
		{&event.PassDone{Fastener: "link_RL", Pass: "final", TorqueCNM: 4100, Count: 1}, "(final): Anti-roll", "41"},
		{&event.PassDone{Fastener: "link_RL", Pass: "snug", Count: 1}, "(snug): Anti-roll", "(snug): link_RL"},
		{&event.FastenerMarked{Fastener: "link_RL"}, "Marked: Anti-roll", "Marked: link_RL"},
		{&event.AdjustmentMade{Quantity: event.RideHeight, Corner: event.RL, After: "14 threads"}, "ride height, rear left: 14 threads", "14 threads"},
		{&event.DamperSet{Corner: event.RL, From: "full_hard", Clicks: 9}, "rear left: 9 clicks", "9 clicks"},
		{&event.NoteAdded{Text: "tight"}, "Note: tight", "Note: tight"},
		{&event.HoldAsked{Step: "look_over"}, "Second pair of eyes", "look_over"},
		{&event.HoldReleased{Step: "look_over", By: "mentor", Reason: "seen"}, "Second pair of eyes: seen", "look_over: seen"},
		{&event.StepChecked{Step: "free_FL", Check: "hub_held", Answer: event.No}, ": no", "hub_held: no"},
		{&event.StepReopened{Step: "box", Reason: "a bag was found"}, "Count the box: a bag", "box: a bag"},
		{&event.PhotoTaken{Step: "box", Photo: "all", SHA256: strings.Repeat("0f", 32), Bytes: 9, Width: 4, Height: 3, Caption: "dented tube"}, "dented tube", "dented tube"},
		{&event.PhotoLeftOut{Step: "box", Photo: "all", Reason: "no light"}, "no light", "all: no light"},
		{&event.LeftoversCounted{Step: "look_over", Count: 1}, "bench: 1", "bench: 1"},
		{&event.PositionNoted{Adjuster: event.Camber, Corner: event.FL, Purpose: event.Before, Text: "mark 3"}, "camber adjuster, front left: mark 3", "mark 3"},
		{&event.WorkParked{Note: "rain"}, "rain", "Parked"},
		{&event.WorkResumed{AsLeft: true}, "as the record says", "as the record says"},
		{&event.WithdrawalSeen{Reason: "asked the shop"}, "asked the shop", "asked the shop"},
		{&event.Corrected{Event: guidetest.NewID[event.ID](), Reason: "a slip"}, "Taken back: a slip", "a slip"},
		{&event.CommentAdded{Step: "box", Name: "Mentor", Text: "look twice"}, "Mentor says: look twice", "look twice"},
		{&event.FindingRaised{Severity: "ask", Name: "Reviewer", Text: "a twist", Proof: "x"}, "Reviewer raised (ask): a twist", "a twist"},
		{&event.DecisionMade{Decision: event.Redo, Step: "box", Name: "Reviewer", Text: "count again", Proof: "x"}, "Reviewer wants again Count the box: count again", "again box: count again"},
		{&event.DecisionMade{Decision: event.Accept, Name: "Reviewer", Proof: "x"}, "accepts the whole job", "accepts the whole job"},
		{&event.JobFinished{}, "Job finished", "Job finished"},
	}
	seen := map[event.Kind]bool{}
	for _, test := range tests {
		seen[test.p.Kind()] = true
		e := guidetest.New(t, wren()).Force(test.p)
		if got := guide.Describe(wren(), e); !strings.Contains(got, test.with) {
			t.Errorf("%s: %q, want %q in it", test.p.Kind(), got, test.with)
		}
		if got := guide.Describe(nil, e); !strings.Contains(got, test.alone) {
			t.Errorf("%s without the sheet: %q, want %q in it", test.p.Kind(), got, test.alone)
		}
	}
	for _, k := range event.Kinds() {
		if !seen[k] {
			t.Errorf("kind %s has no words here", k)
		}
	}
	known := guidetest.New(t, wren()).Force(&event.NoteAdded{Text: "x"})
	newer, err := event.Decode([]byte(strings.Replace(known.Line(), "note_added", "wing_flapped", 1)))
	if err != nil {
		t.Fatal(err)
	}
	if got := guide.Describe(wren(), newer); got != "Needs a newer app: wing_flapped" {
		t.Errorf("a kind of a newer app: %q", got)
	}
}
