package server_test

import (
	"net/http"
	"regexp"
	"strings"
	"testing"

	"strutcard/calc/lang/langtest"
)

// sayable is what is the same in every language, or as somebody typed it.
var sayable = langtest.Allowed{
	Texts: []string{"Bramley Yard (invented)", "test car", "Ann's phone", "Ben", "Kit", "A car"},
	Words: map[string]string{"strutcard": "the program", "demo": "the staff's name, and the demo sheets' version", "j": "a key", "k": "a key", "JSON": "a format", "CSV": "a format", "L": "left, in a drawing", "R": "right, in a drawing"},
}

var hrefs = regexp.MustCompile(`(?:href|action)="(/[^"#]*)`)

// TestDeskIsSaid follows every link of the desk and of a mentor's page in a made-up
// language: what was not looked up is not in it.
func TestDeskIsSaid(t *testing.T) {
	w := held(open(t, nil))
	w.start(w.desk)
	mentor, look := w.guest(w.link("release", "1"), "Ben")
	langtest.Speak(t)
	told := map[string]bool{}
	read := func(c *http.Client, from string) (pages int) {
		seen, next := map[string]bool{}, []string{from}
		for ; len(next) > 0 && pages < 250; next = next[1:] {
			path := strings.ReplaceAll(next[0], "&amp;", "&")
			if seen[path] || strings.HasPrefix(path, "/how") || strings.HasPrefix(path, "/assets") || strings.Contains(path, "/drafts/") { // a draft shows what its author writes

				continue
			}
			seen[path] = true
			a := w.get(c, path)
			if !strings.HasPrefix(a.header.Get("Content-Type"), "text/html") {
				continue
			}
			pages++
			for _, text := range sayable.Unsaid(a.body) {
				if !told[text] {
					t.Errorf("%s: not said in the reader's language: %s", path, text)
				}
				told[text] = true
			}
			for _, m := range hrefs.FindAllStringSubmatch(a.body, -1) {
				next = append(next, m[1])
			}
		}
		return pages
	}
	if n := read(browser(t), "/sign-in") + read(w.desk, "/shop") + read(mentor, look); n < 40 {
		t.Errorf("only %d pages were read", n)
	}
}
