package server_test

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"log/slog"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"regexp"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"strutcard/server"
	"strutcard/sync/event"
	"strutcard/sync/exchange"
	"strutcard/sync/fault"
	"strutcard/sync/sheet"
	"strutcard/sync/store"
	"strutcard/sync/store/storetest"
)

// clock is a server's time, moved by hand.
type clock struct{ ms atomic.Int64 }

func newClock() *clock {
	c := &clock{}
	c.ms.Store(time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC).UnixMilli())
	return c
}

func (c *clock) now() time.Time             { return time.UnixMilli(c.ms.Load()) }
func (c *clock) pass(d time.Duration)       { c.ms.Add(d.Milliseconds()) }
func days(n int) time.Duration              { return time.Duration(n) * 24 * time.Hour }
func at(srv *server.Server) string          { return srv.URL() }
func fragment(link string) string           { _, f, _ := strings.Cut(link, "#"); return f }
func newDevice() event.DeviceID             { return storetest.NewID[event.DeviceID]() }
func decode[T any](b []byte) (v T, _ error) { return v, json.Unmarshal(b, &v) }

// logBuffer keeps what the server logs.
type logBuffer struct {
	mu  sync.Mutex
	buf bytes.Buffer
}

func (b *logBuffer) Write(p []byte) (int, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.buf.Write(p)
}

func (b *logBuffer) String() string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.buf.String()
}

// yard is a running demo server with the means to look at it.
type yard struct {
	t     *testing.T
	srv   *server.Server
	clock *clock
	log   *logBuffer
}

// open starts a demo server on a free port.
func open(t *testing.T, change func(*server.Config)) *yard {
	t.Helper()
	y := &yard{t: t, clock: newClock(), log: &logBuffer{}}
	cfg := server.Config{Addr: "127.0.0.1:0", DataDir: t.TempDir(), Demo: true, Now: y.clock.now, Burst: 1000,
		Log: slog.New(slog.NewTextHandler(y.log, nil))}
	if change != nil {
		change(&cfg)
	}
	srv, err := server.New(cfg)
	if err != nil {
		t.Fatalf("new: %v", err)
	}
	if err := srv.Start(); err != nil {
		t.Fatalf("start: %v", err)
	}
	t.Cleanup(func() {
		if err := srv.Close(); err != nil {
			t.Errorf("close: %v", err)
		}
	})
	y.srv = srv
	return y
}

// in is the same server for a subtest.
func (y *yard) in(t *testing.T) *yard {
	sub := *y
	sub.t = t
	return &sub
}

// browser returns a client with its own cookies that does not follow redirects.
func browser(t *testing.T) *http.Client {
	t.Helper()
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	return &http.Client{Jar: jar, Timeout: 20 * time.Second, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
}

// answer is a reply as read.
type answer struct {
	status int
	header http.Header
	body   string
}

func (y *yard) do(c *http.Client, method, path string, header http.Header, body io.Reader) answer {
	y.t.Helper()
	req, err := http.NewRequestWithContext(context.Background(), method, at(y.srv)+path, body)
	if err != nil {
		y.t.Fatal(err)
	}
	for k, v := range header {
		req.Header[k] = v
	}
	res, err := c.Do(req)
	if err != nil {
		y.t.Fatalf("%s %s: %v", method, path, err)
	}
	defer func() { _ = res.Body.Close() }()
	text, err := io.ReadAll(res.Body)
	if err != nil {
		y.t.Fatalf("%s %s: %v", method, path, err)
	}
	return answer{res.StatusCode, res.Header, string(text)}
}

func (y *yard) get(c *http.Client, path string) answer {
	y.t.Helper()
	return y.do(c, "GET", path, nil, nil)
}

func (y *yard) form(c *http.Client, path string, pairs ...string) answer {
	y.t.Helper()
	values := url.Values{}
	for i := 0; i+1 < len(pairs); i += 2 {
		values.Set(pairs[i], pairs[i+1])
	}
	return y.do(c, "POST", path, http.Header{"Content-Type": {"application/x-www-form-urlencoded"}}, strings.NewReader(values.Encode()))
}

// call sends JSON the way a phone does.
func (y *yard) call(method, path, token string, body any) answer {
	y.t.Helper()
	text, err := json.Marshal(body)
	if err != nil {
		y.t.Fatal(err)
	}
	return y.raw(method, path, token, text)
}

func (y *yard) raw(method, path, token string, body []byte) answer {
	y.t.Helper()
	header := http.Header{"Content-Type": {"application/json"}}
	if token != "" {
		header.Set("Authorization", "Bearer "+token)
	}
	return y.do(browser(y.t), method, path, header, bytes.NewReader(body))
}

// want fails unless the reply has this status and, below the API, this kind.
func (y *yard) want(a answer, status int, kind fault.Kind) {
	y.t.Helper()
	if a.status != status {
		y.t.Fatalf("status %d, want %d: %s", a.status, status, a.body)
	}
	if kind == "" {
		return
	}
	f, err := decode[fault.Error]([]byte(a.body))
	if err != nil || f.Kind != kind || f.Message == "" || f.Hint == "" {
		y.t.Errorf("fault %+v (%v), want kind %s with words and a hint", f, err, kind)
	}
	if got := a.header.Get("Content-Type"); !strings.HasPrefix(got, "application/json") {
		y.t.Errorf("content type %q, want JSON", got)
	}
}

// staff returns a browser that is signed in.
func (y *yard) staff() *http.Client {
	y.t.Helper()
	c := browser(y.t)
	d := y.srv.Demo()
	y.want(y.form(c, "/sign-in", "name", d.Name, "password", d.Password), http.StatusSeeOther, "")
	return c
}

var codeField = regexp.MustCompile(`<input class="code" readonly value="([^"]+)"`)

// shown returns the link that a page shows once.
func (y *yard) shown(a answer) string {
	y.t.Helper()
	m := codeField.FindStringSubmatch(a.body)
	if a.status != http.StatusOK || m == nil {
		y.t.Fatalf("no link on the page: %d %s", a.status, a.body)
	}
	return m[1]
}

func (y *yard) invite(c *http.Client) string {
	y.t.Helper()
	return fragment(y.shown(y.form(c, "/shop/phones")))
}

// phone is a device that joined.
type phone struct {
	y      *yard
	device event.DeviceID
	token  string
}

func (y *yard) tryJoin(invitation string, device event.DeviceID) answer {
	y.t.Helper()
	return y.call("POST", "/api/v1/join", "", map[string]string{"invitation": invitation, "device": string(device), "name": "Ann's phone"})
}

func (y *yard) join(invitation string, device event.DeviceID) phone {
	y.t.Helper()
	a := y.tryJoin(invitation, device)
	y.want(a, http.StatusOK, "")
	reply, err := decode[struct {
		Token string `json:"token"`
		Shop  string `json:"shop_name"`
	}]([]byte(a.body))
	if err != nil || reply.Token == "" || reply.Shop != y.srv.Demo().Shop {
		y.t.Fatalf("join: %v, %s", err, a.body)
	}
	return phone{y, device, reply.Token}
}

// joined returns a phone that used the demo's own invitation.
func (y *yard) joined() phone {
	y.t.Helper()
	return y.join(fragment(y.srv.InvitationURL()), newDevice())
}

func (p phone) request(lines ...string) exchange.Request {
	req := exchange.Request{V: exchange.Version, Nonce: "n", Events: []json.RawMessage{}}
	for _, l := range lines {
		req.Events = append(req.Events, json.RawMessage(l))
	}
	return req
}

func (p phone) sync(lines ...string) exchange.Reply {
	p.y.t.Helper()
	a := p.y.call("POST", "/api/v1/sync", p.token, p.request(lines...))
	p.y.want(a, http.StatusOK, "")
	reply, err := decode[exchange.Reply]([]byte(a.body))
	if err != nil {
		p.y.t.Fatalf("reply: %v, %s", err, a.body)
	}
	return reply
}

// open syncs a new job that follows sh, with more events after it.
func (p phone) open(sh *sheet.Sheet, vehicle string, more ...event.Payload) event.JobID {
	p.y.t.Helper()
	payloads := append([]event.Payload{&event.JobOpened{Sheet: sh.Hash(), Title: sh.Title, Vehicle: vehicle}}, more...)
	chain := event.Chain{Job: storetest.NewID[event.JobID](), Device: p.device}
	var lines []string
	for _, payload := range payloads {
		e, err := chain.Seal(storetest.NewID[event.ID](), p.y.clock.now(), payload)
		if err != nil {
			p.y.t.Fatalf("seal %s: %v", payload.Kind(), err)
		}
		chain = chain.See(e)
		lines = append(lines, e.Line())
	}
	for i, v := range p.sync(lines...).Verdicts {
		if v.Outcome != store.Stored {
			p.y.t.Fatalf("%s: %s %v", payloads[i].Kind(), v.Outcome, v.Reason)
		}
	}
	return chain.Job
}

func notes(t *testing.T, device event.DeviceID, n int) []string {
	t.Helper()
	var lines []string
	for _, e := range storetest.Notes(t, storetest.NewID[event.JobID](), device, n) {
		lines = append(lines, e.Line())
	}
	return lines
}
