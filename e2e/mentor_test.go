package e2e

import (
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
	shop := newShop(t)
	p := newPhone(t, shop)
	p.join()
	p.openDemo()
	p.hurry("#release-form")
	hold := event.StepID(p.shown())
	p.synced()

	link := p.shares("release")
	accessible(t, p.page, "people screen")
	p.pictures("people")
	p.tap("#place-work")
	m := newPhone(t, shop)
	m.looks(link, "Nora")
	accessible(t, m.page, "mentor's page")
	picture(t, m.page, "mentor")
	body := inner(t, m.page, "main")
	if wait, findings := strings.Index(body, "Waits for a look"), strings.Index(body, "Findings"); wait < 0 || findings < wait {
		t.Errorf("what waits for the mentor does not stand first:\n%s", body)
	}
	if _, err := m.page.Locator(`select[name=about]`).SelectOption(playwright.SelectOptionValues{Values: playwright.StringSlice("step:" + string(hold))}); err != nil {
		t.Fatal(err)
	}
	m.fill(`form[action$="/comments"] textarea`, "the top mount sits well")
	m.click(`form[action$="/comments"] button`)
	m.tells("the top mount sits well")
	m.fill(`form[action$="/release"] textarea`, "every mark is in line")
	m.click(`form[action$="/release"] button`)
	m.wait(`() => !document.body.innerText.includes("Waits for a look")`)

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
	if err := desk.Locator(`a:has-text("Ostler Wren (invented)")`).First().Click(); err != nil {
		t.Fatal(err)
	}
	if err := desk.WaitForURL("**/shop/jobs/**"); err != nil {
		t.Fatal(err)
	}
	accessible(t, desk, "desk's page of the job")
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
	if _, err := m.page.Reload(); err != nil {
		t.Fatal(err)
	}
	if body := inner(t, m.page, "body"); strings.Contains(body, "Ostler Wren") || !strings.Contains(body, "ended") {
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
	p.tap(`#share-form input[value="` + role + `"]`)
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

// looks opens a link under a name.
func (p *phone) looks(link, name string) {
	p.t.Helper()
	if _, err := p.page.Goto(link); err != nil {
		p.t.Fatal(err)
	}
	p.fill(`input[name=name]`, name)
	if err := p.page.Locator(`main form button`).First().Click(); err != nil {
		p.t.Fatal(err)
	}
	if err := p.page.WaitForURL("**/look/job/**"); err != nil {
		p.t.Fatalf("the link leads to %s: %v\n%s", p.page.URL(), err, p.text("body"))
	}
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
