package client_test

import (
	"context"
	"errors"
	"strings"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/store"
)

// TestBack: the browser brings back the place that was kept, in the same job, in
// another one and outside all jobs; a place that cannot be read leads home.
func TestBack(t *testing.T) {
	p := newPhone(t, store.NewMemory(morning.UTC))
	home := p.meta("view")
	p.openDemo()
	work, step, first := p.meta("view"), p.shownStep(), p.openJob()
	p.must("measure")
	measure := p.meta("view")
	p.must("home")
	p.openDemo()
	p.must("card")
	card, second := p.meta("view"), p.openJob()
	heading := func() string { return p.page.region("r-main") }

	p.must("back", "to", measure)
	if p.openJob() != first || first == second || !strings.Contains(p.page.region("r-bar"), `id="place-measure" data-do="measure" aria-current="page"`) {
		t.Errorf("Back leads to job %s and\n%s", p.openJob(), p.page.region("r-bar"))
	}
	p.must("back", "to", work)
	if p.shownStep() != step {
		t.Errorf("Back leads to step %s, want %s", p.shownStep(), step)
	}
	p.must("back", "to", card)
	if p.openJob() != second || p.meta("view") != card {
		t.Errorf("forward leads to job %s, and keeps %s; want %s and %s", p.openJob(), p.meta("view"), second, card)
	}
	for _, to := range []string{home, "", "{", "null"} {
		p.must("card")
		p.must("back", "to", to)
		if !strings.Contains(heading(), "Jobs on this phone") {
			t.Errorf("to %q Back leads to\n%s", to, p.text("r-main"))
		}
		p.must("back", "to", card)
	}
	if err := p.act("back", "to", `{"place":"work","job":"01900000-0000-7000-8000-0000000000ff"}`); err == nil || !strings.Contains(heading(), "Jobs on this phone") {
		t.Errorf("to a job that is not here: %v, and\n%s", err, p.text("r-main"))
	}
}

// unreadable is a disk whose jobs cannot be read for a while.
type unreadable struct {
	*store.Memory
	on bool
}

func (m *unreadable) Job(ctx context.Context, id event.JobID) ([]event.Event, error) {
	if m.on {
		return nil, errors.New("the disk is busy")
	}
	return m.Memory.Job(ctx, id)
}

// TestErrBack: while the other job cannot be read the person stays in the one that is
// open, at its place.
func TestErrBack(t *testing.T) {
	disk := &unreadable{Memory: store.NewMemory(morning.UTC)}
	p := newInspected(t, disk, disk.Memory)
	p.openDemo()
	p.must("measure")
	measure := p.meta("view")
	p.must("home")
	p.openDemo()
	p.must("card")
	bar, open := p.page.region("r-bar"), p.openJob()
	disk.on = true
	if err := p.act("back", "to", measure); err == nil {
		t.Error("a job that cannot be read was opened")
	}
	if p.page.region("r-bar") != bar || p.openJob() != open {
		t.Errorf("Back leads to job %s, want %s to stay, and\n%s", p.openJob(), open, p.page.region("r-bar"))
	}
}

// TestBackKeepsTyping: what is half typed stands there again after Back.
func TestBackKeepsTyping(t *testing.T) {
	p := newPhone(t, store.NewMemory(morning.UTC))
	p.openDemo()
	p.must("people")
	people := p.meta("view")
	p.c.Input(t.Context(), "people.text.", "is this ring ne")
	p.must("card")
	p.must("back", "to", people)
	if !strings.Contains(p.page.region("r-main"), `value="is this ring ne"`) {
		t.Errorf("the half typed remark is gone:\n%s", p.text("r-main"))
	}
}

// TestSkippedApart: a skipped step is not counted as done, at the step and in the list
// of jobs.
func TestSkippedApart(t *testing.T) {
	p := newPhone(t, store.NewMemory(morning.UTC))
	p.openDemo()
	p.reads("r-main", " steps done, ", false)
	p.must("go", "step", "camber_before")
	p.must("skip", "step", "camber_before", "reason", "the level was lent")
	p.reads("r-main", "0 of ", true)
	p.reads("r-main", " steps done, 1 skipped", true)
	p.must("home")
	p.reads("r-main", " steps done, 1 skipped", true)
}

// TestRefusedValue: a value that no record takes is named, with what is taken.
func TestRefusedValue(t *testing.T) {
	p := newPhone(t, store.NewMemory(morning.UTC))
	p.openDemo()
	part := barPart(p)
	if err := p.act("count", "part", part, "found", "20000", "damaged", "0"); err == nil {
		t.Fatal("20000 pieces were counted")
	}
	p.reads("r-sheet", "That was not recorded. Its count is outside 0 to 10000. Nothing was changed.", true)
}

// barPart is the part that is being counted.
func barPart(p *phone) string {
	p.t.Helper()
	_, rest, found := strings.Cut(p.page.region("r-main"), `name="part" value="`)
	if !found {
		p.t.Fatalf("no part is asked for:\n%s", p.text("r-main"))
	}
	part, _, _ := strings.Cut(rest, `"`)
	return part
}

// openJob is the job in which a press records now.
func (p *phone) openJob() event.JobID {
	p.t.Helper()
	p.must("note", "text", "here")
	events, err := p.disk.Pending(p.t.Context(), 1000)
	if err != nil || len(events) == 0 {
		p.t.Fatalf("nothing was recorded: %v", err)
	}
	return events[len(events)-1].Job
}
