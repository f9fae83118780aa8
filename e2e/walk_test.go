package e2e

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/playwright-community/playwright-go"

	"strutcard/server/sqlite"
	"strutcard/sync/event"
	"strutcard/sync/job"
)

// hands is what a walk needs of a browser, whichever engine it is.
type hands interface {
	open(path string)
	reload()
	wait(condition string)
	waitFor(condition string, patience time.Duration)
	eval(script string, arg ...any) any
	tap(selector string)
	fill(selector, value string)
	choose(name, value string)
	text(selector string) string
	value(selector string) string
	pace() // lets the page's clock run on as far as hands take for the next press
	fatalf(format string, args ...any)
}

// asked are the forms that a screen may ask with, in the order in which they are
// looked for, and what a person does with each.
var asked = []struct {
	form string
	do   func(hands)
}{
	{"#dismiss", func(h hands) { h.fatalf("the screen says: %s", h.text("#r-sheet")) }},
	{"#photo-out-form", func(h hands) { answer(h, "#photo-out-form", "#f-reason", "The lens is broken.") }},
	{"#photo-skip", func(h hands) { h.tap("#photo-skip") }},
	{"#position-form", func(h hands) { answer(h, "#position-form", "#f-text", "14 threads showing") }},
	{"#clicks-form", func(h hands) { answer(h, "#clicks-form", "#f-clicks", "5") }},
	{"#leftovers-form", func(h hands) { answer(h, "#leftovers-form", "#f-count", "0") }},
	{"#count-form", func(h hands) {
		answer(h, "#count-form", "#f-found", strings.Fields(after(h.text("#count-form .question"), ": "))[0])
	}},
	{"#tool-form", tool},
	{"#reading-form", reading},
	{"#release-form", func(h hands) {
		answer(h, "#release-form", "#f-reason", "Nobody could be reached; every mark was checked twice.")
	}},
	{"#begin", func(h hands) { h.tap("#begin") }},
	{"#r-bar .action", func(h hands) { h.tap("#r-bar .action") }},
}

// next does the one thing that the screen asks for, by touch. It reports false
// when the screen asks for nothing more.
func next(h hands) bool {
	h.pace()
	forms := make([]string, len(asked))
	for i, a := range asked {
		forms[i] = a.form
	}
	found := h.eval(`(forms) => forms.find((form) => document.querySelector(form)) ?? ""`, forms)
	i := slices.Index(forms, found.(string))
	if i < 0 {
		return false
	}
	asked[i].do(h)
	return true
}

func (p *phone) next() bool { p.t.Helper(); return next(p) }

// hurried presses by script, without a driver's looking where each thing is: for the
// way to what a test is about.
type hurried struct{ *phone }

// atRest waits in the page until no press is under way. It does not wait until a new
// screen takes taps: a script's press goes through, and pace has moved the clock past it.
const atRest = `const rest = async () => {
	while ("busy" in document.documentElement.dataset) await new Promise((on) => setTimeout(on, 4));
};`

func (h hurried) tap(selector string) {
	h.t.Helper()
	pressed := h.eval(`async (selector) => { `+atRest+`
		await rest();
		const one = document.querySelector(selector);
		one?.click();
		await rest();
		return one !== null;
	}`, selector)
	if pressed != true {
		h.t.Fatalf("press %s: there is none\non screen: %s", selector, h.text("body"))
	}
}

// sparing presses a button by touch until it has done so many times, and by script
// from then on: for a way of hundreds of presses on a few buttons.
type sparing struct {
	hurried
	touched map[string]int
}

func (s sparing) tap(selector string) {
	s.t.Helper()
	if s.touched[selector]++; s.touched[selector] > 25 {
		s.hurried.tap(selector)
		return
	}
	s.phone.tap(selector)
}

func (h hurried) fill(selector, value string) {
	h.t.Helper()
	filled := h.eval(`([selector, value]) => {
		const field = document.querySelector(selector);
		if (!field) return false;
		field.value = value;
		return field.dispatchEvent(new Event("input", { bubbles: true }));
	}`, []any{selector, value})
	if filled != true {
		h.t.Fatalf("fill %s: there is none\non screen: %s", selector, h.text("body"))
	}
}

// hurry goes on until something is on the screen.
func (p *phone) hurry(until string) {
	p.t.Helper()
	for i := 0; !p.has(until); i++ {
		if i > 1500 || !next(hurried{p}) {
			p.t.Fatalf("the walk does not come to %s in %d presses; on screen: %s", until, i, p.text("body"))
		}
	}
}

// answer fills in a form's one field and sends it.
func answer(h hands, form, field, value string) {
	h.fill(form+" "+field, value)
	h.tap(form + " button[type=submit]")
}

func (p *phone) pace() {
	p.t.Helper()
	p.ahead += 5000
	p.eval(`() => globalThis.pace(5000)`)
}

func (p *phone) fatalf(format string, args ...any) { p.t.Helper(); p.t.Fatalf(format, args...) }

func after(s, mark string) string {
	_, rest, _ := strings.Cut(s, mark)
	return rest
}

func (p *phone) value(selector string) string {
	v, err := p.page.Locator(selector).First().InputValue()
	if err != nil {
		p.t.Fatalf("read %s: %v", selector, err)
	}
	return v
}

func tool(h hands) {
	switch h.value("#tool-form input[name=tool]") {
	case "wrench_small":
		h.fill("#f-low", "5")
		h.fill("#f-high", "60")
	case "wrench_large":
		h.fill("#f-low", "40")
		h.fill("#f-high", "210")
	case "jack", "stands":
		h.fill("#f-rating", "2000")
	}
	h.tap("#tool-form button[value=yes]")
}

func reading(h hands) {
	quantity, place := h.value("#reading-form input[name=quantity]"), h.value("#reading-form input[name=place]")
	purpose := h.value("#reading-form input[name=purpose]")
	switch quantity {
	case "total_toe":
		h.fill("#f-rear", "1482")
		h.fill("#f-front", "1480")
		h.fill("#f-diameter", "600")
		h.fill("#f-mark", "1")
		h.fill("#f-diameter_mark", "1")
	case "ride_height":
		height := map[byte]string{'F': "355", 'R': "350"}[place[0]]
		if purpose == "before" {
			height = "383.5"
		}
		h.fill("#f-height", height)
		h.fill("#f-mark", "1")
	default:
		gap := map[byte]string{'F': "11", 'R': "9"}[place[0]]
		if purpose == "before" {
			gap = "4"
		}
		h.fill("#f-gap", gap)
		h.fill("#f-span", "412")
		h.fill("#f-mark", "0.5")
		h.fill("#f-span_mark", "1")
		h.choose("gap_at", "top")
		h.choose("along", "rim")
	}
	h.tap("#reading-form button.action")
}

// choose checks one answer of a form's question.
func (p *phone) choose(name, value string) {
	p.t.Helper()
	if err := p.page.Locator(fmt.Sprintf(`#reading-form input[name=%s][value="%s"]`, name, value)).Check(); err != nil {
		p.t.Fatalf("choose %s %s: %v", name, value, err)
	}
}

// openDemo starts the first demo job.
func (p *phone) openDemo() {
	p.t.Helper()
	p.tap(`button[data-do=new_job]:has-text("Ostler Wren")`)
	p.fill("#f-vehicle", "Ostler Wren (invented)")
	p.tap("#start-form button[type=submit]")
	p.wait(`() => document.querySelector("section.step")`)
}

// offlineReady waits for the app's own word that every file was checked.
func (p *phone) offlineReady() {
	p.t.Helper()
	p.wait(`() => globalThis.host.env().offlineReady`)
}

// record reads the log from the browser's disk, past the program.
func record(h hands) []event.Event {
	text := h.eval(`async () => { const jobs = await host.log.jobs(); return (await host.log.job(jobs[jobs.length - 1])); }`).(string)
	var events []event.Event
	for _, line := range strings.Split(strings.TrimSpace(text), "\n") {
		e, err := event.Decode([]byte(line))
		if err != nil {
			h.fatalf("the phone's record has a line that cannot be read: %v", err)
		}
		events = append(events, e)
	}
	return event.Sort(events)
}

func (p *phone) log() []event.Event { p.t.Helper(); return record(p) }

// state is the fold as the phone's own program makes it.
func (p *phone) state() string {
	p.t.Helper()
	return p.eval(`async () => {
		let file = "";
		const keep = host.download;
		host.download = (name, type, text) => { file = text; };
		await strutcard.act("export_state", "{}");
		host.download = keep;
		return file;
	}`).(string)
}

func (p *phone) fold() *job.State {
	events := p.log()
	return job.Fold(events[0].Job, events)
}

// events reads a job's events from the server's own database.
func (s *shopServer) events(id event.JobID) []event.Event {
	s.t.Helper()
	db, err := sqlite.Open(filepath.Join(s.dir, "strutcard.db"), sqlite.Options{Now: time.Now})
	if err != nil {
		s.t.Fatalf("open the server's database: %v", err)
	}
	defer func() { _ = db.Close() }()
	events, err := db.Shop("demo").Job(context.Background(), id)
	if err != nil {
		s.t.Fatalf("read the server's events: %v", err)
	}
	return events
}

// staff is a desk browser that is signed in to the demo shop.
func (s *shopServer) staff() playwright.Page {
	s.t.Helper()
	browser, err := pw.Chromium.Launch(playwright.BrowserTypeLaunchOptions{ExecutablePath: playwright.String("/usr/bin/chromium"), Args: chromiumArgs})
	if err != nil {
		s.t.Fatal(err)
	}
	s.t.Cleanup(func() { _ = browser.Close() })
	page, err := browser.NewPage(playwright.BrowserNewPageOptions{Viewport: &playwright.Size{Width: 1280, Height: 800}})
	if err != nil {
		s.t.Fatal(err)
	}
	page.SetDefaultTimeout(float64(patience.Milliseconds()))
	page.SetDefaultNavigationTimeout(float64(patience.Milliseconds()))
	if _, err := page.Goto(s.url + "/sign-in"); err != nil {
		s.t.Fatal(err)
	}
	for selector, value := range map[string]string{"input[name=name]": s.demo.Name, "input[name=password]": s.demo.Password} {
		if err := page.Locator(selector).Fill(value); err != nil {
			s.t.Fatalf("sign in: %v", err)
		}
	}
	if err := page.Locator("form button").First().Click(); err != nil {
		s.t.Fatal(err)
	}
	if err := page.WaitForURL("**/shop"); err != nil {
		s.t.Fatalf("sign in did not reach the shop: %v at %s", err, page.URL())
	}
	return page
}
