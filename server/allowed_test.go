package server_test

import (
	"io"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/sheet"
)

// Who is let in by a route, to data of the demo's shop. What another shop's people
// may do in their own shop is no matter here: none of them may see or change this one.
const (
	everybody = "nobody phone stranger mentor reviewer author administrator"
	anyPhone  = "phone stranger" // each with its own data
	thisPhone = "phone"
	byLink    = "mentor"
	staff     = "reviewer author administrator"
	reviewers = "reviewer administrator"
	authors   = "author administrator"
	admins    = "administrator"
)

// letIn says for each route of the site who gets past the door. It is written down a
// second time here on purpose, and the list of routes is the router's own: a route
// that nobody thought about fails.
var letIn = map[string]string{
	"GET /health": everybody, "GET /ready": everybody, "GET /*": everybody, "GET /static/fragment.js": everybody, "GET /static/author.js": everybody, "GET /static/queue.js": everybody,
	"GET /schema/fitting-sheet/1.json": everybody,

	"GET /setup": everybody, "POST /setup": everybody, "GET /sign-in": everybody, "POST /sign-in": everybody, "POST /sign-out": everybody,
	"GET /welcome": everybody, "POST /welcome": everybody, "GET /password": everybody, "POST /password": everybody,
	"GET /look/worker.js": everybody, "GET /static/look.js": everybody,
	"GET /look": everybody, "POST /look": everybody, "POST /api/v1/join": everybody,

	"GET /card.css": everybody, "GET /schema/job-card/1.json": everybody,

	"GET /api/v1/jobs/:job/shares": thisPhone, "POST /api/v1/jobs/:job/shares": thisPhone, "POST /api/v1/jobs/:job/shares/:link/end": thisPhone,
	"POST /api/v1/sync": anyPhone, "GET /api/v1/sheets": anyPhone, "PUT /api/v1/sheets/:hash": anyPhone, "GET /api/v1/sheets/:hash": thisPhone,
	"GET /api/v1/photos/:sha256": thisPhone, "HEAD /api/v1/photos/:sha256": thisPhone, "PATCH /api/v1/photos/:sha256": thisPhone,

	"POST /look/job/:link/comments": byLink, "POST /look/job/:link/release": byLink,
	"GET /look/job/:link": byLink, "GET /look/job/:link/photos/:sha256": byLink,

	"GET /shop/jobs/:job/card": staff, "GET /shop/jobs/:job/card.html": staff, "GET /shop/jobs/:job/card.json": staff, "GET /shop/jobs/:job/fasteners.csv": staff, "GET /shop/jobs/:job/readings.csv": staff,
	"GET /shop": staff, "GET /shop/jobs/:job": staff, "GET /shop/photos/:sha256": staff,
	"GET /shop/me": staff, "POST /shop/me/password": staff, "POST /shop/me/sessions/:name/end": staff,

	"POST /shop/jobs/:job/comments": staff, "POST /shop/jobs/:job/findings": reviewers, "POST /shop/jobs/:job/decisions": reviewers, "POST /shop/jobs/:job/release": reviewers,
	"POST /shop/jobs/:job/links": reviewers, "POST /shop/jobs/:job/links/:link/end": reviewers,

	"GET /shop/sheets": authors, "GET /shop/sheets/:hash": authors, "GET /shop/sheets/:hash/file": authors, "GET /shop/sheets/:hash/changes": authors,
	"GET /shop/sheets/:hash/field": authors, "GET /shop/sheets/:hash/field/steps.csv": authors, "GET /shop/sheets/:hash/field/fasteners.csv": authors, "GET /shop/sheets/:hash/field/readings.csv": authors,
	"POST /shop/sheets/:hash/copy": authors, "POST /shop/sheets/:hash/withdraw": authors, "POST /shop/drafts": authors, "POST /shop/drafts/import": authors,
	"GET /shop/drafts/:id": authors, "GET /shop/drafts/:id/edit/*": authors, "POST /shop/drafts/:id/edit/*": authors, "POST /shop/drafts/:id/confirm": authors,
	"POST /shop/drafts/:id/drop": authors, "GET /shop/drafts/:id/publish": authors, "POST /shop/drafts/:id/publish": authors,

	"GET /shop/phones": admins, "POST /shop/phones": admins, "POST /shop/phones/:device/end": admins,
	"GET /shop/staff": admins, "POST /shop/staff": admins, "POST /shop/staff/:staff/roles": admins, "POST /shop/staff/:staff/link": admins, "POST /shop/staff/:staff/end": admins,
	"GET /shop/audit": admins, "GET /shop/data": admins, "POST /shop/data/keep": admins, "POST /shop/data/export": admins,
	"GET /shop/jobs/:job/data": admins, "POST /shop/jobs/:job/export": admins, "POST /shop/jobs/:job/delete": admins,
}

// caller is somebody with what they prove themselves by.
type caller struct {
	name   string
	prove  func(*http.Request)
	closed bool // of another shop
}

// marker stands in whatever the demo's shop keeps, and nowhere else.
const marker = "Quince7"

// callers furnishes the demo's shop and another one, and returns everybody who could
// come, with what makes a route's pattern a path to the demo's data.
func (h *handler) callers(dir string) ([]caller, *strings.Replacer) {
	h.t.Helper()
	desk, p, look := h.staff(), h.joined(), browser(h.t)
	other := h.otherShop(dir)
	stranger := h.phoneOf(other)
	body, hash := snapshot(h.t, 20)
	id := string(p.open(sheet.Demo()[0], marker+" car", photoTaken(body, hash), &event.NoteAdded{Text: marker}))
	h.wantOffset(p.piece(hash, 0, body), http.StatusNoContent, len(body), "?1")
	secret := fragment(h.shown(h.form(desk, "/shop/jobs/"+id+"/links", "days", "1", "role", "release")))
	link := strings.TrimPrefix(h.form(look, "/look", "code", secret, "name", marker).header.Get("Location"), "/look/job/")
	reviewer, author := h.account(desk, marker+" reviewer", "reviewer"), h.account(desk, marker+" author", "author")
	victim := h.account(desk, marker+" victim", "author")
	h.want(h.get(victim, "/shop"), http.StatusOK, "")
	demo := string(sheet.Demo()[0].Hash())
	draft := strings.TrimPrefix(h.form(author, "/shop/sheets/"+demo+"/copy").header.Get("Location"), "/shop/drafts/")
	spare := h.join(h.invite(desk), newDevice())
	cookies := func(c *http.Client, path string) func(*http.Request) {
		return func(r *http.Request) {
			for _, one := range c.Jar.Cookies(mustURL(h.t, at(h.srv)+path)) {
				r.AddCookie(one)
			}
		}
	}
	token := func(p phone) func(*http.Request) {
		return func(r *http.Request) { r.Header.Set("Authorization", "Bearer "+p.token) }
	}
	all := []caller{{name: "nobody", prove: func(*http.Request) {}}, {name: "phone", prove: token(p)}, {name: "stranger", prove: token(stranger), closed: true},
		{name: "mentor", prove: cookies(look, "/look/job/"+link)}, {name: "reviewer", prove: cookies(reviewer, "/")}, {name: "author", prove: cookies(author, "/")},
		{name: "other administrator", prove: cookies(other, "/"), closed: true}, {name: "administrator", prove: cookies(desk, "/")}}
	return all, strings.NewReplacer(":job", id, ":hash", demo, ":id", draft, ":link", link, ":device", string(spare.device), ":sha256", hash,
		":staff", h.staffID(desk, marker+" victim"), ":name", strings.Repeat("0", 16), "*", "head")
}

// try sends an empty request of the kind that a route takes.
func (h *handler) try(c caller, method, path string) *httptest.ResponseRecorder {
	var body io.Reader
	kind := form
	if method != "GET" && method != "HEAD" {
		body = strings.NewReader("")
	}
	if strings.HasPrefix(path, "/api/") {
		body, kind = strings.NewReader("{}"), call
	}
	if method == "PATCH" {
		kind = piece
	}
	r := httptest.NewRequest(method, path, body)
	r.Header.Set("Content-Type", kind)
	c.prove(r)
	return h.serve(r)
}

// shutOut lists the words and places by which a door says no.
var shutOut = []string{"Your account may not do this", "You are not signed in", "has not opened the job yet", "has opened another job",
	"The shop does not know this phone", "No record that you may see names this photo", "The shop has no such job of this phone", "does not work, or has ended. It opens nothing"}

func isShutOut(w *httptest.ResponseRecorder) bool {
	refused := func(words string) bool { return strings.Contains(w.Body.String(), words) }
	return w.Header().Get("Location") == "/sign-in" || slices.ContainsFunc(shutOut, refused)
}

// ofDemo is every row of the database that belongs to the demo's shop.
func (h *handler) ofDemo(dir string) string {
	var rows []string
	for row := range strings.SplitSeq(h.content(dir), "\n") {
		if !strings.Contains(row, "'other'") && !strings.Contains(row, "'o1'") && !strings.HasPrefix(row, "sqlite_sequence ") { // that one is for all shops
			rows = append(rows, row)
		}
	}
	return strings.Join(rows, "\n")
}

// TestWhoMayDoWhat asks at every route as everybody. Whoever is not let in sees
// nothing of the shop and changes nothing in it.
func TestWhoMayDoWhat(t *testing.T) {
	dir := t.TempDir()
	h := openHandlerAt(t, dir, "")
	all, fill := h.callers(dir)
	before := h.ofDemo(dir)
	if !strings.Contains(before, marker) {
		t.Fatal("the database was not read")
	}
	type knock struct{ method, route, names string }
	var doors []knock
	for _, r := range h.routes {
		if strings.HasPrefix(r.Method, "echo_") {
			continue
		}
		names, listed := letIn[r.Method+" "+r.Path]
		if !listed && r.Method == "HEAD" {
			names, listed = letIn["GET "+r.Path]
		}
		if !listed {
			t.Errorf("%s %s: nobody wrote down who may do this", r.Method, r.Path)
			continue
		}
		doors = append(doors, knock{r.Method, r.Path, names})
	}
	if len(doors) < 60 {
		t.Errorf("only %d routes: the test looks at too little", len(doors))
	}
	refused, entered := 0, 0
	for _, d := range doors { // first all who are not let in: nothing changes
		for _, c := range all {
			if slices.Contains(strings.Fields(d.names), c.name) || d.names == everybody || c.name == "other administrator" && staffOnly(d.names) {
				continue
			}
			w := h.try(c, d.method, fill.Replace(d.route))
			hidden := d.route == "/api/v1/sheets/:hash" && w.Code == http.StatusNotFound
			if !isShutOut(w) && !hidden && d.method != "HEAD" || w.Code < 300 {
				t.Errorf("%s %s lets in %s: status %d: %.200s", d.method, d.route, c.name, w.Code, w.Body)
			}
			if strings.Contains(w.Body.String(), marker) {
				t.Errorf("%s %s shows %s what the shop keeps", d.method, d.route, c.name)
			}
			refused++
		}
	}
	if after := h.ofDemo(dir); after != before {
		t.Fatalf("somebody who was not let in changed the shop: %s", changed(before, after))
	}
	for _, d := range doors { // then another shop's people, past their own door
		for _, c := range all {
			if !c.closed || d.names == everybody {
				continue
			}
			if w := h.try(c, d.method, fill.Replace(d.route)); strings.Contains(w.Body.String(), marker) {
				t.Errorf("%s %s shows %s what this shop keeps", d.method, d.route, c.name)
			}
			if after := h.ofDemo(dir); after != before {
				t.Fatalf("%s %s lets %s change this shop: %s", d.method, d.route, c.name, changed(before, after))
			}
		}
	}
	slices.SortStableFunc(doors, func(a, b knock) int { return late(a.method, a.route) - late(b.method, b.route) })
	for _, d := range doors { // at last those who are let in
		for _, c := range all {
			if !slices.Contains(strings.Fields(d.names), c.name) {
				continue
			}
			if w := h.try(c, d.method, fill.Replace(d.route)); d.names != everybody && isShutOut(w) || w.Code >= 500 {
				t.Errorf("%s %s does not let in %s: status %d, %s%.200s", d.method, d.route, c.name, w.Code, w.Header().Get("Location"), w.Body)
			}
			entered++
		}
	}
	if refused < 300 || entered < 200 {
		t.Errorf("%d requests were refused and %d let in: the test looks at too little", refused, entered)
	}
}

// changed is the first row that is not as before.
func changed(before, after string) string {
	had := strings.Split(before, "\n")
	for row := range strings.SplitSeq(after, "\n") {
		if !slices.Contains(had, row) {
			return "now there is " + row
		}
	}
	return "a row is gone"
}

// staffOnly reports whether a door is that of the desk: another shop's administrator
// passes it, into their own shop.
func staffOnly(names string) bool { return strings.Contains(names, "administrator") }

// late puts what only looks first, and what ends somebody's access last.
func late(method, route string) int {
	switch {
	case method == "GET" || method == "HEAD":
		return 0
	case route == "/sign-out":
		return 3
	case strings.HasSuffix(route, "/end"):
		return 2
	}
	return 1
}

// TestMarkerIsSeen keeps TestWhoMayDoWhat honest: the shop's own administrator does
// see what nobody else may.
func TestMarkerIsSeen(t *testing.T) {
	dir := t.TempDir()
	h := openHandlerAt(t, dir, "")
	all, fill := h.callers(dir)
	for _, route := range []string{"/shop", "/shop/jobs/:job", "/shop/staff", "/shop/audit", "/shop/jobs/:job/data"} {
		if w := h.try(all[len(all)-1], "GET", fill.Replace(route)); w.Code != http.StatusOK || !strings.Contains(w.Body.String(), marker) {
			t.Errorf("%s: status %d, without what the shop keeps", route, w.Code)
		}
	}
}
