package server_test

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"testing"

	"strutcard/sync/event"
)

// TestLooksAgain: a page that asks again gets nothing twice, and everything new: what
// the phone recorded, what another said, a picture that arrived.
func TestLooksAgain(t *testing.T) {
	w := held(open(t, nil))
	body, hash := snapshot(t, 40)
	taken := photoTaken(body, hash)
	taken.Step = "look_over"
	w.job.Force(taken)
	w.bring(w.phone, w.job)
	c, look := w.guest(w.link("comment", "1"), "Ben")
	seen := w.get(c, look)
	w.want(seen, http.StatusOK, "")
	if ends, err := strconv.ParseInt(seen.header.Get("Link-Ends"), 10, 64); err != nil || ends != w.shares()[0].Expires {
		t.Errorf("the page says that it ends at %q, the link ends at %d", seen.header.Get("Link-Ends"), w.shares()[0].Expires)
	}
	tag := seen.header.Get("ETag")
	again := func() answer { return w.do(c, "GET", look, http.Header{"If-None-Match": {tag}}, nil) }
	for name, change := range map[string]func(){
		"the phone recorded": func() { w.job.Force(&event.NoteAdded{Text: "noted"}); w.bring(w.phone, w.job) },
		"the shop said":      func() { w.want(w.form(w.desk, w.page+"/comments", "text", "look here"), http.StatusSeeOther, "") },
		"a picture arrived": func() {
			w.wantOffset(w.phone.piece(hash, 0, body), http.StatusNoContent, len(body), "?1")
		},
	} {
		if a := again(); a.status != http.StatusNotModified || a.body != "" {
			t.Errorf("before %s: status %d, want 304 and nothing", name, a.status)
		}
		change()
		a := again()
		w.want(a, http.StatusOK, "")
		if tag = a.header.Get("ETag"); tag == "" {
			t.Errorf("after %s: the page has no name", name)
		}
	}
}

// TestSaidOnce: a browser that had no answer sends its words again under the same
// name, and they stand once. The same words under another name, or of another
// visitor under the same name, are theirs.
func TestSaidOnce(t *testing.T) {
	w := held(open(t, nil))
	ben, atBen := w.guest(w.link("comment", "1"), "Ben")
	bea, atBea := w.guest(w.link("comment", "1"), "Bea")
	for range 3 {
		w.want(w.form(ben, atBen+"/comments", "text", "well done", "once", "a1"), http.StatusSeeOther, "")
	}
	w.want(w.form(ben, atBen+"/comments", "text", "well done", "once", "a2"), http.StatusSeeOther, "")
	w.want(w.form(bea, atBea+"/comments", "text", "well done", "once", "a1"), http.StatusSeeOther, "")
	var names []string
	for _, c := range w.state().Comments {
		names = append(names, c.Name)
	}
	if got := strings.Join(names, " "); got != "Ben Ben Bea" {
		t.Errorf("comments of %q, want two of Ben and one of Bea", got)
	}
}

// TestAbout: a comment can be about a step, a fastener or a reading that the page
// offers, and is shown as such.
func TestAbout(t *testing.T) {
	w := finished(open(t, nil))
	w.job.Force(&event.ReadingTaken{Quantity: event.RideHeight, Corner: event.FL, Purpose: event.Before, Method: "tape", ValueUM: 364000, U95UM: 2000})
	w.bring(w.phone, w.job)
	c, look := w.guest(w.link("comment", "1"), "Ben")
	page := w.get(c, look).body
	reading := string(w.state().Readings[0].ID)
	for about, shown := range map[string]string{
		"step:strut_in_FL":        "on “" + w.job.Sheet.Step("strut_in_FL").Title + "”",
		"fastener:" + string(nut): "on " + w.job.Sheet.Fastener(nut).Place,
		"reading:" + reading:      "on ride height",
		"reading:somebody else's": "on a reading",
		"":                        "",
	} {
		if offered := strings.Contains(page, `<option value="`+about+`">`); offered != !strings.Contains(about, "else") {
			t.Errorf("%q is offered: %t", about, offered)
		}
		text := "about " + fmt.Sprint(len(about))
		w.want(w.form(c, look+"/comments", "text", text, "about", about), http.StatusSeeOther, "")
		after := w.get(c, look).body
		at := strings.Index(after, text)
		if at < 0 || !strings.Contains(after[max(0, at-300):at], shown) {
			t.Errorf("a comment about %q is not shown as %q", about, shown)
		}
	}
	w.unchanged(http.StatusBadRequest, func() answer {
		return w.form(w.desk, w.page+"/findings", "text", "odd", "severity", "ask", "about", "reading:"+reading)
	})
}

// TestNow: a mentor reads where the work stands and what is loose.
func TestNow(t *testing.T) {
	w := held(open(t, nil))
	w.job.Force(&event.FastenerFitted{Fastener: nut, Renewed: true}, w.job.Pass(nut, "snug"))
	w.bring(w.phone, w.job)
	c, look := w.guest(w.link("look", "1"), "Ben")
	a := w.get(c, look)
	g := w.job.Guide()
	w.has(a, "The work stands at “"+g.Next().Title+"”.")
	w.has(a, "1 fastener is not final", g.NotFinal()[0].Reason)
}
