package server_test

import (
	"bytes"
	"context"
	"html"
	"mime/multipart"
	"net/http"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"strutcard/server/auth"
	"strutcard/server/shop"
	"strutcard/server/sqlite"
	"strutcard/sync/event"
	"strutcard/sync/sheet"
)

// author is somebody of the staff at one draft.
type author struct {
	y     *yard
	c     *http.Client
	draft string // path of its first page
}

func (a author) get(path string) answer { a.y.t.Helper(); return a.y.get(a.c, a.draft+path) }

var revisionField = regexp.MustCompile(`name="revision" value="(\d+)"`)

// revision is that of the draft as it stands.
func (a author) revision() string {
	a.y.t.Helper()
	page := a.get("/edit/head")
	m := revisionField.FindStringSubmatch(page.body)
	if m == nil {
		a.y.t.Fatalf("no revision on the page: %d %s", page.status, page.body)
	}
	return m[1]
}

// send posts to a place of the draft, from its revision as it stands.
func (a author) send(path string, pairs ...string) answer {
	a.y.t.Helper()
	return a.y.form(a.c, a.draft+path, append([]string{"revision", a.revision()}, pairs...)...)
}

// fill saves a form with some fields changed and all others as they stand.
func (a author) fill(path string, change map[string]string) answer {
	a.y.t.Helper()
	pairs := []string{"op", "save"}
	for name, value := range fieldsOf(a.get(path).body) {
		if v, changed := change[name]; changed {
			value = v
		}
		pairs = append(pairs, name, value)
	}
	for name, value := range change {
		pairs = append(pairs, name, value)
	}
	return a.send(path, pairs...)
}

var (
	inputs    = regexp.MustCompile(`<input name="(f\.[^"]+)" value="([^"]*)"`)
	checks    = regexp.MustCompile(`<input type="checkbox" name="(f\.[^"]+)" value="yes" checked`)
	boxes     = regexp.MustCompile(`(?s)<textarea name="(f\.[^"]+)"[^>]*>(.*?)</textarea>`)
	selects   = regexp.MustCompile(`(?s)<select name="(f\.[^"]+)"[^>]*>(.*?)</select>`)
	selected  = regexp.MustCompile(`<option value="([^"]*)" selected`)
	fieldName = regexp.MustCompile(`name="f\.([^"]+)"`)
)

// fieldsOf is what a browser would send of a piece's form.
func fieldsOf(page string) map[string]string {
	out := map[string]string{}
	for _, m := range append(inputs.FindAllStringSubmatch(page, -1), boxes.FindAllStringSubmatch(page, -1)...) {
		out[m[1]] = html.UnescapeString(m[2])
	}
	for _, m := range checks.FindAllStringSubmatch(page, -1) {
		out[m[1]] = "yes"
	}
	for _, m := range selects.FindAllStringSubmatch(page, -1) {
		if chosen := selected.FindStringSubmatch(m[2]); chosen != nil {
			out[m[1]] = html.UnescapeString(chosen[1])
		}
	}
	return out
}

// start starts a draft from the demo's layouts.
func (y *yard) start(c *http.Client) author {
	y.t.Helper()
	a := y.form(c, "/shop/drafts", "title", "Kit", "version", "1", "vehicle", "A car", "front", "front_strut", "rear", "rear_separate")
	y.want(a, http.StatusSeeOther, "")
	return author{y, c, a.header.Get("Location")}
}

// copied starts a draft from a published sheet.
func (y *yard) copied(c *http.Client, of event.SheetHash) author {
	y.t.Helper()
	a := y.form(c, "/shop/sheets/"+string(of)+"/copy")
	y.want(a, http.StatusSeeOther, "")
	return author{y, c, a.header.Get("Location")}
}

func (y *yard) has(a answer, parts ...string) {
	y.t.Helper()
	for _, part := range parts {
		if !strings.Contains(a.body, part) {
			y.t.Errorf("the page lacks %q", part)
		}
	}
}

// otherShop adds a second shop with a sheet and a draft of its own, and returns
// a browser signed in there.
func (y *yard) otherShop(dir string) *http.Client {
	y.t.Helper()
	ctx := context.Background()
	db, err := sqlite.Open(filepath.Join(dir, "strutcard.db"), sqlite.Options{Now: y.clock.now,
		Project: func(event.JobID, []event.Event, func(event.SheetHash) []byte) shop.Summary { return shop.Summary{} }})
	if err != nil {
		y.t.Fatal(err)
	}
	defer func() { _ = db.Close() }()
	digest, err := auth.NewPasswords(1, time.Second).Hash(ctx, "four words make one")
	if err != nil {
		y.t.Fatal(err)
	}
	if err := db.PutShop(ctx, shop.Shop{ID: "other", Name: "Other"}, shop.Staff{ID: "o1", Name: "olga", Password: digest}); err != nil {
		y.t.Fatal(err)
	}
	c := browser(y.t)
	y.want(y.form(c, "/sign-in", "name", "olga", "password", "four words make one"), http.StatusSeeOther, "")
	return c
}

func TestSheetList(t *testing.T) {
	y := open(t, nil)
	desk := y.staff()
	demo := sheet.Demo()[0]
	y.joined().open(demo, "A car with this sheet")
	a := y.start(desk)
	list := y.get(desk, "/shop/sheets")
	y.want(list, http.StatusOK, "")
	y.has(list, demo.Title, demo.Version, demo.Vehicle.Name, "in use", `<td class="number">1</td>`, a.draft, "Kit", "demo")
	one := y.get(desk, "/shop/sheets/"+string(demo.Hash()))
	y.has(one, "A car with this sheet", string(demo.Hash()), "Invented")
	y.want(y.get(browser(t), "/shop/sheets"), http.StatusSeeOther, "")
	y.want(y.form(browser(t), "/shop/drafts"), http.StatusUnauthorized, "")
}

func TestDraftStart(t *testing.T) {
	y := open(t, nil)
	desk := y.staff()
	y.has(y.start(desk).get(""), "Fasteners", "Nothing that stops it from being published")
	t.Run("ErrLayout", func(t *testing.T) {
		y := y.in(t)
		a := y.form(desk, "/shop/drafts", "title", "Kept as typed", "version", "1", "vehicle", "A car", "front", "rear_separate", "rear", "rear_separate")
		y.want(a, http.StatusBadRequest, "")
		y.has(a, "no layout pattern", `value="Kept as typed"`)
	})
	t.Run("ErrSite", func(t *testing.T) {
		y := y.in(t)
		header := http.Header{"Content-Type": {"application/x-www-form-urlencoded"}, "Sec-Fetch-Site": {"cross-site"}}
		y.want(y.do(desk, "POST", "/shop/drafts", header, strings.NewReader("title=x")), http.StatusForbidden, "")
	})
}

// upload sends a file as the form does.
func (y *yard) upload(c *http.Client, body []byte) answer {
	y.t.Helper()
	var form bytes.Buffer
	w := multipart.NewWriter(&form)
	part, err := w.CreateFormFile("file", "sheet.json")
	if err != nil {
		y.t.Fatal(err)
	}
	if _, err := part.Write(body); err != nil {
		y.t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		y.t.Fatal(err)
	}
	return y.do(c, "POST", "/shop/drafts/import", http.Header{"Content-Type": {w.FormDataContentType()}}, &form)
}

func TestExportImport(t *testing.T) {
	y := open(t, nil)
	desk := y.staff()
	demo := sheet.Demo()[0]
	file := y.get(desk, "/shop/sheets/"+string(demo.Hash())+"/file")
	y.want(file, http.StatusOK, "")
	if file.body != string(demo.Encode()) || !strings.HasPrefix(file.header.Get("Content-Disposition"), "attachment") {
		t.Errorf("the file is not the bytes of the hash, or not a download: %v", file.header)
	}
	own := sheet.Demo()[0]
	own.Own = true
	own.Fasteners[0].Final().Confirmed = "someone, against a manual"
	up := y.upload(desk, own.Encode())
	y.want(up, http.StatusSeeOther, "")
	a := author{y, desk, up.header.Get("Location")}
	raw := html.UnescapeString(a.get("").body)
	if strings.Contains(raw, `"own"`) || !strings.Contains(raw, `"invented": true`) {
		t.Error("an imported sheet passes for an installer's own, or no longer for invented")
	}
	if strings.Contains(raw, "someone, against a manual") {
		t.Error("a file brings its own word on who compared a number with its source")
	}
	for name, test := range map[string]struct {
		body   []byte
		status int
		words  string
	}{
		"ErrEmpty":    {nil, http.StatusBadRequest, "No file came"},
		"ErrNotJSON":  {[]byte("<html>"), http.StatusBadRequest, "not a fitting sheet"},
		"ErrUnsound":  {[]byte(`{"format":1,"title":"x"}`), http.StatusBadRequest, "cannot be used"},
		"ErrTooLarge": {make([]byte, sheet.MaxBytes+1), http.StatusRequestEntityTooLarge, "larger than 1 MiB"},
		"ErrFarMore":  {make([]byte, 3*sheet.MaxBytes), http.StatusRequestEntityTooLarge, "larger than 1 MiB"},
	} {
		t.Run(name, func(t *testing.T) {
			y := y.in(t)
			got := y.upload(desk, test.body)
			y.want(got, test.status, "")
			y.has(got, test.words)
		})
	}
}
