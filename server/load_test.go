package server_test

import (
	"bytes"
	"database/sql"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"path/filepath"
	"slices"
	"sync"
	"testing"
	"time"

	"strutcard/server"
	"strutcard/server/sqlite"
	"strutcard/sync/exchange"
	"strutcard/sync/store"
)

var (
	load   = flag.Bool("load", false, "measure the server under load")
	phones = flag.Int("phones", 1000, "how many reconnect at once, with -load")
	queued = flag.Int("jobs", 100_000, "how many jobs the queue has, with -load")
)

// TestMeasureReconnect lets phones that were away send 300 events each at one
// moment, each over a connection of its own on the loopback, and measures how long
// each waits for a reply. Who is told to come back does so as the app does. Every event must be acknowledged and be there afterwards.
func TestMeasureReconnect(t *testing.T) {
	if !*load {
		t.Skip("measures; run with -load")
	}
	dir := t.TempDir()
	y := open(t, func(cfg *server.Config) { cfg.DataDir, cfg.Burst = dir, 10**phones })
	desk := y.staff()
	senders := make([]*sender, *phones)
	for i := range senders {
		senders[i] = newSender(t, y.join(y.invite(desk), newDevice()))
	}
	start := make(chan struct{})
	var wg sync.WaitGroup
	for _, s := range senders {
		wg.Go(func() { <-start; s.send() })
	}
	began := time.Now()
	close(start)
	wg.Wait()
	took := time.Since(began)
	var waits []time.Duration
	failed := 0
	for _, s := range senders {
		if s.err != nil {
			failed++
			t.Errorf("a phone was not answered: %v", s.err)
		}
		waits = append(waits, s.waits...)
	}
	got, want := countStored(t, dir), 300*len(senders)
	if got != want {
		t.Errorf("%d events are there, want %d", got, want)
	}
	t.Logf("%d phones, %d not answered, %d events lost; %d replies, %s; all was in after %v", len(senders), failed, want-got, len(waits), spread(waits), took.Round(time.Second))
}

func countStored(t *testing.T, dir string) (n int) {
	t.Helper()
	db, err := sqlite.Open(filepath.Join(dir, "strutcard.db"), sqlite.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = db.Close() }()
	for pos := int64(0); ; {
		page, err := db.Shop("demo").After(t.Context(), store.Scope{}, pos, exchange.MaxEvents)
		if err != nil {
			t.Fatal(err)
		}
		if len(page) == 0 {
			return n
		}
		n, pos = n+len(page), page[len(page)-1].Pos
	}
}

// spread says how long the middle one, the slowest but one in a hundred, and the
// slowest waited.
func spread(waits []time.Duration) string {
	slices.Sort(waits)
	ms := func(d time.Duration) time.Duration { return d.Round(100 * time.Microsecond) }
	return fmt.Sprintf("p50 %v, p99 %v, longest %v", ms(waits[len(waits)/2]), ms(waits[len(waits)*99/100]), ms(waits[len(waits)-1]))
}

// TestMeasureQueuePage gets pages of the queue through the whole site.
func TestMeasureQueuePage(t *testing.T) {
	if !*load {
		t.Skip("measures; run with -load")
	}
	dir := t.TempDir()
	y := open(t, inFolder(dir))
	db, err := sql.Open("sqlite", "file:"+filepath.Join(dir, "strutcard.db"))
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = db.Close() }()
	if _, err := db.Exec(`WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < ?)
		INSERT INTO job (shop, id, sheet, title, vehicle, opened_at, heard_at, first_seq, up, not_final, stops, asks, notes, finished)
		SELECT 'demo', printf('job%06d', i), 'hash', 'A sheet', printf('car %d', i), i, i * 7919 % 100003, 1000000 + i, 0, i % 7, i % 3, i % 5, i % 9, i % 2 FROM n`, *queued); err != nil {
		t.Fatal(err)
	}
	if _, err := db.Exec(`INSERT INTO job_text (rowid, words) SELECT first_seq, vehicle || ' the top mount sits well' FROM job`); err != nil {
		t.Fatal(err)
	}
	desk := y.staff()
	for _, path := range []string{"/shop", "/shop?from=50000", "/shop?q=car+77"} {
		var waits []time.Duration
		for range 500 {
			start := time.Now()
			y.want(y.get(desk, path), http.StatusOK, "")
			waits = append(waits, time.Since(start))
		}
		t.Logf("%s of %d jobs: %s", path, *queued, spread(waits))
	}
}

// sender is a phone that comes back with its events.
type sender struct {
	url, token string
	body       []byte
	http       http.Client
	waits      []time.Duration // for each reply
	err        error
}

// newSender makes a job of 300 events.
func newSender(t *testing.T, p phone) *sender {
	t.Helper()
	body, err := json.Marshal(p.request(notes(t, p.device, 300)...))
	if err != nil {
		t.Fatal(err)
	}
	return &sender{url: at(p.y.srv) + "/api/v1/sync", token: p.token, body: body, http: http.Client{Transport: &http.Transport{}, Timeout: 5 * time.Minute}}
}

// send tries until it is taken in, with the pauses of the phone's own app.
func (s *sender) send() {
	for {
		start := time.Now()
		s.err = s.try()
		s.waits = append(s.waits, time.Since(start))
		if !errors.Is(s.err, errBusy) {
			break
		}
		time.Sleep(10*time.Second + rand.N(20*time.Second))
	}
	s.http.CloseIdleConnections()
}

var errBusy = errors.New("the server is busy")

func (s *sender) try() error {
	req, err := http.NewRequest("POST", s.url, bytes.NewReader(s.body))
	if err != nil {
		return err
	}
	req.Header = http.Header{"Content-Type": {"application/json"}, "Authorization": {"Bearer " + s.token}}
	res, err := s.http.Do(req)
	if err != nil {
		return err
	}
	defer func() { _ = res.Body.Close() }()
	text, err := io.ReadAll(res.Body)
	if err != nil {
		return err
	}
	if res.StatusCode == http.StatusServiceUnavailable {
		return errBusy
	}
	reply, err := decode[exchange.Reply](text)
	if err != nil || res.StatusCode != http.StatusOK {
		return fmt.Errorf("%s: %.200s (%v)", res.Status, text, err)
	}
	for _, v := range reply.Verdicts {
		if v.Outcome != store.Stored {
			return fmt.Errorf("event %s: %s", v.ID, v.Outcome)
		}
	}
	return nil
}
