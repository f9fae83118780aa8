package main

import (
	"bufio"
	"database/sql"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"strutcard/sync/event"
	"strutcard/sync/exchange"
	"strutcard/sync/store/storetest"
)

var rounds = flag.Int("rounds", 5, "how often the program is killed while it takes in events")

// batch is what one request carried.
type batch struct {
	events   []event.Event
	answered bool
}

// load lets several senders bring batches until the program no longer answers,
// and returns all of them. Each sender calls begun when its first batch was
// acknowledged.
func load(t *testing.T, p *phone, url string, begun func()) []batch {
	t.Helper()
	var mu sync.Mutex
	var all []batch
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			chain := event.Chain{Job: storetest.NewID[event.JobID](), Device: storetest.NewID[event.DeviceID]()}
			for first := true; ; first = false {
				b := batch{}
				for range 1 + rand.IntN(40) {
					e, err := chain.Seal(storetest.NewID[event.ID](), time.Now(), &event.NoteAdded{Text: "a note"})
					if err != nil {
						t.Errorf("seal: %v", err)
						return
					}
					chain = chain.See(e)
					b.events = append(b.events, e)
				}
				err := p.send(url, b.events)
				b.answered = err == nil
				mu.Lock()
				all = append(all, b)
				mu.Unlock()
				if err != nil {
					return
				}
				if first {
					begun()
				}
			}
		})
	}
	wg.Wait()
	return all
}

// tally is what became of the batches of one or more rounds.
type tally struct{ acknowledged, lost, halves, unanswered, kept int }

func (c *tally) count(batches []batch, got map[event.ID]string) {
	for _, b := range batches {
		there := 0
		for _, e := range b.events {
			if got[e.ID] == e.Line() {
				there++
			}
		}
		if there != 0 && there != len(b.events) {
			c.halves++
		}
		if b.answered {
			c.acknowledged += len(b.events)
			c.lost += len(b.events) - there
			continue
		}
		c.unanswered++
		if there == len(b.events) {
			c.kept++
		}
	}
}

func (c *tally) check(t *testing.T) {
	t.Helper()
	t.Logf("%d events acknowledged, %d of them lost; %d batches without an answer, %d of them stored, %d in halves",
		c.acknowledged, c.lost, c.unanswered, c.kept, c.halves)
	if c.lost > 0 || c.halves > 0 || c.acknowledged == 0 {
		t.Errorf("want none lost of more than none, and no half batch")
	}
}

// TestKilledAtAnyMoment kills the program with SIGKILL while it takes in events.
// It shows that commits are whole and recovered, not what a power cut does.
func TestKilledAtAnyMoment(t *testing.T) {
	dir := t.TempDir()
	p := mustPrepare(t, dir)
	var all tally
	var at place
	var sent []batch
	for range *rounds {
		running := mustServe(t, dir)
		got, next, err := p.pull(running.url, at)
		if err != nil {
			t.Fatal(err)
		}
		all.count(sent, got)
		at = next
		var once sync.Once
		sent = load(t, p, running.url, func() {
			once.Do(func() { time.AfterFunc(rand.N(400*time.Millisecond), func() { _ = running.cmd.Process.Kill() }) })
		})
		_ = running.cmd.Wait() // killed
	}
	got, _, err := p.pull(mustServe(t, dir).url, at)
	if err != nil {
		t.Fatal(err)
	}
	all.count(sent, got)
	all.check(t)
}

func TestTermUnderLoad(t *testing.T) {
	dir := t.TempDir()
	p := mustPrepare(t, dir)
	running := mustServe(t, dir)
	stopped := make(chan error, 1)
	var once sync.Once
	sent := load(t, p, running.url, func() { once.Do(func() { go func() { stopped <- running.stop(syscall.SIGTERM) }() }) })
	if err := <-stopped; err != nil {
		t.Errorf("after SIGTERM: %v", err)
	}
	closedWell(t, dir)
	got, _, err := p.pull(mustServe(t, dir).url, place{})
	if err != nil {
		t.Fatal(err)
	}
	var all tally
	all.count(sent, got)
	all.check(t)
}

// closedWell fails when the database was left open: SQLite takes its log away when
// the last connection is closed.
func closedWell(t *testing.T, dir string) {
	t.Helper()
	if info, err := os.Stat(filepath.Join(dir, "strutcard.db-wal")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("the database was not closed: %v, %v", info, err)
	}
}

// inside sends a sync request and returns when its handler has begun to read.
func (p *phone) inside(t *testing.T, url string, events []event.Event) (conn net.Conn, body string) {
	t.Helper()
	var lines []string
	for _, e := range events {
		lines = append(lines, e.Line())
	}
	body = fmt.Sprintf(`{"v":%d,"nonce":"n","events":[%s]}`, exchange.Version, strings.Join(lines, ","))
	conn, err := net.Dial("tcp", strings.TrimPrefix(url, "http://"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = conn.Close() })
	if err := conn.SetDeadline(time.Now().Add(time.Minute)); err != nil {
		t.Fatal(err)
	}
	if _, err := fmt.Fprintf(conn, "POST /api/v1/sync HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nAuthorization: Bearer %s\r\n"+
		"Expect: 100-continue\r\nContent-Length: %d\r\n\r\n", p.token, len(body)); err != nil {
		t.Fatal(err)
	}
	const goOn = "HTTP/1.1 100 Continue\r\n\r\n"
	said := make([]byte, len(goOn))
	if _, err := io.ReadFull(conn, said); err != nil || string(said) != goOn {
		t.Fatalf("the server said %q, %v", said, err)
	}
	return conn, body
}

// gone waits until the program listens no more.
func (p *program) gone(t *testing.T) {
	t.Helper()
	for end := time.Now().Add(stopBound); ; time.Sleep(10 * time.Millisecond) {
		conn, err := net.Dial("tcp", strings.TrimPrefix(p.url, "http://"))
		if err != nil {
			return
		}
		_ = conn.Close()
		if time.Now().After(end) {
			t.Fatal("it still listens")
		}
	}
}

// The program is told to stop while a commit waits for the disk: the reply must
// arrive, and what it says must be true.
func TestTermWhileACommitWaits(t *testing.T) {
	dir := t.TempDir()
	p := mustPrepare(t, dir)
	running := mustServe(t, dir)
	other, err := sql.Open("sqlite", "file:"+filepath.Join(dir, "strutcard.db")+"?_txlock=immediate")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = other.Close() }()
	events := storetest.Notes(t, storetest.NewID[event.JobID](), storetest.NewID[event.DeviceID](), 3)
	conn, body := p.inside(t, running.url, events)
	lock, err := other.Begin()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := io.WriteString(conn, body); err != nil {
		t.Fatal(err)
	}
	stopped := make(chan error, 1)
	go func() { stopped <- running.stop(syscall.SIGTERM) }()
	running.gone(t)
	if err := errors.Join(lock.Rollback(), other.Close()); err != nil {
		t.Fatal(err)
	}
	res, err := http.ReadResponse(bufio.NewReader(conn), nil)
	if err != nil {
		t.Fatalf("no reply: %v", err)
	}
	defer func() { _ = res.Body.Close() }()
	if text, err := io.ReadAll(res.Body); err != nil || strings.Count(string(text), `"stored"`) != len(events) {
		t.Errorf("%d, %v: %s, want %d events stored", res.StatusCode, err, text, len(events))
	}
	if err := <-stopped; err != nil {
		t.Errorf("after SIGTERM: %v", err)
	}
	closedWell(t, dir)
	got, _, err := p.pull(mustServe(t, dir).url, place{})
	if err != nil || len(got) != len(events) {
		t.Errorf("%d events are there (%v), want %d", len(got), err, len(events))
	}
}

// Whoever is in the middle of sending, or only holds a connection, must not keep
// the program from stopping. Takes its 5 s.
func TestTermDuringUploadAndIdleConnections(t *testing.T) {
	dir := t.TempDir()
	p := mustPrepare(t, dir)
	running := mustServe(t, dir)
	events := storetest.Notes(t, storetest.NewID[event.JobID](), storetest.NewID[event.DeviceID](), 400)
	conn, body := p.inside(t, running.url, events)
	if _, err := io.WriteString(conn, body[:len(body)/2]); err != nil { // and the rest never comes
		t.Fatal(err)
	}
	silent, err := net.Dial("tcp", strings.TrimPrefix(running.url, "http://"))
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = silent.Close() }()
	res, err := p.http.Get(running.url + "/health") // and the connection is kept
	if err != nil {
		t.Fatal(err)
	}
	if err := res.Body.Close(); err != nil {
		t.Fatal(err)
	}
	if err := running.stop(syscall.SIGTERM); err != nil {
		t.Errorf("after SIGTERM: %v", err)
	}
	closedWell(t, dir)
	again := mustServe(t, dir)
	if got, _, err := p.pull(again.url, place{}); err != nil || len(got) != 0 {
		t.Errorf("%d events of half a request were stored (%v), want none", len(got), err)
	}
	if err := p.send(again.url, events); err != nil {
		t.Errorf("the same batch again: %v", err)
	}
}
