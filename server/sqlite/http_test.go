package sqlite_test

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"testing"
	"time"

	"strutcard/pwa"
	"strutcard/server/auth"
	"strutcard/server/photo"
	"strutcard/server/shop"
	"strutcard/server/sqlite"
	"strutcard/server/web"
	"strutcard/sync/event"
	"strutcard/sync/exchange"
	"strutcard/sync/fault"
	"strutcard/sync/store"
	"strutcard/sync/store/storetest"
)

// phone is a device that joined the yard and speaks to the handlers of the site.
type phone struct {
	site  http.Handler
	token string
}

// joined puts the site over a database and lets a phone in.
func joined(t *testing.T, db *sqlite.DB) phone {
	t.Helper()
	tokens, err := auth.NewTokens(auth.NewKey(), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	pictures, err := photo.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	site := web.New(web.Config{Store: db, Pictures: pictures, Tokens: tokens, Passwords: auth.NewPasswords(1, time.Second), Assets: pwa.Lookup,
		Now: time.Now, Log: slog.New(slog.NewTextHandler(io.Discard, nil))})
	code := auth.NewSecret()
	if err := db.Invite(context.Background(), shop.Invitation{Digest: auth.Digest(code), Shop: yard, By: "s1", Expires: time.Now().Add(time.Hour)}); err != nil {
		t.Fatal(err)
	}
	p := phone{site: site}
	a := p.post(t, "/api/v1/join", map[string]string{"invitation": code, "device": storetest.NewID[string](), "name": "phone"})
	var reply struct {
		Token string `json:"token"`
	}
	if err := json.Unmarshal(a.Body.Bytes(), &reply); err != nil || reply.Token == "" {
		t.Fatalf("join: %d %s", a.Code, a.Body)
	}
	p.token = reply.Token
	return p
}

func (p phone) post(t *testing.T, path string, body any) *httptest.ResponseRecorder {
	t.Helper()
	text, err := json.Marshal(body)
	if err != nil {
		t.Fatal(err)
	}
	req := httptest.NewRequest("POST", path, bytes.NewReader(text))
	req.Header = http.Header{"Content-Type": {"application/json"}, "Authorization": {"Bearer " + p.token}}
	a := httptest.NewRecorder()
	p.site.ServeHTTP(a, req)
	return a
}

func (p phone) sync(t *testing.T, events ...event.Event) *httptest.ResponseRecorder {
	t.Helper()
	req := exchange.Request{V: exchange.Version, Nonce: "n", Events: []json.RawMessage{}}
	for _, e := range events {
		req.Events = append(req.Events, json.RawMessage(e.Line()))
	}
	return p.post(t, "/api/v1/sync", req)
}

func outcomes(t *testing.T, a *httptest.ResponseRecorder) (stored, other int) {
	t.Helper()
	var reply exchange.Reply
	if err := json.Unmarshal(a.Body.Bytes(), &reply); err != nil || a.Code != http.StatusOK {
		t.Fatalf("sync: %d %s", a.Code, a.Body)
	}
	for _, v := range reply.Verdicts {
		if v.Outcome == store.Stored {
			stored++
		} else {
			other++
		}
	}
	return stored, other
}

func TestErrDiskFull(t *testing.T) {
	db := openYard(t, sqlite.Options{})
	p := joined(t, db)
	events := storetest.Notes(t, storetest.NewID[event.JobID](), storetest.NewID[event.DeviceID](), 400)
	if stored, _ := outcomes(t, p.sync(t, events[:10]...)); stored != 10 {
		t.Fatalf("%d stored, want 10", stored)
	}
	var pages int
	if err := db.Writer().QueryRow(`PRAGMA page_count`).Scan(&pages); err != nil {
		t.Fatal(err)
	}
	if _, err := db.Writer().Exec(`PRAGMA max_page_count = ` + itoa(pages+8)); err != nil {
		t.Fatal(err)
	}
	a := p.sync(t, events[10:]...)
	var f fault.Error
	if err := json.Unmarshal(a.Body.Bytes(), &f); err != nil || a.Code != http.StatusInsufficientStorage || f.Kind != fault.Full || f.Message == "" || f.Hint == "" {
		t.Fatalf("full: %d %s, want 507 and words", a.Code, a.Body)
	}
	var rows int
	if err := db.Readers().QueryRow(`SELECT count(*) FROM event`).Scan(&rows); err != nil || rows != 10 {
		t.Errorf("%d events after a full disk (%v), want the 10 from before", rows, err)
	}
	if q := queue(t, db, shop.Filter{}); len(q) != 1 || q[0].Notes != 10 {
		t.Errorf("the queue says %+v, want the 10 events from before", q)
	}
	if a := p.sync(t); a.Code != http.StatusOK {
		t.Errorf("reading from a full disk: %d %s", a.Code, a.Body)
	}
	if _, err := db.Writer().Exec(`PRAGMA max_page_count = 1000000`); err != nil {
		t.Fatal(err)
	}
	if stored, other := outcomes(t, p.sync(t, events[10:]...)); stored != 390 || other != 0 {
		t.Errorf("after room was made %d are stored and %d not, want all of 390", stored, other)
	}
}
