package client_test

import (
	"context"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/review"
	"strutcard/sync/sheet"
	"strutcard/sync/store"
)

// The devices of others; the mentor's stands before the desk's in the fold order.
const (
	mentors event.DeviceID = "00000000-0000-7000-8000-00000000000b"
	desks   event.DeviceID = "00000000-0000-7000-8000-00000000000c"
)

// atYard is a phone of a yard with a job that has just been synced.
func atYard(t *testing.T) (*phone, *yard) {
	t.Helper()
	y, p := newYard(), newPhone(t, store.NewMemory(time.Now))
	y.joined(p, "device:1")
	p.must("join", "invite", "x", "name", "n")
	p.openDemo()
	p.syncAll()
	return p, y
}

func (p *phone) syncAll() {
	p.t.Helper()
	p.until("everything is sent", func() bool { p.must("sync"); return strings.Contains(p.text("r-strip"), "All synced") })
}

// sealed are events of somebody else, after all that the yard has of the job.
func (y *yard) sealed(t *testing.T, job event.JobID, by event.DeviceID, payloads ...event.Payload) []event.Event {
	t.Helper()
	events, err := y.log.Job(context.Background(), job)
	if err != nil {
		t.Fatal(err)
	}
	chain := event.ChainOf(job, by, events)
	var out []event.Event
	for _, p := range payloads {
		e, err := chain.Seal(event.ID(uuid.Must(uuid.NewV7()).String()), morning, p)
		if err != nil {
			t.Fatal(err)
		}
		chain, out = chain.See(e), append(out, e)
	}
	return out
}

func (y *yard) takes(t *testing.T, events []event.Event) {
	t.Helper()
	verdicts, err := y.log.Append(context.Background(), "staff:1", events)
	if err != nil || len(verdicts) != len(events) || verdicts[0].Outcome != store.Stored {
		t.Fatalf("the yard took %v, %v", verdicts, err)
	}
}

// hears is what the phone has after somebody else wrote to the yard and it synced.
func (p *phone) hears(y *yard, by event.DeviceID, payloads ...event.Payload) {
	p.t.Helper()
	y.takes(p.t, y.sealed(p.t, p.state().Job, by, payloads...))
	p.must("sync")
}

// held walks to the hold point.
func (p *phone) held() event.StepID {
	p.t.Helper()
	for i := 0; !strings.Contains(p.page.region("r-main"), `id="release-form"`); i++ {
		if i > 800 || !p.next() {
			p.t.Fatalf("the walk meets no hold point; it stands at:\n%s", p.text("r-main"))
		}
	}
	return event.StepID(p.shownStep())
}

// when is the time of a remark.
var when = regexp.MustCompile(`\d+ [A-Z][a-z]{2}, \d\d:\d\d `)

// reads wants words in a region, or wants them not to be there; with the times of
// remarks or without them.
func (p *phone) reads(region, words string, want bool) {
	p.t.Helper()
	got := p.text(region)
	if (strings.Contains(got, words) || strings.Contains(when.ReplaceAllString(got, ""), words)) != want {
		p.t.Errorf("%s: says %q is %v, want %v:\n%s", region, words, !want, want, got)
	}
}

// TestSaid: what others say stands in the list and at its step, and is new until
// the list was left; one's own words never are.
func TestSaid(t *testing.T) {
	p, y := atYard(t)
	step := event.StepID(p.shownStep())
	p.hears(y, mentors, &event.CommentAdded{Step: step, Name: "Nora", Text: "count the washers twice"}, &event.CommentAdded{Name: "Nora", Text: "a fine car"})
	p.reads("r-strip", "2 remarks to read", true)
	p.reads("r-main", "New. Nora count the washers twice", true)
	p.reads("r-main", "a fine car", false)
	p.must("people")
	title := strings.TrimSpace(p.text("r-main"))
	at := morning.Local().Format("2 Jan, 15:04")
	job, first := strings.Index(title, "New. Nora "+at+" a fine car"), strings.Index(title, "New. Nora "+at+" on “")
	if job < 0 || first < job {
		t.Errorf("the list does not say when, or not the newest first: %s", title)
	}
	p.must("comment", "comment", "so I did")
	p.reads("r-main", "New. Nora a fine car", true) // the screen was not left
	p.reads("r-main", "Installer so I did", true)
	p.reads("r-main", "New. Installer", false)

	p.must("work")
	p.reads("r-strip", "to read", false)
	p.reads("r-main", "Nora count the washers twice", true)
	p.reads("r-main", "New.", false)
	p = newPhone(t, p.disk)
	p.reads("r-strip", "to read", false) // after a restart too

	p.must("undo", "reason", "I did not")
	p.must("people")
	p.reads("r-main", "so I did", false)
}

// TestSayAtStep: what is said at a step is about that step, and what is half written
// there stays apart from what is half written about the whole job.
func TestSayAtStep(t *testing.T) {
	p, _ := atYard(t)
	step := p.shownStep()
	p.c.Input(context.Background(), "people.text."+step, "is this ring ne")
	p.c.Input(context.Background(), "people.text.", "I begin at n")
	p.must("work")
	if !strings.Contains(p.page.region("r-main"), `value="is this ring ne"`) || strings.Contains(p.page.region("r-main"), "I begin at n") {
		t.Error("the step does not keep what is half written about it")
	}
	p.must("comment", "step", step, "comment", "is this ring needed?")
	p.reads("r-main", "Installer is this ring needed?", true)
	if got := p.state().Comments[0]; string(got.Step) != step || got.Name != "Installer" {
		t.Errorf("kept is %+v", got)
	}
	p.must("people")
	if !strings.Contains(p.page.region("r-main"), `value="I begin at n"`) {
		t.Error("what is half written about the job is gone")
	}
}

// TestSaidAbout: a remark names the fastener or the reading that it is about.
func TestSaidAbout(t *testing.T) {
	p, y := atYard(t)
	p.hears(y, desks, &event.ReadingTaken{Quantity: event.RideHeight, Corner: event.FL, Purpose: event.Before, Method: "tape", ValueUM: 364000, U95UM: 2000})
	reading := p.state().Readings[0].ID
	p.hears(y, mentors, &event.CommentAdded{Reading: reading, Name: "Nora", Text: "high"}, &event.CommentAdded{Fastener: "strut_top_FL", Name: "Nora", Text: "new ones?"})
	p.must("people")
	p.reads("r-main", "Nora on ride height, front left, 364", true)
	p.reads("r-main", "Nora on “"+sheet.Demo()[0].Fastener("strut_top_FL").Place+", front left” new ones?", true)
}

// TestStopOnEveryScreen: what a reviewer calls a stop stands on every screen, read or
// not, until the shop has settled it.
func TestStopOnEveryScreen(t *testing.T) {
	p, y := atYard(t)
	p.hears(y, desks, &event.FindingRaised{Severity: "ask", Name: "Dana", Text: "which kit is it?", Proof: "p"})
	p.reads("r-strip", "Stop, says the shop", false)
	p.hears(y, desks, &event.FindingRaised{Severity: "stop", Name: "Dana", Text: "recalled spring", Proof: "p"})
	for _, place := range []string{"work", "people", "tally", "card"} {
		p.must(place)
		p.reads("r-strip", "Stop, says the shop. Dana saw: recalled spring. Leave the car as it is", true)
	}
	p.page.env.MemoryOnly = true // a warning that stands for long hides no stop
	p.must("work")
	p.reads("r-strip", "This browser keeps nothing.", true)
	p.reads("r-strip", "Stop, says the shop.", true)
	p.page.env.MemoryOnly = false
	events, err := p.disk.Job(context.Background(), p.state().Job)
	if err != nil {
		t.Fatal(err)
	}
	id := review.Findings(sheet.Demo()[0], p.state(), events)[0].ID
	p.hears(y, desks, &event.DecisionMade{Finding: id, Decision: event.Accept, Name: "Dana", Text: "another batch", Proof: "p"})
	p.reads("r-strip", "Stop, says the shop", false)
}

// TestFindingDecided: the list that the installer finishes by says what the shop
// decided about each finding.
func TestFindingDecided(t *testing.T) {
	p, y := atYard(t)
	p.hears(y, desks, &event.FindingRaised{Severity: "ask", Name: "Dana", Text: "the boot looks torn", Proof: "p"})
	events, err := p.disk.Job(context.Background(), p.state().Job)
	if err != nil {
		t.Fatal(err)
	}
	id := review.Findings(sheet.Demo()[0], p.state(), events)[0].ID
	p.must("card")
	p.reads("r-main", "Dana accepted this", false)
	p.hears(y, desks, &event.DecisionMade{Finding: id, Decision: event.Accept, Name: "Dana", Text: "only dirt", Proof: "p"})
	p.must("card")
	p.reads("r-main", "Dana accepted this, ", true)
	p.reads("r-main", ". only dirt", true)
}

// TestSaidLate: a remark that comes late is new although it stands behind one that
// was read.
func TestSaidLate(t *testing.T) {
	p, y := atYard(t)
	late := y.sealed(t, p.state().Job, mentors, &event.CommentAdded{Name: "Nora", Text: "came late"})
	p.hears(y, desks, &event.CommentAdded{Name: "Dana", Text: "came first"})
	p.must("people")
	p.must("work")
	y.takes(t, late)
	p.must("sync")
	p.must("people")
	got := when.ReplaceAllString(p.text("r-main"), "")
	if late, first := strings.Index(got, "New. Nora came late"), strings.Index(got, "Dana came first"); first < 0 || late < first || strings.Contains(got, "New. Dana") {
		t.Errorf("the list says %s", got)
	}
}

// TestSaidUnread: whoever is shown another screen has read nothing.
func TestSaidUnread(t *testing.T) {
	p, y := atYard(t)
	p.must("park", "note", "")
	p.must("sync")
	p.hears(y, mentors, &event.CommentAdded{Name: "Nora", Text: "not in the rain"})
	p.must("people")
	p.reads("r-main", "New. Nora not in the rain", true)
	p.must("comment", "comment", "it is dry here")
	p.reads("r-main", "Installer it is dry here", true)
	if err := p.act("note", "text", "work"); err == nil {
		t.Error("work was recorded while the job is parked")
	}
}

// TestSaidIsNotWork: after a break it is asked how the car stands, whatever was
// said meanwhile.
func TestSaidIsNotWork(t *testing.T) {
	p := worked(t, store.NewMemory(time.Now))
	later := startAt(t, p.disk, p.page.kept, p.time.Add(3*time.Hour))
	want := later.text("r-main")
	later.must("people")
	later.must("comment", "comment", "home for lunch")
	later = startAt(t, p.disk, p.page.kept, p.time.Add(3*time.Hour+time.Minute))
	if got := later.text("r-main"); got != want || !strings.Contains(got, "stands") {
		t.Errorf("after a comment the app opens with\n%s\nwant the question\n%s", got, want)
	}
}

// TestReleasedByMentor: work goes on, and the step says who looked.
func TestReleasedByMentor(t *testing.T) {
	p, y := atYard(t)
	step := p.held()
	p.syncAll()
	p.hears(y, mentors, &event.HoldReleased{Step: step, By: "mentor", Reason: "Nora: every mark is in line"})
	p.reads("r-strip", "1 remark to read", true)
	p.must("work")
	if p.shownStep() == string(step) || strings.Contains(p.page.region("r-main"), `id="release-form"`) {
		t.Errorf("work does not go on: %s", p.text("r-main"))
	}
	p.must("go", "step", string(step))
	p.reads("r-main", "New. Hold point released. Nora: every mark is in line", true)
}

// TestRedo: a step that the shop wants again is open again, says why and for whom,
// and what comes after it leads there.
func TestRedo(t *testing.T) {
	p, y := atYard(t)
	step := event.StepID(p.shownStep())
	for p.state().Steps[step].DoneN == 0 {
		p.next()
	}
	p.syncAll()
	p.must("go", "step", string(step))
	p.reads("r-main", "Done.", true)
	p.hears(y, desks, &event.DecisionMade{Finding: "f", Decision: event.Redo, Step: step, Name: "Dana", Text: "a box was missed", Proof: "p"})
	p.must("work")
	p.reads("r-main", "Not yet First: ", true)
	do, args, _ := p.button("r-bar", "action")
	p.must(do, args...)
	if p.shownStep() != string(step) {
		t.Errorf("the button leads to %s, want %s", p.shownStep(), step)
	}
	p.reads("r-main", "To be done again. Dana: a box was missed", true)
	p.reads("r-main", "New. Dana wants again", true)
	p.reads("r-main", "Done.", false)
}

// TestDecided: the shop's word on the whole job stands on the card and in the list,
// and what it returns is in work again.
func TestDecided(t *testing.T) {
	p, y := atYard(t)
	for i := 0; p.state().Finished == nil; i++ {
		if i > 800 || !p.next() {
			t.Fatalf("the job does not end: %s", p.text("r-main"))
		}
	}
	p.syncAll()
	p.must("card")
	p.reads("r-main", "Finished by the installer.", true)
	for _, c := range []struct {
		decision event.Decision
		text     string
		says     string
		finished bool
	}{
		{event.Return, "a photo is missing", "The shop returned this job. Dana: a photo is missing", false},
		{event.Accept, "", "The shop accepted this job. Dana", false},
	} {
		p.hears(y, desks, &event.DecisionMade{Decision: c.decision, Name: "Dana", Text: c.text, Proof: "p"})
		for _, place := range []string{"card", "people"} {
			p.must(place)
			p.reads("r-main", c.says, true)
		}
		p.must("card")
		p.reads("r-main", "Finished by the installer.", c.finished)
		if got := p.state().Finished != nil; got != c.finished {
			t.Errorf("after %s the job is finished: %v, want %v", c.decision, got, c.finished)
		}
	}
}

// TestMentorsCopy: whoever holds a copy of a job speaks under their name and
// releases a hold point; a copy of that copy brings it back.
func TestMentorsCopy(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	p.openDemo()
	step := p.held()

	q := startAt(t, store.NewMemory(time.Now), nil, p.time.Add(3*time.Hour))
	q.must("bring_in", "text", p.saved("export"))
	q.must("people")
	for _, act := range [][]string{{"comment", "comment", "looks good"}, {"release", "as", "mentor", "step", string(step), "reason", "every mark is in line"}} {
		if err := q.act(act[0], act[1:]...); err == nil {
			t.Errorf("%s without a name was taken", act[0])
		}
		q.reads("r-sheet", "Your name is missing.", true)
	}
	q.c.Input(context.Background(), "people.name", "Nora")
	q.must("comment", "comment", "looks good")
	q.reads("r-sheet", "hand back a copy", true)
	q.reads("r-main", "Nora looks good", true)
	if !strings.Contains(q.page.region("r-main"), `value="Nora"`) {
		t.Error("the name is not there for the next time")
	}
	if err := q.act("release", "as", "mentor", "step", string(step), "reason", " "); err == nil {
		t.Error("a hold point was released without a word")
	}
	q.must("release", "as", "mentor", "step", string(step), "reason", "every mark is in line")
	q.reads("r-main", "Waits for a look", false)
	q.reads("r-main", "New.", false)

	p.must("bring_in", "text", q.saved("export"))
	p.reads("r-strip", "2 remarks to read", true)
	p.must("people")
	p.reads("r-main", "New. Nora looks good", true)
	p.must("go", "step", string(step))
	p.reads("r-main", "Hold point released. Nora: every mark is in line", true)
	p.must("work")
	if p.shownStep() == string(step) {
		t.Error("work does not go on")
	}
	if got := p.state().Steps[step]; got.ReleaseBy != "mentor" {
		t.Errorf("released by %q", got.ReleaseBy)
	}
}

// TestErrMentorWorked: a phone that the work was recorded with is no mentor's, and
// its owner's release is as it was.
func TestErrMentorWorked(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	p.openDemo()
	step := p.held()
	q := newPhone(t, store.NewMemory(time.Now))
	q.time = p.time
	q.must("bring_in", "text", p.saved("export"))
	q.must("note", "text", "I go on with this job")
	for name, r := range map[string]*phone{"Installer": p, "TookOver": q} {
		t.Run(name, func(t *testing.T) {
			r.t = t
			r.c.Input(context.Background(), "people.name", "Nora")
			r.must("people")
			r.reads("r-main", "Waits for a look", false)
			if err := r.act("release", "as", "mentor", "step", string(step), "reason", "every mark is in line"); err == nil {
				t.Error("released as by a mentor")
			}
			r.reads("r-sheet", "has recorded work in this job. Nothing was released.", true)
			r.must("work")
			if err := r.act("release", "reason", "nobody could be reached"); err == nil {
				t.Error("released alone without a picture")
			}
			r.must("photo_left_out", "step", string(step), "photo", string(guide.HoldPhoto), "reason", "The lens is broken.")
			r.must("release", "reason", "nobody could be reached")
			if got := r.state().Steps[step].ReleaseBy; got != "installer" {
				t.Errorf("released by %q", got)
			}
		})
	}
}
