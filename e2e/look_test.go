package e2e

import (
	"strings"
	"testing"
	"time"

	"strutcard/sync/event"
)

// TestMentorWithoutSignal: a mentor's page follows the work by itself, undoes no
// typing, and outlives the signal: after the browser was killed the job is still there
// as it was last seen, a comment waits, and stands once in the record later. A guest
// network's page never takes the job's place. With the link the job goes, from the
// screen and from the phone.
func TestMentorWithoutSignal(t *testing.T) {
	t.Parallel()
	shop := newShop(t)
	p := newPhone(t, shop)
	p.join()
	p.openDemo()
	p.synced()
	link := p.shares("comment")

	m := newPhone(t, shop)
	m.looks(link, "Nora")
	opened, here := time.Now(), m.page.URL()
	m.fill(`form[data-keep=comment] textarea`, "half a sentence")
	p.eval(`() => strutcard.act("note", '{"text":"the old strut leaks"}')`)
	p.synced()
	m.wait(`() => document.querySelector("main").innerText.includes("the old strut leaks")`)
	if typed := m.typed(); typed != "half a sentence" {
		t.Errorf("after the page changed by itself the field holds %q", typed)
	}
	m.wait(`async () => !!(await navigator.serviceWorker.getRegistration("/look/"))?.active && (await caches.keys()).some((k) => k.startsWith("mentor-"))`)
	m.wait(`async () => !!(await caches.match("/app.css"))`)

	shop.stop()
	m.wait(`() => document.querySelector("[role=status]").innerText.includes("No connection")`)
	m.fill(`form[data-keep=comment] textarea`, "look at the top mount")
	m.click(`form[data-keep=comment] button`)
	m.tells("Your words that wait", "look at the top mount")
	m.fill(`form[data-keep=comment] textarea`, "and another thing")
	time.Sleep(time.Until(opened.Add(35 * time.Second))) // a browser writes its cookies down every 30 s
	m.kill()
	m.launch()
	if _, err := m.page.Goto(here); err != nil {
		t.Fatalf("without a signal: %v", err)
	}
	m.tells("the old strut leaks", "Your words that wait", "look at the top mount", "You see the job as it was")
	if typed := m.typed(); typed != "and another thing" {
		t.Errorf("after the kill the field holds %q", typed)
	}
	picture(t, m.page, "mentor-without-signal")

	shop.set(func() { shop.portal = true })
	shop.start(false)
	m.wait(`() => navigator.onLine`)
	time.Sleep(6 * time.Second) // longer than between two looks: the guest network is asked
	m.tells("the old strut leaks", "Your words that wait")
	if body := inner(t, m.page, "body"); strings.Contains(body, "guest network") {
		t.Errorf("a guest network's page took the job's place:\n%s", body)
	}
	shop.set(func() { shop.portal = false })
	m.wait(`() => !document.body.innerText.includes("Your words that wait") && document.querySelector("#comments").innerText.includes("look at the top mount")`)
	p.hears("1 remark to read")
	said := 0
	for _, e := range p.log() {
		if c, ok := e.Payload().(*event.CommentAdded); ok && c.Text == "look at the top mount" {
			said++
		}
	}
	if said != 1 {
		t.Errorf("the comment stands %d times in the record", said)
	}

	m.fill(`form[data-keep=comment] textarea`, "the stand is crooked")
	p.people()
	p.tap(`button[data-do=share_end]`)
	m.wait(`() => document.body.innerText.includes("has ended") && !document.body.innerText.includes("the old strut leaks")`)
	m.wait(`async () => !(await caches.keys()).some((k) => k.startsWith("mentor-"))`)
	for range 2 { // also after a look at the address of the link that ended
		m.tells("They were not sent, and this link has ended.", "the stand is crooked")
		if _, err := m.page.Goto(here); err != nil {
			t.Fatal(err)
		}
	}
	shop.stop()
	if _, err := m.page.Goto(here); err == nil {
		t.Errorf("after the end of the link, and without a signal, there is:\n%s", inner(t, m.page, "body"))
	}
}

// typed is what stands in the field for a comment.
func (p *phone) typed() any {
	p.t.Helper()
	return p.eval(`() => document.querySelector("form[data-keep=comment] textarea").value`)
}

// click presses a button of a page that is not the app.
func (p *phone) click(selector string) {
	p.t.Helper()
	if err := p.page.Locator(selector).First().Click(); err != nil {
		p.t.Fatalf("press %s: %v", selector, err)
	}
}

// tells waits for words on a page that is not the app.
func (p *phone) tells(words ...string) {
	p.t.Helper()
	for _, w := range words {
		p.wait(`() => document.body.innerText.includes(` + "`" + w + "`" + `)`)
	}
}
