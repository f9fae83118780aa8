package client_test

import (
	"context"
	"encoding/json"
	"strings"
	"testing"
	"time"

	"golang.org/x/net/html"

	"strutcard/pwa/client"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/guide/guidetest"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
	"strutcard/sync/store"
)

func (p *page) Alarm() {}

func (p *page) Install() { p.installs++ }

// bell is a page that counts its alarms.
type bell struct {
	*page
	rings int
}

func (b *bell) Alarm() { b.rings++ }

// clock is a wall clock that stands until it is moved, either way.
type clock struct{ now time.Time }

func (c *clock) move(d time.Duration) { c.now = c.now.Add(d) }

// bench is a phone with a job on its disk, a clock and a bell.
type bench struct {
	*phone
	clock *clock
	bell  *bell
	job   event.JobID
}

// newBench opens the app a minute after a job's last event, on the phone that
// wrote it, where the job was open.
func newBench(t *testing.T, j *guidetest.Job) *bench {
	t.Helper()
	ctx := context.Background()
	disk := store.NewMemory(time.Now)
	if _, err := disk.Write(ctx, j.Events()); err != nil {
		t.Fatal(err)
	}
	st := j.Log.State()
	view, _ := json.Marshal(map[string]string{"place": "work", "job": string(st.Job)})
	for name, value := range map[string]string{"device": string(j.Chain.Device), "view": string(view),
		"sheet." + string(j.Sheet.Hash()): string(j.Sheet.Encode())} {
		if err := disk.SetMeta(ctx, name, value); err != nil {
			t.Fatal(err)
		}
	}
	events := j.Events()
	b := &bench{phone: &phone{t: t, disk: disk}, clock: &clock{now: events[len(events)-1].Time().Add(time.Minute)}, job: st.Job}
	b.open()
	return b
}

// open starts the app anew over the same disk and the same clock.
func (b *bench) open() {
	b.t.Helper()
	b.page = newPage(b.t)
	b.bell = &bell{page: b.page}
	b.c = client.New(client.Config{Platform: b.bell, Log: b.disk, Now: func() time.Time { return b.clock.now }})
	if err := b.c.Start(context.Background()); err != nil {
		b.t.Fatalf("start: %v", err)
	}
}

func (b *bench) screen() string { return b.text("r-main") + " " + b.text("r-bar") }

func (b *bench) wantSaid(what string) {
	b.t.Helper()
	if !strings.Contains(b.screen(), what) {
		b.t.Errorf("the screen does not say %q:\n%s", what, b.screen())
	}
}

func (b *bench) wantUnsaid(what string) {
	b.t.Helper()
	if strings.Contains(b.screen(), what) {
		b.t.Errorf("the screen says %q:\n%s", what, b.screen())
	}
}

// press presses the button of the foot that has these words.
func (b *bench) press(words string) {
	b.t.Helper()
	root, err := html.Parse(strings.NewReader(b.page.region("r-bar")))
	if err != nil {
		b.t.Fatal(err)
	}
	for n := range root.Descendants() {
		if n.Type != html.ElementNode || n.Data != "button" || n.FirstChild == nil || !strings.Contains(n.FirstChild.Data, words) {
			continue
		}
		var do string
		var args []string
		for _, a := range n.Attr {
			if name, is := strings.CutPrefix(a.Key, "data-"); name == "do" {
				do = a.Val
			} else if is {
				args = append(args, name, a.Val)
			}
		}
		b.must(do, args...)
		return
	}
	b.t.Fatalf("no button %q:\n%s", words, b.text("r-bar"))
}

const isBack = "Back after a break"

// fresh is a job on its wheels in which only parts were counted.
func fresh(t *testing.T) *guidetest.Job {
	j := guidetest.New(t, sheet.Demo()[0])
	j.Do(&event.PartCounted{Part: j.Sheet.Parts[0].ID, Found: j.Sheet.Parts[0].Count})
	return j
}

// raised is a job with an axle on stands and something loose there.
func raised(t *testing.T) *guidetest.Job {
	t.Helper()
	j := guidetest.New(t, sheet.Demo()[0])
	for range 1500 {
		if j.Log.State().Up() && len(j.Guide().NotFinal()) > 2 {
			return j
		}
		if !j.Advance() {
			break
		}
	}
	t.Fatal("no axle came up")
	return nil
}

func TestResumeGate(t *testing.T) {
	t.Run("OKWithinHalfAnHour", func(t *testing.T) {
		b := newBench(t, fresh(t))
		b.clock.move(28 * time.Minute)
		b.open()
		b.wantUnsaid(isBack)
		b.must("note", "text", "still here")
	})
	t.Run("OKOpenOverALongTask", func(t *testing.T) {
		b := newBench(t, fresh(t))
		b.clock.move(3 * time.Hour)
		b.must("note", "text", "one bolt, three hours") // the app never left the view
		b.wantUnsaid(isBack)
	})
	t.Run("AskedAfterHalfAnHour", func(t *testing.T) {
		b := newBench(t, fresh(t))
		b.clock.move(30 * time.Minute)
		b.open()
		b.wantSaid(isBack)
		b.wantSaid("Does it stand as the record says?")
		b.wantSaid("Last recorded: Counted")
		before := b.state().Count
		if err := b.act("note", "text", "too early"); !fault.Is(err, fault.Blocked) {
			t.Errorf("recording before the answer = %v, want blocked", err)
		}
		if err := b.act("park"); !fault.Is(err, fault.Blocked) {
			t.Errorf("parking before the answer = %v, want blocked", err)
		}
		for _, place := range []string{"measure", "steps", "work"} {
			b.must(place)
			b.wantSaid(isBack)
		}
		for _, place := range []string{"tally", "card"} {
			b.must(place)
			b.wantUnsaid(isBack)
		}
		b.must("work")
		if got := b.state().Count; got != before {
			t.Fatalf("%d events, want %d: something was recorded", got, before)
		}
		b.press("Yes, as the record says")
		b.wantUnsaid(isBack)
		p := b.state().Pauses
		if len(p) != 1 || !p[0].AsLeft || p[0].ResumedN == 0 || p[0].Parked {
			t.Errorf("pauses = %+v, want one that was resumed as left", p)
		}
		b.must("note", "text", "now it goes on")
		b.open()
		b.wantUnsaid(isBack)
	})
	t.Run("AskedWhenItComesBackIntoView", func(t *testing.T) {
		b := newBench(t, fresh(t))
		b.clock.move(31 * time.Minute)
		b.must("arrive")
		b.wantSaid(isBack)
	})
	t.Run("AskedAfterASleepInView", func(t *testing.T) {
		b := newBench(t, fresh(t))
		b.must("tick")
		b.clock.move(time.Hour)
		b.must("tick")
		b.wantSaid(isBack)
	})
	t.Run("OnlyAnAnswerEndsIt", func(t *testing.T) {
		b := newBench(t, fresh(t))
		b.clock.move(time.Hour)
		b.open()
		b.clock.move(-time.Hour) // the clock was wrong and is mended
		b.must("arrive")
		b.wantSaid(isBack)
		if err := b.act("note", "text", "too early"); !fault.Is(err, fault.Blocked) {
			t.Errorf("recording before the answer = %v, want blocked", err)
		}
	})
	t.Run("AnotherJobIsFree", func(t *testing.T) {
		b := newBench(t, fresh(t))
		b.clock.move(time.Hour)
		b.open()
		b.must("home")
		b.openDemo()
		b.wantUnsaid(isBack)
		b.must("note", "text", "another car")
		b.must("home")
		b.must("open_job", "job", string(b.job))
		b.wantSaid(isBack)
	})
	t.Run("Different", func(t *testing.T) {
		b := newBench(t, fresh(t))
		b.clock.move(time.Hour)
		b.open()
		if err := b.act("resume", "note", " "); !fault.Is(err, fault.Invalid) {
			t.Errorf("different without a word = %v, want invalid", err)
		}
		b.must("resume", "note", "someone moved the trolley")
		if p := b.state().Pauses; len(p) != 1 || p[0].AsLeft || p[0].Different != "someone moved the trolley" {
			t.Errorf("pauses = %+v", p)
		}
		b.wantUnsaid(isBack)
	})
	t.Run("FinishedJobIsNotAsked", func(t *testing.T) {
		j := fresh(t)
		j.Force(&event.JobFinished{})
		b := newBench(t, j)
		b.clock.move(30 * 24 * time.Hour)
		b.open()
		b.wantUnsaid(isBack)
	})
}

func TestResumeRaisedCar(t *testing.T) {
	b := newBench(t, raised(t))
	b.clock.move(12 * time.Hour)
	b.open()
	b.press("I am all right") // the timer ran out over night too
	b.wantSaid("dead still on its stands?")
	b.wantSaid("axle is up on stands since")
	if err := b.act("resume", "as_left", "yes"); !fault.Is(err, fault.Blocked) {
		t.Errorf("as left without a push = %v, want blocked", err)
	}
	b.must("pushed", "still", "no")
	b.wantSaid("Stay out. Do not go under it.")
	b.wantUnsaid("as the record says")
	if err := b.act("resume", "as_left", "yes"); !fault.Is(err, fault.Blocked) {
		t.Errorf("as left while it moves = %v, want blocked", err)
	}
	b.press("Made safe: ask me again")
	b.wantSaid("dead still on its stands?")
	b.must("pushed", "still", "yes")
	b.wantSaid("Does it stand as the record says?")
	b.open()
	b.wantSaid("dead still on its stands?") // a restart asks afresh, but not whether all is right
	b.must("pushed", "still", "yes")
	b.press("Yes, as the record says")
	b.wantUnsaid(isBack)
}

// TestResumeWhileRaising: what may hang on a jack alone is not pushed.
func TestResumeWhileRaising(t *testing.T) {
	j := fresh(t)
	j.Until("raise_step_front")
	for _, c := range j.Sheet.ChecksFor(event.Front, event.Raise) {
		if c.Lifts {
			break
		}
		j.Do(&event.CheckAnswered{Axle: event.Front, Move: event.Raise, Check: c.ID, Answer: event.Yes})
	}
	b := newBench(t, j)
	b.clock.move(12 * time.Hour)
	b.open()
	b.press("I am all right")
	b.wantSaid("It may be in the air, on a jack alone.")
	b.wantUnsaid("Push the car")
	if err := b.act("resume", "as_left", "yes"); !fault.Is(err, fault.Blocked) {
		t.Errorf("as left without a word on where it stands = %v, want blocked", err)
	}
	b.press("It stands on all its wheels")
	b.wantUnsaid(isBack)
	if text := b.text("r-strip"); strings.Contains(text, "being raised") {
		t.Errorf("the strip still says %q", text)
	}
}

// TestLastPassIsAskedAbout: a pass pressed just before the break may have been
// pressed before the wrench was.
func TestLastPassIsAskedAbout(t *testing.T) {
	lastPass := func(t *testing.T) (*bench, *event.PassDone) {
		j := guidetest.New(t, sheet.Demo()[0])
		for range 1500 {
			events := j.Events()
			if p, is := events[len(events)-1].Payload().(*event.PassDone); is && !j.Log.State().Up() {
				b := newBench(t, j)
				b.clock.move(time.Hour)
				b.open()
				return b, p
			}
			if !j.Advance() {
				break
			}
		}
		t.Fatal("no pass on the ground")
		return nil, nil
	}
	t.Run("Yes", func(t *testing.T) {
		b, p := lastPass(t)
		b.wantSaid("Was this one really done?")
		if f := sheet.Demo()[0].Fastener(p.Fastener); f != nil {
			b.wantSaid(f.Name())
		}
		b.press("Yes, really done")
		b.press("Yes, as the record says")
		if _, holds := b.state().Fasteners[p.Fastener].Passes[p.Pass]; !holds {
			t.Error("the pass is gone, though it was done")
		}
	})
	t.Run("No", func(t *testing.T) {
		b, p := lastPass(t)
		before := b.state().Count
		b.press("No, or not sure")
		if got := b.state().Count; got != before {
			t.Fatalf("%d events, want %d: nothing is recorded before the last answer", got, before)
		}
		b.press("Yes, as the record says")
		st := b.state()
		if _, holds := st.Fasteners[p.Fastener].Passes[p.Pass]; holds || st.Withdrawn != 1 {
			t.Errorf("pass still there: %v, taken back: %d; want gone, 1", holds, st.Withdrawn)
		}
		if got := b.text("r-sheet"); !strings.Contains(got, "counts as not done") || !strings.Contains(got, "Loosen") {
			t.Errorf("the message is %q, want what to do with it", got)
		}
	})
}

// TestClockSetBack: a clock that was set back makes the break's length unknown;
// the app asks once and then goes on.
func TestClockSetBack(t *testing.T) {
	b := newBench(t, fresh(t))
	b.clock.move(-48 * time.Hour)
	b.open()
	b.wantSaid(isBack)
	b.press("Yes, as the record says")
	for range 3 {
		b.must("arrive")
		b.wantUnsaid(isBack)
		b.open()
		b.wantUnsaid(isBack)
		b.must("note", "text", "goes on")
		b.clock.move(time.Minute)
	}
	b.clock.move(-5 * time.Minute) // a small correction is no break
	b.must("arrive")
	b.wantUnsaid(isBack)
	if got := len(b.state().Pauses); got != 1 {
		t.Errorf("%d pauses, want 1", got)
	}
}

func TestPark(t *testing.T) {
	b := newBench(t, raised(t))
	b.must("tally")
	b.press("Stop for today")
	b.wantSaid("axle is up on stands since")
	b.wantSaid("Nobody goes under it")
	b.wantSaid("Not final")
	b.must("park", "note", "waiting for a bush")
	b.wantSaid("Parked since")
	b.must("arrive") // the phone slept for a moment: the advice stays to be read
	b.wantSaid("Before you leave")
	st := b.state()
	if st.Parked() == nil || st.Parked().Note != "waiting for a bush" {
		t.Fatalf("parked = %+v", st.Parked())
	}
	if err := b.act("note", "text", "after parking"); !fault.Is(err, fault.Blocked) {
		t.Errorf("recording on a parked job = %v, want blocked", err)
	}
	b.must("home")
	row := b.rowOf()
	for _, want := range []string{"Parked", "axle up", "not final", "steps done"} {
		if !strings.Contains(row, want) {
			t.Errorf("the list says %q, want %q in it", row, want)
		}
	}
	b.clock.move(time.Minute) // no half hour: it is asked because it was parked
	b.must("open_job", "job", string(b.job))
	b.wantSaid("dead still on its stands?")
	b.wantSaid("Note: waiting for a bush")
	b.must("pushed", "still", "yes")
	for strings.Contains(b.screen(), "really done?") {
		b.press("Yes, really done")
	}
	b.press("Yes, as the record says")
	if st := b.state(); st.Parked() != nil || len(st.Pauses) != 1 || !st.Pauses[0].AsLeft {
		t.Errorf("pauses = %+v, want one that ended", st.Pauses)
	}
	b.must("note", "text", "on again")
}

// TestListShowsWhatIsLoose also without parking.
func TestListShowsWhatIsLoose(t *testing.T) {
	b := newBench(t, raised(t))
	b.must("home")
	if row := b.rowOf(); !strings.Contains(row, "axle up · ") || !strings.Contains(row, " not final · ") || strings.Contains(row, "Parked") {
		t.Errorf("the list says %q", row)
	}
}

// rowOf is what the list of jobs says of the bench's job.
func (b *bench) rowOf() string {
	b.t.Helper()
	_, rest, found := strings.Cut(b.page.region("r-main"), `id="job-`+string(b.job)+`"`)
	if !found {
		b.t.Fatalf("the job is not in the list:\n%s", b.screen())
	}
	row, _, _ := strings.Cut(rest, "</button>")
	return row
}

func (b *bench) state() *job.State {
	b.t.Helper()
	events, err := b.disk.Job(context.Background(), b.job)
	if err != nil {
		b.t.Fatal(err)
	}
	return job.Fold(b.job, events)
}
