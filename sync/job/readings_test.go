package job_test

import (
	"slices"
	"strings"
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

// taken is a plain reading of q at a place.
func taken(q event.Quantity, at event.Place) *event.ReadingTaken {
	r := &event.ReadingTaken{Quantity: q, Corner: at.Corner(), Purpose: event.Setting, Method: "m"}
	if r.Corner == "" {
		r.Axle = at.Axle()
	}
	r.SetAmount(map[event.Unit]int64{event.UM: 355_000, event.Mdeg: 100, event.G: 300_000, event.Pa: 220_000}[q.Unit()], 10)
	return r
}

// everything is one reading of every quantity at every place, and its name.
func everything() map[string]*event.ReadingTaken {
	out := map[string]*event.ReadingTaken{"camber FL, as found": camber(event.FL, event.Before)}
	for _, q := range event.Quantities() {
		for _, at := range q.Places() {
			out[string(q)+" "+string(at)] = taken(q, at)
		}
	}
	return out
}

// geometryWords is what depends on how the body stands, whatever the corner.
const geometryWords = "ride_height camber caster toe total_toe thrust corner_weight"

func TestStale(t *testing.T) {
	moved := func(q event.Quantity, c event.Corner) event.Payload {
		return &event.AdjustmentMade{Quantity: q, Corner: c, After: "a"}
	}
	tests := map[string]struct {
		change event.Payload
		stale  string // quantities, wholly, or "quantity place"
	}{
		"front camber moved":              {moved(event.Camber, event.FL), "camber:FL caster:FL toe:FL toe:FR total_toe:front"},
		"rear camber moved":               {moved(event.Camber, event.RR), "camber:RR caster:RR toe:RL toe:RR total_toe:rear thrust:rear"},
		"caster moved":                    {moved(event.Caster, event.FR), "camber:FR caster:FR toe:FL toe:FR total_toe:front"},
		"track rod turned":                {moved(event.Toe, event.FL), "toe:FL toe:FR total_toe:front"},
		"height changed, all corners":     {moved(event.RideHeight, event.RR), geometryWords},
		"spring changed, all corners":     {moved(event.Spring, event.FL), geometryWords},
		"load changed, all corners":       {moved(event.Load, ""), geometryWords},
		"tyre pressure changed":           {moved(event.TyrePressure, event.FL), "tyre_pressure:FL ride_height corner_weight camber:FL camber:FR"},
		"rear raised":                     {&event.CarRaised{Axle: event.Rear}, "ride_height:RL ride_height:RR camber:RL camber:RR caster:RL caster:RR toe:RL toe:RR total_toe:rear thrust:rear corner_weight"},
		"a note":                          {&event.NoteAdded{Text: "n"}, ""},
		"lowering an axle that is down":   {&event.CarLowered{Axle: event.Front}, ""},
		"tightening, not the fold's task": {&event.PassDone{Fastener: "f", Pass: "final", Count: 1}, ""},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			for which, reading := range everything() {
				quantity, at, _ := strings.Cut(which, " ")
				want := reading.Purpose != event.Before && (slices.Contains(strings.Fields(test.stale), quantity) || slices.Contains(strings.Fields(test.stale), quantity+":"+at))
				r := newRecord(t)
				r.do(reading, test.change)
				if got := r.state().Readings[0].Stale; (got != "") != want {
					t.Errorf("%s: Stale = %q, want stale: %v", which, got, want)
				}
				r = newRecord(t)
				r.do(test.change, reading)
				if got := r.state().Readings; got[len(got)-1].Stale != "" {
					t.Errorf("%s taken after the change is stale: %s", which, got[0].Stale)
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
	if got := s.Reading(event.Camber, event.FL.Place(), event.Setting); got == nil || got.ID != second {
		t.Errorf("Reading = %+v, want the later one of the same kind", got)
	}
	if got := s.Reading(event.Camber, event.RL.Place(), event.Setting); got != nil {
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
