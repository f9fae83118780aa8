package method_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"strutcard/calc/quantity"
	"strutcard/sync/event"
	"strutcard/sync/job"
	"strutcard/sync/method"
	"strutcard/sync/sheet"
	"strutcard/sync/units"
)

// folded is the state after these events, written by one phone.
func folded(t testing.TB, payloads ...event.Payload) *job.State {
	t.Helper()
	chain := event.Chain{Job: "01900000-0000-7000-8000-0000000000ff", Device: "01900000-0000-7000-8000-00000000000a"}
	var events []event.Event
	for i, p := range payloads {
		e, err := chain.Seal(event.ID(fmt.Sprintf("01900000-0000-7000-8000-%012d", i+1)), time.UnixMilli(int64(i+1)*1000), p)
		if err != nil {
			t.Fatalf("seal %s: %v", p.Kind(), err)
		}
		chain, events = chain.See(e), append(events, e)
	}
	return job.Fold(chain.Job, events)
}

func camberRead(mdeg int64, p event.Purpose) event.Payload {
	return &event.ReadingTaken{Quantity: event.Camber, Corner: event.FL, Purpose: p, Method: "level", ValueMD: mdeg, U95Mdeg: 30}
}

func camberMoved(milli int64, unit string) event.Payload {
	return &event.AdjustmentMade{Quantity: event.Camber, Corner: event.FL, After: "moved", Unit: unit, Position: milli}
}

// fastenerOf finds a bolt of the sheet.
func fastenerOf(t testing.TB, s *sheet.Sheet, fits func(sheet.Fastener) bool) event.FastenerID {
	t.Helper()
	for _, f := range s.Fasteners {
		if fits(f) {
			return f.ID
		}
	}
	t.Fatal("the sheet has no such bolt")
	return ""
}

func TestLearnedFill(t *testing.T) {
	s := sheet.Demo()[0]
	clamp := fastenerOf(t, s, func(f sheet.Fastener) bool { return f.Holds == event.Camber })
	nuts := fastenerOf(t, s, func(f sheet.Fastener) bool { return f.Wheel })
	arm := fastenerOf(t, s, func(f sheet.Fastener) bool { return !f.Wheel && f.Holds == "" })
	before, setting := camberRead(-600, event.Before), camberRead(-1000, event.Setting)
	moved := camberMoved(4000, "mm")
	tests := map[string]struct {
		log  []event.Payload
		want string // position:reading of each pair, then now
	}{
		"as found, then moved":          {[]event.Payload{before, moved, setting}, "+0:−0.6 +4:−1 now="},
		"moved since":                   {[]event.Payload{before, moved, setting, camberMoved(6500, "mm")}, "+0:−0.6 +4:−1 now=+6.5"},
		"read again where it stands":    {[]event.Payload{before, camberRead(-620, event.Setting), moved, setting, camberRead(-1010, event.Setting)}, "+0:−0.62 +4:−1.01 now="},
		"back where it was":             {[]event.Payload{before, moved, setting, camberMoved(0, "mm"), camberRead(-610, event.Setting)}, "+0:−0.6 +4:−1 +0:−0.61 now="},
		"more than four":                {[]event.Payload{before, camberMoved(1000, "mm"), camberRead(-700, event.Setting), camberMoved(2000, "mm"), camberRead(-800, event.Setting), camberMoved(3000, "mm"), camberRead(-900, event.Setting), moved, setting}, "+1:−0.7 +2:−0.8 +3:−0.9 +4:−1 now="},
		"the final reading is another":  {[]event.Payload{before, moved, setting, camberRead(-1100, event.Final)}, "+0:−0.6 +4:−1 now="},
		"a move that was not counted":   {[]event.Payload{before, moved, setting, camberMoved(0, "")}, ""},
		"not counted in between":        {[]event.Payload{before, camberMoved(0, ""), camberRead(-800, event.Setting), moved, setting}, "+0:−0.6 +4:−1 now="},
		"counted otherwise before":      {[]event.Payload{before, camberMoved(1000, "turn"), camberRead(-800, event.Setting), moved, setting}, "+0:−0.6 +4:−1 now="},
		"never counted":                 {[]event.Payload{before, camberMoved(0, ""), setting}, ""},
		"a spring was changed between":  {[]event.Payload{before, &event.AdjustmentMade{Quantity: event.Spring, Corner: event.FR, After: "new"}, moved, setting}, "+4:−1 now="},
		"another corner's camber":       {[]event.Payload{before, moved, &event.AdjustmentMade{Quantity: event.Camber, Corner: event.FR, After: "x", Unit: "mm", Position: 9000}, setting}, "+0:−0.6 +4:−1 now="},
		"the load was changed after":    {[]event.Payload{before, moved, setting, &event.AdjustmentMade{Quantity: event.Load, After: "full tank"}}, ""},
		"parts were out between":        {[]event.Payload{before, &event.FastenerLoosened{Fastener: arm}, &event.FastenerFitted{Fastener: arm}, moved, setting}, "+4:−1 now="},
		"its own bolt was undone":       {[]event.Payload{before, &event.FastenerLoosened{Fastener: clamp}, moved, setting}, "+0:−0.6 +4:−1 now="},
		"the wheel was off":             {[]event.Payload{before, &event.FastenerLoosened{Fastener: nuts}, &event.FastenerFitted{Fastener: nuts}, moved, setting}, "+0:−0.6 +4:−1 now="},
		"a move of the ride height too": {[]event.Payload{before, moved, setting, &event.AdjustmentMade{Quantity: event.RideHeight, Corner: event.RR, After: "x", Unit: "turn"}}, ""},
	}
	m := method.Find("adjust_learned")
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			got := m.Fill(method.Record{Sheet: s, State: folded(t, test.log...), At: event.FL.Place()})
			if test.want == "" {
				if got["count"] != "" || got["position_1"] != "" || got["corner"] != "FL" {
					t.Errorf("got %v, want the corner alone", got)
				}
				return
			}
			var pairs []string
			for _, n := range []string{"1", "2", "3", "4"} {
				if p := got["position_"+n]; p != "" {
					pairs = append(pairs, p+":"+got["reading_"+n])
				}
			}
			if words := strings.Join(append(pairs, "now="+got["now"]), " "); words != test.want {
				t.Errorf("got %s, want %s", words, test.want)
			}
			if got["of"] != "camber" || got["corner"] != "FL" || got["unit"] != "mm" || got["target"] != "−1.5" || got["gauge"] != "0.03" || got["gauge_is"] != "within" {
				t.Errorf("got %v, want camber, FL, mm, the sheet's −1.5° and the record's ±0.03°", got)
			}
		})
	}
}

// The least certain reading counts for all; one without an uncertainty leaves
// it to be asked.
func TestLearnedFillUncertainty(t *testing.T) {
	for u95, want := range map[int64]string{50: "0.05", 10: "0.03", 0: ""} {
		last := &event.ReadingTaken{Quantity: event.Camber, Corner: event.FL, Purpose: event.Setting, Method: "level", ValueMD: -1000, U95Mdeg: u95}
		got := method.Find("adjust_learned").Fill(method.Record{State: folded(t, camberRead(-600, event.Before), camberMoved(4000, "mm"), last)})
		if got["gauge"] != want || got["count"] != "2" {
			t.Errorf("±%d: got %v, want %q", u95, got, want)
		}
	}
}

// What is filled in computes in any unit, and is not carried to another wheel.
func TestLearnedFromRecord(t *testing.T) {
	r := method.Record{Sheet: sheet.Demo()[0], At: event.FL.Place(),
		State: folded(t, camberRead(-600, event.Before), camberMoved(4000, "mm"), camberRead(-1000, event.Setting))}
	m := method.Find("adjust_learned")
	for _, angle := range quantity.AngleUnits() {
		r.Units = units.Set{Angle: angle}
		t.Run("OK"+string(angle), func(t *testing.T) {
			got, err := m.Compute(map[string]string{"stage": "snug", "up": "in"}, r)
			if err != nil || got.Figure != "5 mm in, to 9 mm" {
				t.Errorf("got %q and error %v, want 5 mm in", got.Figure, err)
			}
		})
	}
	r.Units = units.Set{}
	moved := r
	moved.State = folded(t, camberRead(-600, event.Before), camberMoved(4000, "mm"), camberRead(-1000, event.Setting), camberMoved(6500, "mm"))
	t.Run("OKMovedSince", func(t *testing.T) {
		got, err := m.Compute(map[string]string{"stage": "snug", "up": "in"}, moved)
		if err != nil || got.Figure != "2.5 mm in, to 9 mm" {
			t.Errorf("got %q and error %v, want 2.5 mm from where it stands now", got.Figure, err)
		}
	})
	t.Run("ErrStage", func(t *testing.T) {
		if got, err := m.Compute(map[string]string{"up": "in"}, r); err == nil {
			t.Errorf("got %q, want the question how tight the bolts were", got.Figure)
		}
	})
	other := map[string]string{"corner": "FR", "stage": "snug", "position_1": "0", "reading_1": "-0.5", "position_2": "4", "reading_2": "-1"}
	t.Run("OKTypedOver", func(t *testing.T) {
		got, err := m.Compute(other, r)
		if err != nil || !strings.Contains(got.Words, "front right") {
			t.Errorf("got %q and error %v, want it for the front right", got.Words, err)
		}
	})
	for name, change := range map[string]map[string]string{"Reading": {"reading_2": ""}, "Position": {"position_1": ""}, "Target": {"corner": "RL"}, "Angle": {"corner": "", "of": "caster"}, "Unit": {"unit": "turn", "corner": "", "position_2": ""}} {
		t.Run("Err"+name, func(t *testing.T) {
			typed := map[string]string{}
			for k, v := range other {
				typed[k] = v
			}
			for k, v := range change {
				typed[k] = v
			}
			if got, err := m.Compute(typed, r); err == nil || !strings.Contains(err.Error(), "filled in from the record") {
				t.Errorf("got %q and error %v, want it refused", got.Figure, err)
			}
		})
	}
}

// A height comes back from its field to within 0.01 mm, in any unit, and never
// with three decimals, which can mean thousands.
func TestLearnedHeightFill(t *testing.T) {
	m := method.Find("adjust_learned_height")
	rapid.Check(t, func(rt *rapid.T) {
		um := rapid.Int64Range(50_000, 1_400_000).Draw(rt, "um")
		u := units.Set{Length: rapid.SampledFrom(quantity.LengthUnits()).Draw(rt, "unit")}
		read := func(um int64) event.Payload {
			return &event.ReadingTaken{Quantity: event.RideHeight, Corner: event.RR, Purpose: event.Setting, Method: "tape", ValueUM: um, U95UM: 600}
		}
		log := []event.Payload{read(um), &event.AdjustmentMade{Quantity: event.RideHeight, Corner: event.RR, After: "x", Unit: "turn", Position: -1125}, read(um + 5_000)}
		// The move made the first reading stale, but it is still a reading at its position.
		fill := m.Fill(method.Record{State: folded(t, log...), Units: u})
		for name, want := range map[string]int64{"reading_1": um, "reading_2": um + 5_000, "gauge": 600} {
			got, err := quantity.LengthOf(fill[name], u.Length)
			if err != nil || got.UM()-want > 10 || want-got.UM() > 10 {
				rt.Errorf("%s: %q is %d and error %v, want %d", name, fill[name], got.UM(), err, want)
			}
		}
		if fill["position_1"] != "+0" || fill["position_2"] != "−1.125" || fill["corner"] != "RR" {
			rt.Errorf("got %v", fill)
		}
	})
}
