package client_test

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"strutcard/pwa/client"
	"strutcard/sync/event"
	"strutcard/sync/exchange"
	"strutcard/sync/sheet"
	"strutcard/sync/store"
)

// saved is the one file that the page was last given.
func (p *phone) saved(act string) string {
	p.t.Helper()
	p.page.files = map[string]string{}
	p.must(act)
	for _, text := range p.page.files {
		return text
	}
	p.t.Fatalf("%s saved nothing", act)
	return ""
}

// worked is a phone in the middle of a job.
func worked(t *testing.T, disk *store.Memory) *phone {
	t.Helper()
	p := newPhone(t, disk)
	p.openDemo()
	for range 20 {
		p.next()
	}
	return p
}

// TestBringIn: a copy opens on another phone at the same state, once, and reaches
// that phone's shop as what the first phone wrote.
func TestBringIn(t *testing.T) {
	for _, act := range []string{"export", "export_all"} {
		t.Run(act, func(t *testing.T) {
			p := worked(t, store.NewMemory(time.Now))
			file, want := p.saved(act), p.c.State()
			n := int(p.state().Count)

			y := newYard()
			q := newPhone(t, store.NewMemory(time.Now))
			q.page.env.Persisted = false
			q.must("bring_in", "text", file)
			if got := q.text("r-sheet"); !strings.Contains(got, fmt.Sprintf("%d entries brought in.", n)) || strings.Contains(got, "already") || strings.Contains(got, "damaged") {
				t.Errorf("the person is told %q", got)
			}
			if q.c.State() != want {
				t.Errorf("the state differs:\n%s\n%s", q.c.State(), want)
			}
			if !q.page.env.Persisted {
				t.Error("the browser was not asked to keep the record that came")
			}
			q.must("bring_in", "text", file)
			if got := q.text("r-sheet"); !strings.Contains(got, "0 entries brought in.") || !strings.Contains(got, "were here already") || q.c.State() != want {
				t.Errorf("the second time the person is told %q", got)
			}
			y.joined(q, "device:2")
			q.must("join", "invite", "x", "name", "n")
			q.until("everything is sent", func() bool { q.must("sync"); return strings.Contains(q.text("r-strip"), "All synced") })
			if got := y.devices(t, q.state().Job); len(got) != 1 || got[event.DeviceID(p.meta("device"))] != n {
				t.Errorf("the shop has by device %v, want %d of the first phone", got, n)
			}
		})
	}
}

// TestBringInDamaged: what can be read is taken, and the person told of the rest.
func TestBringInDamaged(t *testing.T) {
	p := worked(t, store.NewMemory(time.Now))
	file, n := p.saved("export"), int(p.state().Count)
	for name, c := range map[string]struct {
		file    string
		events  int
		damaged bool
	}{
		"Cut":     {file[:len(file)-30], n - 1, true},
		"CRLF":    {strings.ReplaceAll(file, "\n", "\r\n"), n, false},
		"Blank":   {"\n\n" + file + "\n \n", n, false},
		"Twice":   {file + file, n, false},
		"InWords": {"Hello, here is the record:\n" + file, n, true},
	} {
		t.Run(name, func(t *testing.T) {
			q := newPhone(t, store.NewMemory(time.Now))
			q.must("bring_in", "text", c.file)
			if got := int(q.state().Count); got != c.events {
				t.Errorf("%d events came, want %d", got, c.events)
			}
			got := q.text("r-sheet")
			if strings.Contains(got, "1 line could not be read") != c.damaged || strings.Contains(got, "entries are missing. Go by what you see at the car") != c.damaged {
				t.Errorf("the person is told %q", got)
			}
		})
	}
}

func TestErrBringIn(t *testing.T) {
	p := worked(t, store.NewMemory(time.Now))
	file := p.saved("export")
	for name, c := range map[string]struct {
		file   string
		change func(*page)
		says   string
	}{
		"Foreign":   {"%PDF-1.7\nsomething else\n", nil, "holds no record of this app. Nothing was changed."},
		"Empty":     {"", nil, "holds no record of this app. Nothing was changed."},
		"SheetOnly": {file[:strings.Index(file, "\n")+1], nil, "holds no record of this app. Nothing was changed."},
		"OtherTab":  {file, func(p *page) { p.env.Leader = false }, "another tab"},
	} {
		t.Run(name, func(t *testing.T) {
			q := newPhone(t, store.NewMemory(time.Now))
			if c.change != nil {
				c.change(q.page)
			}
			if err := q.act("bring_in", "text", c.file); err == nil {
				t.Error("it was taken")
			}
			if got := q.text("r-sheet"); !strings.Contains(got, c.says) {
				t.Errorf("the person is told %q, want %q", got, c.says)
			}
			if jobs, err := q.disk.Jobs(context.Background()); err != nil || len(jobs) != 0 {
				t.Errorf("%d jobs on disk, %v", len(jobs), err)
			}
		})
	}
}

// TestBringInSetBack: a file that this very phone wrote, and does not remember.
func TestBringInSetBack(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	p.openDemo()
	before := p.disk.Copy()
	p.must("note", "text", "written since")
	file := p.saved("export")

	q := startAt(t, before, p.page.kept, morning.Add(10*time.Minute))
	device := q.meta("device")
	q.must("bring_in", "text", file)
	got := q.text("r-sheet")
	for _, want := range []string{"had been set back", "1 entry brought in. 1 was here already", "Look at the last steps", "Photos do not come"} {
		if !strings.Contains(got, want) {
			t.Errorf("the person is not told %q: %q", want, got)
		}
	}
	if q.meta("device") == device {
		t.Error("the phone goes on under the number of what it does not remember")
	}
	q.must("note", "text", "after")
	events, err := q.disk.Job(context.Background(), q.state().Job)
	if err != nil || len(events) != 3 || len(event.Gaps(events)) > 0 {
		t.Errorf("%d events with gaps %v, %v", len(events), event.Gaps(events), err)
	}
}

// TestBringInOwnSheet: the sheet that somebody made on their phone comes with the
// job, and goes on to the shop of whoever brought it in.
func TestBringInOwnSheet(t *testing.T) {
	own := *sheet.Demo()[0]
	own.Title, own.Own, own.Invented = "My own springs", true, false
	chain := event.Chain{Job: "01900000-0000-7000-8000-0000000000ff", Device: "01900000-0000-7000-8000-00000000000a"}
	opened, err := chain.Seal("01900000-0000-7000-8000-000000000001", morning, &event.JobOpened{Sheet: own.Hash(), Title: own.Title, Vehicle: "My car"})
	if err != nil {
		t.Fatal(err)
	}
	file := exchange.File{Events: []event.Event{opened}}
	file.Sheets = append(file.Sheets, own.Encode())

	y := newYard()
	q := newPhone(t, store.NewMemory(time.Now))
	y.joined(q, "device:2")
	q.must("join", "invite", "x", "name", "n")
	q.must("bring_in", "text", file.String())
	if got := q.text("r-main"); strings.Contains(got, "sheet is not on this phone") || !strings.Contains(got, "My own springs") {
		t.Errorf("the card says %s", got)
	}
	q.until("the sheet is sent", func() bool { q.must("sync"); return y.sheets[string(own.Hash())] != nil })
	if again := newPhone(t, q.disk); !strings.Contains(again.text("r-main"), "My own springs") {
		t.Error("after a restart the job is not there")
	}
}

// deafLog does not answer any more.
type deafLog struct {
	*store.Memory
	deaf bool
}

func (d *deafLog) Jobs(ctx context.Context) ([]event.JobID, error) {
	if d.deaf {
		return nil, errors.New("no answer")
	}
	return d.Memory.Jobs(ctx)
}

func (d *deafLog) Job(ctx context.Context, id event.JobID) ([]event.Event, error) {
	if d.deaf {
		return nil, errors.New("no answer")
	}
	return d.Memory.Job(ctx, id)
}

// TestExportWithoutStorage: the open job can be saved when the storage has failed.
func TestExportWithoutStorage(t *testing.T) {
	p := worked(t, store.NewMemory(time.Now))
	log := &deafLog{Memory: p.disk}
	p.c = client.New(client.Config{Platform: p.page, Log: log, Now: func() time.Time { return morning.Add(10 * time.Minute) }})
	if err := p.c.Start(context.Background()); err != nil {
		t.Fatal(err)
	}
	log.deaf = true
	want := int(p.state().Count)
	if got := exchange.ReadFile([]byte(p.saved("export"))); len(got.Events) != want || len(got.Sheets) != 1 {
		t.Errorf("%d events and %d sheets were saved, want %d and 1", len(got.Events), len(got.Sheets), want)
	}
	p.page.files = map[string]string{}
	if err := p.act("export_all"); err == nil {
		t.Error("a copy of everything was said to be made")
	}
	if got := p.text("r-sheet"); len(p.page.files) != 1 || !strings.Contains(got, "Only the open job was saved") {
		t.Errorf("%d files, and the person is told %q", len(p.page.files), got)
	}
}

// TestMemoryOnlySaysSo: where the browser keeps nothing, no screen speaks of a disk.
func TestMemoryOnlySaysSo(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	p.page.env.MemoryOnly = true
	p.openDemo()
	p.must("sync_screen")
	if got := p.text("r-main"); strings.Contains(got, "disk") || !strings.Contains(got, "memory of this open page, nowhere else") {
		t.Errorf("it says: %s", got)
	}
	p.must("home")
	if got := p.text("r-strip"); strings.Contains(got, "On this phone") {
		t.Errorf("the strip says: %s", got)
	}
}
