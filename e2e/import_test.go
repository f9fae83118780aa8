package e2e

import (
	"strconv"
	"strings"
	"testing"

	"strutcard/sync/event"
)

// TestBringIn: a record that was saved on one phone opens on another at the same
// state, and reaches the shop from there as what the first phone wrote.
func TestBringIn(t *testing.T) {
	t.Parallel()
	shop := newShop(t)
	p := newPhone(t, shop)
	p.joinedJob()
	p.synced()
	p.offlineReady()
	p.shop.stop()
	for range 3 {
		p.next() // no shop has these
	}
	state, events := p.state(), p.log()
	p.tap("#strip-sync")
	p.pictures("record-copies")
	files := map[string]string{"this job": p.savesBy("#export"), "every record": p.savesBy("#export-all"), "without Go": p.savesWithoutGo()}
	shop.start(false)
	for name, file := range files {
		t.Run(name, func(t *testing.T) {
			holds(t, file, events)
			q := newPhone(t, shop)
			q.open("/")
			q.bringIn(file)
			q.pictures("brought-in")
			if got := q.text("#r-sheet"); !strings.Contains(got, "entries brought in.") || strings.Contains(got, "damaged") {
				t.Errorf("the person is told %q", got)
			}
			q.tap("#dismiss")
			q.narrow("the record that came")
			if got := q.state(); got != state {
				t.Errorf("the state differs:\n%s\n%s", got, state)
			}
			q.tap("#place-work")
			if q.has("#begin, #count-form, .ask, .step") == false {
				t.Errorf("the work cannot go on: %s", q.text("body"))
			}
			q.tap("#strip-sync")
			q.bringIn(file)
			if got := q.text("#r-sheet"); !strings.Contains(got, "0 entries brought in.") || q.state() != state || lines(q.log()) != lines(events) {
				t.Errorf("the second time the person is told %q", got)
			}
		})
	}
	q := newPhone(t, shop)
	q.open("/")
	q.bringIn(files["this job"])
	q.tap("#dismiss")
	q.joinBy("/join#" + shop.invites())
	q.synced()
	q.tap("#job-" + string(events[0].Job))
	compare(t, q, shop)
	device := event.DeviceID(q.eval(`() => host.log.meta("device")`).(string))
	for _, e := range shop.events(events[0].Job) {
		if e.Device == device || e.Device != events[0].Device {
			t.Errorf("%s is in the record as written by %s, not by the first phone", e.Kind, e.Device)
		}
	}
}

// TestBringInDamaged: what can be read is taken, and the person told; a file of
// something else is refused in words.
func TestBringInDamaged(t *testing.T) {
	t.Parallel()
	shop := newShop(t)
	p := newPhone(t, shop)
	p.open("/")
	p.openDemo()
	for range 5 {
		p.next()
	}
	events := p.log()
	p.tap("#strip-sync")
	file := p.savesBy("#export")
	for name, c := range map[string]struct {
		text, says string
		events     int
	}{
		"Cut":     {file[:len(file)-20], "The file is damaged: entries are missing. Go by what you see at the car, not by this record", len(events) - 1},
		"CRLF":    {strings.ReplaceAll(file, "\n", "\r\n"), strconv.Itoa(len(events)) + " entries brought in. Look at", len(events)},
		"Marked":  {"\ufeff" + file, strconv.Itoa(len(events)) + " entries brought in. Look at", len(events)},
		"Foreign": {"%PDF-1.7\nnot a record\n", "This file holds no record of this app. Nothing was changed.", 0},
		"Empty":   {"", "This file holds no record of this app. Nothing was changed.", 0},
	} {
		t.Run(name, func(t *testing.T) {
			q := newPhone(t, shop)
			q.open("/")
			q.bringIn(c.text)
			if got := q.text("#r-sheet"); !strings.Contains(got, c.says) {
				t.Errorf("the person is told %q, want %q", got, c.says)
			}
			if got := q.eval(`() => host.log.waiting()`); got != c.events {
				t.Errorf("%v events came, want %d", got, c.events)
			}
			if name == "Cut" {
				q.pictures("brought-in-damaged")
			}
		})
	}
}

// TestBringInSetBack: a phone whose disk was set back brings in what it wrote
// itself and does not remember. It writes on under another number, and says so.
func TestBringInSetBack(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.countForm()
	put := p.copyOf()
	p.open("/")
	p.next()
	p.next()
	events := p.log()
	p.tap("#strip-sync")
	file := p.savesBy("#export")
	put()
	p.open("/")
	if got := len(p.log()); got != len(events)-2 {
		t.Fatalf("after it was set back the phone has %d events, want %d", got, len(events)-2)
	}
	device := p.eval(`() => host.log.meta("device")`)
	p.tap("#strip-sync")
	p.bringIn(file)
	if got := p.text("#r-sheet"); !strings.Contains(got, "had been set back") || !strings.Contains(got, "2 entries brought in.") {
		t.Errorf("the person is told %q", got)
	}
	p.pictures("set-back")
	if p.eval(`() => host.log.meta("device")`) == device {
		t.Error("it writes on under the number of what it does not remember")
	}
	p.tap("#dismiss")
	p.tap("#place-work")
	p.next()
	if got := p.log(); len(got) <= len(events) || len(event.Gaps(got)) > 0 {
		t.Errorf("%d events with gaps %v", len(got), event.Gaps(got))
	}
}
