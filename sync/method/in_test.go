package method_test

import (
	"slices"
	"strings"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/method"
	"strutcard/sync/units"
)

func TestAverage(t *testing.T) {
	one := method.Reading{Value: -1500, U95: 60, Formula: "f/1", Instrument: "level"}
	if got, err := method.Average([]method.Reading{one}); err != nil || got != one {
		t.Errorf("one take: got %+v and error %v, want it unchanged", got, err)
	}
	// Two takes 100 apart: s/√2 = 50, times t/2 = 6.985, and 30 of one take: 350.5 (k = 1).
	other := one
	other.Value = -1400
	got, err := method.Average([]method.Reading{one, other})
	if err != nil || got.Value != -1450 || got.U95 != 701 || got.Instrument != "level" {
		t.Errorf("two takes: got %+v and error %v, want −1450 ± 701 (JCGM 100:2008, G.3 and table G.2)", got, err)
	}
	if _, err := method.Average(nil); err == nil {
		t.Error("no takes have a mean")
	}
}

// An answer is read in the unit that stands beside its field, kept as it was
// typed, and one that its question hides does not count.
func TestAnswers(t *testing.T) {
	m := method.Find("camber_gap")
	typed := map[string]string{"gap": "0,5", "gap_at": "top", "span": "15", "along": "rim", "mark": "0.02", "span_mark": "0.1", "slope": "2"}
	in := m.Answers(typed, method.Record{Units: units.Set{Length: "in"}})
	if got := in.Length("gap"); got.Millimetres() < 12.69 || got.Millimetres() > 12.71 {
		t.Errorf("half an inch is read as %v", got)
	}
	if in.Shown("slope") || in.Has("slope") || in.Angle("slope") != 0 || in.Err() != nil {
		t.Errorf("the slope of a floor that was not measured counts: %v", in.Err())
	}
	want := event.Input{Name: "gap", Text: "0,5", Unit: "in"}
	if got := in.Inputs(); !slices.Contains(got, want) || slices.ContainsFunc(got, func(i event.Input) bool { return i.Name == "slope" }) {
		t.Errorf("kept %+v, want %+v among them and no slope", got, want)
	}
	for name, text := range map[string]string{"gap": "wide", "gap_at": "left", "span": ""} {
		typed := map[string]string{"gap": "9", "gap_at": "top", "span": "400", "along": "rim", "mark": "1", "span_mark": "1"}
		typed[name] = text
		_, err := m.Compute(typed, method.Record{})
		label := m.Fields[slices.IndexFunc(m.Fields, func(f method.Field) bool { return f.Name == name })].Label
		if err == nil || !strings.Contains(err.Error(), label) {
			t.Errorf("%s %q: got error %v, want one that names %q", name, text, err, label)
		}
	}
}

func TestFor(t *testing.T) {
	for _, q := range event.Quantities() {
		ways := method.For(q)
		if len(ways) == 0 {
			t.Errorf("nothing measures %s", q.Words())
		}
		for _, m := range ways {
			if m.Sets != q {
				t.Errorf("%s is offered for %s", m.ID, q.Words())
			}
		}
	}
	if len(method.For("")) != 0 {
		t.Error("calculators that set nothing are offered for a reading")
	}
	if got := method.For(event.Camber)[0].ID; got != "camber_gap" {
		t.Errorf("the usual way to measure camber is %s, want the level and the ruler", got)
	}
}

func FuzzSamples(f *testing.F) {
	for _, s := range []string{"", "1,2,3,4", "1,2,3,4;5,6,7,8", ";;", "1,2", "1e9,0,0,0", "-9223372036854775809,1,1,1", "0,0,9810,0;0,0,9810,2000"} {
		f.Add(s)
	}
	m := method.Find("phone_level")
	f.Fuzz(func(t *testing.T, s string) {
		_, err := m.Compute(map[string]string{"cover": "bare", "flat": s, "first": s, "second": s}, method.Record{NowMS: 1})
		if err == nil {
			t.Errorf("%q: one recording lies on its back and stands upright at once", s)
		}
	})
}

// The floor of one axle is never kept for the other: what is kept goes to every
// wheel.
func TestFloorIsNotKept(t *testing.T) {
	asked := 0
	for _, m := range method.All() {
		for _, f := range m.Fields {
			if f.Name != "floor" && f.Name != "slope" && f.Name != "slope_step" || m.Sets != event.Camber {
				continue
			}
			asked++
			if f.Keep {
				t.Errorf("%s keeps %s for the next wheel", m.ID, f.Name)
			}
		}
	}
	if asked < 6 {
		t.Errorf("only %d fields of the floor were found", asked)
	}
}
