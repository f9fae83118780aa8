package client_test

import (
	"context"
	"encoding/json"
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

// morning is when these phones start.
var morning = time.Date(2026, 11, 25, 8, 0, 0, 0, time.UTC)

// startAt starts a phone on a disk, with what the page keeps beside the record.
func startAt(t *testing.T, disk *store.Memory, kept map[string]string, at time.Time) *phone {
	t.Helper()
	p := &phone{t: t, disk: disk, page: newPage(t)}
	p.page.kept = kept
	p.c = client.New(client.Config{Platform: p.page, Log: disk, Now: func() time.Time { at = at.Add(7 * time.Second); return at }})
	if err := p.c.Start(context.Background()); err != nil {
		t.Fatalf("start: %v", err)
	}
	return p
}

// cleared starts the phone anew after the browser has dropped its record, or its
// record and all that stood beside it.
func (p *phone) cleared(kept map[string]string) *phone {
	p.t.Helper()
	return startAt(p.t, store.NewMemory(time.Now), kept, morning.Add(10*time.Minute))
}

// goOn says that the car stands as it was left.
func (p *phone) goOn() {
	p.t.Helper()
	p.must("resume", "as_left", "yes")
}

func (p *phone) meta(name string) string {
	p.t.Helper()
	value, err := p.disk.Meta(context.Background(), name)
	if err != nil {
		p.t.Fatal(err)
	}
	return value
}

// yard is a shop's server: its record, and the sheets that phones sent.
type yard struct {
	log    *store.Memory
	sheets map[string]json.RawMessage
}

func newYard() *yard {
	return &yard{log: store.NewMemory(time.Now), sheets: map[string]json.RawMessage{}}
}

// joined makes the phone one of the yard's. The actor is who the token names: it
// stays when the phone takes another number.
func (y *yard) joined(p *phone, actor string) {
	p.page.http = func(method, path string, body []byte, token string) (int, string, []byte, error) {
		reply, err := y.answer(actor, method, path, body)
		if err != nil {
			return 0, "", nil, err
		}
		text, err := json.Marshal(reply)
		return 200, "application/json", text, err
	}
}

func (y *yard) answer(actor, method, path string, body []byte) (any, error) {
	hash := strings.TrimPrefix(path, "/api/v1/sheets/")
	switch {
	case path == "/api/v1/join":
		return map[string]string{"token": "the token of " + actor, "shop_name": "A yard"}, nil
	case path == "/api/v1/sync":
		var req exchange.Request
		if err := json.Unmarshal(body, &req); err != nil {
			return nil, err
		}
		return exchange.Serve(context.Background(), y.log, "e1", exchange.Sender{Actor: actor, Role: exchange.Installer}, 0, req)
	case method == "PUT":
		y.sheets[hash] = body
		return struct{}{}, nil
	case path == "/api/v1/sheets":
		list := []map[string]string{}
		for hash := range y.sheets {
			list = append(list, map[string]string{"hash": hash})
		}
		return list, nil
	case y.sheets[hash] != nil:
		return y.sheets[hash], nil
	}
	return nil, fmt.Errorf("%s %s was not expected", method, path)
}

// devices are the phones that wrote in a job, as the yard has it.
func (y *yard) devices(t *testing.T, job event.JobID) map[event.DeviceID]int {
	t.Helper()
	events, err := y.log.Job(context.Background(), job)
	if err != nil {
		t.Fatal(err)
	}
	n := map[event.DeviceID]int{}
	for _, e := range events {
		n[e.Device]++
	}
	return n
}

// ownsJob wants the open job to be this phone's own work: it never speaks in it as a
// mentor, also under another number.
func (p *phone) ownsJob() {
	p.t.Helper()
	p.must("people")
	p.reads("r-main", "Your name (left empty: Installer)", true)
}

func TestClearedWithoutShop(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	p.openDemo()
	p.must("note", "text", "one")
	device := p.meta("device")

	q := p.cleared(p.page.kept)
	home := q.text("r-main")
	for _, want := range []string{"has cleared the record", "2 entries had not reached a shop", "No shop had a copy", "bring it in below", "from memory"} {
		if !strings.Contains(home, want) {
			t.Errorf("the list of jobs does not say %q:\n%s", want, home)
		}
	}
	if got := q.meta("device"); got == device || got == "" {
		t.Errorf("the phone writes as %q, as it did before it forgot what it wrote", got)
	}
	q = startAt(t, q.disk, q.page.kept, morning.Add(2*time.Hour))
	if !strings.Contains(q.text("r-main"), "has cleared the record") {
		t.Error("after a restart the loss is not told any more, though nobody has read it")
	}
	q.must("understood")
	if strings.Contains(q.text("r-main"), "has cleared") || strings.Contains(q.cleared(q.page.kept).text("r-main"), "has cleared") {
		t.Error("what was understood is told again")
	}
}

func TestClearedWithShop(t *testing.T) {
	y := newYard()
	p := newPhone(t, store.NewMemory(time.Now))
	y.joined(p, "device:1")
	p.must("join", "invite", "x", "name", "n")
	p.openDemo()
	p.must("note", "text", "synced")
	p.until("everything is sent", func() bool { p.must("sync"); return strings.Contains(p.text("r-strip"), "All synced") })
	p.must("note", "text", "not synced")
	job, device := p.state().Job, event.DeviceID(p.meta("device"))

	q := p.cleared(p.page.kept)
	home := q.text("r-main")
	if !strings.Contains(home, "1 entry had not reached a shop") || !strings.Contains(home, "A yard has a copy") || strings.Contains(home, "I have looked") {
		t.Errorf("before a sync the list of jobs says:\n%s", home)
	}
	y.joined(q, "device:1")
	q.must("sync")
	if home = q.text("r-main"); !strings.Contains(home, "What A yard had is back") || !strings.Contains(home, "Ostler Wren (invented)") {
		t.Errorf("after a sync the list of jobs says:\n%s", home)
	}
	if got := q.state().Count; got != 2 {
		t.Errorf("%d events came back, want 2", got)
	}
	q.must("open_job", "job", string(job))
	q.ownsJob()
	startAt(t, q.disk, q.page.kept, morning.Add(2*time.Hour)).ownsJob()
	q.must("note", "text", "after")
	q.must("sync")
	n := y.devices(t, job)
	if len(n) != 2 || n[device] != 2 || n[event.DeviceID(q.meta("device"))] != 1 {
		t.Errorf("events by device: %v; what is written after the loss needs a number of its own", n)
	}
}

// TestKeepsake: only a phone with a record, or of a shop, leaves a trace of itself;
// a trace that cannot be read is none.
func TestKeepsake(t *testing.T) {
	y := newYard()
	p := newPhone(t, store.NewMemory(time.Now))
	if got := p.page.kept["sc-phone"]; got != "" {
		t.Errorf("a phone without a record keeps %q", got)
	}
	y.joined(p, "device:1")
	p.must("join", "invite", "x", "name", "n")
	p.openDemo()
	want := func(unsent int) {
		t.Helper()
		var got struct {
			Token, Shop string
			Unsent      int
		}
		if err := json.Unmarshal([]byte(p.page.kept["sc-phone"]), &got); err != nil || got.Token != "the token of device:1" || got.Shop != "A yard" || got.Unsent != unsent {
			t.Errorf("kept is %s (%v), want %d unsent", p.page.kept["sc-phone"], err, unsent)
		}
	}
	p.until("the first sync is over", func() bool { p.must("sync"); return strings.Contains(p.text("r-strip"), "All synced") })
	want(0)
	p.must("note", "text", "n")
	want(1)
	q := p.cleared(map[string]string{"sc-phone": p.page.kept["sc-phone"][1:]})
	if strings.Contains(q.text("r-main"), "has cleared") || q.meta("device") == "" {
		t.Error("a damaged keepsake is taken for a record that was lost")
	}
}

// TestTwin: a phone whose record was set back learns from the shop what it wrote
// since, and goes on under another number.
func TestTwin(t *testing.T) {
	y := newYard()
	p := newPhone(t, store.NewMemory(time.Now))
	y.joined(p, "device:1")
	p.must("join", "invite", "x", "name", "n")
	p.openDemo()
	p.until("the first sync is over", func() bool { p.must("sync"); return strings.Contains(p.text("r-strip"), "All synced") })
	before := p.disk.Copy()
	p.must("note", "text", "written since")
	p.must("sync")

	q := startAt(t, before, p.page.kept, morning.Add(10*time.Minute))
	y.joined(q, "device:1")
	device := q.meta("device")
	q.must("sync")
	if got := q.text("r-sheet"); !strings.Contains(got, "had been set back") || !strings.Contains(got, "Look at the last steps") {
		t.Errorf("the person is told %q", got)
	}
	if q.meta("device") == device || q.meta("device") == "" {
		t.Error("the phone goes on under the number of its other copy")
	}
	q.ownsJob()
	q.must("work")
	q.must("note", "text", "after")
	q.must("sync")
	events, err := y.log.Job(context.Background(), q.state().Job)
	if err != nil || len(events) != 3 {
		t.Fatalf("the shop has %d events (%v), want 3", len(events), err)
	}
	if gaps := event.Gaps(events); len(gaps) > 0 {
		t.Errorf("the chains do not hold: %v", gaps)
	}
	device = q.meta("device")
	q.must("sync")
	if q.meta("device") != device {
		t.Error("each sync takes a further number")
	}
}

// TestAlone: entries that are nowhere else are spoken of after three days, until
// they are at the shop, or without one in a saved copy.
func TestAlone(t *testing.T) {
	later := func(p *phone, days time.Duration) *phone {
		p.t.Helper()
		return startAt(p.t, p.disk, p.page.kept, morning.Add(days*24*time.Hour))
	}
	warned := func(p *phone) bool {
		p.t.Helper()
		p.must("sync_screen")
		inStrip := strings.Contains(p.text("r-strip"), "days")
		if inStrip != strings.Contains(p.page.region("r-main"), `id="alone"`) {
			t.Errorf("the strip says %q, and the screen %q", p.text("r-strip"), p.text("r-main"))
		}
		return inStrip
	}
	t.Run("Shop", func(t *testing.T) {
		y := newYard()
		p := startAt(t, store.NewMemory(time.Now), nil, morning)
		y.joined(p, "device:1")
		p.must("join", "invite", "x", "name", "n")
		p.page.http = nil
		p.openDemo()
		if p = later(p, 2); warned(p) {
			t.Error("after two days it warns already")
		}
		p.goOn()
		if p = later(p, 4); !strings.Contains(p.text("r-strip"), "Waiting to sync: 2, for 3 days") || !warned(p) {
			t.Errorf("after four days the strip says %q", p.text("r-strip"))
		}
		p.must("export")
		if !warned(p) {
			t.Error("a file is taken for the shop")
		}
		y.joined(p, "device:1")
		p.must("sync")
		if warned(p) || !strings.Contains(p.text("r-strip"), "All synced") {
			t.Errorf("after the sync the strip says %q", p.text("r-strip"))
		}
		if p = later(p, 9); warned(p) {
			t.Error("days later it warns of what was sent")
		}
	})
	t.Run("NoShop", func(t *testing.T) {
		p := startAt(t, store.NewMemory(time.Now), nil, morning)
		p.openDemo()
		if p = later(p, 4); !strings.Contains(p.text("r-strip"), "Only on this phone for") || !warned(p) {
			t.Errorf("after four days the strip says %q", p.text("r-strip"))
		}
		p.must("export")
		if p = later(p, 9); warned(p) {
			t.Error("it warns of what a copy holds")
		}
		p.must("open_job", "job", string(p.state().Job))
		p.goOn()
		if p = later(p, 13); !warned(p) {
			t.Error("it does not warn of what was recorded after the copy")
		}
		p.must("export_all")
		if warned(p) {
			t.Error("it warns of what a copy of everything holds")
		}
		p.must("home")
		p.must("start_job", "sheet", string(sheet.Demo()[1].Hash()), "vehicle", "Another")
		p.must("export") // of this job alone
		if p = later(p, 20); !warned(p) {
			t.Error("a copy of one job is taken for a copy of all")
		}
	})
}
