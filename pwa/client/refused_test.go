package client_test

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"strutcard/sync/event"
	"strutcard/sync/exchange"
	"strutcard/sync/fault"
	"strutcard/sync/store"
)

// TestRefusalLosesNothing: whatever answers in place of the shop, the record and the
// key stay, and everything goes once the shop answers again (pitfall 53).
func TestRefusalLosesNothing(t *testing.T) {
	const refusal = `{"kind":%q,"message":"The shop says no.","hint":"Wait."}`
	for name, c := range map[string]struct {
		status     int
		kind, body string
		err        error
	}{
		"SignIn":      {401, "application/json", fmt.Sprintf(refusal, "sign_in"), nil},
		"Denied":      {403, "application/json", fmt.Sprintf(refusal, "denied"), nil},
		"NotFound":    {404, "text/plain", "404 page not found", nil},
		"Conflict":    {409, "application/json", fmt.Sprintf(refusal, "conflict"), nil},
		"TooLarge":    {413, "application/json", fmt.Sprintf(refusal, "too_large"), nil},
		"Outdated":    {426, "application/json", fmt.Sprintf(refusal, "outdated"), nil},
		"Busy":        {429, "application/json", fmt.Sprintf(refusal, "busy"), nil},
		"NoWords":     {500, "application/json", `{}`, nil},
		"Gateway":     {503, "text/html", "<html>Bad gateway</html>", nil},
		"SignInPage":  {200, "text/html", "<html>Welcome</html>", nil},
		"EmptyObject": {200, "application/json", `{}`, nil},
		"Null":        {200, "application/json", `null`, nil},
		"TimedOut":    {0, "", "", errors.New("no answer in time")},
	} {
		t.Run(name, func(t *testing.T) {
			y := newYard()
			p := newPhone(t, store.NewMemory(time.Now))
			y.joined(p, "device:1")
			p.must("join", "invite", "x", "name", "n")
			p.openDemo()
			p.until("the sync that joining began is over", func() bool { p.must("sync"); return strings.Contains(p.text("r-strip"), "All synced") })
			p.must("note", "text", "one")
			p.must("note", "text", "two")
			p.page.http = func(string, string, []byte, string) (int, string, []byte, error) {
				return c.status, c.kind, []byte(c.body), c.err
			}
			for range 3 {
				p.must("sync")
				if n, err := p.disk.Waiting(context.Background()); n != 2 || err != nil {
					t.Fatalf("%d entries wait (%v), want 2", n, err)
				}
			}
			if got := p.meta("shop.token"); got != "the token of device:1" {
				t.Errorf("the phone's key is %q", got)
			}
			p.must("sync_screen")
			if got := p.text("r-main"); !strings.Contains(got, "2 entries wait to sync") || !strings.Contains(got, "Not synced: ") {
				t.Errorf("the person is told %q", got)
			}
			y.joined(p, "device:1")
			p.must("sync")
			if n := y.devices(t, p.state().Job); len(n) != 1 || !strings.Contains(p.text("r-strip"), "All synced") {
				t.Errorf("the shop has by device %v, and the strip says %q", n, p.text("r-strip"))
			}
		})
	}
}

// TestSetAsideIsShown: what a server refuses by itself holds up nothing, stays on the
// phone, and is told on the record screen for as long as it is so (pitfall 52).
func TestSetAsideIsShown(t *testing.T) {
	y := newYard()
	p := newPhone(t, store.NewMemory(time.Now))
	y.joined(p, "device:1")
	whole := p.page.http
	p.must("join", "invite", "x", "name", "n")
	p.openDemo()
	p.until("the sync that joining began is over", func() bool { p.must("sync"); return strings.Contains(p.text("r-strip"), "All synced") })
	p.must("note", "text", "will arrive broken")
	p.must("note", "text", "will arrive")
	p.page.http = func(method, path string, body []byte, token string) (int, string, []byte, error) {
		if path == "/api/v1/sync" {
			var req exchange.Request
			if err := json.Unmarshal(body, &req); err != nil {
				return 0, "", nil, err
			}
			req.Events[0] = json.RawMessage(`{"nothing":"of ours"}`)
			var err error
			if body, err = json.Marshal(req); err != nil {
				return 0, "", nil, err
			}
		}
		return whole(method, path, body, token)
	}
	p.must("sync")
	p.page.http = whole
	p.must("sync")
	for range 2 {
		p.must("sync_screen")
		if got := p.text("r-main"); strings.Count(got, "Set aside by the server: ") != 1 || !strings.Contains(p.text("r-strip"), "Not taken by the shop: 1") {
			t.Errorf("the person is told %q and %q", got, p.text("r-strip"))
		}
		p = startAt(t, p.disk, p.page.kept, p.time) // after a restart too
	}
	there, err := y.log.Job(context.Background(), p.state().Job)
	if here := int(p.state().Count); err != nil || here != 3 || len(there) != 2 {
		t.Errorf("the phone has %d events and the shop %d (%v), want 3 and 2", here, len(there), err)
	}
	if got := exchange.ReadFile([]byte(p.saved("export"))); len(got.Events) != 3 {
		t.Errorf("a copy holds %d events, want 3", len(got.Events))
	}
	y.joined(p, "device:1")
	p.must("home")
	p.openDemo()
	p.until("the other job is sent", func() bool { p.must("sync"); return strings.Contains(p.text("r-strip"), "All synced") }) // of this job nothing was refused
}

// TestSetAsideForOneReason: a job that the shop deleted is one line, however many of
// its entries were refused, and another reason is another line.
func TestSetAsideForOneReason(t *testing.T) {
	y := newYard()
	p := newPhone(t, store.NewMemory(time.Now))
	y.joined(p, "device:1")
	p.must("join", "invite", "x", "name", "n")
	p.openDemo()
	p.until("the sync that joining began is over", func() bool { p.must("sync"); return strings.Contains(p.text("r-strip"), "All synced") })
	for _, text := range []string{"one", "two", "three", "four"} {
		p.must("note", "text", text)
	}
	p.page.http = func(_, path string, body []byte, _ string) (int, string, []byte, error) {
		if path != "/api/v1/sync" {
			return 200, "application/json", []byte("[]"), nil
		}
		var req exchange.Request
		if err := json.Unmarshal(body, &req); err != nil {
			return 0, "", nil, err
		}
		reply := exchange.Reply{Nonce: req.Nonce, Epoch: "e1", ServerTime: 1}
		for i, line := range req.Events {
			e, err := event.Decode(line)
			if err != nil {
				return 0, "", nil, err
			}
			why := fault.New(fault.Denied, "The shop deleted this job.", "Ask why.")
			if i == 0 {
				why = fault.New(fault.Invalid, "It is too long.", "Nothing is lost.")
			}
			reply.Verdicts = append(reply.Verdicts, store.Verdict{ID: e.ID, Outcome: store.Refused, Reason: why})
		}
		out, err := json.Marshal(reply)
		return 200, "application/json", out, err
	}
	p.must("sync")
	p.must("sync_screen")
	got := p.text("r-main")
	if strings.Count(got, "Set aside by the server: ") != 2 || !strings.Contains(got, "The shop deleted this job. Ask why. (3 entries)") || !strings.Contains(got, "It is too long. Nothing is lost. (1 entry)") {
		t.Errorf("the person is told %q", got)
	}
}

// TestAnotherShop: a phone that joins another shop shows that shop its key and no
// other, and what it holds goes there: the record is the phone's (pitfall 54).
func TestAnotherShop(t *testing.T) {
	shops := map[string]*yard{"a": newYard(), "b": newYard()}
	p := newPhone(t, store.NewMemory(time.Now))
	invited, shown := "", map[string]int{}
	p.page.http = func(method, path string, body []byte, token string) (int, string, []byte, error) {
		answer := func(v any, err error) (int, string, []byte, error) {
			if err != nil {
				return 0, "", nil, err
			}
			text, err := json.Marshal(v)
			return 200, "application/json", text, err
		}
		if path == "/api/v1/join" {
			return answer(map[string]string{"token": "key of " + invited, "shop_name": "Yard " + invited}, nil)
		}
		shown[token]++
		name := strings.TrimPrefix(token, "key of ")
		if path != "/api/v1/sync" {
			return answer(shops[name].answer("device:me", method, path, body))
		}
		var req exchange.Request
		if err := json.Unmarshal(body, &req); err != nil {
			return 0, "", nil, err
		}
		return answer(exchange.Serve(context.Background(), shops[name].log, "epoch of "+name, exchange.Sender{Actor: "device:me", Role: exchange.Installer}, 0, req))
	}
	join := func(name string) {
		t.Helper()
		invited = name
		p.must("join", "invite", name, "name", "n")
		p.until("everything is sent", func() bool { p.must("sync"); return strings.Contains(p.text("r-strip"), "All synced") })
	}
	p.openDemo()
	p.must("note", "text", "for a")
	join("a")
	p.must("note", "text", "written while it was a's")
	before := shown["key of a"]
	join("b")
	if shown["key of a"] != before || shown["key of b"] == 0 {
		t.Errorf("keys were shown so often: %v; that of a %d times before", shown, before)
	}
	for name, want := range map[string]int{"a": 2, "b": 3} {
		events, err := shops[name].log.Job(context.Background(), p.state().Job)
		if err != nil || len(events) != want {
			t.Errorf("shop %s has %d events (%v), want %d", name, len(events), err, want)
		}
	}
}
