package job_test

import (
	"testing"

	"strutcard/sync/event"
)

func answer(a event.Axle, m event.Move, c event.CheckID, w event.Answer) *event.CheckAnswered {
	return &event.CheckAnswered{Axle: a, Move: m, Check: c, Answer: w, Reason: "why"}
}

// TestEachLiftAsksAfresh: answers belong to one move. No move finds answers that
// were given for an earlier one.
func TestEachLiftAsksAfresh(t *testing.T) {
	r := newRecord(t)
	r.do(answer(event.Front, event.Raise, "ground", event.No), answer(event.Front, event.Raise, "ground", event.Yes),
		answer(event.Rear, event.Raise, "ground", event.Yes), answer(event.Front, event.Lower, "clear", event.Yes))
	if got := r.state().Axles[event.Front].Answers[event.Raise]["ground"]; got.Answer != event.Yes || got.N != 2 {
		t.Errorf("answer = %+v, want the last word", got)
	}
	r.do(&event.CarRaised{Axle: event.Front})
	s := r.state()
	if got := s.Axles[event.Front]; !got.Up || len(got.Answers) != 0 {
		t.Errorf("after raising, front = %+v, want up and no answers, not even those for lowering", got)
	}
	if got := s.Axles[event.Rear].Answers[event.Raise]["ground"].Answer; got != event.Yes {
		t.Errorf("the other axle's answer = %q, want it kept", got)
	}
	r.do(answer(event.Front, event.Lower, "clear", event.Override), &event.CarLowered{Axle: event.Front}, answer(event.Front, event.Raise, "ground", event.No))
	s = r.state()
	if got := s.Axles[event.Front]; got.Up || len(got.Answers[event.Lower]) != 0 || got.Answers[event.Raise]["ground"].Answer != event.No {
		t.Errorf("after lowering, front = %+v, want only the new answer", got)
	}
	if len(s.Lifts) != 1 {
		t.Fatalf("Lifts = %+v, want one", s.Lifts)
	}
	l := s.Lifts[0]
	if l.RaisedN != 5 || l.LoweredN != 7 || l.RaisedAt != 5000 || l.LoweredAt != 7000 || l.Raise["ground"].Answer != event.Yes ||
		l.Lower["clear"].Answer != event.Override || l.Lower["clear"].Reason != "why" || len(l.Raise) != 1 || len(l.Lower) != 1 {
		t.Errorf("lift = %+v", l)
	}
}

func TestMoves(t *testing.T) {
	front, rear := event.Front, event.Rear
	tests := map[string]struct {
		moves     []event.Payload
		frontUp   bool
		rearUp    bool
		lifts     int
		loweredAt int64 // LoweredN
	}{
		"never":                {nil, false, false, 0, 0},
		"up":                   {[]event.Payload{&event.CarRaised{Axle: front}}, true, false, 1, 0},
		"up twice is one lift": {[]event.Payload{&event.CarRaised{Axle: front}, &event.CarRaised{Axle: front}}, true, false, 1, 0},
		"both up":              {[]event.Payload{&event.CarRaised{Axle: front}, &event.CarRaised{Axle: rear}}, true, true, 2, 0},
		"down when down":       {[]event.Payload{&event.CarLowered{Axle: rear}}, false, false, 0, 0},
		"up and down":          {[]event.Payload{&event.CarRaised{Axle: rear}, &event.CarLowered{Axle: rear}}, false, false, 1, 2},
		"down twice":           {[]event.Payload{&event.CarRaised{Axle: rear}, &event.CarLowered{Axle: rear}, &event.CarLowered{Axle: rear}}, false, false, 1, 2},
		"other end down":       {[]event.Payload{&event.CarRaised{Axle: rear}, &event.CarLowered{Axle: front}}, false, true, 1, 0},
		"twice up and down":    {[]event.Payload{&event.CarRaised{Axle: rear}, &event.CarLowered{Axle: rear}, &event.CarRaised{Axle: rear}, &event.CarLowered{Axle: rear}}, false, false, 2, 4},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			r := newRecord(t)
			r.do(append(test.moves, &event.NoteAdded{Text: "end"})...)
			s := r.state()
			if s.Axles[front].Up != test.frontUp || s.Axles[rear].Up != test.rearUp || s.Up() != (test.frontUp || test.rearUp) {
				t.Errorf("front %v, rear %v, Up %v, want %v, %v", s.Axles[front].Up, s.Axles[rear].Up, s.Up(), test.frontUp, test.rearUp)
			}
			if test.lifts == 2 && test.loweredAt > 0 && (s.Lifts[0].LoweredN != 2 || s.Lifts[1].LoweredN != 4) {
				t.Errorf("lifts ended at %d and %d, want each at its own lowering", s.Lifts[0].LoweredN, s.Lifts[1].LoweredN)
			}
			if len(s.Lifts) != test.lifts || int64(s.LoweredN) != test.loweredAt {
				t.Errorf("%d lifts, LoweredN %d, want %d, %d", len(s.Lifts), s.LoweredN, test.lifts, test.loweredAt)
			}
		})
	}
}
