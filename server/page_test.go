package server_test

import (
	"crypto/sha256"
	"encoding/hex"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"strutcard/pwa"
	"strutcard/server"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/sheet"
)

func mustURL(t *testing.T, s string) *url.URL {
	t.Helper()
	u, err := url.Parse(s)
	if err != nil {
		t.Fatal(err)
	}
	return u
}

func TestHeadersOnEveryReply(t *testing.T) {
	y := open(t, nil)
	desk := y.staff()
	for _, path := range []string{"/", "/sign-in", "/setup", "/look", "/shop", "/shop/phones", "/nothing", "/api/v1/nothing", "/static/fragment.js", "/health", "/shop/jobs/x"} {
		a := y.get(desk, path)
		for name, part := range map[string]string{
			"Content-Security-Policy": "'wasm-unsafe-eval'; style-src 'self'", "Referrer-Policy": "no-referrer", "X-Content-Type-Options": "nosniff",
		} {
			if !strings.Contains(a.header.Get(name), part) {
				t.Errorf("%s: %s is %q", path, name, a.header.Get(name))
			}
		}
		if csp := a.header.Get("Content-Security-Policy"); strings.Contains(csp, "unsafe-inline") || !strings.Contains(csp, "frame-ancestors 'none'") {
			t.Errorf("%s: policy %q", path, csp)
		}
		if strings.Contains(a.body, "style=") || strings.Contains(a.body, "onclick") {
			t.Errorf("%s: the page needs what its policy forbids", path)
		}
	}
}

func TestErrNoSuchPath(t *testing.T) {
	y := open(t, func(cfg *server.Config) { cfg.Assets = oneAsset })
	for _, path := range []string{"/..", "/%2e%2e/", "/%2e%2e%2fgo.mod", "/a/../app.css", "/a/%2e%2e/app.css", "/.%2e/app.css", "/static/../static/fragment.js",
		"/static/%2e%2e/fragment.js", "/..%5capp.css", "//app.css", "/app.css/", "/%73hop", "/shop%2Fphones", "/static/", "/strutcard.db", "/api/v1"} {
		req, err := http.NewRequest("GET", at(y.srv), nil)
		if err != nil {
			t.Fatal(err)
		}
		req.URL.Opaque = "//" + req.URL.Host + path // as written: the client must not clean it
		res, err := browser(t).Do(req)
		if err != nil {
			t.Fatal(err)
		}
		_ = res.Body.Close()
		if res.StatusCode != http.StatusNotFound {
			t.Errorf("%s: status %d, want 404", path, res.StatusCode)
		}
	}
	y.want(y.get(browser(t), "/api/v1/nothing"), http.StatusNotFound, fault.NotFound)
	y.want(y.do(browser(t), "DELETE", "/api/v1/sync", nil, nil), http.StatusNotFound, fault.NotFound)
}

func oneAsset(path string) (pwa.Asset, bool) {
	body := []byte("body { margin: 0 }")
	sum := sha256.Sum256(body)
	a := pwa.Asset{Path: "/app.css", Type: "text/css; charset=utf-8", Hash: hex.EncodeToString(sum[:]), Body: body, Brotli: []byte("small")}
	return a, path == a.Path
}

func TestAsset(t *testing.T) {
	y := open(t, func(cfg *server.Config) { cfg.Assets = oneAsset })
	plain := y.do(browser(t), "GET", "/app.css", http.Header{"Accept-Encoding": {"gzip, br;q=0"}}, nil)
	small := y.do(browser(t), "GET", "/app.css", http.Header{"Accept-Encoding": {"gzip, br"}}, nil)
	if plain.status != 200 || plain.body != "body { margin: 0 }" || plain.header.Get("Content-Type") != "text/css; charset=utf-8" || plain.header.Get("Cache-Control") != "no-cache" {
		t.Errorf("plain: %+v", plain)
	}
	if small.status != 200 || small.body != "small" || small.header.Get("Content-Encoding") != "br" || small.header.Get("ETag") == plain.header.Get("ETag") || small.header.Get("Content-Length") != "5" {
		t.Errorf("compressed: %+v", small)
	}
	for _, a := range []answer{plain, small} {
		header := http.Header{"If-None-Match": {a.header.Get("ETag")}, "Accept-Encoding": {map[bool]string{true: "br", false: "identity"}[a.header.Get("Content-Encoding") == "br"]}}
		y.want(y.do(browser(t), "GET", "/app.css", header, nil), http.StatusNotModified, "")
	}
	if head := y.do(browser(t), "HEAD", "/app.css", nil, nil); head.status != 200 || head.body != "" {
		t.Errorf("HEAD: %+v", head)
	}
}

func TestPanicIsHidden(t *testing.T) {
	y := open(t, func(cfg *server.Config) { cfg.Assets = func(string) (pwa.Asset, bool) { panic("secret detail") } })
	a := y.get(browser(t), "/app.css")
	y.want(a, http.StatusInternalServerError, "")
	if strings.Contains(a.body, "secret detail") || !strings.Contains(y.log.String(), "secret detail") {
		t.Error("the detail of a panic belongs in the log, not on the page")
	}
}

func TestHealth(t *testing.T) {
	y := open(t, nil)
	y.want(y.get(browser(t), "/health"), http.StatusOK, "")
	y.want(y.get(browser(t), "/ready"), http.StatusOK, "")
}

func TestQueueAndJobPage(t *testing.T) {
	y := open(t, nil)
	p, desk := y.joined(), y.staff()
	if a := y.get(desk, "/shop"); !strings.Contains(a.body, "No job has reached this server yet") {
		t.Errorf("empty queue: %s", a.body)
	}
	nasty := `Van "><script>alert(1)</script> javascript:x //evil.example`
	sh := sheet.Demo()[0]
	f := sh.Fasteners[0]
	id := p.open(sh, nasty, &event.CarRaised{Axle: event.Front}, &event.FastenerLoosened{Fastener: f.ID}, &event.NoteAdded{Text: "<b>torn</b> boot"})
	list, one := y.get(desk, "/shop"), y.get(desk, "/shop/jobs/"+string(id))
	for _, a := range []answer{list, one} {
		y.want(a, http.StatusOK, "")
		if strings.Contains(a.body, "<script>alert") || strings.Contains(a.body, "<b>torn") {
			t.Error("typed text became markup")
		}
	}
	for _, want := range []string{"car is up", sh.Title, "/shop/jobs/" + string(id), `<td class="number">1</td>`} {
		if !strings.Contains(list.body, want) {
			t.Errorf("the queue lacks %q", want)
		}
	}
	for _, want := range []string{"The front axle went up.", "The front axle is up.", "Last heard from the phones", "Loosened: " + f.Name(), "&lt;b&gt;torn&lt;/b&gt; boot", "Ann&#39;s phone", "Make a mentor link", "Invented"} {
		if !strings.Contains(one.body, want) {
			t.Errorf("the job lacks %q", want)
		}
	}
	for q, want := range map[string]bool{"van": true, "100%": false, "javascript": true} {
		if got := strings.Contains(y.get(desk, "/shop?q="+url.QueryEscape(q)).body, "/shop/jobs/"); got != want {
			t.Errorf("filter %q found the job: %v, want %v", q, got, want)
		}
	}
	y.want(y.get(desk, "/shop?from=nonsense"), http.StatusOK, "")
	y.want(y.get(desk, "/shop/jobs/nothing"), http.StatusNotFound, "")
	if strings.Contains(y.log.String(), "javascript") {
		t.Error("the log holds a query")
	}
}

// Every kind of event has words: a new kind fails here until it has some.
func TestTimelineHasWordsForEveryKind(t *testing.T) {
	y := open(t, nil)
	p, desk := y.joined(), y.staff()
	some := []event.Payload{
		&event.PartCounted{Part: "p", Found: 1}, &event.ToolListed{Tool: "t", Have: true}, &event.SpecGiven{Fastener: "f", Pass: "p", TorqueCNM: 4550, Source: "manual, page 12"},
		&event.ReadingTaken{Quantity: event.Camber, Corner: event.FL, Purpose: event.Before, Method: "level", ValueMD: -1500, U95Mdeg: 100},
		&event.CheckAnswered{Axle: event.Front, Move: event.Raise, Check: "c", Answer: event.Yes}, &event.CarRaised{Axle: event.Front}, &event.CarLowered{Axle: event.Front},
		&event.StepStarted{Step: "s"}, &event.StepDone{Step: "s"}, &event.StepSkipped{Step: "s", Reason: "r"},
		&event.FastenerLoosened{Fastener: "f"}, &event.FastenerFitted{Fastener: "f"}, &event.PassDone{Fastener: "f", Pass: "final", TorqueCNM: 4505, Count: 2}, &event.FastenerMarked{Fastener: "f"},
		&event.AdjustmentMade{Quantity: event.Camber, Corner: event.FL, After: "two turns"}, &event.DamperSet{Corner: event.FL, From: "full_hard", Clicks: 4},
		&event.NoteAdded{Text: "n"}, &event.HoldAsked{Step: "s"}, &event.HoldReleased{Step: "s", By: "mentor", Reason: "looked"},
		&event.StepChecked{Step: "s", Check: "c", Answer: event.No}, &event.StepReopened{Step: "s", Reason: "again"}, &event.LeftoversCounted{Step: "s", Count: 1},
		&event.PhotoTaken{Step: "s", SHA256: strings.Repeat("0f", 32), Bytes: 9, Width: 4, Height: 3}, &event.PhotoLeftOut{Step: "s", Photo: "p", Reason: "no lens"},
		&event.PositionNoted{Adjuster: event.Camber, Corner: event.FL, Purpose: event.Before, Text: "mark 3"}, &event.WithdrawalSeen{Reason: "asked"},
		&event.WorkParked{Note: "rain"}, &event.WorkResumed{AsLeft: true},
		&event.Corrected{Event: event.ID(newDevice()), Reason: "slip"}, &event.JobFinished{}, &event.CommentAdded{Step: "s", Name: "Ben", Text: "hold it up"},
	}
	seen := map[event.Kind]bool{event.KindJobOpened: true, event.KindFindingRaised: true, event.KindDecisionMade: true} // the shop writes these below
	for _, payload := range some {
		seen[payload.Kind()] = true
	}
	for _, k := range event.Kinds() {
		if !seen[k] {
			t.Errorf("no example of %s here: add one, and its words", k)
		}
	}
	page := "/shop/jobs/" + string(p.open(sheet.Demo()[0], "car", some...))
	y.want(y.form(desk, page+"/findings", "severity", "ask", "text", "the hose looks twisted"), http.StatusSeeOther, "")
	y.want(y.form(desk, page+"/decisions", "decision", "return", "text", "one step again", "seen", "0"), http.StatusSeeOther, "")
	a := y.get(desk, page)
	y.want(a, http.StatusOK, "")
	if strings.Contains(a.body, "Recorded:") {
		t.Errorf("a kind has no words of its own: %s", regexp.MustCompile(`Recorded:[^<]*`).FindAllString(a.body, -1))
	}
	for _, want := range []string{"45.5 N·m", "45.05 N·m", "−1.5° ± 0.1°", "2 of them", "bench: 1", "as the record says", "Ben says: hold it up", "raised (ask): the hose looks twisted", "returns the whole job: one step again"} {
		if !strings.Contains(a.body, want) {
			t.Errorf("the timeline lacks %q", want)
		}
	}
}

func TestSheets(t *testing.T) {
	y := open(t, nil)
	p, desk := y.joined(), y.staff()
	list := y.call("GET", "/api/v1/sheets", p.token, nil)
	y.want(list, http.StatusOK, "")
	items, err := decode[[]struct {
		Hash string `json:"hash"`
		Own  bool   `json:"own"`
	}]([]byte(list.body))
	if err != nil || len(items) != len(sheet.Demo()) {
		t.Fatalf("list: %v, %s", err, list.body)
	}
	for _, item := range items {
		sh, err := sheet.Decode([]byte(y.call("GET", "/api/v1/sheets/"+item.Hash, p.token, nil).body))
		if err != nil || string(sh.Hash()) != item.Hash {
			t.Errorf("sheet %s: %v", item.Hash, err)
		}
	}
	own := sheet.Demo()[0]
	own.Own, own.Title = true, "My own sheet"
	path := "/api/v1/sheets/" + string(own.Hash())
	id := p.open(own, "own car")
	if a := y.get(desk, "/shop"); !strings.Contains(a.body, "sheet not here") {
		t.Error("the queue does not say that the sheet is missing")
	}
	page := "/shop/jobs/" + string(id)
	if a := y.get(desk, page); !strings.Contains(a.body, "This record could not be judged") || strings.Contains(a.body, "The rules see nothing") {
		t.Error("a job without its sheet is called sound")
	}
	if a := y.get(desk, "/shop"); !strings.Contains(a.body, "not judged") {
		t.Error("the queue counts the findings of a job that could not be judged")
	}
	y.want(y.form(desk, page+"/findings", "severity", "stop", "text", "a cracked boot"), http.StatusSeeOther, "")
	y.has(y.get(desk, "/shop"), "not judged", "1 stop, 0 ask, 0 note")
	if a := y.form(desk, page+"/decisions", "seen", "0", "finding", "", "decision", "accept", "text", ""); a.status != http.StatusConflict || !strings.Contains(a.body, "so it could not be judged") {
		t.Errorf("accepted unjudged: status %d: %s", a.status, a.body)
	}
	for range 2 {
		y.want(y.raw("PUT", path, p.token, own.Encode()), http.StatusOK, "")
	}
	if a := y.get(desk, "/shop"); strings.Contains(a.body, "sheet not here") {
		t.Error("the queue does not follow the sheet")
	}
	if a := y.get(desk, page); strings.Contains(a.body, "This record could not be judged") {
		t.Error("the job's page does not follow the sheet")
	}
	minute := p.open(sheet.Minute.Sheet(), "a bracket")
	if a := y.get(desk, "/shop/jobs/"+string(minute)); strings.Contains(a.body, "This record could not be judged") || !strings.Contains(a.body, "Invented") {
		t.Errorf("a job on an example that is part of the program is not judged:\n%s", a.body)
	}
	if a := y.get(desk, "/shop"); strings.Contains(a.body, "sheet not here") {
		t.Error("the queue does not know the example")
	}
	other := y.join(y.invite(desk), newDevice())
	if a := y.call("GET", "/api/v1/sheets", other.token, nil); strings.Contains(a.body, "My own sheet") {
		t.Error("another phone's list holds the sheet")
	}
	if a := y.call("GET", "/api/v1/sheets", p.token, nil); !strings.Contains(a.body, "My own sheet") {
		t.Error("the phone's own list lacks its sheet")
	}
	wrong := "/api/v1/sheets/" + strings.Repeat("0", 64)
	y.want(y.raw("PUT", wrong, p.token, own.Encode()), http.StatusBadRequest, fault.Invalid)
	y.want(y.call("GET", wrong, p.token, nil), http.StatusNotFound, fault.NotFound)
	y.want(y.raw("PUT", wrong, p.token, []byte(`{}`)), http.StatusBadRequest, fault.Invalid)
	y.want(y.raw("PUT", wrong, p.token, make([]byte, sheet.MaxBytes+1)), http.StatusRequestEntityTooLarge, fault.TooLarge)
	posing := sheet.Demo()[1]
	posing.Title = "Posing as the shop's"
	y.want(y.raw("PUT", "/api/v1/sheets/"+string(posing.Hash()), p.token, posing.Encode()), http.StatusForbidden, fault.Denied)
	for _, token := range []string{"", "abc"} {
		y.want(y.call("GET", "/api/v1/sheets", token, nil), http.StatusUnauthorized, fault.SignIn)
		y.want(y.call("GET", path, token, nil), http.StatusUnauthorized, fault.SignIn)
	}
}

func TestShare(t *testing.T) {
	y := open(t, nil)
	p, desk := y.joined(), y.staff()
	id := p.open(sheet.Demo()[0], "shared car")
	page := "/shop/jobs/" + string(id)
	link := y.shown(y.form(desk, page+"/links", "days", "1", "role", "look"))
	if !strings.HasPrefix(link, at(y.srv)+"/look#") || len(fragment(link)) != 22 {
		t.Errorf("link %q", link)
	}
	for range 20 {
		y.want(y.get(browser(t), "/look"), http.StatusOK, "")
		y.want(y.do(browser(t), "HEAD", "/look", nil, nil), http.StatusOK, "")
	}
	if a := y.get(desk, page); !strings.Contains(a.body, "never") || strings.Contains(a.body, fragment(link)) {
		t.Error("a link that nobody opened counts as opened, or is shown again")
	}
	mentor := browser(t)
	opened := y.form(mentor, "/look", "code", fragment(link), "name", "Ben")
	y.want(opened, http.StatusSeeOther, "")
	look := opened.header.Get("Location")
	seen := y.get(mentor, look)
	y.want(seen, http.StatusOK, "")
	if !strings.Contains(seen.body, "shared car") || strings.Contains(seen.body, "Make a mentor link") || strings.Contains(seen.body, `method="post"`) {
		t.Error("the mentor does not see the job, or sees the shop's controls")
	}
	t.Run("ErrElsewhere", func(t *testing.T) {
		y := y.in(t)
		y.want(y.get(mentor, "/shop"), http.StatusSeeOther, "")
		y.want(y.get(browser(t), look), http.StatusUnauthorized, "")
		second := p.open(sheet.Demo()[0], "other car")
		link2 := y.shown(y.form(desk, "/shop/jobs/"+string(second)+"/links", "days", "30", "role", "look"))
		look2 := y.form(mentor, "/look", "code", fragment(link2), "name", "Ben").header.Get("Location")
		if a, b := y.get(mentor, look).body, y.get(mentor, look2).body; !strings.Contains(a, "shared car") || !strings.Contains(b, "other car") {
			t.Error("one browser with two jobs mixes them up")
		}
		// The cookie of one job, sent by hand to the page of the other.
		had := mentor.Jar.Cookies(mustURL(t, at(y.srv)+look))
		y.want(y.do(browser(t), "GET", look2, http.Header{"Cookie": {had[0].String()}}, nil), http.StatusForbidden, "")
	})
	t.Run("ErrRevoked", func(t *testing.T) {
		y := y.in(t)
		end := regexp.MustCompile(`/shop/jobs/[^"]+/links/[^"]+/end`).FindString(y.get(desk, page).body)
		y.want(y.form(desk, end), http.StatusSeeOther, "")
		y.want(y.get(mentor, look), http.StatusForbidden, "")
		y.want(y.form(browser(t), "/look", "code", fragment(link), "name", "Ben"), http.StatusForbidden, "")
	})
	t.Run("ErrExpired", func(t *testing.T) {
		y := y.in(t)
		late := y.shown(y.form(desk, page+"/links", "days", "7", "role", "look"))
		look := y.form(mentor, "/look", "code", fragment(late), "name", "Ben").header.Get("Location")
		y.want(y.get(mentor, look), http.StatusOK, "")
		y.clock.pass(days(7))
		y.want(y.get(mentor, look), http.StatusForbidden, "")
		y.want(y.form(browser(t), "/look", "code", fragment(late), "name", "Ben"), http.StatusForbidden, "")
	})
	t.Run("ErrForm", func(t *testing.T) {
		y := y.in(t)
		desk := y.staff() // the first session ended meanwhile
		y.want(y.form(desk, page+"/links", "days", "365", "role", "look"), http.StatusBadRequest, "")
		y.want(y.form(desk, page+"/links", "days", "1", "role", "decide"), http.StatusBadRequest, "")
		y.want(y.form(desk, "/shop/jobs/nothing/links", "days", "1", "role", "look"), http.StatusNotFound, "")
		y.want(y.form(browser(t), "/look", "code", "", "name", "Ben"), http.StatusForbidden, "")
	})
	if strings.Contains(y.log.String(), fragment(link)) {
		t.Error("the log holds a link's secret")
	}
}
