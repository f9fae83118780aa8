package templates_test

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/a-h/templ"

	"strutcard/templates"
)

func shownAs(t *testing.T, c templ.Component) string {
	t.Helper()
	var b bytes.Buffer
	if err := c.Render(context.Background(), &b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestCopyButtons: each page that shows a link has one button that copies it: it names
// an element that is there, and both of its replies.
func TestCopyButtons(t *testing.T) {
	for name, page := range map[string]string{
		"phones": shownAs(t, templates.PhonesPage(templates.Phones{Invitation: "https://shop.example/join#x"})),
		"staff":  shownAs(t, templates.StaffPage(templates.StaffList{Link: "https://shop.example/welcome#x"})),
		"job":    shownAs(t, templates.DeskJobPage(templates.DeskJob{NewLink: "https://shop.example/look#x"})),
		"people": shownAs(t, templates.PeopleScreen(templates.People{Joined: true, Links: []templates.SharedLink{{ID: "a", Code: "1", Link: "https://shop.example/look#x", Holds: true}, {ID: "b", Holds: true}}})),
	} {
		found := regexp.MustCompile(`<button[^>]* data-copy="([^"]*)" data-copied="([^"]+)" data-by-hand="([^"]+)"[^>]*>Copy</button>\s*<span role="status"></span>`).FindAllStringSubmatch(page, -1)
		if len(found) != 1 || strings.Count(page, ` id="`+found[0][1]+`"`) != 1 {
			t.Errorf("%s: copy buttons %q in\n%s", name, found, page)
		}
	}
}

// TestWide: what may be wider than the screen scrolls in a region that keys reach and
// that has a name, and there is no table of the desk's lists outside one.
func TestWide(t *testing.T) {
	names, err := filepath.Glob("*.templ")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, wide := range regexp.MustCompile(`<div class="wide"[^>]*>`).FindAllString(string(text), -1) {
			if !regexp.MustCompile(`tabindex="0" role="region" aria-label=`).MatchString(wide) {
				t.Errorf("%s: %s: scrolls, and keys do not reach it by name", name, wide)
			}
		}
		lists := name == "shop.templ" || name == "staff.templ" || name == "card.templ"
		for _, before := range regexp.MustCompile(`(.*)\n\t*<table`).FindAllStringSubmatch(string(text), -1) {
			if lists && !strings.Contains(before[1], "@wide(") {
				t.Errorf("%s: after %q stands a table that scrolls the whole page", name, strings.TrimSpace(before[1]))
			}
		}
	}
}

// TestJoinFirst: the form to join a shop stands before what explains the record.
func TestJoinFirst(t *testing.T) {
	page := shownAs(t, templates.SyncScreen(templates.Sync{Waiting: "3 entries wait"}))
	form, first := strings.Index(page, `id="join-form"`), strings.Index(page, "<p>")
	if form < 0 || first < form {
		t.Errorf("the form is at %d, the first paragraph at %d:\n%s", form, first, page)
	}
	if page := shownAs(t, templates.SyncScreen(templates.Sync{Joined: true})); strings.Contains(page, "join-form") {
		t.Error("a phone that has joined is asked to join")
	}
}

// TestOthersOneTap: who looks on is one tap from a step of the job, and not offered in
// a sheet's preview.
func TestOthersOneTap(t *testing.T) {
	for others, want := range map[bool]int{true: 1, false: 0} {
		if got := strings.Count(shownAs(t, templates.StepScreen(templates.Step{Others: others})), `data-do="people"`); got != want {
			t.Errorf("with others %v the step has %d ways to them, want %d", others, got, want)
		}
	}
}
