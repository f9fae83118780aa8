package server_test

import (
	"fmt"
	"html"
	"net/http"
	"regexp"
	"strings"
	"testing"
	"time"

	"strutcard/server"
	"strutcard/sync/event"
	"strutcard/sync/sheet"
)

func TestErrDraftStale(t *testing.T) {
	y := open(t, nil)
	ann, bea := y.start(y.staff()), y.staff()
	old := ann.revision()
	y.want(ann.fill("/edit/head", map[string]string{"f.title": "By the first"}), http.StatusSeeOther, "")
	for path, pairs := range map[string][]string{
		"/edit/head":      {"op", "save", "f.title", "By the second", "f.version", "1"},
		"/edit/vehicle":   {"op", "raw", "raw", `{"name":"By the second"}`},
		"/edit/fasteners": {"op", "remove", "at", "0"},
		"/confirm":        {"path", "fasteners/0/passes/0", "source", "x"},
		"/publish":        {},
		"/drop":           {},
	} {
		got := y.form(bea, ann.draft+path, append([]string{"revision", old}, pairs...)...)
		y.want(got, http.StatusConflict, "")
		y.has(got, "demo saved this draft at", "That is kept", "Open the draft as it is now")
		if path == "/edit/head" {
			y.has(got, "By the second") // to be typed again
		}
	}
	y.has(ann.get("/edit/head"), "By the first")
	if raw := ann.get("").body; strings.Contains(raw, "By the second") {
		t.Error("the second author overwrote the first")
	}
	y.want(y.form(bea, ann.draft+"/edit/head", "op", "save", "f.title", "No revision"), http.StatusConflict, "")
}

func TestConfirm(t *testing.T) {
	y := open(t, nil)
	a := y.start(y.staff())
	y.want(a.fill("/edit/fasteners/1", map[string]string{"f.thread": "M8", "f.source": "manual, page 1"}), http.StatusSeeOther, "")
	torque := map[string]string{"f.torque_cnm": "112", "f.torque_cnm.unit": "N·m"} // four times what an M8 gets
	y.want(a.fill(passOf, torque), http.StatusSeeOther, "")
	for _, path := range []string{"", passOf, "/edit/fasteners", "/edit/fasteners/1"} {
		y.has(a.get(path), `class="unverified"`)
	}
	y.want(a.send("/confirm", "path", "fasteners/1/passes/0", "source", " "), http.StatusBadRequest, "")
	y.want(a.send("/confirm", "path", "vehicle", "source", "manual"), http.StatusNotFound, "")
	y.want(a.send("/confirm", "path", "fasteners/1/passes/0", "source", "manual, page 7", "back", "fasteners/1"), http.StatusSeeOther, "")
	y.has(a.get(passOf), "demo, against manual, page 7")
	if strings.Contains(a.get(passOf).body, `class="unverified"`) {
		t.Errorf("a confirmed number is still marked: %s", regexp.MustCompile(`(?s)<div class="finding">.*?</p>`).FindAllString(a.get(passOf).body, -1))
	}
	y.want(a.fill(passOf, map[string]string{"f.why": "Another word"}), http.StatusSeeOther, "")
	y.has(a.get(passOf), "demo, against manual, page 7")
	torque["f.torque_cnm"] = "113"
	y.want(a.fill(passOf, torque), http.StatusSeeOther, "")
	if body := a.get(passOf).body; strings.Contains(body, "page 7") || !strings.Contains(body, `class="unverified"`) {
		t.Error("the confirmation of another number still holds")
	}
}

var leaveBox = regexp.MustCompile(`name="leave" value="([^"]*)"`)

func TestPublish(t *testing.T) {
	y := open(t, nil)
	desk := y.staff()
	demo := sheet.Demo()[0]
	a := y.copied(desk, demo.Hash())
	publish := func(leave ...string) answer {
		t.Helper()
		values := "revision=" + a.revision()
		for _, l := range leave {
			values += "&leave=" + strings.NewReplacer("%", "%25", "&", "%26", "+", "%2B", " ", "+").Replace(l)
		}
		return y.do(desk, "POST", a.draft+"/publish", http.Header{"Content-Type": {"application/x-www-form-urlencoded"}}, strings.NewReader(values))
	}
	unsound := publish()
	y.want(unsound, http.StatusBadRequest, "")
	y.has(unsound, "title, version or vehicle has no name")
	y.want(a.fill("/edit/head", map[string]string{"f.version": demo.Version}), http.StatusSeeOther, "")
	y.want(a.fill("/edit/fasteners/0", map[string]string{"f.thread": "M8"}), http.StatusSeeOther, "")
	doubtful := publish()
	y.want(doubtful, http.StatusBadRequest, "")
	y.has(doubtful, "Some numbers look wrong")
	var left []string
	for _, m := range leaveBox.FindAllStringSubmatch(doubtful.body, -1) {
		left = append(left, html.UnescapeString(m[1]))
	}
	if len(left) == 0 {
		t.Fatal("there is nothing to leave unverified")
	}
	some := publish(left[1:]...)
	y.want(some, http.StatusBadRequest, "")
	y.has(some, "Some numbers look wrong")
	noNote := publish(left...)
	y.want(noNote, http.StatusBadRequest, "")
	y.has(noNote, "no change note")
	y.want(a.fill("/edit/head", map[string]string{"f.note": "Another thread."}), http.StatusSeeOther, "")
	same := publish(left...)
	y.want(same, http.StatusConflict, "")
	y.has(same, "published already", "the draft is kept")
	y.want(a.fill("/edit/head", map[string]string{"f.version": "demo 2"}), http.StatusSeeOther, "")
	y.has(y.get(desk, a.draft+"/publish"), "What differs from", "M8", "Another thread.")
	done := publish(left...)
	y.want(done, http.StatusSeeOther, "")
	path := done.header.Get("Location")
	file := y.get(desk, path+"/file")
	sh, err := sheet.Decode([]byte(file.body))
	if err != nil || "/shop/sheets/"+string(sh.Hash()) != path || !sh.Invented || sh.Own || sh.Version != "demo 2" || sh.Note != "Another thread." {
		t.Errorf("published %+v (%v)", sh, err)
	}
	y.has(y.get(desk, path), "Another thread.", `class="unverified"`, "Compare with another version")
	y.has(y.get(desk, path+"/changes?from="+string(demo.Hash())), "demo 2", "M8")
	y.want(a.get(""), http.StatusNotFound, "")
	if items := y.call("GET", "/api/v1/sheets", y.joined().token, nil); !strings.Contains(items.body, string(sh.Hash())) {
		t.Error("a phone does not hear of the new version")
	}
}

func TestErrPublishUnsound(t *testing.T) {
	y := open(t, nil)
	a := y.start(y.staff()) // no torque in it, so nothing is doubtful
	y.want(a.fill("/edit/vehicle", map[string]string{"f.name": ""}), http.StatusSeeOther, "")
	got := a.send("/publish")
	y.want(got, http.StatusBadRequest, "")
	y.has(got, "This fitting sheet cannot be used.", "It cannot be published yet")
	if list := y.get(a.c, "/shop/sheets"); strings.Count(list.body, `<a href="/shop/sheets/`) != len(sheet.Demo()) {
		t.Error("it was published all the same")
	}
	y.want(a.get(""), http.StatusOK, "")
}

func TestDraftDrop(t *testing.T) {
	y := open(t, nil)
	a := y.start(y.staff())
	y.want(a.send("/drop"), http.StatusSeeOther, "")
	y.want(a.get(""), http.StatusNotFound, "")
}

func TestWithdrawReachesPhones(t *testing.T) {
	y := open(t, nil)
	desk, p := y.staff(), y.joined()
	demo := sheet.Demo()[0]
	path := "/shop/sheets/" + string(demo.Hash())
	step := demo.Steps()[3]
	for name, pairs := range map[string][]string{"ErrNoReason": {"reason", " "}, "ErrLong": {"reason", strings.Repeat("x", 1001)}, "ErrStep": {"reason", "r", "before", "dream"}} {
		t.Run(name, func(t *testing.T) {
			got := y.in(t).form(desk, path+"/withdraw", pairs...)
			y.want(got, http.StatusBadRequest, "")
			y.has(got, "not withdrawn")
		})
	}
	withdrawals := func() map[event.SheetHash]sheet.Withdrawal {
		a := y.call("GET", "/api/v1/sheets", p.token, nil)
		items, err := decode[[]struct {
			Hash      event.SheetHash   `json:"hash"`
			Withdrawn *sheet.Withdrawal `json:"withdrawn"`
		}]([]byte(a.body))
		if err != nil || len(items) != len(sheet.Demo()) {
			t.Fatalf("list: %v, %s", err, a.body)
		}
		out := map[event.SheetHash]sheet.Withdrawal{}
		for _, item := range items {
			if item.Withdrawn != nil {
				out[item.Hash] = *item.Withdrawn
			}
		}
		return out
	}
	if got := withdrawals(); len(got) != 0 {
		t.Fatalf("before: %v", got)
	}
	at := y.clock.now().UnixMilli()
	y.want(y.form(desk, path+"/withdraw", "reason", "A torque is wrong.", "before", string(step.ID)), http.StatusSeeOther, "")
	y.clock.pass(time.Hour)
	y.want(y.form(desk, path+"/withdraw", "reason", "Another reason"), http.StatusSeeOther, "")
	want := sheet.Withdrawal{Reason: "A torque is wrong.", Before: step.ID, At: at}
	if got := withdrawals(); len(got) != 1 || got[demo.Hash()] != want {
		t.Errorf("got %v, want only the first one, %v", got, want)
	}
	y.has(y.get(desk, path), "A torque is wrong.", "by demo", html.EscapeString(step.Title))
	if strings.Contains(y.get(desk, path).body, "Withdraw it for good") {
		t.Error("a withdrawn sheet can be withdrawn again")
	}
	y.has(y.get(desk, "/shop/sheets"), "✕ withdrawn")
}

func TestErrOtherShop(t *testing.T) {
	dir := t.TempDir()
	y := open(t, func(cfg *server.Config) { cfg.DataDir = dir })
	ours := y.start(y.staff())
	olga := y.otherShop(dir)
	hash := "/shop/sheets/" + string(sheet.Demo()[0].Hash())
	for _, path := range []string{hash, hash + "/file", hash + "/changes?from=" + string(sheet.Demo()[1].Hash()), ours.draft, ours.draft + "/edit/head", ours.draft + "/publish"} {
		y.want(y.get(olga, path), http.StatusNotFound, "")
	}
	for _, path := range []string{hash + "/copy", hash + "/withdraw", ours.draft + "/edit/head", ours.draft + "/confirm", ours.draft + "/drop", ours.draft + "/publish"} {
		y.want(y.form(olga, path, "revision", ours.revision(), "op", "save", "reason", "spite", "f.title", "taken over"), http.StatusNotFound, "")
	}
	if list := y.get(olga, "/shop/sheets"); strings.Contains(list.body, ours.draft) || strings.Contains(list.body, string(sheet.Demo()[0].Hash())) {
		t.Error("the other shop's list holds our sheets")
	}
	y.has(ours.get("/edit/head"), `value="Kit"`)
	y.want(y.form(browser(t), ours.draft+"/drop", "revision", ours.revision()), http.StatusUnauthorized, "")
}

// TestDraftPages: every place of a draft can be shown, and none needs what the
// policy forbids.
func TestDraftPages(t *testing.T) {
	y := open(t, nil)
	desk := y.staff()
	nasty := sheet.Demo()[0]
	nasty.Title = `"><script>alert(1)</script>`
	nasty.Steps()[0].Do = "<b>bold</b>"
	up := y.upload(desk, nasty.Encode())
	y.want(up, http.StatusSeeOther, "")
	a := author{y, desk, up.header.Get("Location")}
	paths := []string{"", "/publish"}
	for _, p := range []string{"head", "vehicle", "vehicle/points", "parts", "parts/0", "tools", "tools/0", "checks/0", "fasteners", "stages", "stages/0", "stages/0/steps", "targets/0", "dampers", "perches", "order"} {
		paths = append(paths, "/edit/"+p)
	}
	for i, stage := range nasty.Stages {
		for j := range stage.Steps {
			paths = append(paths, fmt.Sprintf("/edit/stages/%d/steps/%d", i, j))
		}
	}
	for _, path := range paths {
		got := a.get(path)
		y.want(got, http.StatusOK, "")
		for _, bad := range []string{"style=", "onclick", "<script>alert", "<b>bold"} {
			if strings.Contains(got.body, bad) {
				t.Errorf("%s holds %q", path, bad)
			}
		}
	}
	script := y.get(desk, "/static/author.js")
	y.want(script, http.StatusOK, "")
	if !strings.HasPrefix(script.header.Get("Content-Type"), "text/javascript") {
		t.Errorf("the script comes as %q", script.header.Get("Content-Type"))
	}
	y.want(y.form(desk, a.draft+"/edit/head", "revision", a.revision(), "op", "save", "f.title", strings.Repeat("x", 4*sheet.MaxBytes)), http.StatusRequestEntityTooLarge, "")
	y.want(a.fill("/edit/head", map[string]string{"f.note": strings.Repeat("x", sheet.MaxBytes)}), http.StatusRequestEntityTooLarge, "")
}
