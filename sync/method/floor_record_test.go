package method_test

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"strutcard/calc/camber"
	"strutcard/calc/caster"
	"strutcard/sync/event"
	"strutcard/sync/job"
	"strutcard/sync/method"
	"strutcard/sync/sheet"
	"strutcard/sync/units"
)

// keptReading is a reading in the record.
func keptReading(q event.Quantity, at event.Place, value, u95 int64) job.Reading {
	r := job.Reading{ReadingTaken: event.ReadingTaken{Quantity: q, Corner: at.Corner(), Purpose: event.Setting}}
	if r.Corner == "" {
		r.Axle = at.Axle()
	}
	r.SetAmount(value, u95)
	return r
}

// onRecord is a record at a place with these readings.
func onRecord(at event.Place, readings ...job.Reading) method.Record {
	return method.Record{At: at, State: &job.State{Readings: readings}}
}

var gapTyped = map[string]string{"gap": "20", "gap_at": "top", "span": "390", "along": "rim", "mark": "0.5", "span_mark": "1"}

// computed fills in the form of a method and wants a result.
func computed(t *testing.T, id string, typed map[string]string, r method.Record) method.Result {
	t.Helper()
	got, err := method.Find(id).Compute(typed, r)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

// The slope that was recorded under an axle is offered for the wheels of that
// axle and of no other, with the side of the wheel. 20 over 390 is 2.940°, and
// 12 over 1500 is 0.458° (cases CAL-01 and CAL-04).
func TestFloorFromRecord(t *testing.T) {
	front, rear := keptReading(event.FloorSlope, "front", 458, 50), keptReading(event.FloorSlope, "rear", -458, 50)
	tests := []struct {
		name     string
		r        method.Record
		want     int64
		instead  string // among the words
		withMark string // what is offered for the slope
	}{
		{"OKNone", onRecord("FL"), -2940, "The floor was not measured", ""},
		{"OKLeft", onRecord("FL", front), -2482, "Floor under the front axle: 0.46° ± 0.06°, right side lower", "0.458"},
		{"OKRight", onRecord("FR", front), -3398, "right side lower", "0.458"},
		{"OKRearLeft", onRecord("RL", front, rear), -3398, "Floor under the rear axle: 0.46° ± 0.06°, left side lower", "0.458"},
		{"OKRearOnly", onRecord("RL", front), -2940, "The floor was not measured", ""},
		{"OKLater", onRecord("FL", front, keptReading(event.FloorSlope, "front", 0, 50)), -2940, "level", "0"},
		{"OKStale", onRecord("FL", staleReading(front)), -2940, "The floor was not measured", ""},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got := computed(t, "camber_gap", gapTyped, test.r)
			if got.Reading.Value != test.want || !strings.Contains(shown(got), test.instead) {
				t.Errorf("got %d, want %d with %q in:\n%s", got.Reading.Value, test.want, test.instead, shown(got))
			}
			if offered := method.Find("camber_gap").Answers(nil, test.r).Typed("slope"); offered != test.withMark {
				t.Errorf("got %q offered, want %q", offered, test.withMark)
			}
			if known := strings.Contains(got.Reading.Formula, camber.FormulaLevelled); known != (test.withMark != "") {
				t.Errorf("formula %q", got.Reading.Formula)
			}
		})
	}
	t.Run("OKMinutes", func(t *testing.T) {
		r := onRecord("FL", front)
		r.Units = units.Set{Angle: "°′"}
		if got := computed(t, "camber_gap", gapTyped, r); got.Reading.Value != -2482 {
			t.Errorf("got %d, want −2482 whatever angles are typed in", got.Reading.Value)
		}
	})
}

func staleReading(r job.Reading) job.Reading { r.Stale = "the car was moved"; return r }

// A slope that was typed for one axle and kept is questioned at another one.
func TestOtherFloorWarned(t *testing.T) {
	typed := maps.Clone(gapTyped)
	maps.Copy(typed, map[string]string{"floor": "right", "slope": "0.46", "slope_step": "0.1"})
	const words = "The record has another slope for this axle"
	if got := shown(computed(t, "camber_gap", typed, onRecord("FL", keptReading(event.FloorSlope, "front", 458, 50)))); strings.Contains(got, words) {
		t.Errorf("got a warning for the same slope:\n%s", got)
	}
	for _, value := range []int64{-458, 0, 600} {
		if got := shown(computed(t, "camber_gap", typed, onRecord("FL", keptReading(event.FloorSlope, "front", value, 50)))); !strings.Contains(got, words) {
			t.Errorf("%d: got no warning:\n%s", value, got)
		}
	}
}

// Left minus right, a habit of the trade, whichever side is read last.
func TestCrossRow(t *testing.T) {
	levelled := keptReading(event.Camber, "FR", -1658, 100)
	levelled.Formula = camber.Formula + " " + camber.FormulaLevelled
	zeroed := keptReading(event.Camber, "FR", -1658, 100)
	zeroed.Inputs = []event.Input{{Name: "zero", Text: "on the floor"}}
	found := keptReading(event.Camber, "FR", -1658, 100)
	found.Purpose = event.Before
	turned := keptReading(event.Camber, "FR", -1658, 100)
	turned.Formula = camber.FormulaTurnedRound
	front := keptReading(event.FloorSlope, "front", 458, 50)
	tests := []struct {
		name string
		r    method.Record
		want string // "" for no such row
	}{
		{"OKLeft", onRecord("FL", keptReading(event.Camber, "FR", -1658, 100)), "Left minus right, if the floor is level: −1.28° ± 0.11°"},
		{"OKRight", onRecord("FR", keptReading(event.Camber, "FL", -1658, 100)), "Left minus right, if the floor is level: 1.28° ± 0.11°"},
		{"OKRear", onRecord("RR", keptReading(event.Camber, "RL", -1658, 100)), "Left minus right, if the floor is level: 1.28° ± 0.11°"},
		{"OKFloorOutOfBoth", onRecord("FL", levelled, front), "Left minus right: −0.82° ± 0.15°"},
		{"OKFloorOutOfOne", onRecord("FL", keptReading(event.Camber, "FR", -1658, 100), front), "Left minus right: not comparable: only one is corrected for the floor"},
		{"OKFloorOutOfOther", onRecord("FL", levelled), "Left minus right: not comparable: only one is corrected for the floor"},
		{"OKZeroed", onRecord("FL", zeroed, front), "Left minus right: −0.82°"},
		{"OKTurnedRound", onRecord("FL", turned, front), "Left minus right: −0.82°"},
		{"OKAsFound", onRecord("FL", found), "Left minus right, if the floor is level, front right as found: −1.28°"},
		{"OKOtherAxle", onRecord("FL", keptReading(event.Camber, "RR", -1658, 100)), ""},
		{"OKSameWheel", onRecord("FL", keptReading(event.Camber, "FL", -1658, 100)), ""},
		{"OKStale", onRecord("FL", staleReading(keptReading(event.Camber, "FR", -1658, 100))), ""},
		{"OKUnknown", onRecord("FL", keptReading(event.Camber, "FR", -1658, 0)), ""},
		{"OKNoPlace", onRecord("", keptReading(event.Camber, "FR", -1658, 100)), ""},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got := shown(computed(t, "camber_gap", gapTyped, test.r))
			if test.want == "" && strings.Contains(got, "Left minus right") || !strings.Contains(got, test.want) {
				t.Errorf("want %q in:\n%s", test.want, got)
			}
		})
	}
	sweep := map[string]string{"out_turned": "20", "out_camber": "1.8", "out_camber_leans": "out", "in_turned": "20", "in_camber": "2.3", "in_camber_leans": "in", "step": "0.1", "how": "measured", "turn_mark": "1"}
	if got := shown(computed(t, "caster_sweep", sweep, onRecord("FR", keptReading(event.Caster, "FL", 6500, 200)))); !strings.Contains(got, "Left minus right: 0.51° ± 0.31°") {
		t.Errorf("caster: got no left minus right in:\n%s", got)
	}
}

// The floor's own methods take the track from the sheet.
func TestTrackFromSheet(t *testing.T) {
	typed := map[string]string{"drop": "12", "low": "right", "mark": "1", "track_mark": "1"}
	got := computed(t, "floor_drop", typed, method.Record{Sheet: &sheet.Sheet{Vehicle: sheet.Vehicle{TrackUM: 1_500_000}}})
	if got.Reading.Value != 458 {
		t.Errorf("got %d, want 458", got.Reading.Value)
	}
}

// The record says by which formula a value came about.
func TestFormulas(t *testing.T) {
	want := map[string][]string{
		"camber_gap": {camber.Formula, camber.Formula + " " + camber.FormulaLevelled}, "camber_shim": {camber.Formula, camber.Formula + " " + camber.FormulaLevelled},
		"camber_gauge":     {camber.FormulaGauge, camber.FormulaGauge + " " + camber.FormulaLevelled},
		"camber_half_turn": {camber.FormulaHalfTurn, camber.FormulaHalfTurn + " " + camber.FormulaLevelled},
		"camber_round":     {camber.FormulaTurnedRound}, "floor_drop": {camber.FormulaDrop}, "gauge_reversal": {camber.FormulaReversal},
		"caster_sweep": {caster.FormulaSine, caster.FormulaExact},
	}
	got := map[string][]string{}
	for _, x := range examples(t) {
		if want[x.Method] == nil || x.Refused != "" {
			continue
		}
		r := computed(t, x.Method, x.Typed, method.Record{Units: x.Units, At: x.At}).Reading
		f := r.Formula
		if guessed := x.Typed["how"] == "not measured"; guessed != strings.Contains(r.Instrument, "not measured") {
			t.Errorf("%s: got instrument %q", x.Method, r.Instrument)
		}
		exact := x.Typed["inclination"] != ""
		levelled := x.Typed["slope_step"] != ""
		if extra := exact || levelled; extra != (len(want[x.Method]) > 1 && f == want[x.Method][1]) {
			t.Errorf("%s of %v: got formula %q", x.Method, x.Typed, f)
		}
		got[x.Method] = append(got[x.Method], f)
	}
	for id, all := range want {
		for _, f := range all {
			if !slices.Contains(got[id], f) {
				t.Errorf("%s: no example gives formula %q", id, f)
			}
		}
	}
}
