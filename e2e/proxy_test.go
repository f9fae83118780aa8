package e2e

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"strings"
	"sync"
	"testing"
	"time"

	"golang.org/x/time/rate"
)

// proxy is the network between a phone and the shop. It takes one request a
// connection, and what it does with it can be changed while it runs.
type proxy struct {
	t      *testing.T
	addr   string // where the phone finds it
	server string // where the shop listens

	mu       sync.Mutex
	listener net.Listener // nil while nobody listens
	now      condition
	method   string // of the requests that meet it; "" for every request
	path     string // likewise; one that ends in a slash stands for all below it
	met      int
	done     int // of those, requests that are over
	conns    map[net.Conn]context.CancelFunc
}

// condition is one way in which a network treats a request.
type condition struct {
	name  string
	do    func(*wire)
	away  bool   // nobody listens
	whole bool   // everything gets through in the end
	holds bool   // nothing comes until the connection is cut
	says  string // what the person is told to do
}

func newProxy(t *testing.T, server string) *proxy {
	t.Helper()
	p := &proxy{t: t, addr: "127.0.0.1:0", server: server, now: fine, conns: map[net.Conn]context.CancelFunc{}}
	p.listen()
	t.Cleanup(func() { p.meet(away, "", ""); p.cut() })
	return p
}

// url is the address as the phone knows it. Browsers trust that name without TLS.
func (p *proxy) url() string {
	_, port, _ := net.SplitHostPort(p.addr)
	return "http://" + net.JoinHostPort("localhost", port)
}

// meet lets requests of this method and path meet a condition; all others pass.
func (p *proxy) meet(f condition, method, path string) {
	p.mu.Lock()
	p.now, p.method, p.path, p.met, p.done = f, method, path, 0, 0
	listener := p.listener
	if f.away {
		p.listener = nil
		p.now.do = away.do
	}
	p.mu.Unlock()
	switch {
	case f.away && listener != nil:
		_ = listener.Close()
	case !f.away && listener == nil:
		p.listen()
	}
}

// pass makes the network fine, and cuts what still hangs.
func (p *proxy) pass() {
	p.meet(fine, "", "")
	p.cut()
}

// cut breaks every connection that is open.
func (p *proxy) cut() {
	p.mu.Lock()
	defer p.mu.Unlock()
	for conn, cancel := range p.conns {
		cancel()
		reset(conn)
	}
}

// hits is how many requests have met the condition, held how many are still in it.
func (p *proxy) hits() int {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.met
}

func (p *proxy) held() int {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.met - p.done
}

func (p *proxy) listen() {
	p.t.Helper()
	listener, err := net.Listen("tcp", p.addr)
	if err != nil {
		p.t.Fatalf("listen between phone and shop: %v", err)
	}
	p.mu.Lock()
	p.listener, p.addr = listener, listener.Addr().String()
	p.mu.Unlock()
	go func() {
		for {
			conn, err := listener.Accept()
			if err != nil {
				return // closed: nobody listens any more
			}
			go p.serve(conn)
		}
	}()
}

func (p *proxy) serve(conn net.Conn) {
	ctx, cancel := context.WithCancel(context.Background())
	p.mu.Lock()
	p.conns[conn] = cancel
	p.mu.Unlock()
	defer func() {
		p.mu.Lock()
		delete(p.conns, conn)
		p.mu.Unlock()
		cancel()
		_ = conn.Close()
	}()
	in := bufio.NewReader(conn)
	req, err := http.ReadRequest(in)
	if err != nil {
		return // the browser opens connections that it never uses
	}
	body, err := io.ReadAll(req.Body)
	if err != nil {
		return
	}
	go func() { _, _ = io.Copy(io.Discard, in); cancel() }() // the phone has given up
	now, meets := p.choose(req)
	now.do(&wire{p: p, ctx: ctx, conn: conn, req: req, body: body})
	if meets {
		p.mu.Lock()
		p.done++
		p.mu.Unlock()
	}
}

// choose tells what a request meets, and counts those that the condition is for.
func (p *proxy) choose(req *http.Request) (now condition, meets bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	below := strings.HasSuffix(p.path, "/") && strings.HasPrefix(req.URL.Path, p.path)
	if p.method != "" && (p.method != req.Method || p.path != req.URL.Path && !below) {
		return fine, false
	}
	p.met++
	return p.now, true
}

// wire is one request, and the connection that waits for its reply. Its context
// ends when the phone has gone, or the connection was cut.
type wire struct {
	p    *proxy
	ctx  context.Context
	conn net.Conn
	req  *http.Request
	body []byte
}

// reply is an answer as it stands on the wire. length is what it says of itself.
type reply struct {
	status string
	header http.Header
	length int // -1 says nothing, as a reply without a body
	body   []byte
}

// request is the request as it stands on the wire.
func (w *wire) request() []byte {
	out := w.req.Clone(w.ctx)
	out.Close, out.Body, out.ContentLength = true, io.NopCloser(bytes.NewReader(w.body)), int64(len(w.body))
	var b bytes.Buffer
	_ = out.Write(&b) // to memory
	return b.Bytes()
}

// fetch has the server answer. ok is false when it gave none.
func (w *wire) fetch() (r reply, ok bool) {
	return w.fetchBy(w.request(), rate.NewLimiter(rate.Inf, 0))
}

func (w *wire) fetchBy(request []byte, limit *rate.Limiter) (r reply, ok bool) {
	up, err := net.Dial("tcp", w.p.server)
	if err != nil {
		return reply{}, false
	}
	defer reset(up)
	defer context.AfterFunc(w.ctx, func() { reset(up) })()
	if !trickle(w.ctx, up, request, limit) {
		return reply{}, false
	}
	got, err := http.ReadResponse(bufio.NewReader(up), w.req)
	if err != nil {
		return reply{}, false
	}
	body, err := io.ReadAll(got.Body)
	if err != nil {
		return reply{}, false
	}
	r = reply{status: got.Status, header: got.Header, length: len(body), body: body}
	if w.req.Method == http.MethodHead || got.StatusCode == http.StatusNoContent || got.StatusCode == http.StatusNotModified {
		r.length = -1
	}
	return r, true
}

// answer is the server's own answer, changed on its way.
func (w *wire) answer(change func(*reply)) {
	r, ok := w.fetch()
	if !ok {
		reset(w.conn)
		return
	}
	change(&r)
	_, _ = w.conn.Write(append(r.head(), r.body...)) // the phone may have gone
}

func (r reply) head() []byte {
	header := r.header.Clone()
	header.Set("Connection", "close")
	header.Del("Content-Length")
	if r.length >= 0 {
		header.Set("Content-Length", fmt.Sprint(r.length))
	}
	var b bytes.Buffer
	fmt.Fprintf(&b, "HTTP/1.1 %s\r\n", r.status)
	_ = header.Write(&b) // to memory
	b.WriteString("\r\n")
	return b.Bytes()
}

// say answers in the server's place.
func (w *wire) say(status, mediaType, body string) {
	r := reply{status: status, header: http.Header{"Content-Type": {mediaType}}, length: len(body), body: []byte(body)}
	_, _ = w.conn.Write(append(r.head(), r.body...))
}

// trickle writes no faster than the limit, and reports whether all went out.
func trickle(ctx context.Context, to net.Conn, data []byte, limit *rate.Limiter) bool {
	for len(data) > 0 {
		n := len(data)
		if limit.Limit() != rate.Inf {
			n = min(n, limit.Burst())
		}
		if limit.WaitN(ctx, n) != nil {
			return false
		}
		if _, err := to.Write(data[:n]); err != nil {
			return false
		}
		data = data[n:]
	}
	return true
}

// reset ends a connection without a goodbye.
func reset(conn net.Conn) {
	if tcp, ok := conn.(*net.TCPConn); ok {
		_ = tcp.SetLinger(0)
	}
	_ = conn.Close()
}

// fine is a network that carries everything.
var fine = condition{name: "Fine", whole: true, do: func(w *wire) { w.answer(func(*reply) {}) }}

// away is a network in which nobody listens; who was just let in is thrown out.
var away = condition{name: "Refuse", says: waitForIt, away: true, do: func(w *wire) { reset(w.conn) }}

// slow is a link of 2 kB/s each way, shared by all that go over it.
func slow() condition {
	const perSecond, piece = 2000, 200
	up, down := rate.NewLimiter(perSecond, piece), rate.NewLimiter(perSecond, piece)
	return condition{name: "Slow", whole: true, do: func(w *wire) {
		r, ok := w.fetchBy(w.request(), up)
		if !ok || !trickle(w.ctx, w.conn, append(r.head(), r.body...), down) {
			reset(w.conn)
		}
	}}
}

// What the person is told, by what came back.
const (
	waitForIt = "It syncs by itself when there is a signal."
	signIn    = "Check whether this network wants a sign-in page"
	tryLater  = "Try again later."
)

// conditions are the ways in which a network loses, delays and falsifies.
var conditions = []condition{
	{name: "Drop", says: waitForIt, do: func(w *wire) { reset(w.conn) }},
	{name: "Close", says: waitForIt, do: func(w *wire) { _ = w.conn.Close() }},
	away,
	{name: "Hang", says: waitForIt, holds: true, do: func(w *wire) { <-w.ctx.Done() }},
	{name: "Delay", whole: true, do: func(w *wire) {
		time.Sleep(300 * time.Millisecond)
		fine.do(w)
	}},
	{name: "CutRequest", says: waitForIt, do: func(w *wire) {
		if up, err := net.Dial("tcp", w.p.server); err == nil {
			all := w.request()
			_, _ = up.Write(all[:len(all)-max(len(w.body)/2, 10)])
			reset(up)
		}
		reset(w.conn)
	}},
	{name: "CutReplyAtOnce", says: waitForIt, do: func(w *wire) { w.answer(func(r *reply) { r.body = r.body[:min(1, len(r.body))] }) }},
	{name: "CutReply", says: waitForIt, do: func(w *wire) { w.answer(func(r *reply) { r.body = r.body[:len(r.body)/2] }) }},
	{name: "TooLong", says: waitForIt, do: func(w *wire) { w.answer(func(r *reply) { r.length = len(r.body) + 7 }) }},
	{name: "TooShort", says: tryLater, do: func(w *wire) { w.answer(func(r *reply) { r.length = len(r.body) / 2 }) }},
	{name: "Portal", says: signIn, do: func(w *wire) {
		w.say("200 OK", "text/html", "<html>Welcome to the guest network. Please sign in.</html>")
	}},
	{name: "PortalJSON", do: func(w *wire) { w.say("200 OK", "application/json", "{}") }},
	{name: "PortalAway", says: waitForIt, do: func(w *wire) {
		r := reply{status: "302 Found", header: http.Header{"Location": {"/sign-in-to-this-network"}}}
		_, _ = w.conn.Write(r.head())
	}},
	{name: "Gateway", says: signIn, do: func(w *wire) { w.say("502 Bad Gateway", "text/html", "<html>Bad gateway</html>") }},
	{name: "Twice", says: tryLater, do: func(w *wire) {
		w.answer(func(r *reply) { r.body = append(r.body, r.body...); r.length = len(r.body) })
	}},
	{name: "Noise", says: tryLater, do: func(w *wire) {
		w.answer(func(r *reply) { r.body = []byte("\x00\xff\x17 no reply \x80"); r.length = len(r.body) })
	}},
	{name: "NoHTTP", says: waitForIt, do: func(w *wire) { _, _ = w.conn.Write([]byte("\x16\x03\x01\x02\x00\x01\x00\r\n\r\n")) }},
}
