package job_test

import (
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/job"
)

func camber(c event.Corner, p event.Purpose) *event.ReadingTaken {
	return &event.ReadingTaken{Quantity: event.Camber, Corner: c, Purpose: p, Method: "level and ruler", ValueMD: -1500, U95Mdeg: 100}
}

func height(c event.Corner, p event.Purpose) *event.ReadingTaken {
	return &event.ReadingTaken{Quantity: event.RideHeight, Corner: c, Purpose: p, Method: "tape", ValueUM: 355_000, U95UM: 1000}
}

func TestStale(t *testing.T) {
	readings := map[string]*event.ReadingTaken{
		"camber FL": camber(event.FL, event.Setting), "camber FR": camber(event.FR, event.Final), "camber RL": camber(event.RL, event.Setting),
		"height FL": height(event.FL, event.Setting), "height RR": height(event.RR, event.Final), "found FL": camber(event.FL, event.Before),
	}
	tests := map[string]struct {
		change event.Payload
		stale  []string
	}{
		"front camber moved, one corner":       {&event.AdjustmentMade{Quantity: event.Camber, Corner: event.FL, After: "a"}, []string{"camber FL"}},
		"height changed, all corners":          {&event.AdjustmentMade{Quantity: event.RideHeight, Corner: event.RR, After: "a"}, []string{"camber FL", "camber FR", "camber RL", "height FL", "height RR"}},
		"rear raised, that axle":               {&event.CarRaised{Axle: event.Rear}, []string{"camber RL", "height RR"}},
		"a note, nothing":                      {&event.NoteAdded{Text: "n"}, nil},
		"lowering an axle that is down":        {&event.CarLowered{Axle: event.Front}, nil},
		"tightening, nothing that the log has": {&event.PassDone{Fastener: "f", Pass: "final", Count: 1}, nil},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			want := map[string]bool{}
			for _, s := range test.stale {
				want[s] = true
			}
			for which, reading := range readings {
				r := newRecord(t)
				r.do(reading, test.change)
				got := r.state().Readings[0].Stale
				if (got != "") != want[which] {
					t.Errorf("%s: Stale = %q, want stale: %v", which, got, want[which])
				}
			}
			r := newRecord(t)
			r.do(test.change, camber(event.RL, event.Setting), height(event.RR, event.Final))
			for _, reading := range r.state().Readings {
				if reading.Stale != "" {
					t.Errorf("a reading taken after the change is stale: %s", reading.Stale)
				}
			}
		})
	}
}

func TestStaleKeepsItsFirstReason(t *testing.T) {
	r := newRecord(t)
	r.do(camber(event.FL, event.Setting), &event.CarRaised{Axle: event.Front}, &event.AdjustmentMade{Quantity: event.RideHeight, Corner: event.FL, After: "a"})
	if got := r.state().Readings[0].Stale; got != "the axle was raised" {
		t.Errorf("Stale = %q, want the first reason", got)
	}
}

func TestLatestReading(t *testing.T) {
	r := newRecord(t)
	r.do(camber(event.FL, event.Setting))
	second := r.do(camber(event.FL, event.Setting))
	r.do(camber(event.FR, event.Setting), camber(event.FL, event.Final), height(event.FL, event.Setting))
	s := r.state()
	if got := s.Reading(event.Camber, event.FL, event.Setting); got == nil || got.ID != second {
		t.Errorf("Reading = %+v, want the later one of the same kind", got)
	}
	if got := s.Reading(event.Camber, event.RL, event.Setting); got != nil {
		t.Errorf("Reading of a corner never measured = %+v", got)
	}
}

func TestAdjustedKeepsHeight(t *testing.T) {
	r := newRecord(t)
	r.do(&event.AdjustmentMade{Quantity: event.Camber, Corner: event.FL, After: "a"})
	if got := r.state().HeightN; got != 0 {
		t.Errorf("HeightN after camber = %d, want 0", got)
	}
	r.do(&event.AdjustmentMade{Quantity: event.RideHeight, Corner: event.FL, Before: "b", After: "a"})
	s := r.state()
	if s.HeightN != 2 || len(s.Adjusted) != 2 || s.Adjusted[1].N != job.N(2) || s.Adjusted[1].Before != "b" {
		t.Errorf("HeightN = %d, Adjusted = %+v", s.HeightN, s.Adjusted)
	}
}
