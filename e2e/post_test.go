package e2e

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"
	"testing/iotest"

	"strutcard/server"
	"strutcard/sync/fault"
)

// post is the way that photos take to the shop. It is our own server that loses
// them.
type post struct {
	mu     sync.Mutex
	shut   bool           // no photo passes, in either direction
	cuts   int            // so many pieces more are cut in the middle
	hold   chan struct{}  // closed when a piece is held; that piece never arrives
	refuse *fault.Error   // the answer to every piece
	spoil  bool           // what the server sends comes out as something else
	pieces map[string]int // pieces that were sent, by hash
	bytes  map[string]int // and how much of them arrived
	asks   int            // requests about photos
}

const cutAfter = 20_000 // bytes of a piece that arrive before the cut

func (m *post) wrap(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		hash, about := strings.CutPrefix(r.URL.Path, "/api/v1/photos/")
		if !about {
			next.ServeHTTP(w, r)
			return
		}
		m.carry(next, w, r, hash)
	})
}

func (m *post) carry(next http.Handler, w http.ResponseWriter, r *http.Request, hash string) {
	m.mu.Lock()
	m.asks++
	shut, refuse, spoil := m.shut, m.refuse, m.spoil
	var cut bool
	var hold chan struct{}
	if r.Method == http.MethodPatch && !shut {
		m.pieces[hash]++
		if cut = m.cuts > 0 && m.pieces[hash]%2 == 0; cut {
			m.cuts--
		} else if refuse == nil {
			hold, m.hold = m.hold, nil
		}
	}
	m.mu.Unlock()
	switch {
	case shut:
		w.Header().Set("Content-Type", "application/json")
		w.WriteHeader(http.StatusServiceUnavailable)
		_, _ = w.Write([]byte(`{"kind":"busy","message":"The way is shut by the test.","hint":"Wait."}`))
	case refuse != nil && r.Method == http.MethodPatch:
		w.Header().Set("Content-Type", "application/json")
		w.WriteHeader(http.StatusRequestEntityTooLarge)
		_ = json.NewEncoder(w).Encode(refuse)
	case spoil && r.Method == http.MethodGet:
		sent := httptest.NewRecorder()
		next.ServeHTTP(sent, r)
		body := sent.Body.Bytes()
		body[len(body)/2] ^= 1
		for name, value := range sent.Header() {
			w.Header()[name] = value
		}
		w.WriteHeader(sent.Code)
		_, _ = w.Write(body)
	case hold != nil:
		close(hold)
		_, _ = io.Copy(io.Discard, r.Body)
		<-r.Context().Done() // until the phone is gone
	case cut:
		arrived, _ := io.ReadAll(io.LimitReader(r.Body, cutAfter))
		m.count(hash, len(arrived))
		part := r.Clone(context.WithoutCancel(r.Context()))
		part.Body = io.NopCloser(io.MultiReader(bytes.NewReader(arrived), iotest.ErrReader(io.ErrUnexpectedEOF)))
		next.ServeHTTP(httptest.NewRecorder(), part)
		if conn, _, err := http.NewResponseController(w).Hijack(); err == nil {
			_ = conn.Close()
		}
	default:
		if r.Method == http.MethodPatch {
			m.count(hash, int(r.ContentLength))
		}
		next.ServeHTTP(w, r)
	}
}

func (m *post) count(hash string, n int) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.bytes[hash] += n
}

func (m *post) set(change func()) {
	m.mu.Lock()
	defer m.mu.Unlock()
	change()
}

// newPostedShop is a shop that photos reach by a way of their own.
func newPostedShop(t *testing.T) (*shopServer, *post) {
	t.Helper()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	s := &shopServer{t: t, dir: t.TempDir(), addr: listener.Addr().String()}
	if err := listener.Close(); err != nil {
		t.Fatal(err)
	}
	m := &post{pieces: map[string]int{}, bytes: map[string]int{}}
	s.startBehind(m, true)
	t.Cleanup(s.stop)
	return s, m
}

func (s *shopServer) startBehind(m *post, demo bool) {
	s.t.Helper()
	srv, err := server.New(server.Config{Addr: s.addr, DataDir: s.dir, Demo: demo, Wrap: m.wrap})
	if err != nil {
		s.t.Fatalf("make server: %v", err)
	}
	if err := srv.Start(); err != nil {
		s.t.Fatalf("start server: %v", err)
	}
	s.srv, s.url = srv, srv.URL()
	if demo {
		s.demo, s.invite = srv.Demo(), srv.InvitationURL()
	}
}
