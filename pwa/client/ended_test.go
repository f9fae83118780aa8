package client_test

import (
	"context"
	"encoding/json"
	"errors"
	"strings"
	"testing"
	"time"

	"strutcard/sync/event"
	"strutcard/sync/exchange"
	"strutcard/sync/fault"
	"strutcard/sync/store"
)

// TestAccessEnded: a phone whose token ran out, or was taken back, a month ago
// loses nothing. It reads, writes, says why it does not sync, hands over a copy,
// and after one fresh invitation everything goes.
func TestAccessEnded(t *testing.T) {
	server := store.NewMemory(time.Now)
	b := newBench(t, fresh(t))
	if err := b.disk.SetMeta(context.Background(), "shop.token", "stale"); err != nil {
		t.Fatal(err)
	}
	b.clock.move(30 * 24 * time.Hour)
	b.open()
	asked := 0
	b.page.http = func(_, path string, body []byte, token string) (int, string, []byte, error) {
		asked++
		answer := func(status int, v any) (int, string, []byte, error) {
			text, err := json.Marshal(v)
			return status, "application/json", text, err
		}
		switch {
		case path == "/api/v1/join":
			return answer(200, map[string]string{"token": "fresh", "shop_name": "A yard"})
		case token != "fresh":
			return answer(401, fault.New(fault.SignIn, "The shop does not know this phone, or has ended its access.", "Ask the shop for a fresh invitation."))
		case path == "/api/v1/sync":
			var req exchange.Request
			if err := json.Unmarshal(body, &req); err != nil {
				return 0, "", nil, err
			}
			reply, err := exchange.Serve(context.Background(), server, "e1", exchange.Sender{Actor: "device:me", Role: exchange.Installer}, 0, req)
			if err != nil {
				return 0, "", nil, err
			}
			return answer(200, reply)
		}
		return answer(200, []string{})
	}
	waiting := func() int {
		n, err := b.disk.Waiting(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		return n
	}
	before := waiting()
	b.must("sync")
	if asked == 0 || waiting() != before {
		t.Fatalf("after %d refused requests %d events wait, want all %d", asked, waiting(), before)
	}
	if !strings.Contains(b.screen(), "Is everything as you left it") && !b.next() {
		t.Fatalf("nothing can be done without access:\n%s", b.screen())
	}
	for range 3 {
		b.next()
	}
	if waiting() <= before {
		t.Errorf("%d events wait, want more than %d: work stands still without access", waiting(), before)
	}
	b.must("sync_screen")
	b.wantSaid("has ended its access")
	b.wantSaid("fresh invitation")
	if got := b.text("r-strip"); !strings.Contains(got, "Access to the shop has ended") {
		t.Errorf("the strip says %q", got)
	}
	answers := b.page.http
	b.page.http = func(string, string, []byte, string) (int, string, []byte, error) {
		return 0, "", nil, errors.New("no signal")
	}
	b.must("sync")
	b.page.http = answers
	if got := b.text("r-strip"); !strings.Contains(got, "Access to the shop has ended") {
		t.Errorf("without a signal the strip forgets it: %q", got)
	}
	if !strings.Contains(b.page.regions["r-main"], `id="join-form"`) {
		t.Errorf("there is no place for the fresh invitation:\n%s", b.screen())
	}
	b.must("export")
	lines := 0
	for _, text := range b.page.files {
		lines += strings.Count(text, "\n")
	}
	if lines < waiting() {
		t.Errorf("the copy has %d lines for %d events", lines, waiting())
	}

	mine, err := b.disk.Job(context.Background(), b.job)
	if err != nil {
		t.Fatal(err)
	}
	b.must("join", "invite", "x#secret", "name", "mine")
	if strings.Contains(b.page.regions["r-main"], `id="join-form"`) {
		t.Errorf("who has joined is asked to join:\n%s", b.screen())
	}
	b.must("sync")
	for end := time.Now().Add(10 * time.Second); waiting() > 0 && time.Now().Before(end); {
		b.must("sync") // the one that join began may be at work
	}
	theirs, err := server.Job(context.Background(), b.job)
	if err != nil || waiting() != 0 || len(theirs) != len(mine) || event.Sort(theirs)[len(theirs)-1].Line() != event.Sort(mine)[len(mine)-1].Line() {
		t.Errorf("after a fresh invitation %d events wait and the server has %d of %d (%v)", waiting(), len(theirs), len(mine), err)
	}
}
