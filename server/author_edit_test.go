package server_test

import (
	"encoding/json"
	"html"
	"net/http"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"strutcard/sync/sheet"
)

// passOf is the only pass of a fastener of the started draft.
const passOf = "/edit/fasteners/1/passes/0"

func TestDraftEdit(t *testing.T) {
	y := open(t, nil)
	a := y.start(y.staff())
	y.want(a.fill("/edit/fasteners/1", map[string]string{"f.thread": "M12x1.5", "f.source": "manual, page 1"}), http.StatusSeeOther, "")
	for name, test := range map[string]struct{ number, unit, want string }{
		"NewtonMetres": {"112", "N·m", `"torque_cnm": 11200`},
		"PoundFeet":    {"83", "lbf·ft", `"torque_cnm": 11253`},
		"PoundInches":  {"1000", "lbf·in", `"torque_cnm": 11298`},
	} {
		t.Run(name, func(t *testing.T) {
			a := author{y.in(t), a.c, a.draft}
			y.want(a.fill(passOf, map[string]string{"f.torque_cnm": test.number, "f.torque_cnm.unit": test.unit}), http.StatusSeeOther, "")
			a.y.has(answer{body: html.UnescapeString(a.get(passOf).body)}, test.want)
		})
	}
	t.Run("KeepsWhatIsNotTouched", func(t *testing.T) {
		a := author{y.in(t), a.c, a.draft}
		whole := strings.Replace(html.UnescapeString(rawOf(a.get("/edit/fasteners/0").body)), `"turn": "nut"`, `"turn": "something that no list offers"`, 1)
		a.y.want(a.send("/edit/fasteners/0", "op", "raw", "raw", whole), http.StatusSeeOther, "")
		before := html.UnescapeString(rawOf(a.get("").body))
		for _, path := range []string{passOf, "/edit/vehicle", "/edit/head", "/edit/stages/0/steps/0", "/edit/stages/3/steps/0", "/edit/fasteners/0", "/edit/checks/0"} {
			a.y.want(a.fill(path, nil), http.StatusSeeOther, "")
		}
		if after := html.UnescapeString(rawOf(a.get("").body)); after != before {
			t.Errorf("saving what was not touched changed the draft:\n%s\n%s", before, after)
		}
	})
	t.Run("ErrNoUnit", func(t *testing.T) {
		a := author{y.in(t), a.c, a.draft}
		got := a.fill(passOf, map[string]string{"f.torque_cnm": "77", "f.torque_cnm.unit": ""})
		a.y.want(got, http.StatusBadRequest, "")
		a.y.has(got, "No unit of torque is chosen", `value="77"`, "Nothing was saved")
		if strings.Contains(a.get(passOf).body, `"f.torque_cnm" value="77"`) {
			t.Error("it was saved all the same")
		}
	})
	t.Run("Check", func(t *testing.T) {
		a := author{y.in(t), a.c, a.draft}
		revision := a.revision()
		got := a.fill(passOf, map[string]string{"op": "check", "f.torque_cnm": "1120", "f.torque_cnm.unit": "N·m"})
		a.y.want(got, http.StatusOK, "")
		a.y.has(got, "unverified", `value="1120"`)
		if a.revision() != revision {
			t.Error("checking saved something")
		}
		got = a.fill("/edit/head", map[string]string{"op": "check", "f.title": ""})
		a.y.has(got, "Its title, version or vehicle has no name.")
	})
	t.Run("ErrNoPlace", func(t *testing.T) {
		a := author{y.in(t), a.c, a.draft}
		for _, path := range []string{"/edit/fasteners/999", "/edit/fasteners/x", "/edit/nonsense", "/edit/fasteners/0/passes/0/deep", "/edit/vehicle/name"} {
			a.y.want(a.get(path), http.StatusNotFound, "")
			a.y.want(a.send(path, "op", "save"), http.StatusNotFound, "")
		}
		a.y.want(a.send("/edit/head", "op", "explode"), http.StatusBadRequest, "")
	})
}

var rawBox = regexp.MustCompile(`(?s)<textarea name="raw"[^>]*>(.*?)</textarea>`)

func rawOf(page string) string {
	if m := rawBox.FindStringSubmatch(page); m != nil {
		return m[1]
	}
	return ""
}

func TestDraftOrder(t *testing.T) {
	y := open(t, nil)
	a := y.start(y.staff())
	titles := func() []string {
		var s sheet.Sheet
		if err := json.Unmarshal([]byte(html.UnescapeString(rawOf(a.get("").body))), &s); err != nil {
			t.Fatal(err)
		}
		var out []string
		for _, step := range s.Stages[0].Steps {
			out = append(out, step.Title)
		}
		return out
	}
	const steps = "/edit/stages/0/steps"
	first := titles()
	y.want(a.send(steps, "op", "down", "at", "0"), http.StatusSeeOther, "")
	if got := titles(); got[0] != first[1] || got[1] != first[0] {
		t.Errorf("after down: %q", got)
	}
	y.want(a.send(steps, "op", "up", "at", "1"), http.StatusSeeOther, "")
	added := a.send(steps, "op", "add", "at", "0")
	if want := a.draft + "/edit/stages/0/steps/1?saved=1"; added.header.Get("Location") != want {
		t.Errorf("after adding it goes to %q, want %q", added.header.Get("Location"), want)
	}
	y.want(a.fill("/edit/stages/0/steps/1", map[string]string{"f.title": "A new step", "f.do": "Do it."}), http.StatusSeeOther, "")
	if got := titles(); len(got) != len(first)+1 || got[1] != "A new step" || got[2] != first[1] {
		t.Errorf("after adding: %q", got)
	}
	y.has(a.get("/edit/stages/0/steps/1"), `class="handset"`, "A new step", "Do it.")
	y.want(a.send(steps, "op", "remove", "at", "1"), http.StatusSeeOther, "")
	y.want(a.send(steps, "op", "remove", "at", "99"), http.StatusSeeOther, "")
	if got := titles(); !reflect.DeepEqual(got, first) {
		t.Errorf("after removing: %q, want %q", got, first)
	}
}

// TestEveryFieldHasAForm: what a sheet can hold can be typed without the JSON box.
func TestEveryFieldHasAForm(t *testing.T) {
	y := open(t, nil)
	a := y.start(y.staff())
	set := map[string]bool{"format": true, "invented": true, "own": true, "confirmed": true} // not an author's to set
	for place, of := range map[string]any{"": sheet.Sheet{}, "vehicle": sheet.Vehicle{}, "vehicle/points": sheet.Point{}, "parts": sheet.Part{}, "tools": sheet.Tool{}, "checks": sheet.Check{},
		"fasteners": sheet.Fastener{}, "fasteners/0/passes": sheet.Pass{}, "stages": sheet.Stage{}, "stages/0/steps": sheet.Step{}, "targets": sheet.Target{}, "dampers": sheet.Damper{},
		"perches": sheet.Perch{}, "order": sheet.Order{}, "stages/0/steps/0/checks": sheet.StepCheck{}, "stages/0/steps/0/photos": sheet.PhotoAsk{}, "stages/0/steps/0/readings": sheet.ReadingAsk{},
		"stages/0/steps/0/positions": sheet.PositionAsk{}, "stages/0/steps/0/clicks": sheet.ClicksAsk{}} {
		pages := a.get("/edit/head").body + a.get("").body
		if place != "" && place != "vehicle" {
			added := a.send("/edit/"+place, "op", "add", "at", "999")
			y.want(added, http.StatusSeeOther, "")
			pages = y.get(a.c, added.header.Get("Location")).body
		} else if place != "" {
			pages = a.get("/edit/" + place).body
		}
		have := map[string]bool{}
		for _, m := range fieldName.FindAllStringSubmatch(pages, -1) {
			have[m[1]] = true
		}
		for i := range reflect.TypeOf(of).NumField() {
			key, _, _ := strings.Cut(reflect.TypeOf(of).Field(i).Tag.Get("json"), ",")
			if key != "" && !set[key] && !have[key] && !strings.Contains(pages, "/"+key+`"`) {
				t.Errorf("%q of %q has no form: add a row in author_shape.go", key, place)
			}
		}
	}
}

func TestDraftRaw(t *testing.T) {
	y := open(t, nil)
	a := y.start(y.staff())
	y.want(a.send("/edit/fasteners/0", "op", "raw", "raw", `{"id":"x","place":"Mended","corner":"FL","count":1,"passes":[{"id":"final","kind":"final","torque_cnm":10000,"confirmed":"me"}]}`), http.StatusSeeOther, "")
	after := html.UnescapeString(rawOf(a.get("/edit/fasteners/0").body))
	if !strings.Contains(after, "Mended") || strings.Contains(after, "confirmed") {
		t.Errorf("saved %s: it lacks the change, or confirms itself", after)
	}
	whole := html.UnescapeString(rawOf(a.get("").body))
	y.want(a.send("/edit/", "op", "raw", "raw", strings.Replace(whole, `"format"`, `"own": true, "invented": true, "format"`, 1)), http.StatusSeeOther, "")
	if again := html.UnescapeString(rawOf(a.get("").body)); strings.Contains(again, `"own"`) || strings.Contains(again, `"invented"`) {
		t.Error("the JSON box makes a sheet own or invented")
	}
	for name, raw := range map[string]string{"ErrNotJSON": "{", "ErrTwo": `{"id":"x"}{}`, "ErrList": "[]", "ErrUnknown": `{"colour":"red"}`, "ErrFloat": `{"count":1.5}`, "ErrNull": "null"} {
		t.Run(name, func(t *testing.T) {
			a := author{y.in(t), a.c, a.draft}
			got := a.send("/edit/fasteners/0", "op", "raw", "raw", raw)
			a.y.want(got, http.StatusBadRequest, "")
			a.y.has(got, "Nothing was", html.EscapeString(raw))
		})
	}
	y.want(a.send("/edit/fasteners", "op", "raw", "raw", `[{"id":"a"},{"id":"b","colour":1}]`), http.StatusBadRequest, "")
}
