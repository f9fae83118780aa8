package server_test

import (
	"io"
	"net/http"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/sheet"
	"strutcard/sync/store/storetest"
)

// link makes a link at the desk and returns its secret.
func (w work) link(role, days string) string {
	w.t.Helper()
	return fragment(w.shown(w.form(w.desk, w.page+"/links", "days", days, "role", role)))
}

// guest opens a link under a name, and returns the browser and the job's place for it.
func (w work) guest(secret, name string) (*http.Client, string) {
	w.t.Helper()
	c := browser(w.t)
	a := w.form(c, "/look", "code", secret, "name", name)
	w.want(a, http.StatusSeeOther, "")
	return c, a.header.Get("Location")
}

// TestShareRoles: each role does what it is for, and nothing else.
func TestShareRoles(t *testing.T) {
	w := held(open(t, nil))
	released := func() bool { return w.state().Steps["look_over"].ReleasedN > 0 }
	look, at := w.guest(w.link("look", "1"), "Lou")
	w.unchanged(http.StatusForbidden, func() answer { return w.form(look, at+"/comments", "text", "hello") })
	w.unchanged(http.StatusForbidden, func() answer { return w.form(look, at+"/release", "step", "look_over", "text", "fine") })
	if page := w.get(look, at); strings.Contains(page.body, `method="post"`) || !strings.Contains(page.body, "can change nothing") {
		t.Error("whoever may look is offered more")
	}

	cora, at := w.guest(w.link("comment", "1"), "Cora")
	w.unchanged(http.StatusForbidden, func() answer { return w.form(cora, at+"/release", "step", "look_over", "text", "fine") })
	w.want(w.form(cora, at+"/comments", "text", "Who checked the hose?"), http.StatusSeeOther, "")
	if page := w.get(cora, at); !strings.Contains(page.body, at+"/comments") || strings.Contains(page.body, at+"/release") || !strings.Contains(page.body, "Who checked the hose?") {
		t.Error("whoever may comment is not offered that, or more")
	}

	rhea, at := w.guest(w.link("release", "7"), "Rhea")
	w.want(w.form(rhea, at+"/comments", "text", "I look now."), http.StatusSeeOther, "")
	w.has(w.get(rhea, at), "Waits for a look", "Release this hold point")
	w.unchanged(http.StatusBadRequest, func() answer { return w.form(rhea, at+"/release", "step", "look_over", "text", "") })
	for _, step := range []string{"strut_in_FL", "recheck", "dream", ""} { // done, not begun, nowhere
		w.unchanged(http.StatusConflict, func() answer { return w.form(rhea, at+"/release", "step", step, "text", "fine") })
	}
	if released() {
		t.Fatal("it was released before anybody did")
	}
	w.want(w.form(rhea, at+"/release", "step", "look_over", "text", "went round the car by hand"), http.StatusSeeOther, "")
	if st := w.state().Steps["look_over"]; !released() || st.ReleaseBy != "mentor" || st.Released != "Rhea: went round the car by hand" {
		t.Errorf("released: %+v", st)
	}
	w.unchanged(http.StatusConflict, func() answer { return w.form(rhea, at+"/release", "step", "look_over", "text", "again") })
	for _, path := range []string{"/decisions", "/findings", "/links"} { // no link decides
		w.want(w.form(rhea, at+path, "seen", "0", "decision", "accept", "severity", "ask", "text", "x"), http.StatusNotFound, "")
		w.want(w.form(rhea, w.page+path, "seen", "0", "decision", "accept", "severity", "ask", "text", "x"), http.StatusUnauthorized, "")
	}
	if s := w.state(); len(s.Decisions)+len(s.Raised) != 0 || len(s.Comments) != 2 {
		t.Errorf("decisions %v, raised %v, comments %v", s.Decisions, s.Raised, s.Comments)
	}
}

// TestReleaseAtOnce: of several at once one releases, and the record has it once.
func TestReleaseAtOnce(t *testing.T) {
	w := held(open(t, nil))
	rhea, at := w.guest(w.link("release", "7"), "Rhea")
	var wg sync.WaitGroup
	for range 6 {
		wg.Go(func() { w.form(rhea, at+"/release", "step", "look_over", "text", "seen") })
	}
	wg.Wait()
	n := 0
	for _, e := range w.events() {
		if e.Kind == event.KindHoldReleased {
			n++
		}
	}
	if n != 1 {
		t.Errorf("released %d times, want once", n)
	}
}

// shares is what a phone reads of the links to a job.
type shares []struct {
	ID, Role string
	Expires  int64
	Ended    bool
	Visits   []string
}

func (w work) path() string { return "/api/v1/jobs/" + string(w.id) + "/shares" }

func (w work) shares() shares {
	w.t.Helper()
	a := w.call("GET", w.path(), w.phone.token, nil)
	w.want(a, http.StatusOK, "")
	list, err := decode[shares]([]byte(a.body))
	if err != nil {
		w.t.Fatal(err)
	}
	return list
}

// TestVisitorsName: who opened a link, and when, is kept for shop and phone; without
// a name nothing is opened and the link still works.
func TestVisitorsName(t *testing.T) {
	w := held(open(t, nil))
	secret := w.link("comment", "1")
	for _, name := range []string{"", "  ", strings.Repeat("x", 81)} {
		c := browser(t)
		a := w.form(c, "/look", "code", secret, "name", name)
		w.want(a, http.StatusBadRequest, "")
		w.has(a, "The link was not opened and still works.")
		if len(c.Jar.Cookies(mustURL(t, at(w.srv)+"/look/job/x"))) > 0 {
			t.Error("a cookie was set")
		}
	}
	if l := w.shares(); len(l) != 1 || len(l[0].Visits) != 0 {
		t.Fatalf("the phone reads %+v, want one link that nobody opened", l)
	}
	w.has(w.get(w.desk, w.page), "never")
	w.guest(secret, `Ben <injected>`)
	w.clock.pass(days(1) / 2)
	c, look := w.guest(secret, "Bea")
	visits := w.shares()[0].Visits
	if len(visits) != 2 || !strings.HasPrefix(visits[0], "Ben <injected>, ") || visits[1] != "Bea, "+w.clock.now().Local().Format("2 Jan 2006, 15:04") {
		t.Errorf("the phone reads %q", visits)
	}
	w.has(w.get(w.desk, w.page), "2 times: Ben &lt;injected&gt;, ", visits[1])
	w.want(w.form(c, look+"/comments", "text", "hello"), http.StatusSeeOther, "")
	if got := w.state().Comments; len(got) != 1 || got[0].Name != "Bea" {
		t.Errorf("comments = %+v, want the name of who opened the link", got)
	}
}

// TestEndedLink: page, comment, release and photo are refused at the next request,
// whoever ended the link or when it ran out.
func TestEndedLink(t *testing.T) {
	for name, end := range map[string]func(w work, id string){
		"by the shop": func(w work, id string) { w.want(w.form(w.desk, w.page+"/links/"+id+"/end"), http.StatusSeeOther, "") },
		"by the phone": func(w work, id string) {
			w.want(w.call("POST", w.path()+"/"+id+"/end", w.phone.token, struct{}{}), http.StatusOK, "")
		},
		"by its time": func(w work, _ string) { w.clock.pass(days(1)) },
	} {
		t.Run(name, func(t *testing.T) {
			w := held(open(t, nil))
			body, hash := snapshot(t, 40)
			taken := photoTaken(body, hash)
			taken.Step = "look_over"
			w.job.Force(taken)
			w.bring(w.phone, w.job)
			w.wantOffset(w.phone.piece(hash, 0, body), http.StatusNoContent, len(body), "?1")
			secret := w.link("release", "1")
			c, look := w.guest(secret, "Ben")
			photo := look + "/photos/" + hash
			w.want(w.get(c, look), http.StatusOK, "")
			w.want(w.get(c, photo), http.StatusOK, "")
			end(w, strings.TrimPrefix(look, "/look/job/"))
			for _, path := range []string{look, photo} {
				a := w.get(c, path)
				w.want(a, http.StatusForbidden, "")
				w.has(a, "This link does not work, or has ended.")
			}
			w.unchanged(http.StatusForbidden, func() answer { return w.form(c, look+"/comments", "text", "hello") })
			w.unchanged(http.StatusForbidden, func() answer { return w.form(c, look+"/release", "step", "look_over", "text", "fine") })
			w.want(w.form(browser(t), "/look", "code", secret, "name", "Ben"), http.StatusForbidden, "")
			if l := w.shares(); len(l) != 1 || !l[0].Ended || len(l[0].Visits) != 1 {
				t.Errorf("the phone reads %+v", l)
			}
		})
	}
}

// TestWhoEndsALink: who made it, or an administrator.
func TestWhoEndsALink(t *testing.T) {
	w := held(open(t, nil))
	rita, rob := w.account(w.desk, "Rita", "reviewer"), w.account(w.desk, "Rob", "reviewer")
	make := func(c *http.Client) (end string, guest *http.Client, look string) {
		t.Helper()
		secret := fragment(w.shown(w.form(c, w.page+"/links", "days", "1", "role", "look")))
		guest, look = w.guest(secret, "Ben")
		return w.page + "/links/" + strings.TrimPrefix(look, "/look/job/") + "/end", guest, look
	}
	end, guest, look := make(rita)
	a := w.form(rob, end)
	w.want(a, http.StatusForbidden, "")
	w.has(a, "Somebody else made this link. Nothing was ended.")
	w.want(w.get(guest, look), http.StatusOK, "")
	w.want(w.form(rita, end), http.StatusSeeOther, "")
	w.want(w.get(guest, look), http.StatusForbidden, "")
	end, guest, look = make(rita)
	w.want(w.form(w.desk, end), http.StatusSeeOther, "")
	w.want(w.get(guest, look), http.StatusForbidden, "")
	w.want(w.form(rita, w.page+"/links/nothing/end"), http.StatusNotFound, "")
	other := w.phone.open(sheet.Demo()[0], "another car")
	end, guest, look = make(rita)
	w.want(w.form(rita, strings.Replace(end, string(w.id), string(other), 1)), http.StatusNotFound, "")
	w.want(w.get(guest, look), http.StatusOK, "")

	made := w.share("look", 1) // by the phone: nobody of the staff made it
	guest, look = w.guest(fragment(made.Link), "Ben")
	w.want(w.form(rita, w.page+"/links/"+made.ID+"/end"), http.StatusForbidden, "")
	w.want(w.get(guest, look), http.StatusOK, "")
	w.want(w.form(w.desk, w.page+"/links/"+made.ID+"/end"), http.StatusSeeOther, "")
	w.want(w.get(guest, look), http.StatusForbidden, "")
}

type made struct {
	ID, Link, Code, Role string
	Expires              int64
}

func (w work) ask(token, path, role string, days int) answer {
	w.t.Helper()
	return w.call("POST", path, token, map[string]any{"role": role, "days": days})
}

// share makes a link on the phone.
func (w work) share(role string, days int) made {
	w.t.Helper()
	a := w.ask(w.phone.token, w.path(), role, days)
	w.want(a, http.StatusOK, "")
	m, err := decode[made]([]byte(a.body))
	if err != nil {
		w.t.Fatal(err)
	}
	return m
}

// TestPhoneShare: an installer shares their own job, and nobody else does.
func TestPhoneShare(t *testing.T) {
	dir := t.TempDir()
	w := held(open(t, inFolder(dir)))
	m := w.share("comment", 7)
	if !strings.HasPrefix(m.Link, at(w.srv)+"/look#") || m.Role != "comment" || m.Expires != w.clock.now().Add(days(7)).UnixMilli() {
		t.Errorf("made %+v", m)
	}
	c, look := w.guest(fragment(m.Link), "Ben")
	w.want(w.form(c, look+"/comments", "text", "hello"), http.StatusSeeOther, "")
	w.unchanged(http.StatusForbidden, func() answer { return w.form(c, look+"/release", "step", "look_over", "text", "fine") })
	l := w.shares()
	if len(l) != 1 || l[0].ID != m.ID || l[0].Role != "comment" || l[0].Expires != m.Expires || l[0].Ended || len(l[0].Visits) != 1 {
		t.Errorf("the phone reads %+v", l)
	}
	if list := w.call("GET", w.path(), w.phone.token, nil).body; strings.Contains(list, fragment(m.Link)) {
		t.Error("the list tells the secret")
	}
	for _, bad := range []struct {
		role string
		days int
	}{{"", 1}, {"decide", 1}, {"administrator", 1}, {"look", 0}, {"look", 365}, {"look", -1}} {
		w.want(w.ask(w.phone.token, w.path(), bad.role, bad.days), http.StatusBadRequest, fault.Invalid)
	}

	second := w.join(w.invite(w.desk), newDevice())
	abroad := w.phoneOf(w.otherShop(dir))
	for name, p := range map[string]phone{"another phone of the shop": second, "a phone of another shop": abroad} {
		for _, a := range []answer{w.ask(p.token, w.path(), "look", 1), w.call("GET", w.path(), p.token, nil), w.call("POST", w.path()+"/"+m.ID+"/end", p.token, struct{}{})} {
			if a.status != http.StatusNotFound || strings.Contains(a.body, "Ben") {
				t.Errorf("%s: status %d, %s", name, a.status, a.body)
			}
		}
	}
	w.want(w.ask("", w.path(), "look", 1), http.StatusUnauthorized, fault.SignIn)
	w.want(w.ask(w.phone.token, "/api/v1/jobs/"+string(newDevice())+"/shares", "look", 1), http.StatusNotFound, fault.NotFound)
	if l := w.shares(); len(l) != 1 || l[0].Ended {
		t.Errorf("what was refused changed the links: %+v", l)
	}

	e, err := event.Chain{Job: w.id, Device: second.device}.Seal(storetest.NewID[event.ID](), w.clock.now(), &event.NoteAdded{Text: "I help."})
	if err != nil {
		t.Fatal(err)
	}
	second.sync(e.Line()) // now it is a phone of this job
	w.want(w.call("POST", w.path()+"/"+m.ID+"/end", second.token, struct{}{}), http.StatusOK, "")
	w.want(w.get(c, look), http.StatusForbidden, "")
	w.want(w.call("POST", w.path()+"/nothing/end", w.phone.token, struct{}{}), http.StatusNotFound, fault.NotFound)
	shops := w.link("look", "30")
	c, look = w.guest(shops, "Bea")
	w.want(w.call("POST", w.path()+"/"+strings.TrimPrefix(look, "/look/job/")+"/end", w.phone.token, struct{}{}), http.StatusOK, "")
	w.want(w.get(c, look), http.StatusForbidden, "")
}

// eye is one of the three corners of a code (ISO/IEC 18004), with the light line
// around it that lies inside the code.
var eye = []string{"11111110", "10000010", "10111010", "10111010", "10111010", "10000010", "11111110", "00000000"}

// as sends a form to the server under another name of it.
func (w work) as(host string, c *http.Client, path string, header http.Header, body string) string {
	w.t.Helper()
	req, err := http.NewRequest("POST", at(w.srv)+path, strings.NewReader(body))
	if err != nil {
		w.t.Fatal(err)
	}
	req.Header, req.Host = header, host
	for _, one := range c.Jar.Cookies(req.URL) {
		req.AddCookie(one)
	}
	res, err := c.Do(req)
	if err != nil {
		w.t.Fatal(err)
	}
	defer func() { _ = res.Body.Close() }()
	text, err := io.ReadAll(res.Body)
	if err != nil || res.StatusCode != http.StatusOK {
		w.t.Fatalf("status %d, %v: %s", res.StatusCode, err, text)
	}
	return string(text)
}

// TestShareCode: the picture is a code that a camera finds, light around it, and of
// few enough modules for a poor camera while the shop's address is not a long one.
func TestShareCode(t *testing.T) {
	const host = "a-shop-whose-name-is-long.example"
	w := held(open(t, nil))
	m, err := decode[made]([]byte(w.as(host, browser(t), w.path(), http.Header{"Content-Type": {"application/json"}, "Authorization": {"Bearer " + w.phone.token}}, `{"role":"look","days":1}`)))
	if public, _, _ := strings.Cut(m.Link, "/look#"); err != nil || public != "http://"+host || len(public) != 40 {
		t.Fatalf("the link is %q: %v", m.Link, err)
	}
	rows := strings.Split(m.Code, "\n")
	size := len(rows)
	version := (size - 17) / 4
	if size != 17+4*version || version < 1 || version > 4 {
		t.Fatalf("%d rows: version %d, want 1 to 4", size, version)
	}
	for y, row := range rows {
		if len(row) != size || strings.Trim(row, "01") != "" {
			t.Fatalf("row %d is %q", y, row)
		}
	}
	for y, want := range eye {
		for x := range want {
			for name, got := range map[string]byte{"top left": rows[y][x], "top right": rows[y][size-1-x], "bottom left": rows[size-1-y][x]} {
				if got != want[x] {
					t.Fatalf("the eye at the %s is not one: %d, %d is %c", name, x, y, got)
				}
			}
		}
	}
	for i := 8; i < size-8; i++ { // the timing lines
		if want := "10"[i%2]; rows[6][i] != want || rows[i][6] != want {
			t.Fatalf("the timing lines break at %d", i)
		}
	}
	if got := read(t, rows, version); got != m.Link {
		t.Errorf("the code reads %q, want %q", got, m.Link)
	}

	page := w.as(host, w.desk, w.page+"/links", http.Header{"Content-Type": {"application/x-www-form-urlencoded"}}, "days=1&role=look")
	svg := regexp.MustCompile(`<svg class="code-picture" viewBox="0 0 (\d+) (\d+)"[^>]*><rect[^>]*fill="#fff"/><path d="([^"]+)" fill="#000"/>`).FindStringSubmatch(page)
	if svg == nil {
		t.Fatalf("no code on the page: %s", page)
	}
	side := number(t, svg[1])
	if side != size+8 || svg[2] != svg[1] {
		t.Errorf("the picture is %s by %s, want 4 light modules around %d", svg[1], svg[2], size)
	}
	dark := regexp.MustCompile(`M(\d+) (\d+)h1v1h-1z`).FindAllStringSubmatch(svg[3], -1)
	if len(dark) < size {
		t.Errorf("only %d dark modules", len(dark))
	}
	for _, d := range dark {
		if x, y := number(t, d[1]), number(t, d[2]); x < 4 || y < 4 || x >= 4+size || y >= 4+size {
			t.Fatalf("a dark module at %d, %d lies in the quiet zone", x, y)
		}
	}
}

func number(t *testing.T, text string) int {
	t.Helper()
	n, err := strconv.Atoi(text)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// masks turn modules round, by row and column (ISO/IEC 18004, table 10).
var masks = []func(y, x int) bool{
	func(y, x int) bool { return (y+x)%2 == 0 }, func(y, _ int) bool { return y%2 == 0 }, func(_, x int) bool { return x%3 == 0 },
	func(y, x int) bool { return (y+x)%3 == 0 }, func(y, x int) bool { return (y/2+x/3)%2 == 0 }, func(y, x int) bool { return y*x%2+y*x%3 == 0 },
	func(y, x int) bool { return (y*x%2+y*x%3)%2 == 0 }, func(y, x int) bool { return ((y+x)%2+y*x%3)%2 == 0 },
}

// read takes the text out of a small code as a camera does, without mending errors:
// up to version 4 at level L its bytes lie in one block, one after the other.
func read(t *testing.T, rows []string, version int) string {
	t.Helper()
	size, format := len(rows), 0
	for x := range 5 { // the level, and the mask
		format = format<<1 | int(rows[8][x]-'0')
	}
	if format ^= 0b10101; format>>3 != 0b01 {
		t.Fatalf("the level is %02b, want L", format>>3)
	}
	mask := masks[format&7]
	fixed := func(y, x int) bool { // eyes with the format beside them, timing lines, the small eye
		centre := size - 7
		return y < 9 && (x < 9 || x >= size-8) || y >= size-8 && x < 9 || y == 6 || x == 6 ||
			version > 1 && max(y-centre, centre-y) <= 2 && max(x-centre, centre-x) <= 2
	}
	var bits []byte
	for pair := 0; pair*2 < size-1; pair++ { // two columns at a time from the right, up and down in turn
		right := size - 1 - 2*pair
		if right <= 6 {
			right--
		}
		for i := range size {
			y := i
			if pair%2 == 0 {
				y = size - 1 - i
			}
			for _, x := range []int{right, right - 1} {
				if !fixed(y, x) {
					bits = append(bits, map[bool]byte{true: 1}[(rows[y][x] == '1') != mask(y, x)])
				}
			}
		}
	}
	take := func(n int) (v int) {
		for _, b := range bits[:n] {
			v = v<<1 | int(b)
		}
		bits = bits[n:]
		return v
	}
	if mode := take(4); mode != 0b0100 {
		t.Fatalf("the code holds mode %04b, want bytes", mode)
	}
	text := make([]byte, take(8))
	for i := range text {
		text[i] = byte(take(8))
	}
	return string(text)
}
