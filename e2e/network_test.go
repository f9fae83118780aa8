package e2e

import (
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"strutcard/server/shop"
	"strutcard/server/sqlite"
	"strutcard/sync/event"
	"strutcard/sync/sheet"
)

// network is a phone of the shop with a proxy on its way there, and an open job.
type network struct {
	*phone
	proxy *proxy
	other *colleague
	own   string // an own sheet of this phone
	made  int
	acts  int
}

func newNetwork(t *testing.T) *network {
	t.Helper()
	s := newShop(t)
	n := &network{proxy: newProxy(t, s.addr)}
	s.url = n.proxy.url()
	n.phone = newPhone(t, s)
	n.open("/")
	n.offlineReady()
	n.openDemo()
	n.act("sync_screen", nil)
	n.other = newColleague(t, s, n.log()[0].Job)
	return n
}

// said is the app's reply to a press.
type said struct {
	OK            bool
	Message, Hint string
}

// act presses by name, past the screen: many of the table's rows record something.
func (n *network) act(name string, args map[string]string) said {
	n.t.Helper()
	return n.outcome(n.start(name, args))
}

// start begins an act and goes on; outcome waits for its reply.
func (n *network) start(name string, args map[string]string) (act string) {
	n.t.Helper()
	text, err := json.Marshal(args)
	if err != nil {
		n.t.Fatal(err)
	}
	n.acts++
	act = fmt.Sprint(n.acts)
	n.eval(`([act, name, args]) => {
		globalThis.came ??= {};
		strutcard.act(name, args).then((text) => { came[act] = text; });
	}`, []string{act, name, string(text)})
	return act
}

func (n *network) outcome(act string) said {
	n.t.Helper()
	n.wait(`() => globalThis.came["` + act + `"]`)
	var s said
	if err := json.Unmarshal([]byte(n.eval(`(act) => came[act]`, act).(string)), &s); err != nil {
		n.t.Fatalf("read reply: %v", err)
	}
	return s
}

func (n *network) note() { n.t.Helper(); n.noteWith("") }

func (n *network) noteWith(more string) {
	n.t.Helper()
	n.made++
	if s := n.act("note", map[string]string{"text": fmt.Sprintf("note %d%s", n.made, more)}); !s.OK {
		n.t.Fatalf("the note was not taken: %+v", s)
	}
}

// within lets a part of the table fail as its own test.
func (n *network) within(t *testing.T, name string, do func()) {
	t.Run(name, func(t *testing.T) {
		before := n.t
		n.t = t
		defer func() { n.t = before }()
		do()
	})
}

// db opens the server's database beside the server.
func (s *shopServer) db() *sqlite.DB {
	s.t.Helper()
	db, err := sqlite.Open(filepath.Join(s.dir, "strutcard.db"), sqlite.Options{Now: time.Now})
	if err != nil {
		s.t.Fatalf("open the server's database: %v", err)
	}
	return db
}

// takePhoto keeps a small picture and records it.
func (n *network) takePhoto() {
	n.t.Helper()
	n.made++
	args := n.eval(`async (seed) => {
		const canvas = new OffscreenCanvas(64, 64);
		const pen = canvas.getContext("2d");
		for (let i = 0; i < 64; i++) {
			pen.fillStyle = "hsl(" + (i * seed * 37) % 360 + " 80% 50%)";
			pen.fillRect(i, 0, 1, 64);
		}
		const { take } = host.photos;
		return take(new File([await canvas.convertToBlob()], "photo.png", { type: "image/png" }));
	}`, n.made).(map[string]any)
	text := map[string]string{}
	for name, value := range args {
		text[name] = value.(string)
	}
	if s := n.act("photo", text); !s.OK {
		n.t.Fatalf("the photo was not taken: %+v", s)
	}
}

// publish gives the shop a sheet that no phone has yet.
func (n *network) publish() {
	n.t.Helper()
	n.made++
	s := sheet.Demo()[0]
	s.Title = fmt.Sprintf("%s, variant %d", s.Title, n.made)
	db := n.shop.db()
	defer func() { _ = db.Close() }()
	err := db.AddSheet(context.Background(), "demo", shop.Sheet{Hash: s.Hash(), Title: s.Title, Version: s.Version, Vehicle: s.Vehicle.Name, Published: true, Body: s.Encode()})
	if err != nil {
		n.t.Fatal(err)
	}
}

// makeOwn makes another version of this phone's own sheet.
func (n *network) makeOwn() {
	n.t.Helper()
	if n.own == "" {
		n.act("home", nil)
		n.ownSheet()
		n.own = n.ownID()
	}
	n.made++
	basics := map[string]string{"own": n.own, "vehicle": "My own car", "kit": fmt.Sprintf("Two rear springs, take %d", n.made), "front": "none", "rear": "twist_beam"}
	for _, s := range []said{n.act("own_save", basics), n.act("own_make", map[string]string{"own": n.own})} {
		if !s.OK {
			n.t.Fatalf("the own sheet was not made: %+v", s)
		}
	}
	n.reopen()
}

func (n *network) ownID() string {
	n.t.Helper()
	var list []struct{ ID, Hash string }
	if err := json.Unmarshal([]byte(n.eval(`() => host.log.meta("own")`).(string)), &list); err != nil || len(list) != 1 {
		n.t.Fatalf("own sheets: %v, %d of them", err, len(list))
	}
	return list[0].ID
}

// reopen goes back into the job, at the screen that says how the sync went.
func (n *network) reopen() {
	n.t.Helper()
	n.act("open_job", map[string]string{"job": string(n.log()[0].Job)})
	n.act("sync_screen", nil)
}

// TestNetwork sends each exchange between phone and shop through each condition.
// What went wrong is said with what to do, nothing counts as sent that is not on
// the server, and once the network is fine again everything is there, once.
func TestNetwork(t *testing.T) {
	t.Parallel()
	n := newNetwork(t)
	n.within(t, "FirstJoin", n.firstJoin)
	n.synced()
	n.within(t, "Join", n.joinAgain)
	routes := []struct {
		name, method, path string
		begin              func() // makes something that is to be carried
		after              func(condition)
	}{
		{"Sync", "POST", "/api/v1/sync", func() { n.note(); n.other.writes(n.log(), &event.NoteAdded{Text: "from the other phone"}) }, n.tells},
		{"SheetList", "GET", "/api/v1/sheets", n.publish, n.tells},
		{"SheetFetch", "GET", "/api/v1/sheets/", n.publish, n.tells},
		{"SheetSend", "PUT", "/api/v1/sheets/", n.makeOwn, n.tells},
		{"PhotoAsk", "HEAD", "/api/v1/photos/", n.takePhoto, n.onlySentPhotos},
		{"PhotoSend", "PATCH", "/api/v1/photos/", n.takePhoto, n.onlySentPhotos},
		{"PhotoFetch", "GET", "/api/v1/photos/", func() { n.other.photographs(n.log()) }, n.onlySentPhotos},
	}
	for _, r := range routes {
		n.within(t, r.name, func() {
			for _, f := range conditions {
				n.within(n.t, f.name, func() {
					n.proxy.meet(f, r.method, r.path)
					r.begin()
					n.meets(f)
					r.after(f)
					n.holdsTrue()
					n.arrives()
				})
			}
			n.opensAlone()
		})
	}
}

// invitation is the shop's, as a person pastes it.
func (n *network) invitation() map[string]string {
	return map[string]string{"invite": n.shop.invite, "name": "Test phone"}
}

// tryJoin joins over the network as it is. Meanwhile the work in the open job goes on.
func (n *network) tryJoin(f condition) said {
	n.t.Helper()
	n.proxy.meet(f, "POST", "/api/v1/join")
	if !f.holds {
		return n.act("join", n.invitation())
	}
	join := n.start("join", n.invitation())
	n.met(func() {})
	n.goesOn()
	n.proxy.cut()
	return n.outcome(join)
}

// firstJoin tries to join over every condition, with a phone that has no shop yet.
func (n *network) firstJoin() {
	for _, f := range conditions {
		if f.whole {
			continue
		}
		n.within(n.t, f.name, func() {
			n.wantsSaid(f, n.tryJoin(f))
			if token := n.meta("shop.token"); token != "" {
				n.t.Errorf("the phone has a key of %d bytes from a join that failed", len(token))
			}
		})
	}
	n.proxy.pass()
	if s := n.act("join", n.invitation()); !s.OK {
		n.t.Errorf("joining failed once the network was fine: %+v", s)
	}
}

// joinAgain tries it with a phone that belongs to the shop: its key must stay good.
func (n *network) joinAgain() {
	for _, f := range conditions {
		n.within(n.t, f.name, func() {
			before := n.meta("shop.token")
			s := n.tryJoin(f)
			if f.whole != s.OK {
				n.t.Errorf("joining was answered with %+v", s)
			}
			if got := n.meta("shop.token"); !f.whole && got != before {
				n.t.Error("a join that failed changed the key that the phone has")
			}
			if got := n.meta("shop.name"); !strings.HasPrefix(got, "Bramley Yard") {
				n.t.Errorf("the phone belongs to %q", got)
			}
			n.note()
			n.arrives()
		})
	}
}

// wantsSaid wants a failure in words, with what to do.
func (n *network) wantsSaid(f condition, s said) {
	n.t.Helper()
	if s.OK || s.Message == "" || !strings.Contains(s.Hint, f.says) || s.Hint == "" {
		n.t.Errorf("it was answered with %+v, want what to do: %q", s, f.says)
	}
}

// meets syncs until something has met the condition. While a request hangs, the
// work goes on: nobody waits for a network.
func (n *network) meets(f condition) {
	n.t.Helper()
	if f.away {
		n.act("sync", nil)
		return
	}
	n.met(func() { n.start("sync", nil) }) // it does nothing while one is at work
	if f.holds {
		n.goesOn()
		n.proxy.cut()
	}
	if f.whole {
		n.until("the request is through", func() bool { return n.proxy.held() == 0 })
	}
}

// met tries again until a request has met the condition.
func (n *network) met(try func()) {
	n.t.Helper()
	for end := time.Now().Add(patience); n.proxy.hits() == 0; time.Sleep(10 * time.Millisecond) {
		if time.Now().After(end) {
			n.t.Fatal("no request met the condition")
		}
		try()
	}
}

// goesOn records something while a request hangs.
func (n *network) goesOn() {
	n.t.Helper()
	before := n.waiting()
	n.note()
	if got := n.waiting(); got <= before {
		n.t.Errorf("%d entries wait after another was recorded, before it were %d", got, before)
	}
	if n.proxy.held() == 0 {
		n.t.Error("the request did not hang while the work went on")
	}
}

// tells wants the screen to say how the sync went, and what to do.
func (n *network) tells(f condition) {
	n.t.Helper()
	want := "Not synced: "
	if f.whole {
		want = "Last sync: "
	}
	n.wait(`() => document.querySelector("#r-main").innerText.includes("` + want + `")`)
	if got := n.text("#r-main .quiet"); !strings.Contains(got, f.says) {
		n.t.Errorf("it says %q, want what to do: %q", got, f.says)
	}
}

// onlySentPhotos wants each picture that the phone takes for sent on the server,
// and no strange words on the screen.
func (n *network) onlySentPhotos(condition) {
	n.t.Helper()
	n.act("sync_screen", nil) // painted anew
	for _, sha := range n.eval(`async () => {
		return (await host.photos.survey()).filter((one) => one.epoch).map((one) => one.sha);
	}`).([]any) {
		if n.shop.photo(sha.(string)) == nil {
			n.t.Errorf("the phone takes a photo for sent that the server does not have: %s", sha)
		}
	}
	if got := n.text("#r-main"); strings.Contains(got, "undefined") {
		n.t.Errorf("the screen says: %s", got)
	}
}

func (n *network) waiting() int {
	n.t.Helper()
	return n.eval(`() => host.log.waiting()`).(int)
}

func (n *network) meta(name string) string {
	n.t.Helper()
	return n.eval(`(name) => host.log.meta(name)`, name).(string)
}

// holdsTrue compares what the phone takes for sent with the server's own record,
// and the sheet that it lists last with its hash.
func (n *network) holdsTrue() {
	n.t.Helper()
	pending := strings.Split(n.eval(`() => host.log.pending(10000)`).(string), "\n")
	mine := n.log()
	theirs := n.shop.events(mine[0].Job)
	for _, e := range mine {
		sent := !slices.Contains(pending, e.Line())
		there := slices.ContainsFunc(theirs, func(t event.Event) bool { return t.Line() == e.Line() })
		if sent && !there {
			n.t.Errorf("the phone takes an event for sent that the server does not have: %s", e.Line())
		}
	}
	if n.meta("shop.token") == "" {
		n.t.Error("the phone has lost its key")
	}
	hashes := n.sheets()
	for _, hash := range hashes[max(0, len(hashes)-1):] { // the newest: the others were looked at before
		s, err := sheet.Decode([]byte(n.meta("sheet." + hash)))
		if err != nil || string(s.Hash()) != hash {
			n.t.Errorf("the phone lists a sheet that it does not have: %s (%v)", hash, err)
		}
	}
}

func (n *network) sheets() []string {
	n.t.Helper()
	var hashes []string
	if text := n.meta("sheets"); text != "" {
		if err := json.Unmarshal([]byte(text), &hashes); err != nil {
			n.t.Fatalf("read the phone's sheets: %v", err)
		}
	}
	return hashes
}

// arrives lets the network be fine: both sides then hold the same lines, each
// once, and the same sheets.
func (n *network) arrives() {
	n.t.Helper()
	n.proxy.pass()
	n.until("everything is synced", func() bool {
		n.act("sync", nil) // it does nothing while one is at work, which the last condition may have spoilt
		return n.eval(`() => document.querySelector("#strip-sync").innerText.includes("All synced") && document.querySelector("#r-main").innerText.includes("Last sync: ")`).(bool)
	})
	mine := n.log()
	theirs := n.shop.events(mine[0].Job)
	if got, want := lines(theirs), lines(mine); got != want {
		n.t.Fatalf("the server has\n%s\nthe phone has\n%s", got, want)
	}
	db := n.shop.db()
	defer func() { _ = db.Close() }()
	there, err := db.Sheets(context.Background(), "demo", mine[0].Device)
	if err != nil {
		n.t.Fatal(err)
	}
	var server []string
	for _, s := range there {
		server = append(server, string(s.Hash))
	}
	here := n.sheets()
	for _, hash := range here {
		if !slices.Contains(server, hash) {
			n.t.Errorf("the server did not get the sheet %s", hash)
		}
	}
	n.photosArrive()
	for _, s := range there {
		if s.Published && strings.Contains(s.Title, "variant") && !slices.Contains(here, string(s.Hash)) {
			n.t.Errorf("the phone did not get the sheet %q", s.Title)
		}
	}
}

// photosArrive syncs until each photo of the job is on both sides.
func (n *network) photosArrive() {
	n.t.Helper()
	for _, photo := range n.fold().Photos {
		for end := time.Now().Add(30 * time.Second); n.eval(`(sha) => host.photos.size(sha)`, photo.SHA256) == 0 || n.shop.photo(photo.SHA256) == nil; time.Sleep(50 * time.Millisecond) {
			if time.Now().After(end) {
				n.t.Fatalf("a photo is still missing on one side; on screen: %s", n.text("#r-main"))
			}
			n.eval(`() => pace(20_000)`) // a picture that was not there is asked for again after a while
			n.act("sync", nil)
		}
	}
}

func lines(events []event.Event) string {
	var b strings.Builder
	for _, e := range events {
		b.WriteString(e.Line() + "\n")
	}
	return b.String()
}

// opensAlone opens the app again while nobody listens: the kept files are whole.
func (n *network) opensAlone() {
	n.t.Helper()
	n.proxy.meet(away, "", "")
	n.reload()
	if got := n.kept(); got != "" {
		n.t.Errorf("these kept files are not whole: %s", got)
	}
	n.proxy.pass()
	n.reopen()
}

// kept asks the worker which of the app's files do not hold against their hash.
func (n *network) kept() string {
	n.t.Helper()
	return n.eval(`async () => {
		const { active } = await navigator.serviceWorker.getRegistration();
		const { port1, port2 } = new MessageChannel();
		const answer = new Promise((resolve) => { port1.onmessage = (event) => resolve(event.data); });
		active.postMessage({ do: "check" }, [port2]);
		return (await answer).missing.join(" ");
	}`).(string)
}

// TestSlowLink: a day's record goes over a link of 2 kB/s in the end, though all
// of it at once would take longer than any request may.
func TestSlowLink(t *testing.T) {
	t.Parallel()
	n := newNetwork(t)
	if s := n.act("join", n.invitation()); !s.OK {
		t.Fatalf("join: %+v", s)
	}
	n.synced()
	n.proxy.meet(away, "", "")
	for range 150 {
		n.noteWith(strings.Repeat(", with many words", 12))
	}
	n.proxy.meet(slow(), "", "")
	start := time.Now()
	n.waitFor(`() => document.querySelector("#strip-sync").innerText.includes("All synced")`, 5*time.Minute)
	size := len(lines(n.log()))
	t.Logf("%d bytes of events took %v in %d requests", size, time.Since(start).Round(time.Second), n.proxy.hits())
	n.holdsTrue()
	if got, want := lines(n.shop.events(n.log()[0].Job)), lines(n.log()); got != want {
		t.Errorf("the server has\n%s\nthe phone has\n%s", got, want)
	}
	if size < 60_000 {
		t.Errorf("the record has only %d bytes: one request could carry it all", size)
	}
}
