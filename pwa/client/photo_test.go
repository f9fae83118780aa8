package client_test

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"strutcard/pwa/client"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/sheet"
	"strutcard/sync/store"
)

// photoBox is a phone's pictures: how long each is, and whether it answers.
type photoBox struct {
	sizes map[string]int64
	err   error
	asked int
	carrying
}

func (b *photoBox) Size(_ context.Context, sha256 string) (int64, error) {
	b.asked++
	return b.sizes[sha256], b.err
}

// deaf refuses to write while it is full.
type deaf struct {
	*store.Memory
	full bool
}

func (d *deaf) Write(ctx context.Context, events []event.Event) ([]store.Verdict, error) {
	if d.full {
		return nil, fmt.Errorf("no room")
	}
	return d.Memory.Write(ctx, events)
}

var picture = strings.Repeat("ab", 32)

// photoPhone is a phone with one kept picture, on the demo's first step.
func photoPhone(t *testing.T) (*phone, *photoBox, *deaf) {
	t.Helper()
	box := &photoBox{sizes: map[string]int64{picture: 700_000}}
	disk := &deaf{Memory: store.NewMemory(time.Now)}
	p := &phone{t: t, disk: disk.Memory, page: newPage(t)}
	clock := time.Date(2026, 11, 25, 8, 0, 0, 0, time.UTC)
	p.c = client.New(client.Config{Platform: p.page, Log: disk, Photos: box, Now: func() time.Time { clock = clock.Add(7 * time.Second); return clock }})
	if err := p.c.Start(context.Background()); err != nil {
		t.Fatal(err)
	}
	p.openDemo()
	return p, box, disk
}

func taken(step, photo, caption string) []string {
	return []string{"step", step, "photo", photo, "caption", caption, "sha256", picture, "bytes", "700000", "width", "1600", "height", "1200"}
}

func (p *phone) shownStep() string {
	p.t.Helper()
	_, rest, found := strings.Cut(p.page.region("r-main"), `data-step="`)
	if !found {
		p.t.Fatalf("no step is shown:\n%s", p.text("r-main"))
	}
	step, _, _ := strings.Cut(rest, `"`)
	return step
}

func TestOwnPhoto(t *testing.T) {
	p, _, _ := photoPhone(t)
	step := p.shownStep()
	p.c.Input(context.Background(), "photo.caption", "bent tube <left>")
	p.must("photo", taken(step, "", "bent tube <left>")...)
	got := p.state().Photos
	if len(got) != 1 || got[0].SHA256 != picture || got[0].Bytes != 700_000 || got[0].Width != 1600 || string(got[0].Step) != step || got[0].Caption != "bent tube <left>" {
		t.Fatalf("recorded %+v", got)
	}
	main := p.page.region("r-main")
	if !strings.Contains(main, `<img data-photo="`+picture+`" alt="bent tube &lt;left&gt;"`) {
		t.Errorf("the step does not show it:\n%s", main)
	}
	if strings.Contains(main, `value="bent tube`) {
		t.Error("the caption still stands in the field")
	}
	p.must("card")
	if got := p.text("r-main"); !strings.Contains(got, "Photos by step: 1 photo, 700 kB") {
		t.Errorf("the card does not count it: %s", got)
	}
}

// A press that is repeated, or comes again after its record failed, is recorded once.
func TestPhotoAgain(t *testing.T) {
	p, _, disk := photoPhone(t)
	step := p.shownStep()
	disk.full = true
	if err := p.act("photo", taken(step, "", "")...); !fault.Is(err, fault.Storage) {
		t.Fatalf("with a full disk: %v", err)
	}
	if n := len(p.state().Photos); n != 0 {
		t.Fatalf("%d photos are recorded on a full disk", n)
	}
	disk.full = false
	p.must("photo", taken(step, "", "")...)
	p.must("photo", taken(step, "", "")...)
	if n := len(p.state().Photos); n != 1 {
		t.Errorf("%d photos, want 1", n)
	}
	p.must("undo", "reason", "wrong corner")
	if n := len(p.state().Photos); n != 0 {
		t.Errorf("%d photos after taking it back, want 0", n)
	}
	if strings.Contains(p.page.region("r-main"), picture) {
		t.Error("the photo that was taken back is still shown")
	}
	p.must("photo", taken(step, "", "")...)
	if n := len(p.state().Photos); n != 1 {
		t.Errorf("%d photos after taking it anew, want 1", n)
	}
}

// Nothing is recorded of a picture that is not on the phone's disk.
func TestErrPhotoNotKept(t *testing.T) {
	for name, spoil := range map[string]func(*photoBox){
		"gone":          func(b *photoBox) { delete(b.sizes, picture) },
		"another size":  func(b *photoBox) { b.sizes[picture]-- },
		"does not open": func(b *photoBox) { b.err = fault.New(fault.Storage, "broken", "go on") },
	} {
		t.Run(name, func(t *testing.T) {
			p, box, _ := photoPhone(t)
			before := p.state().Count
			spoil(box)
			if err := p.act("photo", taken(p.shownStep(), "", "")...); !fault.Is(err, fault.Storage) {
				t.Errorf("photo = %v, want kind %s", err, fault.Storage)
			}
			if box.asked == 0 {
				t.Error("the disk was not asked")
			}
			if got := p.state().Count; got != before {
				t.Errorf("%d events, want %d", got, before)
			}
			p.next() // the job goes on
			if got := p.state().Count; got != before+1 {
				t.Errorf("after it the job stands still: %d events, want %d", got, before+1)
			}
		})
	}
}

func TestErrPhoto(t *testing.T) {
	p, _, _ := photoPhone(t)
	step := p.shownStep()
	before := p.state().Count
	change := func(name, value string) []string {
		args := taken(step, "", "")
		for i := 0; i < len(args); i += 2 {
			if args[i] == name {
				args[i+1] = value
			}
		}
		return args
	}
	for name, args := range map[string][]string{
		"no photo": {"step", step}, "bad hash": change("sha256", "xyz"), "bad size": change("bytes", "many"), "no width": change("width", "0"),
		"another job": append(taken(step, "", ""), "job", "another"),
	} {
		if err := p.act("photo", args...); err == nil {
			t.Errorf("%s was recorded", name)
		}
	}
	if got := p.state().Count; got != before {
		t.Errorf("%d events, want %d", got, before)
	}
}

func TestNoPhotoSaysWhatIsSafe(t *testing.T) {
	p, _, _ := photoPhone(t)
	before := p.state().Count
	seen := map[string]string{}
	for _, why := range []string{"QuotaExceededError", "Unreadable", "Blank", "TooLarge", "NoCanvas", "lost", "TimeoutError"} {
		if err := p.act("no_photo", "why", why); err == nil {
			t.Errorf("%s is no error", why)
		}
		said := p.text("r-sheet")
		if !strings.Contains(said, "record is safe") {
			t.Errorf("%s does not say what is safe: %s", why, said)
		}
		if other, twice := seen[said]; twice {
			t.Errorf("%s and %s say the same: %s", why, other, said)
		}
		seen[said] = why
	}
	if got := p.state().Count; got != before {
		t.Errorf("%d events, want %d", got, before)
	}
}

// photoSheet is the demo with two photos asked at its first step.
func photoSheet(t *testing.T) *sheet.Sheet {
	t.Helper()
	s, err := sheet.Decode(sheet.Demo()[0].Encode())
	if err != nil {
		t.Fatal(err)
	}
	s.Title = "Two photos (invented)"
	step := &s.Stages[0].Steps[0]
	step.Photos = []sheet.PhotoAsk{{ID: "as_found", What: "the strut as found", Must: true, When: sheet.Before}, {ID: "wheel", What: "the wheel", When: sheet.Before}}
	if s, err = sheet.Decode(s.Encode()); err != nil {
		t.Fatal(err)
	}
	return s
}

// askedPhone is a phone on a step that asks for a photo which is required and
// for one which is only wished for.
func askedPhone(t *testing.T) (*phone, string) {
	t.Helper()
	p, _, disk := photoPhone(t)
	s := photoSheet(t)
	if err := disk.SetMeta(context.Background(), "sheet."+string(s.Hash()), string(s.Encode())); err != nil {
		t.Fatal(err)
	}
	p.must("start_job", "sheet", string(s.Hash()), "vehicle", "Ostler Wren (invented)")
	return p, string(s.Stages[0].Steps[0].ID)
}

func TestAskedPhoto(t *testing.T) {
	p, step := askedPhone(t)
	if got := p.text("r-main"); !strings.Contains(got, "the strut as found") || !strings.Contains(got, "Leave it out, with a reason") || strings.Contains(got, "Go on without") {
		t.Fatalf("the required photo is not asked for:\n%s", got)
	}
	p.must("photo", taken(step, "as_found", "")...)
	if got := p.text("r-main"); !strings.Contains(got, "the wheel") || !strings.Contains(got, "Go on without") {
		t.Fatalf("the wished photo is not asked for:\n%s", got)
	}
	p.must("photo_skip", "step", step, "photo", "wheel")
	if got := p.state().Steps[event.StepID(step)].LeftOut["wheel"]; got != "not wanted" {
		t.Errorf("the wished photo was passed over with %q", got)
	}
	if strings.Contains(p.page.region("r-main"), `id="photo-wheel"`) {
		t.Errorf("the step still asks:\n%s", p.text("r-main"))
	}
}

func TestRequiredPhotoLeftOut(t *testing.T) {
	p, step := askedPhone(t)
	if err := p.act("photo_skip", "step", step, "photo", "as_found"); !fault.Is(err, fault.Blocked) {
		t.Errorf("a required photo was skipped: %v", err)
	}
	if err := p.act("photo_left_out", "step", step, "photo", "as_found", "reason", "  "); !fault.Is(err, fault.Invalid) {
		t.Errorf("a required photo was left out without a reason: %v", err)
	}
	p.must("photo_left_out", "step", step, "photo", "as_found", "reason", "the lens is broken")
	if got := p.text("r-main"); !strings.Contains(got, "the wheel") {
		t.Errorf("the step does not go on:\n%s", got)
	}
	p.must("card")
	if got := p.text("r-main"); !strings.Contains(got, "Left out: the strut as found: the lens is broken") {
		t.Errorf("the card does not say that it was left out: %s", got)
	}
}
