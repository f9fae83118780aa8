package server_test

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"

	"strutcard/pwa"
	"strutcard/server"
	"strutcard/sync/event"
	"strutcard/sync/exchange"
	"strutcard/sync/fault"
	"strutcard/sync/store/storetest"
)

// patience is what the servers of these tests have: much less than a request takes
// that gets on slowly, much more than one of its steps on a busy machine.
const patience = 3 * time.Second

// atMost ends a connection that a broken server would hold for ever.
const atMost = 30 * time.Second

// bulky is an app with two files, of 1.2 and 8 MB.
func bulky(path string) (pwa.Asset, bool) {
	size := map[string]int{"/big": 1_200_000, "/huge": 8_000_000}[path]
	return pwa.Asset{Type: "application/octet-stream", Body: bytes.Repeat([]byte{'x'}, size)}, size > 0
}

// openPatient starts a server that tells how much of a file the system took in to
// send, once the request for it has ended.
func openPatient(t *testing.T, ended chan<- int) *yard {
	return open(t, func(cfg *server.Config) {
		cfg.Patience, cfg.Assets = patience, bulky
		cfg.Wrap = func(next http.Handler) http.Handler {
			return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
				c := &counted{ResponseWriter: w}
				next.ServeHTTP(c, r)
				if ended != nil && r.URL.Path == "/huge" {
					ended <- c.sent
				}
			})
		}
	})
}

type counted struct {
	http.ResponseWriter
	sent int
}

func (c *counted) Unwrap() http.ResponseWriter { return c.ResponseWriter }

func (c *counted) Write(p []byte) (int, error) {
	n, err := c.ResponseWriter.Write(p)
	c.sent += n
	return n, err
}

func dial(t *testing.T, y *yard) net.Conn {
	t.Helper()
	conn, err := net.Dial("tcp", y.srv.Addr())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = conn.Close() })
	if err := conn.SetDeadline(time.Now().Add(atMost)); err != nil {
		t.Fatal(err)
	}
	return conn
}

// head is a sync request up to its body.
func (p phone) head(size int) string {
	return fmt.Sprintf("POST /api/v1/sync HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nAuthorization: Bearer %s\r\nContent-Length: %d\r\n\r\n", p.token, size)
}

// pieces cuts a text.
func pieces(text string, size int) (out []string) {
	for ; len(text) > size; text = text[size:] {
		out = append(out, text[:size])
	}
	return append(out, text)
}

func TestSlowBodyIsTaken(t *testing.T) {
	t.Parallel()
	y := openPatient(t, nil)
	p := y.joined()
	body := `{"nonce":"n","device":"` + string(p.device) + `","events":[` + strings.Join(notes(t, p.device, 250), ",") + `]}`
	conn, start := dial(t, y), time.Now()
	if _, err := io.WriteString(conn, p.head(len(body))); err != nil {
		t.Fatal(err)
	}
	for _, piece := range pieces(body, len(body)/30) {
		if _, err := io.WriteString(conn, piece); err != nil {
			t.Fatalf("cut after %v: %v", time.Since(start), err)
		}
		time.Sleep(2 * patience / 30)
	}
	if took := time.Since(start); took < patience || len(body) < 4*16<<10 {
		t.Fatalf("a body of %d bytes in %v shows nothing", len(body), took)
	}
	res, err := http.ReadResponse(bufio.NewReader(conn), nil)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = res.Body.Close() }()
	if text, err := io.ReadAll(res.Body); err != nil || res.StatusCode != http.StatusOK || strings.Count(string(text), `"stored"`) != 250 {
		t.Errorf("%d %v: %.300s, want 250 events stored", res.StatusCode, err, text)
	}
}

func TestSlowDownloadIsServed(t *testing.T) {
	t.Parallel()
	y := openPatient(t, nil)
	p := y.joined()
	p.sync(longNotes(t, p.device)...)
	pull, err := json.Marshal(p.request())
	if err != nil {
		t.Fatal(err)
	}
	for name, request := range map[string]string{
		"a file of the app":            "GET /big HTTP/1.1\r\nHost: x\r\n\r\n",
		"a reply written in one piece": p.head(len(pull)) + string(pull),
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			conn, start := dial(t, y), time.Now()
			if err := conn.(*net.TCPConn).SetReadBuffer(32 << 10); err != nil {
				t.Fatal(err)
			}
			if _, err := io.WriteString(conn, request); err != nil {
				t.Fatal(err)
			}
			res, err := http.ReadResponse(bufio.NewReader(conn), nil)
			if err != nil {
				t.Fatal(err)
			}
			defer func() { _ = res.Body.Close() }()
			got := 0
			for piece := make([]byte, 16<<10); err == nil; time.Sleep(90 * time.Millisecond) {
				var n int
				n, err = res.Body.Read(piece)
				got += n
			}
			if took := time.Since(start); err != io.EOF || got < 1<<20 || took < patience {
				t.Errorf("%d bytes in %v (%v), want a megabyte and its end in more than %v", got, took, err, patience)
			}
		})
	}
}

// longNotes returns events of a megabyte that one request just carries.
func longNotes(t *testing.T, device event.DeviceID) (lines []string) {
	t.Helper()
	chain, size := event.Chain{Job: storetest.NewID[event.JobID](), Device: device}, 0
	for size < exchange.MaxBytes-8<<10 {
		e, err := chain.Seal(storetest.NewID[event.ID](), time.UnixMilli(1), &event.NoteAdded{Text: strings.Repeat("long ", 700)})
		if err != nil {
			t.Fatal(err)
		}
		chain, size, lines = chain.See(e), size+len(e.Line()), append(lines, e.Line())
	}
	return lines
}

// What sends nothing more, or next to nothing, is cut, with a word if it listens.
func TestBodyWithoutProgressIsCut(t *testing.T) {
	for name, every := range map[string]time.Duration{"nothing more": time.Hour, "a byte at a time": 50 * time.Millisecond} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			y := openPatient(t, nil)
			p, conn := y.joined(), dial(t, y)
			if _, err := io.WriteString(conn, p.head(100<<10)+`{"nonce":"`); err != nil {
				t.Fatal(err)
			}
			stop := make(chan struct{})
			defer close(stop)
			go func() {
				for {
					select {
					case <-stop:
						return
					case <-time.After(every):
						_, _ = io.WriteString(conn, "n") // until the server has had enough
					}
				}
			}()
			res, err := http.ReadResponse(bufio.NewReader(conn), nil)
			if err != nil {
				t.Fatalf("no answer: %v", err)
			}
			defer func() { _ = res.Body.Close() }()
			text, err := io.ReadAll(res.Body)
			if err != nil {
				t.Fatal(err)
			}
			y.want(answer{res.StatusCode, res.Header, string(text)}, http.StatusServiceUnavailable, fault.Busy)
		})
	}
}

// With much taken in at once, a slow reader too would show no progress for long.
func TestDownloadWithoutProgressIsCut(t *testing.T) {
	t.Parallel()
	ended := make(chan int, 1)
	y := openPatient(t, ended)
	conn := dial(t, y)
	if _, err := io.WriteString(conn, "GET /huge HTTP/1.1\r\nHost: x\r\n\r\n"); err != nil {
		t.Fatal(err)
	}
	select { // and nobody reads
	case sent := <-ended:
		if sent > 1<<20 {
			t.Errorf("the system took in %d bytes, want at most a megabyte", sent)
		}
	case <-time.After(atMost):
		t.Error("a reply that nobody reads is still being sent")
	}
}

// Takes the 10 s that the server gives a header.
func TestHeaderWithoutEndIsCut(t *testing.T) {
	t.Parallel()
	y := openPatient(t, nil)
	conn := dial(t, y)
	if _, err := io.WriteString(conn, "GET /health HTTP/1.1\r\nHost: x\r\nX-Slow: "); err != nil {
		t.Fatal(err)
	}
	if text, err := io.ReadAll(conn); err != nil {
		t.Errorf("still open after %v: %v, %q", atMost, err, text)
	}
}
