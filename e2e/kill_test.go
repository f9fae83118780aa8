package e2e

import (
	"flag"
	"math/rand/v2"
	"net"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/playwright-community/playwright-go"

	"strutcard/sync/event"
)

var killRounds = flag.Int("kills", 4, "how often a browser, and a server, is killed at a random moment")

// witness hears which events the app has shown as recorded: written, and painted
// after that. What it has heard of before a kill must be there after it.
type witness struct {
	mu   sync.Mutex
	seen map[event.ID]bool
}

// watched tells the witness after each painting which events were written before it.
const watched = `{
	let kept;
	Object.defineProperty(globalThis, "host", { configurable: true, get: () => kept, set: (host) => {
		const { paint, log: { write } } = host;
		const written = [];
		host.log.write = async (lines) => {
			const outcomes = await write(lines);
			lines.forEach((line, i) => { if (outcomes[i] === "stored") written.push(JSON.parse(line).id); });
			return outcomes;
		};
		host.paint = (regions) => {
			paint(regions);
			if (written.length > 0) globalThis.acknowledged(written.splice(0));
		};
		kept = host;
	} });
}`

// watch has the browser of this phone tell the witness.
func (w *witness) watch(p *phone) {
	p.t.Helper()
	err := p.ctx.ExposeBinding("acknowledged", func(_ *playwright.BindingSource, args ...any) any {
		w.mu.Lock()
		defer w.mu.Unlock()
		for _, id := range args[0].([]any) {
			w.seen[event.ID(id.(string))] = true
		}
		return nil
	})
	if err == nil {
		err = p.ctx.AddInitScript(playwright.Script{Content: playwright.String(watched)})
	}
	if err != nil {
		p.t.Fatalf("watch what is acknowledged: %v", err)
	}
}

// lost counts the events that were shown as recorded and are not on the phone.
func (w *witness) lost(p *phone) (seen, lost int) {
	p.t.Helper()
	there := map[event.ID]bool{}
	for _, line := range p.eval(`async () => (await Promise.all((await host.log.jobs()).map(host.log.job))).flatMap((job) => job.split("\n"))`).([]any) {
		e, err := event.Decode([]byte(line.(string)))
		if err != nil {
			p.t.Fatalf("the phone's record has a line that cannot be read: %v", err)
		}
		there[e.ID] = true
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	for id := range w.seen {
		if !there[id] {
			lost++
		}
	}
	return len(w.seen), lost
}

// TestBrowserKilled kills the browser at random moments of jobs: shortly after a
// press, and while a sync is under way. No event that was shown as recorded is
// lost, the chain has no gap, and the app opens where the work was.
func TestBrowserKilled(t *testing.T) {
	t.Parallel()
	n := newNetwork(t)
	if s := n.act("join", n.invitation()); !s.OK {
		t.Fatalf("join: %+v", s)
	}
	w := &witness{seen: map[event.ID]bool{}}
	w.watch(n.phone)
	n.open("/")
	n.tap("#place-work")
	syncing := 0
	for round := range *killRounds {
		for range rand.IntN(3) {
			n.onward()
		}
		if rand.IntN(2) == 0 {
			syncing++
			n.start("sync", nil)
		}
		n.hastyPress()
		time.Sleep(time.Duration(rand.IntN(400)) * time.Millisecond)
		n.kill()
		n.launch()
		w.watch(n.phone)
		n.open("/")
		n.opensAtWork(round)
		if _, lost := w.lost(n.phone); lost > 0 {
			t.Errorf("round %d: %d events are lost that were shown as recorded", round, lost)
		}
		if gaps := event.Gaps(n.log()); len(gaps) > 0 {
			t.Errorf("round %d: the chain does not hold: %v", round, gaps)
		}
		n.holdsTrue()
	}
	seen, lost := w.lost(n.phone)
	t.Logf("%d rounds, %d of them with a sync under way: %d events shown as recorded, %d lost", *killRounds, syncing, seen, lost)
	if seen < *killRounds {
		t.Errorf("only %d events were shown as recorded in %d rounds", seen, *killRounds)
	}
	n.act("sync_screen", nil)
	n.arrives()
	for _, id := range n.eval(`() => host.log.jobs()`).([]any) {
		mine := strings.Split(n.eval(`(id) => host.log.job(id)`, id).(string), "\n")
		theirs := strings.Split(strings.TrimSpace(lines(n.shop.events(event.JobID(id.(string))))), "\n")
		slices.Sort(mine)
		slices.Sort(theirs)
		if !slices.Equal(mine, theirs) {
			t.Errorf("of the job %s the phone has %d events and the server %d, or others", id, len(mine), len(theirs))
		}
	}
}

// onward is one whole press of the job; a job that has ended is followed by
// another.
func (n *network) onward() {
	n.t.Helper()
	if n.has("article.card") {
		n.act("home", nil)
		n.openDemo()
	}
	if !n.next() {
		n.t.Fatalf("nothing is asked; on screen: %s", n.text("body"))
	}
}

// hastyPress presses what can be pressed at once, or else keeps a note, and does
// not wait for what becomes of it.
func (n *network) hastyPress() {
	n.t.Helper()
	n.pace()
	n.eval(`() => {
		const control = document.querySelector("#begin") ?? document.querySelector("#r-bar .action");
		if (control) control.click();
		else strutcard.act("note", '{"text":"in haste"}');
	}`)
}

// opensAtWork wants the screen of the open job, with no word of an error.
func (n *network) opensAtWork(round int) {
	n.t.Helper()
	forms := []string{"article.card"}
	for _, a := range asked[1:] { // the first is a message
		forms = append(forms, a.form)
	}
	if !n.has(strings.Join(forms, ", ")) || n.has("section.home") || n.has("#dismiss") || n.has("#repair:not([hidden])") || n.has("#notice:not([hidden])") {
		n.t.Fatalf("round %d: the app opens at %q, with the message %q: %s", round, n.text("#r-main h1"), n.text("#r-sheet"), n.text("body"))
	}
}

// TestServerKilled kills the real program at random moments: while it takes in
// events, and while it starts. It keeps each event that a phone takes for sent.
func TestServerKilled(t *testing.T) {
	t.Parallel()
	n := newNetwork(t)
	if s := n.act("join", n.invitation()); !s.OK {
		t.Fatalf("join: %+v", s)
	}
	n.synced()
	n.shop.stop()
	program := filepath.Join(t.TempDir(), "strutcard")
	if out, err := exec.Command("go", "build", "-o", program, "strutcard/cmd/strutcard").CombinedOutput(); err != nil {
		t.Fatalf("build the program: %v\n%s", err, out)
	}
	run := func() *exec.Cmd {
		cmd := exec.Command(program, "serve", "--quiet", "--addr", n.shop.addr, "--data", n.shop.dir)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		return cmd
	}
	server, taking := run(), 0
	stop := func() {
		_ = server.Process.Kill() // SIGKILL; it may be at its end already
		_ = server.Wait()
	}
	defer func() { stop() }()
	for round := range *killRounds {
		for range 1 + rand.IntN(8) {
			n.note()
		}
		sync := ""
		if rand.IntN(4) > 0 {
			n.shop.listens()
			taking++
			sync = n.start("sync", nil)
		}
		time.Sleep(time.Duration(rand.IntN(150)) * time.Millisecond)
		stop()
		if sync != "" {
			n.outcome(sync)
		}
		server = run()
		n.shop.listens()
		n.holdsTrue()
		if gaps := event.Gaps(n.shop.events(n.log()[0].Job)); len(gaps) > 0 {
			t.Errorf("round %d: the chain on the server does not hold: %v", round, gaps)
		}
	}
	n.arrives()
	sent := len(n.shop.events(n.log()[0].Job))
	t.Logf("%d rounds, %d of them with a sync under way: %d events sent, none lost, each once", *killRounds, taking, sent)
	if sent < *killRounds {
		t.Errorf("only %d events were sent in %d rounds", sent, *killRounds)
	}
}

// listens waits until somebody takes connections at the shop's address.
func (s *shopServer) listens() {
	s.t.Helper()
	for end := time.Now().Add(time.Minute); ; time.Sleep(10 * time.Millisecond) {
		conn, err := net.Dial("tcp", s.addr)
		if err == nil {
			_ = conn.Close()
			return
		}
		if time.Now().After(end) {
			s.t.Fatalf("the server does not listen: %v", err)
		}
	}
}
