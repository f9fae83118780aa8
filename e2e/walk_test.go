package e2e

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"github.com/playwright-community/playwright-go"

	"strutcard/server/sqlite"
	"strutcard/sync/event"
	"strutcard/sync/job"
)

// asked are the forms that a screen may ask with, in the order in which they are
// looked for, and what a person does with each.
var asked = []struct {
	form string
	do   func(*phone)
}{
	{"#dismiss", func(p *phone) { p.t.Fatalf("the screen says: %s", p.text("#r-sheet")) }},
	{"#photo-out-form", func(p *phone) { p.answer("#photo-out-form", "#f-reason", "The lens is broken.") }},
	{"#photo-skip", func(p *phone) { p.tap("#photo-skip") }},
	{"#position-form", func(p *phone) { p.answer("#position-form", "#f-text", "14 threads showing") }},
	{"#clicks-form", func(p *phone) { p.answer("#clicks-form", "#f-clicks", "5") }},
	{"#leftovers-form", func(p *phone) { p.answer("#leftovers-form", "#f-count", "0") }},
	{"#count-form", func(p *phone) {
		p.answer("#count-form", "#f-found", strings.Fields(after(p.text("#count-form .question"), ": "))[0])
	}},
	{"#tool-form", (*phone).tool},
	{"#reading-form", (*phone).reading},
	{"#release-form", func(p *phone) {
		p.answer("#release-form", "#f-reason", "Nobody could be reached; every mark was checked twice.")
	}},
	{"#begin", func(p *phone) { p.tap("#begin") }},
	{"#r-bar .action", func(p *phone) { p.tap("#r-bar .action") }},
}

// next does the one thing that the screen asks for, by touch. It reports false
// when the screen asks for nothing more.
func (p *phone) next() bool {
	p.t.Helper()
	p.pace()
	forms := make([]string, len(asked))
	for i, a := range asked {
		forms[i] = a.form
	}
	i := p.eval(`(forms) => forms.findIndex((form) => document.querySelector(form))`, forms).(int)
	if i < 0 {
		return false
	}
	asked[i].do(p)
	return true
}

// answer fills in a form's one field and sends it.
func (p *phone) answer(form, field, value string) {
	p.t.Helper()
	p.fill(form+" "+field, value)
	p.tap(form + " button[type=submit]")
}

// pace lets the page's clock run on as far as hands take for the next press.
func (p *phone) pace() {
	p.t.Helper()
	p.ahead += 5000
	p.eval(`() => globalThis.pace(5000)`)
}

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

func (p *phone) tool() {
	p.t.Helper()
	switch p.value("#tool-form input[name=tool]") {
	case "wrench_small":
		p.fill("#f-low", "5")
		p.fill("#f-high", "60")
	case "wrench_large":
		p.fill("#f-low", "40")
		p.fill("#f-high", "210")
	case "jack", "stands":
		p.fill("#f-rating", "2000")
	}
	p.tap("#tool-form button[value=yes]")
}

func (p *phone) reading() {
	p.t.Helper()
	quantity, place := p.value("#reading-form input[name=quantity]"), p.value("#reading-form input[name=place]")
	purpose := p.value("#reading-form input[name=purpose]")
	switch quantity {
	case "total_toe":
		p.fill("#f-rear", "1482")
		p.fill("#f-front", "1480")
		p.fill("#f-diameter", "600")
		p.fill("#f-mark", "1")
		p.fill("#f-diameter_mark", "1")
	case "ride_height":
		height := map[byte]string{'F': "355", 'R': "350"}[place[0]]
		if purpose == "before" {
			height = "383.5"
		}
		p.fill("#f-height", height)
		p.fill("#f-mark", "1")
	default:
		gap := map[byte]string{'F': "11", 'R': "9"}[place[0]]
		if purpose == "before" {
			gap = "4"
		}
		p.fill("#f-gap", gap)
		p.fill("#f-span", "412")
		p.fill("#f-mark", "0.5")
		p.fill("#f-span_mark", "1")
		p.choose("gap_at", "top")
		p.choose("along", "rim")
	}
	p.tap("#reading-form button.action")
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

// log reads the phone's record from its disk, past the program.
func (p *phone) log() []event.Event {
	p.t.Helper()
	text := p.eval(`async () => { const jobs = await host.log.jobs(); return (await host.log.job(jobs[jobs.length - 1])); }`).(string)
	var events []event.Event
	for _, line := range strings.Split(strings.TrimSpace(text), "\n") {
		e, err := event.Decode([]byte(line))
		if err != nil {
			p.t.Fatalf("the phone's record has a line that cannot be read: %v", err)
		}
		events = append(events, e)
	}
	return event.Sort(events)
}

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
	page.SetDefaultTimeout(20_000)
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
