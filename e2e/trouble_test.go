package e2e

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/playwright-community/playwright-go"

	"strutcard/sync/event"
)

func values(v ...string) playwright.SelectOptionValues {
	return playwright.SelectOptionValues{Values: &v}
}

// TestPortal: a guest network answers everything with its own page. Nothing may
// count as sent.
func TestPortal(t *testing.T) {
	t.Parallel()
	shop := newShop(t)
	p := newPhone(t, shop)
	p.join()
	p.offlineReady()
	shop.set(func() { shop.portal = true })
	p.openDemo()
	p.next()
	waiting := p.eval(`() => host.log.waiting()`)
	p.eval(`async () => { await strutcard.act("sync", "{}"); }`)
	if got := p.eval(`() => host.log.waiting()`); got != waiting {
		t.Errorf("behind a portal %v events wait, want %v", got, waiting)
	}
	p.tap("#strip-sync")
	if got := p.text("#r-main"); !strings.Contains(got, "not the shop's server") {
		t.Errorf("the record screen does not say what answered: %s", got)
	}
	shop.set(func() { shop.portal = false })
	p.tap("#sync-now")
	p.synced()
}

// TestSecondTab: the tab that was looked at last writes; the other says so and
// writes nothing, even when it is pressed.
func TestSecondTab(t *testing.T) {
	t.Parallel()
	shop := newShop(t)
	p := newPhone(t, shop)
	p.open("/")
	p.openDemo()
	second, err := p.ctx.NewPage()
	if err != nil {
		t.Fatal(err)
	}
	q := &phone{t: t, dir: p.dir, shop: shop, ctx: p.ctx, page: second}
	q.open("/")
	q.next()
	before := len(q.log())
	if before < 2 {
		t.Fatalf("the second tab did not write: %d events", before)
	}
	if got := p.text("#r-strip"); !strings.Contains(got, "another tab") {
		t.Errorf("the first tab does not say that another one writes: %s", got)
	}
	if p.eval(`async () => JSON.parse(await strutcard.act("note", '{"text":"from the first tab"}')).ok`) != false {
		t.Error("the first tab took a press")
	}
	if got := len(p.log()); got != before {
		t.Errorf("the first tab wrote: %d events, want %d", got, before)
	}
	if gaps := event.Gaps(p.log()); len(gaps) > 0 {
		t.Errorf("the chain does not hold: %v", gaps)
	}
}

// TestHalfTyped: what was typed is there after a kill.
func TestHalfTyped(t *testing.T) {
	t.Parallel()
	shop := newShop(t)
	p := newPhone(t, shop)
	p.open("/")
	p.openDemo()
	p.fill("#f-found", "7")
	time.Sleep(time.Second) // a person pauses; the value is kept within half a second
	p.kill()
	p.launch()
	p.open("/")
	if got := p.value("#f-found"); got != "7" {
		t.Errorf("after the kill the field holds %q, want 7", got)
	}
}

// narrow wants a screen that is no wider than the phone.
func (p *phone) narrow(screen string) {
	p.t.Helper()
	if wide := p.eval(`() => document.documentElement.scrollWidth - 390`); fmt.Sprint(wide) != "0" {
		p.t.Errorf("%s is wider than the phone by %v", screen, wide)
	}
}

// whole makes the window as high as its content; what it returns undoes that.
func (p *phone) whole() (back func()) {
	p.t.Helper()
	size := func(height int) {
		if err := p.page.SetViewportSize(390, height); err != nil {
			p.t.Fatal(err)
		}
	}
	height, _ := p.eval(`() => document.documentElement.scrollHeight`).(int)
	size(height + 150)
	return func() { size(844) }
}
