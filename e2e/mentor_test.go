package e2e

import (
	"os"
	"strings"
	"testing"
	"time"

	"github.com/playwright-community/playwright-go"

	"strutcard/sync/event"
)

// TestMentor: an installer shares a job from the phone. The mentor, on a phone of
// their own, sees what waits for them first, says something and releases it, and
// the work goes on. The shop has one thing done again and returns the job; the
// installer ends the link, and the mentor sees nothing more.
func TestMentor(t *testing.T) {
	t.Parallel()
	axe, err := os.ReadFile("node_modules/axe-core/axe.min.js")
	if err != nil {
		t.Fatal(err)
	}
	shop := newShop(t)
	p := newPhone(t, shop)
	p.join()
	p.openDemo()
	for i := 0; !p.has("#release-form"); i++ {
		if i > 900 || !p.next() {
			t.Fatalf("the walk meets no hold point; on screen: %s", p.text("body"))
		}
	}
	hold := event.StepID(p.shown())
	p.synced()

	link := p.shares("release")
	p.axe(string(axe), p.page, "people screen")
	p.pictures("people")
	p.tap("#place-work")
	m := mentor(t, shop, link, "Nora")
	p.axe(string(axe), m, "mentor's page")
	picture(t, m, "mentor")
	body := inner(t, m, "main")
	if wait, findings := strings.Index(body, "Waits for a look"), strings.Index(body, "Findings"); wait < 0 || findings < wait {
		t.Errorf("what waits for the mentor does not stand first:\n%s", body)
	}
	write(t, m, `form[action$="/comments"]`, "text", "the top mount sits well", map[string]string{"about": "step:" + string(hold)})
	write(t, m, `form[action$="/release"]`, "text", "every mark is in line", nil)
	if body := inner(t, m, "main"); strings.Contains(body, "Waits for a look") || !strings.Contains(body, "the top mount sits well") {
		t.Errorf("after the release the mentor's page says:\n%s", body)
	}

	p.hears("2 remarks to read")
	p.tap("#place-work")
	if p.shown() == string(hold) || p.has("#release-form") {
		t.Errorf("work does not go on after the release: %s", p.text("body"))
	}
	p.tap("#strip-said")
	p.reads("Nora", "the top mount sits well", "Hold point released.", "every mark is in line")
	p.tap(`.said button[data-do=go]`)
	if p.shown() != string(hold) {
		t.Errorf("the remark leads to %s, want %s", p.shown(), hold)
	}
	p.reads("the top mount sits well")

	desk := shop.staff()
	desk.SetDefaultTimeout(float64(patience.Milliseconds()))
	if err := desk.Locator(`a:has-text("Ostler Wren (invented)")`).First().Click(); err != nil {
		t.Fatal(err)
	}
	if err := desk.WaitForURL("**/shop/jobs/**"); err != nil {
		t.Fatal(err)
	}
	p.axe(string(axe), desk, "desk's page of the job")
	again := p.redone(desk)
	write(t, desk, `section#findings > form[action$="/decisions"]`, "text", "not ready for the road", map[string]string{"decision": "return"})
	p.hears("2 remarks to read")
	p.tap("#strip-said")
	p.reads("The shop returned this job.", "not ready for the road", "show it from the side")
	p.tap(`.said button[data-do=go][data-step="` + string(again) + `"]`)
	p.reads("To be done again.", "show it from the side")
	p.pictures("redo")

	p.people()
	p.tap(`button[data-do=share_end]`)
	p.wait(`() => document.body.innerText.includes("It has ended.")`)
	if _, err := m.Reload(); err != nil {
		t.Fatal(err)
	}
	if body := inner(t, m, "body"); strings.Contains(body, "Ostler Wren") || !strings.Contains(body, "ended") {
		t.Errorf("after the end of the link the mentor still reads:\n%s", body)
	}
}

// shown is the step on the screen.
func (p *phone) shown() string {
	p.t.Helper()
	step, _ := p.eval(`() => document.querySelector("section.step")?.dataset.step ?? ""`).(string)
	return step
}

// people opens what others say about the job.
func (p *phone) people() {
	p.t.Helper()
	p.tap("#strip-sync")
	p.tap("#to-people")
}

// reads wants words on the screen.
func (p *phone) reads(words ...string) {
	p.t.Helper()
	got := p.text("#r-main")
	for _, w := range words {
		if !strings.Contains(got, w) {
			p.t.Errorf("the screen does not say %q:\n%s", w, got)
		}
	}
}

// hears syncs as the app does by itself, until the strip tells of it.
func (p *phone) hears(words string) {
	p.t.Helper()
	p.eval(`() => strutcard.act("sync", "{}")`)
	p.wait(`() => document.querySelector("#strip-said")?.innerText.includes(` + "`" + words + "`" + `)`)
	p.calm()
}

// shares makes a link on the phone, with its code, and returns it.
func (p *phone) shares(role string) (link string) {
	p.t.Helper()
	p.people()
	if _, err := p.page.Locator("#f-role").SelectOption(playwright.SelectOptionValues{Values: playwright.StringSlice(role)}); err != nil {
		p.t.Fatal(err)
	}
	p.tap("#share-form button[type=submit]")
	p.wait(`() => document.querySelector("svg.code-picture")`)
	if side := p.eval(`() => document.querySelector("svg.code-picture").getBoundingClientRect().width`); asFloat(side) < 200 || asFloat(side) > 280 {
		p.t.Errorf("the code is %v px wide, want 200 to 280", side)
	}
	link = p.text("p.code")
	if !strings.HasPrefix(link, p.shop.url+"/look#") {
		p.t.Fatalf("the link is %q", link)
	}
	return link
}

func asFloat(v any) float64 {
	switch v := v.(type) {
	case int:
		return float64(v)
	case float64:
		return v
	}
	return 0
}

// mentor opens a link under a name, on a phone of its own.
func mentor(t *testing.T, shop *shopServer, link, name string) playwright.Page {
	t.Helper()
	q := newPhone(t, shop)
	if _, err := q.page.Goto(link); err != nil {
		t.Fatal(err)
	}
	q.fill(`input[name=name]`, name)
	if err := q.page.Locator(`main form button`).First().Click(); err != nil {
		t.Fatal(err)
	}
	if err := q.page.WaitForURL("**/look/job/**"); err != nil {
		t.Fatalf("the link leads to %s: %v\n%s", q.page.URL(), err, q.text("body"))
	}
	return q.page
}

// write fills in a form of a server's page and sends it.
func write(t *testing.T, page playwright.Page, form, field, text string, choices map[string]string) {
	t.Helper()
	f := page.Locator(form).First()
	for name, value := range choices {
		radio := f.Locator(`input[name="` + name + `"][value="` + value + `"]`)
		n, err := radio.Count()
		if err == nil && n > 0 {
			err = radio.Check()
		} else if err == nil {
			_, err = f.Locator(`select[name="` + name + `"]`).SelectOption(playwright.SelectOptionValues{Values: playwright.StringSlice(value)})
		}
		if err != nil {
			t.Fatalf("choose %s %s: %v\n%s", name, value, err, inner(t, page, "body"))
		}
	}
	if err := f.Locator(`[name="` + field + `"]`).Fill(text); err != nil {
		t.Fatalf("fill %s: %v\n%s", form, err, inner(t, page, "body"))
	}
	_, err := page.Evaluate(`() => { globalThis.sent = true; }`) // gone with the page
	if err == nil {
		err = f.Locator("button").Click()
	}
	if err != nil {
		t.Fatalf("send %s: %v\n%s", form, err, inner(t, page, "body"))
	}
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(15 * time.Millisecond) {
		if old, err := page.Evaluate(`() => "sent" in globalThis || document.readyState !== "complete"`); err == nil && old == false {
			return
		}
	}
	t.Fatalf("%s was sent and nothing came back:\n%s", form, inner(t, page, "body"))
}

// redone has the first finding that can be done again done again, and returns its step.
func (p *phone) redone(desk playwright.Page) event.StepID {
	p.t.Helper()
	row := `#findings li:has(input[value="redo"])`
	if err := desk.Locator(row + ` summary`).First().Click(); err != nil {
		p.t.Fatalf("no finding can be done again: %v\n%s", err, inner(p.t, desk, "#findings"))
	}
	write(p.t, desk, row+` form`, "text", "show it from the side", map[string]string{"decision": "redo"})
	events := p.shop.events(p.fold().Job)
	for i := len(events) - 1; i >= 0; i-- {
		if d, is := events[i].Payload().(*event.DecisionMade); is && d.Decision == event.Redo {
			return d.Step
		}
	}
	p.t.Fatalf("nothing is to be done again:\n%s", inner(p.t, desk, "#findings"))
	return ""
}

func inner(t *testing.T, page playwright.Page, selector string) string {
	t.Helper()
	text, err := page.Locator(selector).First().InnerText()
	if err != nil {
		t.Fatalf("read %s at %s: %v", selector, page.URL(), err)
	}
	return strings.Join(strings.Fields(text), " ")
}

// axe wants nothing of a page that keeps people out.
func (p *phone) axe(axe string, page playwright.Page, name string) {
	p.t.Helper()
	if _, err := page.Evaluate(axe + `; void 0`); err != nil {
		p.t.Fatalf("axe on the %s: %v", name, err)
	}
	found, err := page.Evaluate(`async () => {
		const result = await axe.run(document, {runOnly: ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"]});
		return result.violations.map((v) => v.id + ": " + v.nodes.map((n) => n.html).slice(0, 3).join(" | "));
	}`)
	if err != nil {
		p.t.Fatalf("axe on the %s: %v", name, err)
	}
	for _, v := range found.([]any) {
		p.t.Errorf("the %s: %v", name, v)
	}
}
