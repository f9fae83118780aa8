package client_test

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"golang.org/x/net/html"

	"strutcard/calc/lang/langtest"
	"strutcard/pwa/client"
	"strutcard/sync/event"
	"strutcard/sync/guide/guidetest"
	"strutcard/sync/method"
	"strutcard/sync/method/methodtest"
	"strutcard/sync/sheet"
	"strutcard/sync/store"
)

// asTyped is what the walks below type, or others wrote: it is shown as it is.
var asTyped = []string{
	"Ostler Wren (invented)", "My car", "Two struts", "Front strut", "Rear spring, left", "L and R", "crossmember", "not the sump", "sill seam", "from the foot up to the ring",
	"manual p. 2", "manual p. 3", "manual p. 4", "manual p. 5", "manual p. 9", "kit p. 1", "kit p. 2", "own measurement on this car", "workshop manual of this model",
	"14 threads showing", "The lens is broken.", "Nobody could be reached; checked every mark twice.", "so I did", "A yard", "Nora", "count the washers twice", "look at this one",
	"The cat sat on the jack.", "Long one", "Crowfoot", "Uncle Bertil", "two of us work here", "parked on the drive", "the wheel was off", "a torque is wrong", "second time", "another hole",
	"https://yard.example/look#s3", "as found it was", "Spare wrench", "with two in it", "the last one was wrong", "Nora, 25 Nov, 09:10", "a photo of the yard",
	"the wheel", "the strut as found", "Two photos (invented)", "test car", "test.", "seen", "mark 3",
}

// names are the same in every language.
var names = map[string]string{
	"strutcard": "the program",
	"demo":      "of the version of a demo sheet, which its author gave it",
	"English":   "a language, in itself", "Deutsch": "a language, in itself",
	"sin": "a function", "asin": "a function", "cos": "a function", "acos": "a function", "tan": "a function", "atan": "a function", "ln": "a function",
	"δ": "in a formula", "π": "in a formula", "π²": "in a formula", "δ²": "in a formula",
	"Gr5": "a class of SAE J429",
	"FL":  "a corner, in the notation of the sheet", "FR": "the same", "RL": "the same", "RR": "the same",
	"I": "a class of ISO 6789", "II": "a class of ISO 6789", "A": "a class of ISO 6789", "B": "a class of ISO 6789", "G": "a class of ISO 6789",
	"L": "left, in a drawing", "R": "right, in a drawing",
}

// readAll reads every screen of every phone in a made-up language until the test
// ends: what was not looked up is not in it.
func readAll(t *testing.T, typed ...string) {
	t.Helper()
	langtest.Speak(t)
	may := langtest.Allowed{Texts: append(typed, asTyped...), Words: names}
	var mu sync.Mutex
	told, read := map[string]bool{}, map[string]bool{}
	looked = func(regions map[string]string) {
		mu.Lock()
		defer mu.Unlock()
		for _, name := range slices.Sorted(maps.Keys(regions)) {
			if read[regions[name]] {
				continue
			}
			read[regions[name]] = true
			for _, text := range may.Unsaid(regions[name]) {
				if !told[text] {
					t.Errorf("not said in the reader's language: %s: %s", name, text)
				}
				told[text] = true
			}
		}
	}
	t.Cleanup(func() { looked = nil })
}

// everyPlace opens each screen of the open job once.
func (p *phone) everyPlace() {
	p.t.Helper()
	for _, place := range []string{"steps", "tally", "measure", "methods", "card", "people", "kit", "sync_screen", "torques", "watch", "park_form", "recheck"} {
		_ = p.act(place)
	}
	for _, q := range event.Quantities() {
		for _, at := range q.Places() {
			_ = p.act("take", "quantity", string(q), "place", string(at))
		}
	}
	p.must("work")
}

// pressAll presses every button and sends every form, empty, of the screen: what is
// refused is said, too.
func (p *phone) pressAll() {
	p.t.Helper()
	for _, press := range presses(p.t, p.page.region("r-main")) {
		if press[0] != "set" && press[0] != "way" { // the walk types in these units, and by these methods
			_ = p.act(press[0], press[1:]...)
		}
	}
}

func presses(t *testing.T, region string) (all [][]string) {
	t.Helper()
	root, err := html.Parse(strings.NewReader(region))
	if err != nil {
		t.Fatal(err)
	}
	for n := range root.Descendants() {
		var do string
		var args []string
		for _, a := range n.Attr {
			if name, is := strings.CutPrefix(a.Key, "data-"); is && name == "do" {
				do = a.Val
			} else if is {
				args = append(args, name, a.Val)
			}
		}
		if do != "" {
			all = append(all, append([]string{do}, args...))
		}
	}
	return all
}

// TestJobIsSaid walks the demo job through, looks at every place on the way and
// tries what is refused.
func TestJobIsSaid(t *testing.T) {
	readAll(t)
	p := newPhone(t, store.NewMemory(time.Now))
	p.openDemo()
	for i := 0; p.state().Finished == nil; i++ {
		if i%40 == 0 {
			p.everyPlace()
		}
		if i > 800 || !p.next() {
			t.Fatalf("the job stands at:\n%s", p.text("r-main"))
		}
	}
	p.everyPlace()
	p.must("home")
}

// TestTriedIsSaid presses every button of every place now and then on the way, also
// those that are refused, and every action without what it needs.
func TestTriedIsSaid(t *testing.T) {
	readAll(t)
	p := newPhone(t, store.NewMemory(time.Now))
	p.openDemo()
	job := string(p.state().Job)
	for i := range 140 {
		if i%40 == 7 {
			for _, place := range []string{"work", "steps", "tally", "measure", "card", "people", "kit", "sync_screen", "torques", "watch", "park_form", "recheck"} {
				_ = p.act(place)
				p.pressAll()
				p.must("open_job", "job", job)
			}
			for _, name := range actionNames {
				_ = p.act(name)
			}
			p.must("open_job", "job", job)
		}
		p.next()
	}
}

// actionNames are the presses that ask for something.
var actionNames = strings.Fields(`start_job own_save own_make comment count tool answer override move loosen fit pass with_adapter mark spec reading adjust question question_over
	look_again give_up position clicks leftovers reopen over_withdrawal begin done skip release note undo photo photo_left_out photo_skip no_photo park pushed last_made resume
	keep_watch ask_every ask_never need_help all_right kit_add kit_change kit_save kit_remove tool_use tool_change use_wrench save_reminder no_sensor set bring_in join sync share finish`)

// TestCalculatorsAreSaid fills in every calculator as its examples do.
func TestCalculatorsAreSaid(t *testing.T) {
	examples, err := methodtest.Examples()
	if err != nil {
		t.Fatal(err)
	}
	var typed []string
	for _, x := range examples {
		for _, f := range method.Find(x.Method).Fields {
			if f.Kind == method.Text && x.Typed[f.Name] != "" {
				typed = append(typed, x.Typed[f.Name])
			}
		}
	}
	readAll(t, typed...)
	p := newPhone(t, store.NewMemory(time.Now))
	for _, x := range examples {
		p.must("method", "method", x.Method)
		for _, f := range method.Find(x.Method).Fields {
			if text := x.Typed[f.Name]; f.Kind != method.Samples {
				p.c.Input(context.Background(), "m."+x.Method+"."+f.Name, text)
			}
		}
	}
}

// TestOwnSheetIsSaid opens every form of an own sheet, filled and empty.
func TestOwnSheetIsSaid(t *testing.T) {
	readAll(t)
	p := newPhone(t, store.NewMemory(time.Now))
	p.must("own_form")
	p.must("home")
	for _, id := range []string{p.wholeOwn(), p.begin("double_wishbone", "live_axle")} {
		p.must("own", "own", id)
		for _, press := range presses(t, p.page.region("r-main")) {
			if press[0] == "own_form" {
				p.must("own_form", press[1:]...)
				_ = p.act("own_save", press[1:]...)
			}
		}
	}
	slip := p.begin("front_strut", "none")
	_ = p.tryPut(slip, "torque.sensor_bracket_front", "thread", "M6", "unit", "lbf·ft", "torque", "80", "source", "manual p. 9")
	_, hash := p.made(slip)
	p.must("start_job", "sheet", hash, "vehicle", "My car")
	for range 60 {
		if strings.Contains(p.page.region("r-main"), `id="spec-form"`) {
			p.pressAll()
			p.must("work")
			break
		}
		if !p.next() {
			break
		}
	}
	p.everyPlace()
}

// TestPeopleAreSaid: a shop that answers, a mentor who speaks, links.
func TestPeopleAreSaid(t *testing.T) {
	readAll(t)
	p, y := atYard(t)
	p.hears(y, mentors, &event.CommentAdded{Step: event.StepID(p.shownStep()), Name: "Nora", Text: "count the washers twice"})
	step := event.StepID(p.shownStep())
	for d, about := range map[event.Decision][2]string{event.Accept: {"f", ""}, event.Query: {"f", ""}, event.Redo: {"f", string(step)}, event.Return: {}} {
		p.hears(y, desks, &event.DecisionMade{Finding: about[0], Step: event.StepID(about[1]), Name: "Nora", Decision: d, Text: "look at this one", Proof: "p"})
		p.everyPlace()
	}
	for _, severity := range []string{"ask", "stop"} {
		p.hears(y, desks, &event.FindingRaised{Severity: severity, Name: "Nora", Text: "look at this one", Proof: "p"})
		p.everyPlace()
	}
	p.must("comment", "comment", "so I did")
	shared(p, y, func(verb, _ string) (string, bool) {
		row := fmt.Sprintf(`{"id":"l1","role":"release","expires":%d,"link":"https://yard.example/look#s3","code":"101\n010\n111","visits":["Nora, 25 Nov, 09:10"]}`, p.time.Add(time.Hour).UnixMilli())
		return map[string]string{"POST": row, "GET": "[" + row + "]"}[verb], true
	})
	p.must("share", "role", "release", "days", "1")
	_ = p.act("share_list")
	p.page.http = nil
	_ = p.act("sync")
	_ = p.act("share_list")
	p.everyPlace()
	p.must("home")
}

// TestReadyIsSaid: what was found on the phone.
func TestReadyIsSaid(t *testing.T) {
	readAll(t)
	for _, found := range []client.Inspection{{}, allFound, {Files: client.No, How: client.No, Persisted: client.No, Photos: client.No, Free: 40_000_000}, {Free: -1}} {
		p := onMemory(t)
		p.looks <- found
		p.shows("no signal") // also among the marks
		p.openDemo()
		p.must("home")
	}
}

// TestPausesAreSaid: stopping, coming back, the car in the air, the timer.
func TestPausesAreSaid(t *testing.T) {
	readAll(t)
	for _, j := range []*guidetest.Job{fresh(t), raised(t)} {
		b := newBench(t, j)
		b.must("keep_watch", "who", "Uncle Bertil", "number", "+99 (0) 11-22")
		b.must("park_form")
		_ = b.act("park", "note", "parked on the drive")
		b.clock.move(5 * time.Hour)
		b.open()
		_ = b.act("pushed", "still", "yes")
		_ = b.act("resume", "left", "no", "different", "the wheel was off")
		_ = b.act("resume", "left", "yes")
		_ = b.act("last_made", "made", "no")
		b.everyPlace()
		for range 12 {
			b.tickOn(3 * time.Minute)
		}
		_ = b.act("need_help")
		_ = b.act("all_right")
		b.must("ask_never", "reason", "two of us work here")
		b.everyPlace()
	}
	b := driven(t, "Ostler Wren (invented)")
	b.everyPlace()
	_ = b.act("save_reminder", "day", "2026-12-01")
	b.must("home")
}

// TestToolsAndPicturesAreSaid: the owner's tools, photos, a withdrawn sheet, units.
func TestToolsAndPicturesAreSaid(t *testing.T) {
	readAll(t)
	p := newPhone(t, store.NewMemory(time.Now))
	p.keepWrench("Long one", "length", "480", "tolerance", "4", "step", "1")
	for _, k := range presses(t, p.page.region("r-main")) {
		if k[0] == "kit_add" {
			p.must(k[0], k[1:]...)
			_ = p.act("kit_save", append(k[1:], "label", "Spare wrench")...)
		}
	}
	p.must("kit")
	p.toAdapter()
	p.must("use_wrench", "fastener", "rod_nut_FL", "wrench", "wrench_large", "adapter", p.adapter())
	p.next()
	p.everyPlace()
	for name, unit := range map[string]string{"torque": "lbf·ft", "length": "in", "angle": "°′", "mass": "lb", "pressure": "psi", "stiffness": "lbf/in", "temperature": "°F"} {
		p.must("set", "name", name, "value", unit)
	}
	p.everyPlace()

	q, step := askedPhone(t)
	for _, why := range []string{"QuotaExceededError", "Unreadable", "Blank", "TooLarge", "NoCanvas", "lost", ""} {
		_ = q.act("no_photo", "why", why)
	}
	_ = q.act("photo", taken(step, "wheel", "a photo of the yard")...)
	_ = q.act("photo_skip", "step", step, "photo", "wheel")
	q.everyPlace()

	w, _ := atYard(t)
	w.page.http = shopThat(t, &sheet.Withdrawal{Reason: "a torque is wrong", Before: "box", At: 1})
	w.must("sync")
	w.everyPlace()
	w.pressAll()
	w.must("home")
}

// TestReadingsAreSaid: questioned, repeated, stale, with a change between.
func TestReadingsAreSaid(t *testing.T) {
	readAll(t)
	p := toSetting(t)
	for _, q := range event.Quantities() {
		for _, at := range q.Places() {
			_ = p.act("reading", "quantity", string(q), "place", string(at), "purpose", "setting", "height", "360", "mark", "1", "sure", "yes", "gap", "9", "gap_at", "top", "span", "412", "along", "rim",
				"span_mark", "1", "rear", "1482", "front", "1480", "diameter", "600", "diameter_mark", "1", "load", "with two in it")
			_ = p.act("reading", "quantity", string(q), "place", string(at), "purpose", "setting", "height", "960", "mark", "1", "gap", "400", "gap_at", "top", "span", "412", "along", "rim")
		}
	}
	for _, q := range []event.Quantity{event.Camber, event.Toe, event.Caster, event.RideHeight, event.TotalToe} {
		for _, corner := range event.Corners {
			_ = p.act("adjust", "which", string(q)+":"+string(corner), "before", "as found it was", "after", "Spare wrench", "unit", "turn", "position", "2")
		}
	}
	p.everyPlace()
	p.must("undo", "reason", "the last one was wrong")
	p.everyPlace()
	if got := p.state(); len(got.Adjusted) == 0 || len(got.Readings) == 0 {
		t.Errorf("%d readings and %d changes: the walk records nothing", len(got.Readings), len(got.Adjusted))
	}
}
