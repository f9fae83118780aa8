package client_test

import (
	"context"
	"errors"
	"strings"
	"testing"
	"time"

	"strutcard/pwa/client"
	"strutcard/sync/store"
)

// inspected is a phone whose page looks at it.
type inspected struct {
	*phone
	clock  time.Time
	looks  chan client.Inspection // each look waits for one answer
	failed error
}

var allFound = client.Inspection{Files: client.Yes, How: client.Yes, Persisted: client.Yes, Photos: client.Yes, Free: 5_000_000_000}

func newInspected(t *testing.T, disk store.Device, memory *store.Memory) *inspected {
	t.Helper()
	p := &inspected{looks: make(chan client.Inspection, 1), clock: time.Date(2026, 11, 25, 8, 0, 0, 0, time.UTC)}
	p.phone = &phone{t: t, disk: memory, page: newPage(t)}
	p.c = client.New(client.Config{Platform: p.page, Log: disk, Now: func() time.Time { return p.clock }, Inspect: p.inspect})
	if err := p.c.Start(context.Background()); err != nil {
		t.Fatal(err)
	}
	return p
}

func (p *inspected) inspect(ctx context.Context) (client.Inspection, error) {
	select {
	case got := <-p.looks:
		return got, p.failed
	case <-ctx.Done():
		return client.Inspection{}, ctx.Err()
	}
}

// shows waits until the screen says it.
func (p *inspected) shows(words string) {
	p.t.Helper()
	for range 400 {
		if strings.Contains(p.text("r-main"), words) {
			return
		}
		time.Sleep(5 * time.Millisecond)
	}
	p.t.Fatalf("the screen never said %q:\n%s", words, p.text("r-main"))
}

func onMemory(t *testing.T) *inspected {
	t.Helper()
	disk := store.NewMemory(time.Now)
	return newInspected(t, disk, disk)
}

func TestReadyIsUnknownUntilLooked(t *testing.T) {
	p := onMemory(t)
	p.shows("Not known yet whether this phone is ready")
	if got := p.text("r-main"); strings.Contains(got, "Ready for no signal") || strings.Contains(got, "✓") {
		t.Errorf("before any look it says more than it knows: %s", got)
	}
	p.looks <- allFound
	p.shows("Ready for no signal: every line was checked.")
	p.shows("a trial entry was written and read back")
}

func TestReadyLines(t *testing.T) {
	with := func(change func(*client.Inspection)) client.Inspection {
		found := allFound
		change(&found)
		return found
	}
	for name, c := range map[string]struct {
		found         client.Inspection
		verdict, line string
	}{
		"a file is missing":  {with(func(i *client.Inspection) { i.Files = client.No }), "Not ready for no signal: 1 thing is missing.", "Not every file of the app"},
		"files unknown":      {with(func(i *client.Inspection) { i.Files = "" }), "Not certain to be ready", "Whether every file of the app is on this phone could not be checked."},
		"formulas missing":   {with(func(i *client.Inspection) { i.How = client.No }), "Not ready for no signal", `calculated&#34; is not on this phone`},
		"may be cleared":     {with(func(i *client.Inspection) { i.Persisted = client.No }), "Ready for no signal. Read what is to be noted.", "storage when space runs short"},
		"keeping unknown":    {with(func(i *client.Inspection) { i.Persisted = "" }), "Not certain to be ready", "could not be found out"},
		"little room":        {with(func(i *client.Inspection) { i.Free = 40_000_000 }), "Read what is to be noted", "Little room: about 40 MB."},
		"room unknown":       {with(func(i *client.Inspection) { i.Free = -1 }), "Not certain to be ready", "does not tell how much room"},
		"photo store broken": {with(func(i *client.Inspection) { i.Photos = client.No }), "Read what is to be noted", "Photos cannot be kept just now."},
	} {
		t.Run(name, func(t *testing.T) {
			p := onMemory(t)
			p.looks <- c.found
			p.shows(c.line)
			p.shows(c.verdict)
		})
	}
}

func TestReadyWhenNobodyCanLook(t *testing.T) {
	p := onMemory(t)
	p.failed = errors.New("no answer")
	p.looks <- allFound // not to be believed: the look failed
	p.shows("Not certain to be ready for no signal: 5 things could not be checked.")
}

// mute reads, but takes no small values either.
type mute struct {
	*store.Memory
	full bool
}

func (m *mute) SetMeta(ctx context.Context, name, value string) error {
	if m.full {
		return errors.New("no room")
	}
	return m.Memory.SetMeta(ctx, name, value)
}

func TestReadyTriesTheRecord(t *testing.T) {
	disk := &mute{Memory: store.NewMemory(time.Now)}
	p := newInspected(t, disk, disk.Memory)
	disk.full = true
	p.looks <- allFound
	p.shows("The record took no trial entry.")
	p.shows("Not ready for no signal: 1 thing is missing.")
}

// The demo's torques are in its sheet; the sheet on the disk is what counts.
func TestReadyKnowsTheJob(t *testing.T) {
	p := onMemory(t)
	p.looks <- allFound
	p.shows("every line was checked")
	p.openDemo()
	hash := string(p.state().Opened.Sheet)
	p.must("home")
	p.clock = p.clock.Add(time.Minute)
	p.looks <- allFound
	p.must("look")
	p.shows("every torque is known")
	p.shows("is the one that the job began with")

	if err := p.disk.SetMeta(context.Background(), "sheet."+hash, `{"format":1}`); err != nil {
		t.Fatal(err)
	}
	p.clock = p.clock.Add(time.Minute)
	p.looks <- allFound
	p.must("look")
	p.shows("is not on this phone, or is damaged")
	p.shows("Not ready for no signal")
}

// A look is not repeated at every press, and is when it has grown old.
func TestReadyLooksAgain(t *testing.T) {
	p := onMemory(t)
	p.looks <- allFound
	p.shows("every line was checked")
	p.looks <- client.Inspection{Files: client.No, Free: -1}
	p.must("look")
	time.Sleep(20 * time.Millisecond)
	if len(p.looks) != 1 {
		t.Error("it looked again at once")
	}
	p.clock = p.clock.Add(31 * time.Second)
	p.must("look")
	p.shows("Not every file of the app")
}

// An own sheet begins without a single torque.
func TestReadyCountsUnknownTorques(t *testing.T) {
	p := onMemory(t)
	p.looks <- allFound
	p.shows("every line was checked")
	_, hash := p.made(p.begin("front_strut", "rear_separate"))
	p.must("start_job", "sheet", hash, "vehicle", "Ostler Dart (invented)")
	p.must("home")
	p.clock = p.clock.Add(time.Minute)
	p.looks <- allFound
	p.must("look")
	p.shows("torques are not known or not confirmed")
	p.shows("Not ready for no signal: 1 thing is missing.")
}
