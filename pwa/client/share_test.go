package client_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"strutcard/sync/store"
)

// shared answers as the shop does when a phone asks for links.
func shared(p *phone, y *yard, answer func(method, path string) (string, bool)) {
	whole := p.page.http
	p.page.http = func(method, path string, body []byte, token string) (int, string, []byte, error) {
		if text, is := answer(method, path); is {
			return 200, "application/json", []byte(text), nil
		}
		return whole(method, path, body, token)
	}
}

// TestShare: a link is made while the work goes on, shown without a connection,
// ended, and tells who opened it.
func TestShare(t *testing.T) {
	p, y := atYard(t)
	asked, answer := make(chan bool), make(chan bool)
	path := "/api/v1/jobs/" + string(p.state().Job) + "/shares"
	ends := p.time.Add(24 * time.Hour).UnixMilli()
	row := fmt.Sprintf(`"id":"l1","role":"release","expires":%d`, ends)
	shared(p, y, func(method, at string) (string, bool) {
		switch method + " " + at {
		case "POST " + path:
			asked <- true
			<-answer
			return `{` + row + `,"link":"https://yard.example/look#s3","code":"101\n010\n111"}`, true
		case "GET " + path:
			return `[{` + row + `,"visits":["Nora, 25 Nov, 09:10"]}]`, true
		case "POST " + path + "/l1/end":
			return `[{` + row + `,"ended":true,"visits":["Nora, 25 Nov, 09:10"]}]`, true
		}
		return "", false
	})
	made := make(chan error)
	go func() { made <- p.c.Act(t.Context(), "share", map[string]string{"role": "release", "days": "1"}) }()
	<-asked
	p.must("note", "text", "while it hangs")
	close(answer)
	if err := <-made; err != nil {
		t.Fatal(err)
	}

	q := newPhone(t, p.disk) // without a connection
	q.must("people")
	for _, want := range []string{"They may look, comment and release hold points. It ends ", "https://yard.example/look#s3"} {
		q.reads("r-main", want, true)
	}
	if !strings.Contains(q.page.region("r-main"), `<svg class="code-picture" viewBox="0 0 11 11"`) {
		t.Errorf("the code is not drawn: %s", q.page.region("r-main"))
	}
	if err := q.act("share_list"); err == nil {
		t.Error("without a connection the links were listed anew")
	}
	q.reads("r-main", "https://yard.example/look#s3", true)

	p.must("people")
	p.reads("r-main", "Opened by", false)
	p.must("share_list")
	p.reads("r-main", "Opened by Nora, 25 Nov, 09:10", true)
	p.reads("r-main", "https://yard.example/look#s3", true) // the shop does not know it any more
	p.must("share_end", "link", "l1")
	p.reads("r-main", "It has ended.", true)
	p.reads("r-main", "yard.example", false)
	if strings.Contains(p.page.region("r-main"), "code-picture") || strings.Contains(p.meta("links"), "yard.example") {
		t.Error("a link that has ended is still kept")
	}
	p.reads("r-main", "Opened by Nora", true)
}

// TestShareEndsByItself: the time that a link has is over without a word of the shop.
func TestShareEndsByItself(t *testing.T) {
	p, y := atYard(t)
	shared(p, y, func(_, path string) (string, bool) {
		return fmt.Sprintf(`{"id":"l1","role":"look","expires":%d,"link":"https://yard.example/look#s3","code":"1"}`, p.time.Add(time.Minute).UnixMilli()), strings.HasSuffix(path, "/shares")
	})
	p.must("share", "role", "look", "days", "1")
	p.must("people")
	p.reads("r-main", "yard.example", true)
	p.time = p.time.Add(2 * time.Minute)
	p.must("people")
	p.reads("r-main", "yard.example", false)
	p.reads("r-main", "It has ended.", true)
}

// TestErrShare: what is not the shop's answer makes no link, and is said.
func TestErrShare(t *testing.T) {
	for _, act := range []string{"share", "share_list", "share_end"} {
		for _, body := range []string{`{}`, `null`, `{"link":"https://elsewhere.example"}`, `{"id":"l1"}`, `"x"`} {
			p, y := atYard(t)
			shared(p, y, func(_, path string) (string, bool) { return body, strings.Contains(path, "/shares") })
			if err := p.act(act, "role", "look", "days", "1", "link", "l1"); err == nil {
				t.Errorf("%s: %s was taken for a link", act, body)
			}
			if got := p.meta("links"); got != "" {
				t.Errorf("%s: after %s the phone keeps %s", act, body, got)
			}
			if p.text("r-sheet") == "" {
				t.Errorf("%s: after %s the person is told nothing", act, body)
			}
		}
	}
}

// TestNewestLinkFirst: the link that was just made stands by its button, above those of
// before.
func TestNewestLinkFirst(t *testing.T) {
	p, y := atYard(t)
	n := 0
	shared(p, y, func(method, at string) (string, bool) {
		if method != "POST" || !strings.HasSuffix(at, "/shares") {
			return "", false
		}
		n++
		return fmt.Sprintf(`{"id":"l%d","role":"look","expires":%d,"link":"https://yard.example/look#s%d","code":"1"}`, n, p.time.Add(24*time.Hour).UnixMilli(), n), true
	})
	p.must("people")
	p.must("share", "role", "look", "days", "1")
	p.must("share", "role", "look", "days", "1")
	shown := p.page.region("r-main")
	if first, second := strings.Index(shown, "look#s1"), strings.Index(shown, "look#s2"); first < 0 || second < 0 || second > first {
		t.Errorf("the first link stands at %d, the one made after it at %d", first, second)
	}
}

// TestShareNoShop: without a shop there is no link, and the screen says what to do.
func TestShareNoShop(t *testing.T) {
	p := worked(t, store.NewMemory(time.Now))
	p.must("people")
	p.reads("r-main", "Hand over a copy of this job instead", true)
	if strings.Contains(p.page.region("r-main"), `id="share-form"`) {
		t.Error("a link is offered without a shop")
	}
	if err := p.act("share", "role", "look", "days", "1"); err == nil {
		t.Error("a link was made without a shop")
	}
	p.reads("r-sheet", "No link was made.", true)
}
