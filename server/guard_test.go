package server_test

import (
	"cmp"
	"context"
	"database/sql"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/labstack/echo/v4"

	"strutcard/server"
	"strutcard/server/photo"
	"strutcard/server/web"
	"strutcard/sync/event"
	"strutcard/sync/exchange"
	"strutcard/sync/sheet"
)

// handler is the handler of a running server, without the network before it.
type handler struct {
	*yard
	http   http.Handler
	routes []*echo.Route
}

func openHandler(t *testing.T) *handler { return openHandlerAt(t, t.TempDir(), "") }

func openHandlerAt(t *testing.T, dir, publicURL string) *handler {
	t.Helper()
	h := &handler{}
	h.yard = open(t, func(cfg *server.Config) {
		cfg.DataDir, cfg.PublicURL, cfg.Burst = dir, publicURL, 100_000
		cfg.Wrap = func(next http.Handler) http.Handler { h.http = next; return next }
	})
	listed, ok := web.New(web.Config{Now: time.Now}).(interface{ Routes() []*echo.Route })
	if !ok {
		t.Fatal("the handler does not list its routes")
	}
	h.routes = listed.Routes()
	if len(h.routes) < 20 {
		t.Fatalf("only %d routes are listed", len(h.routes))
	}
	return h
}

// as makes a request that carries what staff and a phone prove themselves with.
func (h *handler) as(desk *http.Client, p phone, method, path string, body io.Reader) *http.Request {
	h.t.Helper()
	r := httptest.NewRequest(method, path, body)
	for _, c := range desk.Jar.Cookies(mustURL(h.t, at(h.srv))) {
		r.AddCookie(c)
	}
	r.Header.Set("Authorization", "Bearer "+p.token)
	return r
}

func (h *handler) serve(r *http.Request) *httptest.ResponseRecorder {
	w := httptest.NewRecorder()
	h.http.ServeHTTP(w, r)
	return w
}

// furnish puts one of everything into the shop. It returns what makes a route's
// pattern a path to it, and the secret of a mentor's link that was opened.
func (h *handler) furnish(desk *http.Client, p phone, mentor *http.Client) (*strings.Replacer, string) {
	picture := strings.Repeat("0f", 32)
	id := string(p.open(sheet.Demo()[0], "car", &event.CarRaised{Axle: event.Front},
		&event.PhotoTaken{Step: "s", SHA256: picture, Bytes: 900_000, Width: 4, Height: 3}))
	secret := fragment(h.shown(h.form(desk, "/shop/jobs/"+id+"/links", "days", "1", "role", "release")))
	hash := string(sheet.Demo()[0].Hash())
	draft := strings.TrimPrefix(h.form(desk, "/shop/sheets/"+hash+"/copy").header.Get("Location"), "/shop/drafts/")
	link := strings.TrimPrefix(h.form(mentor, "/look", "code", secret, "name", "Mia").header.Get("Location"), "/look/job/")
	return strings.NewReplacer(":job", id, ":hash", hash, ":id", draft, ":link", link, ":device", string(p.device), ":sha256", picture, "*", "head",
		":staff", "none", ":name", "none"), secret
}

// stream is a body of some length that says so nowhere, and counts what is read.
type stream struct {
	head string
	size int64
	read int64
}

func (s *stream) Read(p []byte) (int, error) {
	if s.read == s.size {
		return 0, io.EOF
	}
	n := 0
	for n < len(p) && s.read < s.size {
		if p[n] = 'x'; s.read < int64(len(s.head)) {
			p[n] = s.head[s.read]
		}
		n++
		s.read++
	}
	return n, nil
}

const (
	form  = "application/x-www-form-urlencoded"
	multi = "multipart/form-data; boundary=b"
	call  = "application/json"
	piece = "application/partial-upload"
)

// bodies says for each route how much it may be sent. 0 is for one that reads
// nothing of its body.
var bodies = map[string]struct {
	limit int64
	kind  string
}{
	"POST /setup":    {16 << 10, form},
	"POST /sign-in":  {16 << 10, form},
	"POST /look":     {16 << 10, form},
	"POST /sign-out": {0, form},

	"POST /look/job/:link/comments": {16 << 10, form},
	"POST /look/job/:link/release":  {16 << 10, form},

	"POST /welcome":  {16 << 10, form},
	"POST /password": {16 << 10, form},

	"POST /shop/me/password":           {16 << 10, form},
	"POST /shop/me/sessions/:name/end": {0, form},
	"POST /shop/staff":                 {16 << 10, form},
	"POST /shop/staff/:staff/roles":    {16 << 10, form},
	"POST /shop/staff/:staff/link":     {0, form},
	"POST /shop/staff/:staff/end":      {0, form},
	"POST /shop/data/keep":             {16 << 10, form},
	"POST /shop/data/export":           {0, form},
	"POST /shop/jobs/:job/export":      {0, form},
	"POST /shop/jobs/:job/delete":      {16 << 10, form},

	"POST /shop/phones":                    {0, form},
	"POST /shop/phones/:device/end":        {0, form},
	"POST /shop/jobs/:job/comments":        {16 << 10, form},
	"POST /shop/jobs/:job/findings":        {16 << 10, form},
	"POST /shop/jobs/:job/decisions":       {16 << 10, form},
	"POST /shop/jobs/:job/release":         {16 << 10, form},
	"POST /shop/jobs/:job/links":           {16 << 10, form},
	"POST /shop/jobs/:job/links/:link/end": {0, form},

	"POST /shop/sheets/:hash/copy":     {0, form},
	"POST /shop/sheets/:hash/withdraw": {16 << 10, form},
	"POST /shop/drafts":                {16 << 10, form},
	"POST /shop/drafts/import":         {sheet.MaxBytes + 64<<10, multi},
	"POST /shop/drafts/:id/edit/*":     {3*sheet.MaxBytes + 64<<10, form},
	"POST /shop/drafts/:id/confirm":    {16 << 10, form},
	"POST /shop/drafts/:id/drop":       {16 << 10, form},
	"POST /shop/drafts/:id/publish":    {3*sheet.MaxBytes + 64<<10, form},

	"POST /api/v1/jobs/:job/shares":           {16 << 10, call},
	"POST /api/v1/jobs/:job/shares/:link/end": {0, call},

	"POST /api/v1/join":        {16 << 10, call},
	"POST /api/v1/sync":        {exchange.MaxBytes + 64<<10, call},
	"PUT /api/v1/sheets/:hash": {sheet.MaxBytes, call},

	"PATCH /api/v1/photos/:sha256": {photo.MaxPiece, piece},
}

var heads = map[string]string{form: "pad=", call: `{"pad":"`, multi: "--b\r\nContent-Disposition: form-data; name=\"file\"; filename=\"f\"\r\n\r\n"}

// slack is what a reader may take in one gulp after the limit, before it hears of it.
const slack = 64 << 10

// TestBodyLimits sends each route bodies without a length: one byte below its
// limit, at it, above it, and a hundred times as much.
func TestBodyLimits(t *testing.T) {
	h := openHandler(t)
	desk, p, mentor := h.staff(), h.joined(), browser(t)
	fill, _ := h.furnish(desk, p, mentor)
	slices.SortFunc(h.routes, func(a, b *echo.Route) int { // what ends the access of desk or phone comes last
		key := func(r *echo.Route) string { return r.Method + " " + r.Path }
		return cmp.Or(cmp.Compare(bodies[key(b)].limit, bodies[key(a)].limit), cmp.Compare(key(a), key(b)))
	})
	for _, route := range h.routes {
		name := route.Method + " " + route.Path
		if route.Method == "GET" || route.Method == "HEAD" || strings.HasPrefix(route.Method, "echo_") {
			continue
		}
		b, listed := bodies[name]
		if !listed {
			t.Errorf("%s: no limit of its body is listed here", name)
			continue
		}
		t.Run(name, func(t *testing.T) {
			for _, size := range []int64{max(b.limit-1, 0), b.limit, b.limit + 1, 100 * max(b.limit, slack)} {
				body := &stream{head: heads[b.kind], size: size}
				path := fill.Replace(route.Path)
				r := h.as(desk, p, route.Method, path, io.NopCloser(body))
				if strings.HasPrefix(path, "/look/job/") {
					r.Header.Set("Cookie", cookieHeader(mentor, mustURL(t, at(h.srv)+path)))
				}
				r.ContentLength = -1
				r.Header.Set("Content-Type", b.kind)
				r.Header.Set("Upload-Offset", "0")
				w := h.serve(r)
				switch tooLarge := w.Code == http.StatusRequestEntityTooLarge; {
				case b.limit == 0 && body.read > 0:
					t.Errorf("reads %d bytes of a body that it has no use for", body.read)
				case b.limit > 0 && body.read < min(size, b.limit):
					t.Errorf("of %d bytes only %d are read: the limit was not tried (status %d)", size, body.read, w.Code)
				case b.limit > 0 && body.read > b.limit+slack:
					t.Errorf("of %d bytes %d are read, and %d may be", size, body.read, b.limit)
				case b.limit > 0 && tooLarge != (size > b.limit):
					t.Errorf("%d bytes give status %d where %d are allowed: %s", size, w.Code, b.limit, w.Body)
				}
			}
		})
	}
}

// cookieHeader is what a browser would send to an address.
func cookieHeader(c *http.Client, to *url.URL) string {
	var all []string
	for _, one := range c.Jar.Cookies(to) {
		all = append(all, one.Name+"="+one.Value)
	}
	return strings.Join(all, "; ")
}

// TestErrCrossSiteEverywhere: whatever another site makes a browser send to any
// route that changes something is refused before anything is looked at.
func TestErrCrossSiteEverywhere(t *testing.T) {
	h := openHandler(t)
	desk, p := h.staff(), h.joined()
	tried := 0
	for _, route := range h.routes {
		if route.Method == "GET" || route.Method == "HEAD" || strings.HasPrefix(route.Method, "echo_") {
			continue
		}
		for _, header := range []http.Header{
			{"Sec-Fetch-Site": {"cross-site"}}, {"Sec-Fetch-Site": {"same-site"}}, {"Origin": {"https://elsewhere.example"}}, {"Origin": {"null"}},
		} {
			body := &stream{size: 10}
			r := h.as(desk, p, route.Method, strings.ReplaceAll(route.Path, ":", ""), body)
			for name, value := range header {
				r.Header[name] = value
			}
			if w := h.serve(r); w.Code != http.StatusForbidden || body.read > 0 {
				t.Errorf("%s %s with %v: status %d after %d bytes, want 403 after none", route.Method, route.Path, header, w.Code, body.read)
			}
			tried++
		}
	}
	if tried < 40 {
		t.Errorf("only %d requests were tried", tried)
	}
	p.sync()
	h.want(h.get(desk, "/shop"), http.StatusOK, "") // still signed in
	t.Run("ErrMethodOverride", func(t *testing.T) {
		r := h.as(desk, p, "GET", "/shop/phones", nil)
		r.Header.Set("X-HTTP-Method-Override", "POST")
		if w := h.serve(r); w.Code != http.StatusOK || codeField.MatchString(w.Body.String()) {
			t.Errorf("a header turned GET into POST: status %d", w.Code)
		}
	})
}

// content is every row of the server's database but the mark of /ready.
func (h *handler) content(dir string) string {
	h.t.Helper()
	db, err := sql.Open("sqlite", "file:"+filepath.Join(dir, "strutcard.db")+"?mode=ro")
	if err != nil {
		h.t.Fatal(err)
	}
	defer func() { _ = db.Close() }()
	var all strings.Builder
	for _, name := range column(h.t, db, `SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name`) {
		columns := column(h.t, db, `SELECT 'quote("' || name || '")' FROM pragma_table_info('`+name+`')`)
		for _, row := range column(h.t, db, `SELECT `+strings.Join(columns, " || ',' || ")+` FROM "`+name+`" ORDER BY 1`) {
			if !strings.HasPrefix(row, "'ready'") {
				fmt.Fprintln(&all, name, row)
			}
		}
	}
	return all.String()
}

func column(t *testing.T, db *sql.DB, query string) (out []string) {
	t.Helper()
	rows, err := db.QueryContext(context.Background(), query)
	if err != nil {
		t.Fatalf("%s: %v", query, err)
	}
	defer func() { _ = rows.Close() }()
	for rows.Next() {
		var one string
		if err := rows.Scan(&one); err != nil {
			t.Fatalf("%s: %v", query, err)
		}
		out = append(out, one)
	}
	if err := rows.Err(); err != nil {
		t.Fatal(err)
	}
	return out
}

// TestGetChangesNothing asks for every page and every link as staff, as a phone
// and as whatever looks ahead at links; the database stays as it was.
func TestGetChangesNothing(t *testing.T) {
	dir := t.TempDir()
	h := openHandlerAt(t, dir, "")
	desk, p, mentor := h.staff(), h.joined(), browser(t)
	invitation := h.invite(desk)
	fill, link := h.furnish(desk, p, mentor)
	before := h.content(dir)
	if strings.Count(before, "\n") < 10 || !strings.Contains(before, string(p.device)) {
		t.Fatalf("the database was not read: %s", before)
	}
	opened := 0
	for _, route := range h.routes {
		if route.Method != "GET" && route.Method != "HEAD" {
			continue
		}
		path := fill.Replace(route.Path)
		for _, suffix := range []string{"", "?code=" + url.QueryEscape(link) + "&invitation=" + url.QueryEscape(invitation) + "&token=x&op=save"} {
			w := h.serve(h.as(desk, p, route.Method, path+suffix, nil))
			if w.Code == http.StatusOK {
				opened++
			}
			h.serve(httptest.NewRequest(route.Method, path+suffix, nil))
			h.do(mentor, route.Method, path+suffix, nil, nil)
		}
	}
	if opened < 30 {
		t.Errorf("only %d requests found a page: the test looks at too little", opened)
	}
	if after := h.content(dir); after != before {
		t.Errorf("looking changed something:\n%s\nbefore\n%s", after, before)
	}
	h.join(invitation, newDevice())
}

// TestForwardedHeadersChangeNothing: who may say how a request came here is
// nobody. Links, cookies and limits stay what they are.
func TestForwardedHeadersChangeNothing(t *testing.T) {
	h := openHandler(t)
	d := h.srv.Demo()
	forged := http.Header{"Content-Type": {form}, "X-Forwarded-Proto": {"https"}, "X-Forwarded-Ssl": {"on"}, "X-Forwarded-Host": {"evil.example"},
		"X-Url-Scheme": {"https"}, "Forwarded": {"for=203.0.113.1;proto=https;host=evil.example"}}
	desk := browser(t)
	in := h.do(desk, "POST", "/sign-in", forged, strings.NewReader(url.Values{"name": {d.Name}, "password": {d.Password}}.Encode()))
	h.want(in, http.StatusSeeOther, "")
	if got := in.header.Get("Set-Cookie"); got == "" || strings.Contains(got, "Secure") {
		t.Errorf("a forged header makes the cookie %q: over plain HTTP it would not come back", got)
	}
	if got := in.header.Get("Strict-Transport-Security"); got != "" {
		t.Errorf("a forged header brings %q", got)
	}
	made := h.do(desk, "POST", "/shop/phones", forged, strings.NewReader(""))
	if link := h.shown(made); !strings.HasPrefix(link, at(h.srv)+"/join#") {
		t.Errorf("a forged header leads the invitation to %q", link)
	}
	proxied := openHandlerAt(t, t.TempDir(), "https://shop.example")
	cookie := signInCookie(t, browser(t), "http://"+proxied.srv.Addr(), proxied.srv.Demo())
	r := httptest.NewRequest("POST", "/shop/phones", nil)
	r.Header.Set("Cookie", strings.Split(cookie, ";")[0])
	invited := proxied.serve(r)
	if got := invited.Header().Get("Strict-Transport-Security"); got != "max-age=31536000" {
		t.Errorf("at an address that was said to be HTTPS, browsers are told %q", got)
	}
	if link := codeField.FindStringSubmatch(invited.Body.String()); link == nil || !strings.HasPrefix(link[1], "https://shop.example/join#") {
		t.Errorf("behind a proxy that was named, the invitation leads to %q", link)
	}
}

// TestFixedFiles: what is built into the program has no date, so its hash must
// tell a browser that nothing changed.
func TestFixedFiles(t *testing.T) {
	y := open(t, nil)
	for path, want := range map[string]struct{ kind, keep string }{
		"/static/fragment.js":          {"text/javascript", "no-cache"},
		"/static/author.js":            {"text/javascript", "no-cache"},
		"/static/queue.js":             {"text/javascript", "no-cache"},
		"/schema/fitting-sheet/1.json": {"application/schema+json", "public, max-age=3600"},
	} {
		a := y.get(browser(t), path)
		y.want(a, http.StatusOK, "")
		tag := a.header.Get("ETag")
		if !regexp.MustCompile(`^"[0-9a-f]{64}"$`).MatchString(tag) || !strings.HasPrefix(a.header.Get("Content-Type"), want.kind) || a.header.Get("Cache-Control") != want.keep {
			t.Errorf("%s: %v", path, a.header)
		}
		if again := y.do(browser(t), "GET", path, http.Header{"If-None-Match": {tag}}, nil); again.status != http.StatusNotModified || again.body != "" {
			t.Errorf("%s: asked again with its hash it gives %d and %d bytes, want 304 and none", path, again.status, len(again.body))
		}
	}
}
