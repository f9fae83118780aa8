package client_test

import (
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"reflect"
	"strings"
	"sync"
	"testing"
	"time"

	"strutcard/pwa/client"
	"strutcard/sync/exchange"
	"strutcard/sync/store"
)

// sent is what the page was asked to carry.
type sent struct {
	token, epoch string
	wanted       []string
}

// Send implements client.Photos; it ends when the test lets it.
func (b *photoBox) Send(_ context.Context, token, epoch string, wanted []string) error {
	b.mu.Lock()
	b.sent = append(b.sent, sent{token, epoch, wanted})
	wait := b.wait
	b.mu.Unlock()
	if wait != nil {
		<-wait
	}
	return b.err
}

// Progress implements client.Photos.
func (b *photoBox) Progress() client.PhotoProgress {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.progress
}

func (b *photoBox) now(p client.PhotoProgress) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.progress = p
}

// carrying is what the page is asked about carrying photos.
type carrying struct {
	mu       sync.Mutex
	sent     []sent
	wait     chan struct{}
	progress client.PhotoProgress
}

func (b *photoBox) asks() []sent {
	b.mu.Lock()
	defer b.mu.Unlock()
	return append([]sent(nil), b.sent...)
}

// busyPage is painted while the test looks at it.
type busyPage struct {
	*page
	mu sync.Mutex
}

func (b *busyPage) Paint(regions map[string]string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.page.Paint(regions)
}

// shopPhone is a phone with photos that belongs to a shop, over a good network.
func shopPhone(t *testing.T) (*phone, *photoBox, *deaf) {
	t.Helper()
	p, box, disk := photoPhone(t)
	server := store.NewMemory(time.Now)
	p.page.http = func(_, path string, body []byte, _ string) (int, string, []byte, error) {
		if path != "/api/v1/sync" {
			return http.StatusOK, "application/json", []byte("[]"), nil // no sheets
		}
		var req exchange.Request
		if err := json.Unmarshal(body, &req); err != nil {
			return 0, "", nil, err
		}
		reply, err := exchange.Serve(context.Background(), server, "e1", exchange.Sender{Actor: "device:me", Role: exchange.Installer}, 0, req)
		if err != nil {
			return 0, "", nil, err
		}
		text, err := json.Marshal(reply)
		return http.StatusOK, "application/json", text, err
	}
	for name, value := range map[string]string{"shop.token": "the token", "shop.name": "A shop"} {
		if err := disk.SetMeta(context.Background(), name, value); err != nil {
			t.Fatal(err)
		}
	}
	if err := p.c.Start(context.Background()); err != nil {
		t.Fatal(err)
	}
	return p, box, disk
}

func (p *phone) until(what string, holds func() bool) {
	p.t.Helper()
	for range 1000 {
		if holds() {
			return
		}
		time.Sleep(5 * time.Millisecond)
	}
	p.t.Fatalf("waited in vain: %s", what)
}

// TestPhotosAreSent with every sync, and the sync does not wait for them.
func TestPhotosAreSent(t *testing.T) {
	p, box, _ := shopPhone(t)
	p.must("photo", taken(p.shownStep(), "", "")...)
	box.wait = make(chan struct{})
	p.must("sync") // it ends while they are still being carried
	p.until("the page is asked", func() bool { return len(box.asks()) == 1 })
	want := sent{"the token", "e1", []string{picture}}
	if got := box.asks()[0]; !reflect.DeepEqual(got, want) {
		t.Errorf("asked to carry %+v, want %+v", got, want)
	}
	p.next() // the job goes on meanwhile
	close(box.wait)
}

// TestPhotosNotSent: without a shop there is nobody to send them to; without a
// network the record goes first.
func TestPhotosNotSent(t *testing.T) {
	for name, spoil := range map[string]func(*phone, *deaf) error{
		"no shop":    func(_ *phone, disk *deaf) error { return disk.SetMeta(context.Background(), "shop.token", "") },
		"no network": func(p *phone, _ *deaf) error { p.page.http = nil; return nil },
	} {
		t.Run(name, func(t *testing.T) {
			p, box, disk := shopPhone(t)
			if err := errors.Join(spoil(p, disk), p.c.Start(context.Background())); err != nil {
				t.Fatal(err)
			}
			p.must("sync")
			time.Sleep(20 * time.Millisecond) // what must not happen has had its chance
			if got := box.asks(); len(got) != 0 {
				t.Errorf("asked to carry %+v", got)
			}
		})
	}
}

// TestNoPhotoStore: a page that keeps no photos syncs all the same.
func TestNoPhotoStore(t *testing.T) {
	p, _, disk := shopPhone(t)
	p.c = client.New(client.Config{Platform: p.page, Log: disk, Now: time.Now})
	if err := p.c.Start(context.Background()); err != nil {
		t.Fatal(err)
	}
	p.must("sync")
	p.must("sync_screen")
	if got := p.text("r-main"); !strings.Contains(got, "Last sync") {
		t.Errorf("the screen says: %s", got)
	}
}

// TestPhotoProgress is shown on the record screen, and again when they are done.
func TestPhotoProgress(t *testing.T) {
	p, box, disk := shopPhone(t)
	screen := &busyPage{page: p.page}
	p.c = client.New(client.Config{Platform: screen, Log: disk, Photos: box, Now: time.Now})
	if err := p.c.Start(context.Background()); err != nil {
		t.Fatal(err)
	}
	said := func() string {
		screen.mu.Lock()
		defer screen.mu.Unlock()
		return p.text("r-main")
	}
	p.must("sync_screen")
	if got := said(); strings.Contains(got, "photos sent") {
		t.Errorf("without photos the screen says: %s", got)
	}
	box.wait = make(chan struct{})
	box.now(client.PhotoProgress{Done: 3, Of: 12, BytesDone: 2_149_000, BytesOf: 8_000_000})
	p.must("sync")
	if got := said(); !strings.Contains(got, "3 of 12 photos sent, 2.1 of 8.0 MB.") {
		t.Errorf("the screen says: %s", got)
	}
	box.now(client.PhotoProgress{Done: 11, Of: 12, BytesDone: 7_000_000, BytesOf: 8_000_000, Trouble: "One was refused."})
	close(box.wait)
	p.until("the end is shown", func() bool {
		return strings.Contains(said(), "11 of 12 photos sent, 7.0 of 8.0 MB.") && strings.Contains(said(), "One was refused.")
	})
}

// TestPhotosFail: whatever the store of photos does, the record syncs.
func TestPhotosFail(t *testing.T) {
	p, box, _ := shopPhone(t)
	box.err = errors.New("broken")
	p.must("sync")
	p.until("the page is asked", func() bool { return len(box.asks()) == 1 })
	p.next()
	p.must("sync")
	p.until("the page is asked again", func() bool { return len(box.asks()) == 2 })
}
