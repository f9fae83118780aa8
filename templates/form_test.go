package templates_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// desk is the templates of pages that are only for people with a connection.
var desk = map[string]bool{"account.templ": true, "author.templ": true, "author_draft.templ": true, "review.templ": true, "shop.templ": true, "staff.templ": true}

// A form of the phone is heard by the app and sent nowhere by the browser: without
// a connection that would lose what was typed. A form of the desk says where it goes.
func TestForms(t *testing.T) {
	names, err := filepath.Glob("*.templ")
	if err != nil {
		t.Fatal(err)
	}
	phones := 0
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, form := range regexp.MustCompile(`<form[^>]*>`).FindAllString(string(text), -1) {
			heard, sent := strings.Contains(form, " data-do="), strings.Contains(form, " action=") || strings.Contains(form, " method=")
			if heard == sent || sent != desk[name] {
				t.Errorf("%s: %s: a form of the phone has data-do, one of the desk method and action, and none has both", name, form)
			}
			if heard {
				phones++
			}
		}
	}
	if phones < 10 {
		t.Errorf("only %d forms of the phone were found", phones)
	}
}
