package server_test

import (
	"context"
	"net/http"
	"strings"
	"testing"
	"time"

	"strutcard/server"
	"strutcard/sync/exchange"
	"strutcard/sync/store"
)

func TestErrConfig(t *testing.T) {
	if _, err := server.New(server.Config{DataDir: t.TempDir(), TLSCert: "cert.pem"}); err == nil {
		t.Error("a certificate without its key was taken")
	}
	if _, err := server.New(server.Config{DataDir: "/dev/null/x"}); err == nil {
		t.Error("a folder that cannot be was taken")
	}
}

// The end of the context stands for SIGTERM, which cmd/strutcard turns into it.
func TestStopLetsRequestsFinish(t *testing.T) {
	inside := make(chan struct{}, 1)
	slow := false
	dir := t.TempDir()
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	srv, err := server.New(server.Config{Addr: "127.0.0.1:0", DataDir: dir, Demo: true, Wrap: func(next http.Handler) http.Handler {
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if slow {
				inside <- struct{}{}
				time.Sleep(300 * time.Millisecond)
			}
			next.ServeHTTP(w, r)
		})
	}})
	if err != nil {
		t.Fatal(err)
	}
	ready, ended := make(chan struct{}), make(chan error, 1)
	go func() { ended <- srv.RunAnd(ctx, func() { close(ready) }) }()
	<-ready
	y := &yard{t: t, srv: srv, clock: newClock(), log: &logBuffer{}}
	p := y.joined()
	lines := notes(t, p.device, 1)
	slow = true
	got := make(chan []store.Outcome, 1)
	go func() {
		defer close(got) // also when the request is cut off
		got <- outcomes(p.sync(lines...))
	}()
	<-inside
	start := time.Now()
	cancel()
	if o := <-got; !same(o, store.Stored) {
		t.Errorf("the request that ran got %v, want stored", o)
	}
	if err := <-ended; err != nil {
		t.Errorf("run: %v", err)
	}
	if took := time.Since(start); took > 6*time.Second {
		t.Errorf("stopped after %v, want at most 6 s", took)
	}
	again := open(t, func(cfg *server.Config) { cfg.DataDir = dir })
	back := again.join(fragment(again.srv.InvitationURL()), newDevice())
	if o := outcomes(phone{again, p.device, p.token}.syncReal(t, lines)); !same(o, store.Duplicate) {
		t.Errorf("after the restart the event is %v, want duplicate", o)
	}
	back.sync()
}

// A request that never ends must not keep the server from stopping. Takes the 5 s
// of the server's patience.
func TestStopCutsWhatHangs(t *testing.T) {
	hang := make(chan struct{})
	defer close(hang)
	entered := make(chan struct{}, 1)
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	srv, err := server.New(server.Config{Addr: "127.0.0.1:0", DataDir: t.TempDir(), Wrap: func(http.Handler) http.Handler {
		return http.HandlerFunc(func(http.ResponseWriter, *http.Request) { entered <- struct{}{}; <-hang })
	}})
	if err != nil {
		t.Fatal(err)
	}
	ready, ended := make(chan struct{}), make(chan error, 1)
	go func() { ended <- srv.RunAnd(ctx, func() { close(ready) }) }()
	<-ready
	go func() {
		if res, err := http.Get(srv.URL() + "/health"); err == nil {
			_ = res.Body.Close()
		}
	}()
	<-entered
	start := time.Now()
	cancel()
	if err := <-ended; err != nil {
		t.Errorf("run: %v", err)
	}
	if took := time.Since(start); took > 6*time.Second {
		t.Errorf("stopped after %v, want at most 6 s", took)
	}
}

// syncReal syncs with a token that was made under the real clock.
func (p phone) syncReal(t *testing.T, lines []string) exchange.Reply {
	t.Helper()
	p.y.clock.pass(time.Since(p.y.clock.now()))
	return p.sync(lines...)
}

func TestErrPortTaken(t *testing.T) {
	y := open(t, nil)
	host := strings.TrimPrefix(at(y.srv), "http://localhost")
	other, err := server.New(server.Config{Addr: "127.0.0.1" + host, DataDir: t.TempDir()})
	if err != nil {
		t.Fatal(err)
	}
	if err := other.Run(context.Background()); err == nil {
		t.Error("two servers share a port")
	}
}
