package client_test

import (
	"context"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"strutcard/sync/event"
	"strutcard/sync/job"
	"strutcard/sync/store"
)

// toHeights walks the demo to its first reading.
func toHeights(t *testing.T) *phone {
	t.Helper()
	p := newPhone(t, store.NewMemory(time.Now))
	p.openDemo()
	for !strings.Contains(p.page.region("r-main"), `id="reading-form"`) {
		if !p.next() {
			t.Fatal("no reading is asked")
		}
	}
	return p
}

func (p *phone) height(more ...string) error {
	return p.act("reading", append([]string{"quantity", "ride_height", "place", "FL", "purpose", "before", "mark", "1"}, more...)...)
}

// typed types into fields as the screen shows them, one after the other.
func (p *phone) typed(pairs ...string) {
	p.t.Helper()
	for i := 0; i+1 < len(pairs); i += 2 {
		p.c.Input(context.Background(), p.draft(pairs[i]), pairs[i+1])
	}
}

// draft is where the page keeps what is typed into a field.
func (p *phone) draft(name string) string {
	p.t.Helper()
	for _, tag := range regexp.MustCompile(`<input[^>]*>`).FindAllString(p.page.region("r-main"), -1) {
		if key := regexp.MustCompile(`data-draft="([^"]*)"`).FindStringSubmatch(tag); key != nil && strings.Contains(tag, ` name="`+name+`"`) {
			return key[1]
		}
	}
	p.t.Fatalf("no field %q:\n%s", name, p.text("r-main"))
	return ""
}

// value is what stands in a field.
func (p *phone) value(name string) string {
	p.t.Helper()
	m := regexp.MustCompile(` name="` + name + `" value="([^"]*)"`).FindStringSubmatch(p.page.region("r-main"))
	if m == nil {
		p.t.Fatalf("no field %q:\n%s", name, p.text("r-main"))
	}
	return m[1]
}

// number is the large figure of a result.
func (p *phone) number() string {
	p.t.Helper()
	m := regexp.MustCompile(`class="number">([^<]*)`).FindStringSubmatch(p.page.region("r-main"))
	if m == nil {
		p.t.Fatalf("no figure:\n%s", p.text("r-main"))
	}
	return m[1]
}

func (p *phone) last() job.Reading {
	p.t.Helper()
	readings := p.state().Readings
	if len(readings) == 0 {
		p.t.Fatal("no reading is recorded")
	}
	return readings[len(readings)-1]
}

func TestTakeAgain(t *testing.T) {
	p := toHeights(t)
	for _, height := range []string{"383", "385"} {
		if err := p.height("height", height, "again", "yes"); err != nil {
			t.Fatal(err)
		}
	}
	if n := len(p.state().Readings); n != 0 {
		t.Fatalf("%d readings are recorded, want none before it is said", n)
	}
	if got := p.text("r-main"); !strings.Contains(got, "2 takes: 383.0 mm, 385.0 mm. Their mean: 384.0 ±") {
		t.Errorf("the takes are not shown:\n%s", got)
	}
	if err := p.height("height", "a lot"); err == nil {
		t.Error("a third take that cannot be read was passed over")
	}
	if err := p.height("height", "384"); err != nil {
		t.Fatal(err)
	}
	r := p.last()
	if r.ValueUM != 384_000 || !slices.Equal(r.Takes, []int64{383_000, 385_000, 384_000}) {
		t.Errorf("recorded %d from %v, want the mean of three takes", r.ValueUM, r.Takes)
	}
	if single := int64(577); r.U95UM <= single {
		t.Errorf("uncertainty %d µm, want more than the %d of one take: the takes differ", r.U95UM, single)
	}
	if strings.Contains(p.text("r-main"), "takes:") {
		t.Error("the takes are still there after they were recorded")
	}
}

func TestTakesAloneCanBeRecorded(t *testing.T) {
	p := toHeights(t)
	if err := p.height("height", "383", "again", "yes"); err != nil {
		t.Fatal(err)
	}
	if err := p.height(); err != nil {
		t.Fatal(err)
	}
	if r := p.last(); r.ValueUM != 383_000 || r.Takes != nil {
		t.Errorf("recorded %d from %v, want the one take", r.ValueUM, r.Takes)
	}
}

// The record keeps what was typed, with what, and what was in the car.
func TestReadingKeepsRawNumbers(t *testing.T) {
	p := toHeights(t)
	if err := p.height("height", "383.5", "load", "full tank"); err != nil {
		t.Fatal(err)
	}
	r := p.last()
	want := []event.Input{{Name: "height", Text: "383.5", Unit: "mm"}, {Name: "mark", Text: "1", Unit: "mm"}}
	if !slices.Equal(r.Inputs, want) || r.Load != "full tank" || r.Method == "" || !strings.Contains(r.Instrument, "1 mm") {
		t.Errorf("recorded %+v", r.ReadingTaken)
	}
	if got := p.text("r-main"); !strings.Contains(got, "full tank. Do not compare") {
		t.Errorf("another load is not remarked on:\n%s", got)
	}
}

func TestErrReading(t *testing.T) {
	tests := map[string][]string{
		"NothingTyped": {},
		"NotANumber":   {"height", "tall"},
		"AbsurdHeight": {"height", "3"},
	}
	for name, typed := range tests {
		t.Run(name, func(t *testing.T) {
			p := toHeights(t)
			before := p.state().Count
			err := p.height(typed...)
			if err == nil {
				t.Error("it was recorded")
			}
			if name == "AbsurdHeight" && !strings.Contains(err.Error(), "3.0 mm is outside what ride height can be, 50.0 mm to 1500.0 mm") {
				t.Errorf("the value is not named: %v", err)
			}
			if got := p.state().Count; got != before {
				t.Errorf("%d events, want still %d", got, before)
			}
		})
	}
	t.Run("NoPlace", func(t *testing.T) {
		p := toHeights(t)
		if err := p.act("reading", "quantity", "camber", "method", "camber_gap"); err == nil {
			t.Error("a reading of no wheel was recorded")
		}
	})
}

// A calculator needs no job, and keeps a half-typed value.
func TestCalculatorWithoutJob(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	p.must("methods")
	if got := p.text("r-main"); !strings.Contains(got, "Level and ruler") {
		t.Fatalf("the calculator is not listed:\n%s", got)
	}
	p.must("method", "method", "camber_gap")
	p.typed("gap", "20", "gap_at", "top", "span", "390", "along", "rim", "mark", "0.5", "span_mark", "1")
	got := p.text("r-main")
	if !strings.Contains(got, "−2.94° ± 0.04°") || strings.Contains(got, "Record this reading") {
		t.Errorf("want the angle and nothing to record:\n%s", got)
	}
	again := newPhone(t, p.disk)
	if got := again.text("r-main"); !strings.Contains(got, "−2.94°") {
		t.Errorf("after a restart the numbers are gone:\n%s", got)
	}
}

func TestChangeMakesStale(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	p.openDemo()
	for len(p.state().Readings) == 0 || p.last().Purpose == event.Before {
		if !p.next() {
			t.Fatal("the demo never asks for a setting")
		}
	}
	p.must("adjust", "which", "ride_height:FL", "before", "as found", "after", "two turns up", "unit", "turn", "position", "2")
	st := p.state()
	if a := st.Adjusted[len(st.Adjusted)-1]; a.Position != 2000 || a.Unit != "turn" {
		t.Errorf("recorded %+v, want two counted turns", a)
	}
	if r := p.last(); r.Stale == "" {
		t.Error("the reading before still counts")
	}
	for name, args := range map[string][]string{
		"nothing":   {"after", "x"},
		"no words":  {"which", "camber:FL"},
		"no number": {"which", "camber:FL", "after", "x", "unit", "turn", "position", "some"},
	} {
		if err := p.act("adjust", args...); err == nil {
			t.Errorf("%s: it was recorded", name)
		}
	}
}

// An implausible value is asked about, and kept only when it is confirmed; the
// record says that it was questioned.
func TestQuestionedReading(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	p.openDemo()
	args := []string{"quantity", "floor_slope", "place", "front", "purpose", "before", "method", "floor_drop", "drop", "80", "low", "right", "track", "1500", "mark", "1", "track_mark", "1"}
	if err := p.act("reading", args...); err == nil || len(p.state().Readings) != 0 {
		t.Fatalf("a floor that leans 3° was recorded without a question: %v", err)
	}
	p.must("reading", append(args, "sure", "yes")...)
	inputs := p.last().Inputs
	if last := inputs[len(inputs)-1]; last.Name != "questioned" || last.Text == "" {
		t.Errorf("the record does not say that it was questioned: %+v", inputs)
	}
	if r := p.last(); r.Axle != event.Front || r.Corner != "" || r.ValueMD < 3000 {
		t.Errorf("recorded %+v, want the front axle's slope", r.ReadingTaken)
	}
}

// The adapter's calculator opens with the torque that stands on the screen, not
// with a number typed again.
func TestWithAdapter(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	p.openDemo()
	for !strings.Contains(p.page.region("r-main"), `data-do="with_adapter"`) {
		if !p.next() {
			t.Fatal("no torque is ever shown")
		}
	}
	shown := regexp.MustCompile(`<span class="number">([0-9.]+)</span>`).FindStringSubmatch(p.page.region("r-main"))[1]
	do, args, ok := p.button("r-main", "second")
	if !ok || do != "with_adapter" {
		t.Fatalf("the button is not there: %s %v", do, args)
	}
	p.must(do, args...)
	if !strings.Contains(p.page.region("r-main"), `name="target" value="`+shown+`"`) {
		t.Errorf("want %s filled in:\n%s", shown, p.text("r-main"))
	}
	if err := p.act("with_adapter", "fastener", "none", "pass", "final"); err == nil {
		t.Error("an unknown fastener opened the calculator")
	}
}

// 20 typed as millimetres is still 20 mm after the units were changed.
func TestUnitsConvertWhatIsTyped(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	p.must("method", "method", "camber_gap")
	p.typed("gap", "20", "gap_at", "top", "span", "390", "along", "rim", "mark", "0.5", "span_mark", "1", "floor", "left", "slope", "0,458", "slope_step", "0.05", "side", "left")
	number := p.number
	before := number()
	p.must("set", "name", "length", "value", "in")
	if got := number(); got != before || !strings.Contains(p.page.region("r-main"), `value="0.787401575"`) {
		t.Errorf("in inches the camber is %s, before it was %s:\n%s", got, before, p.text("r-main"))
	}
	p.must("set", "name", "angle", "value", "°′")
	if main := p.page.region("r-main"); number() != "−3°24′ ± 0°03′" || !strings.Contains(main, `value="0°27.48′"`) {
		t.Errorf("in minutes the camber is %s:\n%s", number(), main)
	}
	p.must("set", "name", "angle", "value", "°")
	if !strings.Contains(p.page.region("r-main"), `value="0.458"`) {
		t.Errorf("back in degrees the slope is another one:\n%s", p.page.region("r-main"))
	}
	p.must("set", "name", "length", "value", "mm")
	if got := number(); got != before || !strings.Contains(p.page.region("r-main"), `value="20"`) {
		t.Errorf("back in millimetres the camber is %s, before it was %s", got, before)
	}
	p.typed("gap", "some")
	p.must("set", "name", "length", "value", "in")
	if !strings.Contains(p.page.region("r-main"), `value="some"`) {
		t.Error("what could not be read was thrown away")
	}
}

// Before a lift, what the sheet and the recorded ratings say is read first; once
// the checks are asked it steps aside: a question stands above its answer.
func TestLiftPlanIsReadBeforeTheChecks(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	p.openDemo()
	read := ""
	atChecks := func() bool {
		main := p.page.region("r-main")
		return strings.Contains(main, `data-step="raise_step_front"`) && strings.Contains(main, `class="ask check"`)
	}
	for !atChecks() {
		if main := p.page.region("r-main"); strings.Contains(main, `data-step="raise_step_front"`) {
			read = main
		}
		if !p.next() {
			t.Fatal("no check is ever asked")
		}
	}
	if !strings.Contains(read, `class="plan"`) || !strings.Contains(read, "Marked 2000 kg each") {
		t.Errorf("before the checks the recorded rating is not shown:\n%s", read)
	}
	main := p.page.region("r-main")
	if question, plan := strings.Index(main, `class="ask check"`), strings.Index(main, `class="plan"`); plan < question {
		t.Errorf("the plan stands between the question and its answer, at %d and %d", plan, question)
	}
}
