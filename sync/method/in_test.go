package method_test

import (
	"maps"
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

// Takes that scatter are averaged; a take that was read the other way round is
// asked about.
func TestApart(t *testing.T) {
	take := func(v int64) method.Reading { return method.Reading{Value: v, U95: 60} }
	for _, test := range []struct {
		takes []int64
		want  bool
	}{{nil, false}, {[]int64{-1500}, false}, {[]int64{-1500, -1400, -1450}, false}, {[]int64{-1500, 1500}, true}, {[]int64{-50, 50}, false},
		{[]int64{-80, 80}, true}, {[]int64{80, -80}, true}, {[]int64{-1500, -1490, -900}, true}, {[]int64{-1500, -1080}, false}} {
		var takes []method.Reading
		for _, v := range test.takes {
			takes = append(takes, take(v))
		}
		if got := method.Apart(takes); got != test.want {
			t.Errorf("%v: got %t", test.takes, got)
		}
	}
}

// Everything that is missing is named at once, in the order of the form, and what
// is answered is not.
func TestMissing(t *testing.T) {
	m := method.Find("lift_plan")
	names := func(typed map[string]string) (out []string) {
		for _, f := range m.Missing(typed, method.Record{}) {
			out = append(out, f.Name)
		}
		return out
	}
	if got, want := names(map[string]string{"raised": "front_axle", "slope": "measured", "weight": "axles", "rear_load": "600"}),
		[]string{"slope_over", "slope_run", "slope_mark", "along", "across", "front_load", "mass_step", "tape"}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
	if got := names(goodPlan(t)); len(got) != 0 {
		t.Errorf("a whole form misses %v", got)
	}
	for _, m := range method.All() {
		var want []string
		for _, f := range m.Fields {
			if !f.Optional && f.When == "" {
				want = append(want, f.Name)
			}
		}
		var got []string
		for _, f := range m.Missing(nil, method.Record{}) {
			got = append(got, f.Name)
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s, nothing typed: got %v, want %v", m.ID, got, want)
		}
	}
	_, err := m.Compute(map[string]string{"raised": "front_axle", "slope": "measured"}, method.Record{})
	if want := "Still missing: Measured over a length of; That length was measured along; Smallest mark of the ruler that read the fall; and 3 more."; err == nil || !strings.Contains(err.Error(), want) {
		t.Errorf("got %v, want %q", err, want)
	}
	if _, err := m.Compute(map[string]string{"raised": "front_axle", "tape": "much"}, method.Record{}); err == nil || !strings.Contains(err.Error(), "Smallest mark of the tape:") {
		t.Errorf("got %v, want what cannot be read", err)
	}
}

// The ground that is said to be measured is never told to be unmeasured: what it
// falls by is asked for.
func TestSlopeMeasuredIsAsked(t *testing.T) {
	for _, way := range []string{"along", "across"} {
		typed := maps.Clone(goodPlan(t))
		delete(typed, way)
		delete(typed, way+"_fall")
		if out, err := method.Find("lift_plan").Compute(typed, method.Record{}); err == nil || !strings.Contains(err.Error(), "ground falls to the is still missing") {
			t.Errorf("without %s: got %q and error %v, want to be asked", way, out.Words, err)
		}
		typed[way] = "not_known"
		out, err := method.Find("lift_plan").Compute(typed, method.Record{})
		if want := "not measured " + way + " the car: no lifting here"; err != nil || !strings.Contains(shown(out), want) {
			t.Errorf("not measured %s: got error %v, want %q in:\n%s", way, err, want, shown(out))
		}
	}
}

// A value that no car has is asked about before anything is recorded: for every
// quantity, and by every way that measures it.
func TestOutsideIsAsked(t *testing.T) {
	for _, q := range event.Quantities() {
		low, high := q.Range()
		for _, v := range []int64{low, high} {
			if got := method.Outside(q, v, units.Metric); got != "" {
				t.Errorf("%s of %d: %q", q, v, got)
			}
		}
		for _, v := range []int64{low - 1, high + 1} {
			if got := method.Outside(q, v, units.Metric); !strings.Contains(got, "outside what "+q.Words()) {
				t.Errorf("%s of %d is not asked about: %q", q, v, got)
			}
		}
	}
	out, err := method.Find("ride_height").Compute(map[string]string{"height": "35.5", "mark": "1"}, method.Record{})
	if want := "35.5 mm is outside what ride height can be, 50.0 mm to 1500.0 mm."; err != nil || !strings.HasPrefix(out.Ask, want) {
		t.Errorf("centimetres in a field of millimetres: got %q and error %v, want %q", out.Ask, err, want)
	}
}

// Only what is kept can belong to an instrument, and no reading of the car does.
func TestInstrumentFields(t *testing.T) {
	found := 0
	for _, m := range method.All() {
		for _, f := range m.Fields {
			if !f.Instrument {
				continue
			}
			found++
			if !f.Keep || !strings.HasPrefix(f.Label, "Smallest ") {
				t.Errorf("%s: %s is shared between jobs: %+v", m.ID, f.Name, f)
			}
		}
	}
	if found < 20 {
		t.Errorf("only %d fields of instruments were found", found)
	}
}

// No sentence of any example ends twice.
func TestFullStops(t *testing.T) {
	for _, x := range examples(t) {
		if got, err := method.Find(x.Method).Compute(x.Typed, x.Record()); err == nil && strings.Contains(shown(got), "..") {
			t.Errorf("%s: two full stops in:\n%s", x.Method, shown(got))
		}
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
	for _, name := range []string{"first", "turned"} {
		for _, f := range method.Find("camber_gauge").Fields {
			if f.Name == name && f.Keep {
				t.Errorf("the gauge's zero, %s, is kept: it holds only until the gauge is switched off", name)
			}
		}
	}
	if asked < 6 {
		t.Errorf("only %d fields of the floor were found", asked)
	}
}
