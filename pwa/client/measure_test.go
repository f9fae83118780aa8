package client_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"strutcard/sync/event"
	"strutcard/sync/method"
	"strutcard/sync/method/methodtest"
	"strutcard/sync/store"
	"strutcard/sync/units"
)

// toSetting walks the demo to a reading after the car was changed.
func toSetting(t *testing.T) *phone {
	t.Helper()
	p := newPhone(t, store.NewMemory(time.Now))
	p.openDemo()
	for len(p.state().Readings) == 0 || p.last().Purpose == event.Before {
		if !p.next() {
			t.Fatal("the demo never asks for a setting")
		}
	}
	return p
}

// All that is typed into any calculator is the same amount in other units, gives a
// result in them, and is back as it was typed afterwards.
func TestUnitsConvertEveryCalculator(t *testing.T) {
	other := map[string]string{"torque": "lbf·ft", "length": "in", "angle": "°′", "mass": "lb", "pressure": "psi", "stiffness": "lbf/in", "temperature": "°F"}
	examples, err := methodtest.Examples()
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range method.All() {
		x, ok := methodtest.Plain(examples, m.ID)
		if !ok {
			continue // needs a calibrated phone
		}
		t.Run(m.ID, func(t *testing.T) {
			p := newPhone(t, store.NewMemory(time.Now))
			p.must("method", "method", m.ID)
			for _, f := range m.Fields {
				if text := x.Typed[f.Name]; text != "" {
					p.typed(f.Name, text)
				}
			}
			before := p.number()
			for name, unit := range other {
				p.must("set", "name", name, "value", unit)
			}
			if p.number() == "" || strings.Contains(p.page.region("r-main"), `id="reading-problem"`) {
				t.Errorf("in other units there is no result:\n%s", p.text("r-main"))
			}
			for _, f := range m.Fields {
				text := x.Typed[f.Name]
				if kind := f.Kind; text == "" || text == "0" || kind == method.Percent || kind == method.Temperature || method.UnitOf(kind, units.Metric) == "" {
					continue
				}
				if got := p.value(f.Name); got == text {
					t.Errorf("%s: %q in %s is still %q in another unit", f.Name, text, method.UnitOf(f.Kind, units.Metric), got)
				}
			}
			for _, s := range units.Metric.Settings() {
				p.must("set", "name", s.Name, "value", s.Chosen)
			}
			if got := p.number(); got != before {
				t.Errorf("back again it gives %q, at first %q", got, before)
			}
		})
	}
}

// What the record fills in follows the units without anything being typed.
func TestUnitsConvertWhatIsFilled(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	p.openDemo()
	p.must("method", "method", "lift_plan")
	metric := p.value("paper_mass")
	p.typed("wheelbase", "2600")
	p.must("set", "name", "mass", "value", "lb")
	p.must("set", "name", "length", "value", "in")
	if pounds := p.value("paper_mass"); pounds == metric || pounds == "" {
		t.Errorf("the mass is %q kg and %q lb", metric, pounds)
	}
	if got := p.value("wheelbase"); got != "102.362205" {
		t.Errorf("2600 mm are %q in", got)
	}
	main := p.text("r-main")
	if want := "Front wheel centre to rear wheel centre (if known) (typed)"; !strings.Contains(main, want) {
		t.Errorf("own typing is not marked:\n%s", main)
	}
	if want := "Mass of the car (from the record)"; !strings.Contains(main, want) {
		t.Errorf("what the sheet states is not marked:\n%s", main)
	}
}

// An angle of the record stands in a field of minutes with its marks.
func TestAngleIsFilledInMinutes(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	p.openDemo()
	p.must("reading", "quantity", "floor_slope", "place", "front", "purpose", "before", "method", "floor_drop", "drop", "12", "low", "right", "track", "1500", "mark", "1", "track_mark", "1")
	p.must("set", "name", "angle", "value", "°′")
	p.must("take", "quantity", "camber", "place", "FL")
	if got := p.value("slope"); got != "0°27.48′" {
		t.Errorf("the slope of 0.458° is filled in as %q", got)
	}
	p.typed("gap", "20", "gap_at", "top", "span", "390", "along", "rim", "mark", "0.5", "span_mark", "1")
	if got := p.number(); !strings.HasPrefix(got, "−2°29′") {
		t.Errorf("got %s, want −2.94° + 0.458° in minutes", got)
	}
}

// What is typed for one car never stands in the form of another, nor in one
// without a job; the tape stays the same tape.
func TestJobsAreParted(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	want := func(where, gap, span, mark string) {
		t.Helper()
		if g, s, m := p.value("gap"), p.value("span"), p.value("mark"); g != gap || s != span || m != mark {
			t.Errorf("%s: gap %q, span %q, mark %q, want %q, %q, %q", where, g, s, m, gap, span, mark)
		}
	}
	p.must("method", "method", "camber_gap")
	p.typed("gap", "20", "span", "390", "mark", "0.5")
	p.must("home")
	p.openDemo()
	first := string(p.state().Job)
	p.must("take", "quantity", "camber", "place", "FL")
	want("a new job", "", "", "0.5")
	p.typed("gap", "7", "span", "400")
	if err := p.act("reading", "quantity", "ride_height", "place", "FL", "purpose", "before", "height", "383", "mark", "1", "again", "yes"); err != nil {
		t.Fatal(err)
	}
	p.typed("load", "full tank")
	p.must("home")
	p.must("method", "method", "camber_gap")
	want("no job", "20", "390", "0.5")
	p.must("home")
	p.openDemo()
	p.must("take", "quantity", "camber", "place", "FL")
	want("the next job", "", "", "0.5")
	if got := p.value("load"); got == "full tank" {
		t.Error("the load of the other car stands here")
	}
	p.must("take", "quantity", "ride_height", "place", "FL")
	if got := p.text("r-main"); strings.Contains(got, "1 take") {
		t.Errorf("a take of the other car is kept for this one:\n%s", got)
	}
	p.must("open_job", "job", first)
	p.must("take", "quantity", "camber", "place", "FL")
	want("the first job again", "7", "400", "0.5")
	p.must("take", "quantity", "camber", "place", "FR")
	want("its other wheel", "", "400", "0.5")
}

// The gauge's zero is asked anew for each reading.
func TestGaugeZeroIsAskedAnew(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	p.openDemo()
	p.must("way", "quantity", "camber", "method", "camber_gauge")
	p.must("take", "quantity", "camber", "place", "FL")
	p.typed("zero", "absolute", "display", "-1.4", "rising", "out", "step", "0.1", "first", "0.6", "turned", "-0.2")
	p.must("reading", "quantity", "camber", "place", "FL", "purpose", "before", "method", "camber_gauge", "zero", "absolute", "display", "-1.4", "rising", "out", "step", "0.1", "first", "0.6", "turned", "-0.2")
	p.must("take", "quantity", "camber", "place", "FL")
	if a, b, step := p.value("first"), p.value("turned"), p.value("step"); a != "" || b != "" || step != "0.1" {
		t.Errorf("the next reading begins with %q, %q and a step of %q", a, b, step)
	}
}

// The form itself questions a value that no car has, and offers no way to record it.
func TestImplausibleHeight(t *testing.T) {
	p := toHeights(t)
	p.typed("height", "35.5", "mark", "1")
	main := p.text("r-main")
	if !strings.Contains(main, "35.5 mm is outside what ride height can be") || strings.Contains(main, "Measured again, and it is so") {
		t.Errorf("centimetres are not questioned:\n%s", main)
	}
	if question, figure := strings.Index(main, "35.5 mm is outside"), strings.Index(main, "35.5 ± "); question > figure {
		t.Error("the question stands below the figure")
	}
	for _, more := range []string{"", "yes"} {
		if err := p.height("height", "35.5", "sure", "yes", "again", more); err == nil {
			t.Error("it was kept")
		}
	}
	p.typed("height", "355")
	if got := p.text("r-main"); strings.Contains(got, "is outside") {
		t.Errorf("355 mm is questioned:\n%s", got)
	}
}

// With two takes the large figure is what is recorded.
func TestMeanIsTheFigure(t *testing.T) {
	p := toHeights(t)
	if err := p.height("height", "383", "again", "yes"); err != nil {
		t.Fatal(err)
	}
	if got := p.text("r-main"); !strings.Contains(got, "1 take: 383.0 mm.") || strings.Contains(got, "1 takes") || p.number() != "383.0 ± 0.6 mm" {
		t.Errorf("one take is shown as %q:\n%s", p.number(), got)
	}
	p.typed("height", "385", "mark", "1")
	got := p.text("r-main")
	if !strings.HasPrefix(p.number(), "384.0 ± ") || !strings.Contains(got, "2 takes: 383.0 mm, 385.0 mm.") || !strings.Contains(got, "This take alone: 385.0 ±") {
		t.Errorf("two takes are shown as %q:\n%s", p.number(), got)
	}
	if err := p.height("height", "385"); err != nil {
		t.Fatal(err)
	}
	if r := p.last(); r.ValueUM != 384_000 {
		t.Errorf("recorded %d", r.ValueUM)
	}
}

// A take that was read the wrong way round is asked about, never averaged away.
func TestTakesApart(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	p.openDemo()
	p.must("take", "quantity", "camber", "place", "FL")
	args := func(end string, more ...string) []string {
		return append([]string{"quantity", "camber", "place", "FL", "purpose", "before", "method", "camber_gap", "gap", "10", "gap_at", end, "span", "390", "along", "rim", "mark", "0.5", "span_mark", "1"}, more...)
	}
	p.must("reading", args("top", "again", "yes")...)
	p.typed("gap", "10", "gap_at", "bottom", "span", "390", "along", "rim", "mark", "0.5", "span_mark", "1")
	if got := p.text("r-main"); !strings.Contains(got, "The takes lie much further apart") || !strings.Contains(got, "Measured again, and it is so") {
		t.Errorf("the form does not ask:\n%s", got)
	}
	if err := p.act("reading", args("bottom")...); err == nil || len(p.state().Readings) != 0 {
		t.Errorf("top and bottom were averaged: %v", err)
	}
	p.must("reading", args("bottom", "forget", "yes")...)
	if got := p.text("r-main"); strings.Contains(got, "1 take") || !strings.Contains(p.text("r-sheet"), "Forgotten: 1 take.") {
		t.Errorf("the take is still there:\n%s\n%s", got, p.text("r-sheet"))
	}
	p.must("reading", args("top", "again", "yes")...)
	p.must("reading", args("bottom", "sure", "yes")...)
	inputs := p.last().Inputs
	if !slices.ContainsFunc(inputs, func(i event.Input) bool {
		return i.Name == "questioned" && strings.Contains(i.Text, "much further apart")
	}) {
		t.Errorf("the record does not say that it was questioned: %+v", inputs)
	}
}

// Takes alone can be recorded where the record fills in a field of the next one.
func TestTakesAloneBesideWhatIsFilled(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	p.openDemo()
	args := []string{"quantity", "camber", "place", "FL", "purpose", "before", "method", "camber_gap", "span", "390", "along", "rim", "mark", "0.5", "span_mark", "1", "side", "left"}
	p.must("reading", append(args, "gap", "10", "gap_at", "top", "again", "yes")...)
	p.must("reading", args...)
	if got := p.last().ValueMD; got != -1469 {
		t.Errorf("recorded %d, want the one take", got)
	}
}

// All that is missing is listed, each with a way to its field.
func TestMissingIsListed(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	p.must("method", "method", "lift_plan")
	p.typed("raised", "front_axle", "slope", "measured")
	main := p.page.region("r-main")
	for _, name := range []string{"slope_over", "slope_run", "slope_mark", "along", "across", "tape"} {
		if !strings.Contains(main, `<a href="#f-`+name+`">`) || !strings.Contains(main, `id="f-`+name+`"`) {
			t.Errorf("%s is not listed, or cannot be jumped to:\n%s", name, main)
		}
	}
	if strings.Contains(main, `<a href="#f-raised">`) {
		t.Error("what is answered is listed")
	}
	p.typed("tape", "much")
	if got := p.text("r-main"); !strings.Contains(got, "Smallest mark of the tape:") {
		t.Errorf("what cannot be read is not named:\n%s", got)
	}
}

// Measure is written in the chosen units; so is its target, which has a place of
// its own.
func TestMeasureInUnits(t *testing.T) {
	p := toSetting(t)
	p.must("measure")
	metric := p.text("r-main")
	if !strings.Contains(metric, "355.0 ± 0.6 mm") {
		t.Fatalf("no height is shown:\n%s", metric)
	}
	p.must("set", "name", "length", "value", "in")
	p.must("set", "name", "angle", "value", "°′")
	p.must("measure")
	got := p.text("r-main")
	readings, _, _ := strings.Cut(got, "Something was changed")
	if strings.Contains(readings, " mm ") || !strings.Contains(readings, "13.98 ± 0.02 in") {
		t.Errorf("after choosing inches:\n%s", got)
	}
	main := p.page.region("r-main")
	for cell := range strings.SplitSeq(main, "<td>") {
		if inside, _, _ := strings.Cut(cell, "</td>"); !strings.HasPrefix(cell, "<section") && strings.Contains(inside, "Target") {
			t.Errorf("a target stands among the readings: %s", inside)
		}
	}
	if !strings.Contains(got, "Target ") || !strings.Contains(got, "′") {
		t.Errorf("no target, or none in minutes:\n%s", got)
	}
	if !strings.Contains(main, `data-do="sync_screen"`) {
		t.Error("nothing leads to the units")
	}
	p.must("methods")
	if !strings.Contains(p.page.region("r-main"), `data-do="sync_screen"`) {
		t.Error("from the calculators nothing leads to the units")
	}
}

// A change has a receipt, and stays listed.
func TestChangeIsShown(t *testing.T) {
	p := toSetting(t)
	p.must("measure")
	if strings.Contains(p.page.region("r-main"), `id="changed"`) {
		t.Fatal("something is listed before anything was changed")
	}
	p.must("adjust", "which", "camber:FL", "before", "mark 3", "after", " mark 5 ", "unit", "turn", "position", "-1.5")
	const want = "Camber adjuster, front left"
	if got := p.text("r-sheet"); !strings.Contains(got, "Recorded: "+want+", mark 3 → mark 5 (at -1.5 turns from as found).") && !strings.Contains(got, "Recorded: "+want+", mark 3 → mark 5 (at −1.5 turns from as found).") {
		t.Errorf("the receipt says %q", got)
	}
	p.must("adjust", "which", "load:", "after", "full tank")
	p.must("adjust", "which", "toe:FL", "before", "12 threads", "after", "11 threads")
	if got := p.text("r-sheet"); !strings.Contains(got, "Not final in the tally: Track rod lock nut, front left.") {
		t.Errorf("a rod was turned, and nothing is said of its lock nut: %q", got)
	}
	p.must("tally")
	p.says("r-main", "Track rod lock nut loose")
	p.says("r-main", "its adjuster was moved")
	if !strings.Contains(p.page.region("r-main"), `data-fastener="track_rod_lock_FL"`) {
		t.Errorf("the tally has no button for the lock nut:\n%s", p.page.region("r-main"))
	}
	p.must("pass", "fastener", "track_rod_lock_FL", "pass", "snug", "shown", "0")
	if err := p.act("pass", "fastener", "track_rod_lock_FL", "pass", "final", "shown", "6800"); err != nil || !strings.Contains(p.page.region("r-main"), "Draw the paint mark") {
		t.Errorf("the lock nut cannot be made final from the tally: %v\n%s", err, p.text("r-main"))
	}
	p.must("measure")
	if err := p.act("adjust", "which", "toe:FL", "before", "11 threads", "after", "11 threads"); err == nil {
		t.Error("a change that changes nothing was recorded")
	}
	p.must("measure")
	got := p.text("r-main")
	first, second := strings.Index(got, "Load in the car : full tank, "), strings.Index(got, want+" : mark 3 → mark 5 (at")
	if first < 0 || second < first {
		t.Errorf("the changes are not listed, the newest first:\n%s", got)
	}
}

// TestMissedTargetIsSaid: a reading that misses its target has no bare tick.
func TestMissedTargetIsSaid(t *testing.T) {
	for end, missed := range map[string]bool{"top": false, "bottom": true} {
		p := newPhone(t, store.NewMemory(time.Now))
		for i := 0; !strings.Contains(p.page.region("r-main"), `data-step="lean"`); i++ {
			if i > 25 || !p.next() {
				t.Fatalf("the lean is never asked for:\n%s", p.text("r-main"))
			}
		}
		p.must("reading", "quantity", "camber", "place", "FL", "purpose", "setting", "method", "camber_gap", "gap", "7", "gap_at", end, "span", "400", "along", "rim", "mark", "0.5", "span_mark", "1", "side", "left")
		if got := p.text("r-main"); strings.Contains(got, "target not met") != missed {
			t.Errorf("with the gap at the %s the target is missed: %v; the step says\n%s", end, missed, got)
		}
	}
}

// Readings with the floor in them are not set beside readings without it.
func TestMixedFloors(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	p.openDemo()
	gap := func(place string, more ...string) {
		t.Helper()
		p.must("reading", append([]string{"quantity", "camber", "place", place, "purpose", "before", "method", "camber_gap", "gap", "10", "gap_at", "top", "span", "390", "along", "rim", "mark", "0.5", "span_mark", "1"}, more...)...)
	}
	gap("FL")
	gap("FR")
	const note = "Not comparable. Corrected for the floor: front right as found. Not corrected: front left as found."
	p.must("measure")
	if got := p.text("r-main"); strings.Contains(got, "Not comparable") {
		t.Errorf("two readings of one kind are parted:\n%s", got)
	}
	gap("FR", "floor", "right", "slope", "0.5", "slope_step", "0.05", "side", "right")
	for _, screen := range [][]string{{"measure"}, {"take", "quantity", "camber", "place", "FL"}} {
		p.must(screen[0], screen[1:]...)
		if got := p.text("r-main"); !strings.Contains(got, note) {
			t.Errorf("%s does not say %q:\n%s", screen[0], note, got)
		}
	}
	p.must("measure")
	if got := strings.Count(p.text("r-main"), "Not comparable"); got != 1 {
		t.Errorf("it is said %d times", got)
	}
}

// A load that ends in a full stop is not given a second one.
func TestLoadNoteEndsOnce(t *testing.T) {
	p := toHeights(t)
	if err := p.height("height", "383.5", "load", "full tank."); err != nil {
		t.Fatal(err)
	}
	if got := p.text("r-main"); !strings.Contains(got, "full tank. Do not compare") {
		t.Errorf("the other load is not remarked on, or ends twice:\n%s", got)
	}
}
