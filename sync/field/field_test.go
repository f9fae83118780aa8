package field_test

import (
	"encoding/csv"
	"io"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"

	"strutcard/sync/event"
	"strutcard/sync/field"
	"strutcard/sync/guide"
	"strutcard/sync/guide/guidetest"
	"strutcard/sync/sheet"
)

// Names of the demo sheet that the stories below use.
const (
	step  event.StepID     = "strut_out_FL"
	later event.StepID     = "strut_in_FL"
	held  event.StepID     = "look_over"
	nut   event.FastenerID = "strut_top_FL"
)

// wren is the sheet that the stories follow.
var wren = sheet.Demo()[0]

// start is when every story begins.
var start = time.Date(2026, 9, 21, 8, 0, 0, 0, time.UTC)

// story is one invented job, told with the clock of each device.
type story struct {
	t      testing.TB
	sheet  *sheet.Sheet
	id     event.JobID
	events []event.Event
	device map[string]event.DeviceID
}

func tell(t testing.TB, s *sheet.Sheet) *story {
	out := &story{t: t, sheet: s, id: guidetest.NewID[event.JobID](), device: map[string]event.DeviceID{}}
	out.at("phone", 0, &event.JobOpened{Sheet: s.Hash(), Title: s.Title, Vehicle: "test car"})
	return out
}

// at has a device record payloads when its clock is so far after the start.
func (s *story) at(device string, after time.Duration, payloads ...event.Payload) event.Event {
	s.t.Helper()
	if s.device[device] == "" {
		s.device[device] = guidetest.NewID[event.DeviceID]()
	}
	var e event.Event
	for _, p := range payloads {
		var err error
		if e, err = event.ChainOf(s.id, s.device[device], s.events).Seal(guidetest.NewID[event.ID](), start.Add(after), p); err != nil {
			s.t.Fatalf("seal %s: %v", p.Kind(), err)
		}
		s.events = append(s.events, e)
	}
	return e
}

func begin(id event.StepID) event.Payload { return &event.StepStarted{Step: id} }
func done(id event.StepID) event.Payload  { return &event.StepDone{Step: id} }
func note() event.Payload                 { return &event.NoteAdded{Text: "a word"} }

// counted is what jobs on the demo sheet come to.
func counted(t testing.TB, jobs ...*story) field.Result {
	t.Helper()
	f := field.New(wren)
	for _, j := range jobs {
		if !f.Add(j.id, j.events) {
			t.Fatal("a job on this sheet was not counted")
		}
	}
	return f.Result()
}

func of(t testing.TB, r field.Result, id event.StepID) field.Step {
	t.Helper()
	for _, s := range r.Steps {
		if s.Step.ID == id {
			return s
		}
	}
	t.Fatalf("the result has no step %s", id)
	return field.Step{}
}

func torque(t testing.TB, r field.Result, id event.FastenerID) field.Torque {
	t.Helper()
	for _, f := range r.Torques {
		if f.Fastener.ID == id {
			return f
		}
	}
	t.Fatalf("the result has no fastener %s", id)
	return field.Torque{}
}

// TestTime tells one job after another and looks at the time of one step.
func TestTime(t *testing.T) {
	for _, c := range []struct {
		name string
		tell func(*story)
		want time.Duration // less than none: it is left out
		out  field.LeftOut
	}{
		{"from going there to done", func(s *story) {
			s.at("phone", 0, begin(step))
			s.at("phone", 20*time.Minute, note())
			s.at("phone", 50*time.Minute, done(step))
		}, 50 * time.Minute, field.LeftOut{}},
		{"another step between is not in it", func(s *story) {
			s.at("phone", 0, begin(step))
			s.at("phone", 10*time.Minute, begin(later))
			s.at("phone", 40*time.Minute, begin(step))
			s.at("phone", 45*time.Minute, done(step))
		}, 15 * time.Minute, field.LeftOut{}},
		{"a helper's phone adds nothing", func(s *story) {
			s.at("phone", 0, begin(step))
			s.at("helper", 7*time.Hour, begin(step))
			s.at("helper", 9*time.Hour, note())
			s.at("phone", 30*time.Minute, done(step))
		}, 30 * time.Minute, field.LeftOut{}},
		{"a parked night is not in it", func(s *story) {
			s.at("phone", 0, begin(step))
			s.at("phone", 30*time.Minute, &event.WorkParked{})
			s.at("phone", 31*time.Minute, &event.CommentAdded{Name: "owner", Text: "back tomorrow"})
			s.at("phone", 15*time.Hour, &event.WorkResumed{AsLeft: true})
			s.at("phone", 15*time.Hour+10*time.Minute, done(step))
		}, 40 * time.Minute, field.LeftOut{}},
		{"only the first time counts", func(s *story) {
			s.at("phone", 0, begin(step))
			s.at("phone", 5*time.Minute, done(step))
			s.at("phone", 6*time.Minute, &event.StepReopened{Step: step, Reason: "crooked"})
			s.at("phone", 90*time.Minute, done(step))
		}, 5 * time.Minute, field.LeftOut{}},
		{"a clock put right by seconds", func(s *story) {
			s.at("phone", 0, begin(step))
			s.at("phone", 10*time.Minute, note())
			s.at("phone", 10*time.Minute-30*time.Second, note())
			s.at("phone", 20*time.Minute, done(step))
		}, 20*time.Minute + 30*time.Second, field.LeftOut{}},
		{"a clock set back", func(s *story) {
			s.at("phone", 2*time.Hour, begin(step))
			s.at("phone", time.Hour, note())
			s.at("phone", 90*time.Minute, done(step))
		}, -1, field.LeftOut{Clock: 1}},
		{"a night without a word", func(s *story) {
			s.at("phone", 0, begin(step))
			s.at("phone", 14*time.Hour, note())
			s.at("phone", 15*time.Hour, done(step))
		}, -1, field.LeftOut{LongRest: 1}},
		{"exactly as long as a rest may be", func(s *story) {
			s.at("phone", 0, begin(step))
			s.at("phone", 4*time.Hour, done(step))
		}, 4 * time.Hour, field.LeftOut{}},
		{"resumed after a break that nobody announced", func(s *story) {
			s.at("phone", 0, begin(step))
			s.at("phone", 40*time.Minute, &event.WorkResumed{AsLeft: true})
			s.at("phone", 50*time.Minute, done(step))
		}, -1, field.LeftOut{Break: 1}},
		{"done without going there", func(s *story) {
			s.at("phone", 50*time.Minute, done(step))
		}, -1, field.LeftOut{NoStart: 1}},
		{"a done that was taken back is none", func(s *story) {
			s.at("phone", 0, begin(step))
			slip := s.at("phone", 2*time.Minute, done(step))
			s.at("phone", 3*time.Minute, &event.Corrected{Event: slip.ID, Reason: "slip"})
			s.at("phone", 30*time.Minute, done(step))
		}, 30 * time.Minute, field.LeftOut{}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := tell(t, wren)
			c.tell(s)
			got := of(t, counted(t, s), step)
			var want []int64
			if c.want >= 0 {
				want = []int64{c.want.Milliseconds()}
			}
			if !slices.Equal(got.Time.Values, want) || got.LeftOut != c.out || got.Done != 1 {
				t.Errorf("time %v ms, left out %+v, done in %d; want %v, %+v, 1", got.Time.Values, got.LeftOut, got.Done, want, c.out)
			}
		})
	}
}

// TestAgain: a step that was opened again counts once until it is done again, for
// who asked first.
func TestAgain(t *testing.T) {
	again := &event.StepReopened{Step: step, Reason: "crooked"}
	redo := &event.DecisionMade{Finding: "1", Decision: event.Redo, Step: step, Name: "reviewer", Text: "crooked", Proof: "p"}
	for _, c := range []struct {
		name                string
		payloads            []event.Payload
		installer, reviewer int
	}{
		{"by the installer", []event.Payload{begin(step), done(step), again, done(step)}, 1, 0},
		{"by a reviewer", []event.Payload{begin(step), done(step), redo, done(step)}, 0, 1},
		{"asked twice before it was done", []event.Payload{begin(step), done(step), redo, again, redo, done(step)}, 0, 1},
		{"twice", []event.Payload{begin(step), done(step), again, done(step), redo}, 1, 1},
		{"called done twice without being opened", []event.Payload{begin(step), done(step), done(step)}, 0, 0},
		{"a skipped step taken up after all", []event.Payload{&event.StepSkipped{Step: step, Reason: "later"}, again, done(step)}, 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := tell(t, wren)
			s.at("phone", time.Minute, c.payloads...)
			if got := of(t, counted(t, s), step); got.AgainInstaller != c.installer || got.AgainReviewer != c.reviewer {
				t.Errorf("opened again %d times by the installer and %d by a reviewer, want %d and %d", got.AgainInstaller, got.AgainReviewer, c.installer, c.reviewer)
			}
		})
	}
}

// TestWhereJobsStand: each job stands at one place.
func TestWhereJobsStand(t *testing.T) {
	s := wren
	job := func(payloads ...event.Payload) *story {
		j := tell(t, s)
		j.at("phone", time.Minute, payloads...)
		return j
	}
	r := counted(t,
		job(begin(step), done(step), begin(later)),                                                 // at the later one
		job(begin(later), begin(step), done(step)),                                                 // back at the one begun before
		job(begin(later), &event.StepSkipped{Step: later, Reason: "no need"}),                      // between
		job(begin(held), done(held)),                                                               // waits
		job(begin(step), done(step), begin(later), &event.StepReopened{Step: step, Reason: "bad"}), // again at the first
		job(begin(later), &event.JobFinished{}),
		job())
	if want := (field.Jobs{All: 7, Finished: 1, Between: 2}); r.Jobs != want || r.Jobs.Open() != 6 {
		t.Errorf("jobs %+v, want %+v", r.Jobs, want)
	}
	got := map[event.StepID]int{}
	for _, s := range r.Steps {
		if s.Stopped > 0 {
			got[s.Step.ID] = s.Stopped
		}
	}
	if want := map[event.StepID]int{step: 1, later: 2, held: 1}; !reflect.DeepEqual(got, want) {
		t.Errorf("stopped at %v, want %v", got, want)
	}
	if s := of(t, r, later); s.Skipped != 1 || s.Done != 0 {
		t.Errorf("skipped in %d and done in %d jobs, want 1 and 0", s.Skipped, s.Done)
	}
	if s := of(t, r, held); s.Waiting != 1 {
		t.Errorf("%d jobs wait, want 1", s.Waiting)
	}
}

// TestWait: from the step's end to its release; a release that the clocks put
// before it is left out.
func TestWait(t *testing.T) {
	release := func(by string) event.Payload { return &event.HoldReleased{Step: held, By: by, Reason: "seen"} }
	a, b, c := tell(t, wren), tell(t, wren), tell(t, wren)
	a.at("phone", 0, begin(held), done(held))
	a.at("mentor", 50*time.Hour, release("mentor"))
	b.at("phone", time.Hour, begin(held), done(held))
	b.at("phone", 2*time.Hour, release("installer"))
	c.at("phone", 3*time.Hour, begin(held), done(held))
	c.at("mentor", 2*time.Hour, release("mentor"))
	got := of(t, counted(t, a, b, c), held)
	want := []int64{time.Hour.Milliseconds(), (50 * time.Hour).Milliseconds()}
	if !slices.Equal(got.Wait.Values, want) || got.Alone != 1 || got.WaitLeftOut != 1 || got.Waiting != 0 {
		t.Errorf("waits %v, alone %d, left out %d, waiting %d; want %v, 1, 1, 0", got.Wait.Values, got.Alone, got.WaitLeftOut, got.Waiting, want)
	}
}

// TestTorque: an entry at the edge of the tolerance is inside, one more cN·m is
// rounding, and beyond that it is outside.
func TestTorque(t *testing.T) {
	s := wren
	final := s.Fastener(nut).Final()
	spec, tol := final.TorqueCNM, field.Tolerance(final.TorqueCNM, final.TolCNM)
	pass := func(torque, set int64, adapter event.ToolID) event.Payload {
		return &event.PassDone{Fastener: nut, Pass: final.ID, TorqueCNM: torque, SetCNM: set, Adapter: adapter, Count: 1}
	}
	for _, c := range []struct {
		name         string
		pass         event.Payload
		off          int64
		above, below int
	}{
		{"as asked", pass(spec, spec, ""), 0, 0, 0},
		{"at the upper edge", pass(spec, spec+tol, ""), hundredths(tol, spec), 0, 0},
		{"rounding above it", pass(spec, spec+tol+1, ""), hundredths(tol+1, spec), 0, 0},
		{"above", pass(spec, spec+tol+2, ""), hundredths(tol+2, spec), 1, 0},
		{"at the lower edge", pass(spec, spec-tol-1, ""), hundredths(-tol-1, spec), 0, 0},
		{"below", pass(spec, spec-tol-2, ""), hundredths(-tol-2, spec), 0, 1},
		{"with an adapter what was set is no torque", pass(spec, spec-2*tol, "crowfoot"), 0, 0, 0},
		{"nothing was set", pass(2*spec, 0, ""), 10_000, 1, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := tell(t, s)
			j.at("phone", time.Minute, c.pass, &event.FastenerLoosened{Fastener: nut})
			slip := j.at("phone", time.Minute, pass(9*spec, 0, ""))
			j.at("phone", time.Minute, &event.Corrected{Event: slip.ID, Reason: "slip"})
			got := torque(t, counted(t, j), nut)
			if !slices.Equal(got.Off.Values, []int64{c.off}) || got.Above != c.above || got.Below != c.below {
				t.Errorf("off %v, above %d, below %d; want %d, %d, %d", got.Off.Values, got.Above, got.Below, c.off, c.above, c.below)
			}
		})
	}
}

func hundredths(off, spec int64) int64 {
	return int64(math.Round(float64(off) * 10_000 / float64(spec)))
}

// TestEntriesOfOneJob: any number of them is one job, and one job is few.
func TestEntriesOfOneJob(t *testing.T) {
	s := wren
	final := s.Fastener(nut).Final()
	j := tell(t, s)
	for n := range int64(7) {
		j.at("phone", time.Minute, &event.PassDone{Fastener: nut, Pass: final.ID, TorqueCNM: final.TorqueCNM + n, Count: 1})
	}
	off := torque(t, counted(t, j), nut).Off
	if _, ok := off.Spread(); ok || len(off.Values) != 7 || off.Jobs != 1 || !off.Small() {
		t.Errorf("%d values of %d jobs, summed up: %v; want 7 of 1, and not summed up", len(off.Values), off.Jobs, ok)
	}
}

// TestReadings: as found and as set stand beside each other; what was made stale
// is no value as set.
func TestReadings(t *testing.T) {
	camber := func(p event.Purpose, mdeg int64) event.Payload {
		return &event.ReadingTaken{Quantity: event.Camber, Corner: event.FL, Purpose: p, Method: "test", ValueMD: mdeg, U95Mdeg: 100}
	}
	s := wren
	a, b, c := tell(t, s), tell(t, s), tell(t, s)
	a.at("phone", time.Minute, camber(event.Before, -500), camber(event.Setting, -900), camber(event.Final, -1000))
	b.at("phone", time.Minute, camber(event.Before, -200), camber(event.Final, -1100), &event.AdjustmentMade{Quantity: event.Camber, Corner: event.FL, After: "two turns out"})
	c.at("phone", time.Minute, camber(event.Setting, -1200))
	r := counted(t, a, b, c)
	if len(r.Readings) != 1 {
		t.Fatalf("%d readings, want 1", len(r.Readings))
	}
	got := r.Readings[0]
	if !slices.Equal(got.Found.Values, []int64{-500, -200}) || !slices.Equal(got.Set.Values, []int64{-1200, -1000}) ||
		!slices.Equal(got.Pairs, []field.Pair{{-500, -1000}}) || got.Stale != 1 {
		t.Errorf("found %v, set %v, pairs %v, stale %d", got.Found.Values, got.Set.Values, got.Pairs, got.Stale)
	}
}

// TestFindings: what a rule sees at a step counts once the job is finished.
func TestFindings(t *testing.T) {
	skip := &event.StepSkipped{Step: step, Reason: "no need"}
	a, b := tell(t, wren), tell(t, wren)
	a.at("phone", time.Minute, skip, &event.JobFinished{})
	b.at("phone", time.Minute, skip)
	if got := of(t, counted(t, a, b), step); got.Findings != 1 || got.Skipped != 2 {
		t.Errorf("%d findings and %d skips, want 1 and 2", got.Findings, got.Skipped)
	}
}

func TestErrOtherSheet(t *testing.T) {
	f := field.New(wren)
	other := tell(t, sheet.Demo()[1])
	other.at("phone", time.Minute, begin(step), done(step))
	if f.Add(other.id, other.events) || f.Result().Jobs.All != 0 {
		t.Error("a job on another sheet was counted")
	}
	if f.Add(guidetest.NewID[event.JobID](), nil) {
		t.Error("a job without a record was counted")
	}
}

// TestAnyOrder: jobs, and the events in them, may come in any order.
func TestAnyOrder(t *testing.T) {
	s := wren
	walked := guidetest.Walk(t, s)
	rapid.Check(t, func(rt *rapid.T) {
		jobs := []*story{{t: t, id: walked[0].Job, events: walked}}
		for range rapid.IntRange(1, 6).Draw(rt, "jobs") {
			jobs = append(jobs, invent(t, rt, s))
		}
		want := counted(t, jobs...)
		for _, j := range jobs[1:] {
			j.events = rapid.Permutation(j.events).Draw(rt, "events")
		}
		if got := counted(t, rapid.Permutation(jobs).Draw(rt, "order")...); !reflect.DeepEqual(got, want) {
			rt.Errorf("another order comes to something else:\n%+v\n%+v", got, want)
		}
	})
}

// invent makes a job of things that happen, in no sensible order.
func invent(t testing.TB, rt *rapid.T, s *sheet.Sheet) *story {
	j := tell(t, s)
	final := s.Fastener(nut).Final()
	clock := time.Duration(0)
	for range rapid.IntRange(0, 12).Draw(rt, "events") {
		clock += time.Duration(rapid.Int64Range(-5, 300).Draw(rt, "minutes")) * time.Minute
		at := rapid.SampledFrom([]event.StepID{step, later, held}).Draw(rt, "step")
		j.at(rapid.SampledFrom([]string{"phone", "helper"}).Draw(rt, "device"), clock, rapid.SampledFrom([]event.Payload{
			begin(at), begin(at), done(at), done(at), &event.StepSkipped{Step: at, Reason: "r"}, &event.StepReopened{Step: at, Reason: "r"},
			&event.HoldReleased{Step: held, By: "mentor", Reason: "seen"}, &event.WorkParked{}, &event.WorkResumed{AsLeft: true}, &event.JobFinished{},
			&event.PassDone{Fastener: nut, Pass: final.ID, TorqueCNM: final.TorqueCNM + rapid.Int64Range(-900, 900).Draw(rt, "off"), Count: 1},
			&event.ReadingTaken{Quantity: event.Camber, Corner: event.FL, Purpose: event.Final, Method: "test", ValueMD: rapid.Int64Range(-2000, 0).Draw(rt, "camber")},
		}).Draw(rt, "what"))
	}
	return j
}

// TestQuartiles compares with gonum, whose linear definition is number 4 of Hyndman
// and Fan: number 7 at p is number 4 at ((n − 1)·p + 1)/n.
func TestQuartiles(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		values := rapid.SliceOfN(rapid.Int64Range(-1_000_000, 1_000_000), field.Few, 60).Draw(rt, "values")
		slices.Sort(values)
		sample := field.Sample{Values: values, Jobs: len(values)}
		got, ok := sample.Spread()
		if !ok {
			rt.Fatal("it was not summed up")
		}
		sorted := make([]float64, len(sample.Values))
		for i, v := range sample.Values {
			sorted[i] = float64(v)
		}
		n := float64(len(sorted))
		for p, v := range map[float64]int64{0: got.Least, 0.25: got.Q1, 0.5: got.Median, 0.75: got.Q3, 1: got.Most} {
			want := stat.Quantile(min(1, ((n-1)*p+1)/n), stat.LinInterp, sorted, nil)
			if math.Abs(want-float64(v)) > 0.5+1e-6 {
				rt.Errorf("the %v-quantile of %v is %d, want %v", p, sample.Values, v, want)
			}
		}
	})
}

// TestFew: four jobs are shown one by one, five are summed up.
func TestFew(t *testing.T) {
	var jobs []*story
	for n := range int64(5) {
		if len(jobs) == 4 {
			if _, ok := counted(t, jobs...).Readings[0].Found.Spread(); ok {
				t.Error("four jobs were summed up")
			}
		}
		j := tell(t, wren)
		j.at("phone", 0, &event.ReadingTaken{Quantity: event.Camber, Corner: event.FL, Purpose: event.Before, Method: "test", ValueMD: n * n * 100})
		jobs = append(jobs, j)
	}
	got, ok := counted(t, jobs...).Readings[0].Found.Spread()
	if want := (field.Spread{Least: 0, Q1: 100, Median: 400, Q3: 900, Most: 1600}); !ok || got != want {
		t.Errorf("spread %+v, want %+v", got, want)
	}
}

// TestTables: each is read by a reader of such files, has its unit in the heading,
// and runs nothing in a spreadsheet.
func TestTables(t *testing.T) {
	s := *sheet.Demo()[0]
	s.Stages = slices.Clone(s.Stages)
	s.Stages[0].Steps = slices.Clone(s.Stages[0].Steps)
	s.Stages[0].Steps[0].Title = `=HYPERLINK("http://x"), "two"`
	if err := s.Validate(); err != nil {
		t.Fatal(err)
	}
	first := s.Stages[0].Steps[0].ID
	var jobs []*story
	f := field.New(&s)
	for n := range time.Duration(5) {
		j := tell(t, &s)
		j.at("phone", 0, begin(first))
		j.at("phone", (n+1)*time.Minute+time.Millisecond, done(first))
		j.at("phone", time.Hour, &event.ReadingTaken{Quantity: event.Camber, Corner: event.FL, Purpose: event.Before, Method: "test", ValueMD: -1250})
		jobs = append(jobs, j)
		if !f.Add(j.id, j.events) {
			t.Fatal("not counted")
		}
	}
	j := jobs[0]
	j.at("phone", time.Hour, &event.ReadingTaken{Quantity: event.Camber, Corner: event.FR, Purpose: event.Before, Method: "test", ValueMD: -500})
	f = field.New(&s)
	for _, j := range jobs {
		f.Add(j.id, j.events)
	}
	r := f.Result()
	steps, fasteners, readings := table(t, r.WriteSteps), table(t, r.WriteFasteners), table(t, r.WriteReadings)
	for _, c := range []struct{ got, want string }{
		{steps[0]["title"], `'=HYPERLINK("http://x"), "two"`}, {steps[0]["time_jobs"], "5"}, {steps[0]["time_median_s"], "180.001"}, {steps[0]["time_too_few"], "no"},
		{steps[1]["time_median_s"], ""}, {steps[1]["time_too_few"], "yes"},
		{fasteners[0]["off_median_percent"], ""}, {fasteners[0]["asked_Nm"] + " N·m", guide.Torque(r.Torques[0].Fastener.Final().TorqueCNM)},
		{readings[0]["value_median_in_unit"], "-1.25"}, {readings[0]["unit"], "deg"}, {readings[2]["value_each_in_unit"], "-0.5"}, {readings[2]["value_too_few"], "yes"},
	} {
		if c.got != c.want {
			t.Errorf("a field says %q, want %q", c.got, c.want)
		}
	}
	if len(steps) != len(s.Steps()) {
		t.Errorf("%d lines of steps, want %d", len(steps), len(s.Steps()))
	}
}

// table reads what was written, each line by the heading.
func table(t *testing.T, write func(io.Writer) error) []map[string]string {
	t.Helper()
	var b strings.Builder
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(b.String())).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, row := range rows[1:] {
		line := map[string]string{}
		for i, name := range rows[0] {
			line[name] = row[i]
		}
		if len(line) != len(row) {
			t.Fatalf("a name stands twice in the heading: %v", rows[0])
		}
		out = append(out, line)
	}
	return out
}
