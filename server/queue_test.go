package server_test

import (
	"fmt"
	"net/http"
	"net/url"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/sheet"
)

// listed are the cars of a page of the queue, from the top.
func listed(a answer) (cars []string) {
	for _, m := range regexp.MustCompile(`<th scope="row"><a href="/shop/jobs/[^"]+">([^<]+)</a>`).FindAllStringSubmatch(a.body, -1) {
		cars = append(cars, m[1])
	}
	return cars
}

func (y *yard) wantListed(a answer, cars ...string) {
	y.t.Helper()
	if y.want(a, http.StatusOK, ""); !slices.Equal(listed(a), cars) {
		y.t.Errorf("the page lists %q, want %q", listed(a), cars)
	}
}

// TestQueueNarrowed: what waits for the shop comes first; each filter and all of them
// narrow it, the page says in words what it shows, and one link shows all again.
func TestQueueNarrowed(t *testing.T) {
	y := open(t, nil)
	desk, p := y.staff(), y.joined()
	demo := sheet.Demo()[0]
	skip := &event.StepSkipped{Step: demo.Steps()[0].ID, Reason: "the gauge was lent"}
	done := p.open(demo, "done car", &event.JobFinished{})
	p.open(demo, "skipping car", skip)
	y.want(y.form(desk, "/shop/jobs/"+string(done)+"/findings", "about", "", "severity", "stop", "text", "a cracked boot"), http.StatusSeeOther, "")
	y.wantListed(y.get(desk, "/shop"), "done car", "skipping car")
	y.wantListed(y.get(desk, "/shop?state=finished"), "done car")
	y.wantListed(y.get(desk, "/shop?state=on"), "skipping car")
	y.wantListed(y.get(desk, "/shop?severity=stop"), "done car")
	y.wantListed(y.get(desk, "/shop?finding=skipped"), "skipping car")
	y.wantListed(y.get(desk, "/shop?q=cracked"), "done car")
	y.wantListed(y.get(desk, "/shop?q=gauge+lent"), "skipping car")
	y.wantListed(y.get(desk, "/shop?q=car&state=finished&decision=none&severity=stop&finding=raised"), "done car")
	both := y.get(desk, "/shop?q=car&state=on&finding=raised")
	y.wantListed(both)
	y.has(both, "Only in work, finding “Raised by a reviewer”, with “car”.", `<a href="/shop">Show all</a>`, "No job is like this.",
		`<option value="on" selected>in work</option>`, `<option value="raised" selected>Raised by a reviewer (1 job)</option>`, `value="car"`)

	first := y.get(desk, "/shop")
	y.has(first, "2 jobs. Open findings: 1 stop,")
	if strings.Contains(first.body, "Show all") {
		t.Error("a list that nothing narrows offers to show all")
	}
	for _, rule := range []string{"raised", "skipped", "not_final", "air_final", "off_torque", "no_photo", "no_reading", "part_short", "unverified"} {
		occurs := strings.Contains(first.body, `<option value="`+rule+`"`)
		if inAny := slices.Contains([]string{"raised", "skipped"}, rule); inAny && !occurs {
			t.Errorf("the list of findings lacks %s", rule)
		} else if occurs && len(listed(y.get(desk, "/shop?finding="+rule))) == 0 {
			t.Errorf("the list of findings offers %s, which no job has", rule)
		}
	}
	y.has(y.get(desk, "/shop?finding=wrench_twice"), "Wrench range given late (no job)", "No job is like this.")
	y.wantListed(y.get(desk, "/shop?state=nonsense&decision=x&severity=y&finding=z&from=-4"), "done car", "skipping car")

	at := "/shop/jobs/" + string(done)
	raised := regexp.MustCompile(`id="finding-([0-9a-f]+)"`).FindStringSubmatch(y.get(desk, at).body)[1]
	y.want(y.form(desk, at+"/decisions", "seen", "0", "finding", raised, "decision", "accept", "text", ""), http.StatusSeeOther, "")
	y.want(y.form(desk, at+"/decisions", "seen", "1", "finding", "", "decision", "accept", "text", ""), http.StatusSeeOther, "")
	all := y.get(desk, "/shop")
	y.wantListed(all, "skipping car", "done car") // what is decided waits no more, whatever is in it
	y.has(all, "<strong>accepted</strong>")
	y.wantListed(y.get(desk, "/shop?decision=accept"), "done car")
	y.wantListed(y.get(desk, "/shop?decision=none"), "skipping car")
}

// TestQueuePages: what narrows the list is in the links to its other pages.
func TestQueuePages(t *testing.T) {
	y := open(t, nil)
	desk, p := y.staff(), y.joined()
	for i := range 103 {
		p.open(sheet.Demo()[0], fmt.Sprintf("van %d", i))
	}
	p.open(sheet.Demo()[0], "estate")
	a := y.get(desk, "/shop?q=van&state=on")
	y.has(a, "103 jobs.", `<a href="/shop?from=100&amp;q=van&amp;state=on">Page after</a>`)
	next := y.get(desk, "/shop?from=100&q=van&state=on")
	if n := len(listed(next)); n != 3 {
		t.Errorf("the second page lists %d jobs, want 3", n)
	}
	y.has(next, "103 jobs.", `<a href="/shop?q=van&amp;state=on">Page before</a>`)
}

// TestQueueWords: whatever is typed is looked for or answered in words, and is never
// a fault of the server.
func TestQueueWords(t *testing.T) {
	y := open(t, nil)
	desk := y.staff()
	y.joined().open(sheet.Demo()[0], "Ann's Élan")
	for _, text := range []string{"elan", `"elan"`, "(elan)", "elan*", "ann's", "-élan", "elan\x00", "\xffelan"} {
		y.wantListed(y.get(desk, "/shop?q="+url.QueryEscape(text)), "Ann&#39;s Élan")
	}
	for _, text := range []string{`"`, `""`, "*", "()", "- + ^", `'; --`, "\x00", "!"} {
		a := y.get(desk, "/shop?q="+url.QueryEscape(text))
		y.wantListed(a)
		y.has(a, "no word and no number in that", "Show all")
	}
	for _, text := range []string{"AND", "NOT", "elan NOT", "NEAR(elan", "words:elan", `el"an`, strings.Repeat("q ", 99)} {
		a := y.get(desk, "/shop?q="+url.QueryEscape(text))
		y.wantListed(a)
		y.has(a, "No job is like this.")
	}
	long := y.get(desk, "/shop?q="+strings.Repeat("a+", 101))
	y.wantListed(long)
	y.has(long, "too much to look for")
}

// TestTyped: every text of the record that a person typed leads to its job.
func TestTyped(t *testing.T) {
	y := open(t, nil)
	desk, p := y.staff(), y.joined()
	hash := strings.Repeat("ab", 32)
	payloads := []event.Payload{
		&event.NoteAdded{}, &event.StepSkipped{Step: "s"}, &event.StepChecked{Step: "s", Check: "c", Answer: event.Override}, &event.StepReopened{Step: "s"},
		&event.CheckAnswered{Axle: event.Front, Move: event.Raise, Check: "c", Answer: event.Override}, &event.CommentAdded{}, &event.PhotoTaken{SHA256: hash, Bytes: 9, Width: 1, Height: 1},
		&event.PhotoLeftOut{Step: "s", Photo: "p"}, &event.PartCounted{Part: "p", Found: 1}, &event.LeftoversCounted{Step: "s"}, &event.WorkParked{}, &event.WorkResumed{},
		&event.HoldReleased{Step: "s", By: "installer"}, &event.Corrected{Event: event.ID(newDevice())}, &event.JobFinished{},
	}
	typed := map[string]bool{"Text": true, "Reason": true, "Note": true, "Caption": true, "Name": true}
	var words []string
	for _, payload := range payloads {
		v := reflect.ValueOf(payload).Elem()
		for i := range v.NumField() {
			if name := v.Type().Field(i).Name; typed[name] {
				words = append(words, strings.ToLower(v.Type().Name()+name))
				v.Field(i).SetString("It says " + v.Type().Name() + name + ".")
			}
		}
	}
	if len(words) < len(payloads) {
		t.Fatalf("%d payloads have only %d texts", len(payloads), len(words))
	}
	p.open(sheet.Demo()[0], "this car", payloads...)
	for _, word := range words {
		y.wantListed(y.get(desk, "/shop?q="+word), "this car")
	}
	y.wantListed(y.get(desk, "/shop?q=Ann%27s+phone"), "this car")
	y.wantListed(y.get(desk, "/shop?q="+hash))
}

// TestWithdrawnIsSaid: the list and the job's page say that a job's sheet was taken
// back from use, whether or not its installer has gone on.
func TestWithdrawnIsSaid(t *testing.T) {
	y := open(t, nil)
	desk, p := y.staff(), y.joined()
	id := string(p.open(sheet.Demo()[0], "this car"))
	for _, path := range []string{"/shop", "/shop/jobs/" + id} {
		if a := y.get(desk, path); strings.Contains(strings.ToLower(a.body), "withdrawn 1 jun") {
			t.Errorf("%s says withdrawn of a sheet that stands", path)
		}
	}
	y.want(y.form(desk, "/shop/sheets/"+string(sheet.Demo()[0].Hash())+"/withdraw", "reason", "A torque is wrong.", "before", ""), http.StatusSeeOther, "")
	y.has(y.get(desk, "/shop"), "<strong>withdrawn 1 Jun 2026")
	y.has(y.get(desk, "/shop/jobs/"+id), "This sheet was withdrawn 1 Jun 2026", ": A torque is wrong.")
}

// TestInvitationCodes: the code beside an invitation, of a phone, of staff, or for a
// new password, says what the link says.
func TestInvitationCodes(t *testing.T) {
	y := open(t, nil)
	desk := y.staff()
	y.want(y.get(y.account(desk, "Ben", "author"), "/shop"), http.StatusOK, "")
	for path, pairs := range map[string][]string{"/shop/phones": nil, "/shop/staff": {"role", "author"}, "/shop/staff/" + y.staffID(desk, "Ben") + "/link": nil} {
		a := y.form(desk, path, pairs...)
		rows := modulesOf(t, a.body)
		if got := read(t, rows, (len(rows)-17)/4); got != y.shown(a) {
			t.Errorf("%s: the code reads %q, want %q", path, got, y.shown(a))
		}
		y.has(a, `aria-label="The link as a QR code"`)
	}
	if a := y.get(desk, "/shop/phones"); strings.Contains(a.body, "code-picture") {
		t.Error("a page without an invitation has a code")
	}
}

// modulesOf takes the modules out of the picture of a code.
func modulesOf(t *testing.T, page string) []string {
	t.Helper()
	svg := regexp.MustCompile(`<svg class="code-picture" viewBox="0 0 (\d+) \d+"[^>]*><rect[^>]*/><path d="([^"]+)"`).FindStringSubmatch(page)
	if svg == nil {
		t.Fatalf("no code on the page: %s", page)
	}
	rows := make([][]byte, number(t, svg[1])-8)
	for y := range rows {
		rows[y] = []byte(strings.Repeat("0", len(rows)))
	}
	for _, d := range regexp.MustCompile(`M(\d+) (\d+)h1v1h-1z`).FindAllStringSubmatch(svg[2], -1) {
		rows[number(t, d[2])-4][number(t, d[1])-4] = '1'
	}
	out := make([]string, len(rows))
	for y, row := range rows {
		out[y] = string(row)
	}
	return out
}
