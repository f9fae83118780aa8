package e2e

import (
	"testing"

	"github.com/google/uuid"

	"strutcard/sync/event"
	"strutcard/sync/sheet"
)

// TestQueueKeys: at the desk the list of jobs is gone through by keys alone, with the
// browser's own focus; no key acts where somebody types, nor once they are switched
// off, and without a script everything is still there.
func TestQueueKeys(t *testing.T) {
	t.Parallel()
	shop := newShop(t)
	for _, car := range []string{"first car", "second car"} {
		c := newColleague(t, shop, event.JobID(uuid.NewString()))
		c.writes(nil, &event.JobOpened{Sheet: sheet.Demo()[0].Hash(), Title: "A sheet", Vehicle: car})
	}
	page := shop.staff()
	press := func(keys ...string) {
		t.Helper()
		for _, key := range keys {
			if err := page.Keyboard().Press(key); err != nil {
				t.Fatal(err)
			}
		}
	}
	at := func(want string) {
		t.Helper()
		got, err := page.Evaluate(`() => document.activeElement.closest("th")?.textContent ?? document.activeElement.id`)
		if err != nil || got != want {
			t.Fatalf("the focus is on %q (%v), want %q", got, err, want)
		}
	}
	open := func(want bool) {
		t.Helper()
		if got, err := page.Evaluate(`() => document.getElementById("keys").open`); err != nil || got != want {
			t.Fatalf("the list of keys is open: %v (%v), want %v", got, err, want)
		}
	}
	goTo := func(path string) {
		t.Helper()
		if _, err := page.Goto(shop.url + path); err != nil {
			t.Fatal(err)
		}
	}

	goTo("/shop")
	accessible(t, page, "list of jobs")
	press("ArrowDown")
	at("second car") // heard last
	press("j")
	at("first car")
	press("j", "ArrowDown")
	at("first car")
	press("k")
	at("second car")
	press("Control+j", "Alt+j", "Meta+j")
	at("second car")
	press("?")
	open(true)
	accessible(t, page, "list of keys")
	press("j", "/", "Escape")
	open(false)
	at("second car")
	press("/", "j", "k", "?", "/", "ArrowDown")
	at("q")
	open(false)
	if got, err := page.Locator("#q").InputValue(); err != nil || got != "jk?/" {
		t.Fatalf("the field holds %q (%v), want what was typed", got, err)
	}
	if err := page.Locator("#q").Fill("fir"); err != nil {
		t.Fatal(err)
	}
	press("Enter")
	if err := page.WaitForURL("**/shop?q=fir**"); err != nil {
		t.Fatal(err)
	}
	press("j")
	at("first car")
	press("Enter")
	if err := page.WaitForURL("**/shop/jobs/**"); err != nil {
		t.Fatalf("Enter on a row leads to %s: %v", page.URL(), err)
	}

	goTo("/shop")
	press("?")
	if err := page.Locator("#use-keys").Uncheck(); err != nil {
		t.Fatal(err)
	}
	press("Escape")
	for range 2 { // and after a reload
		press("j", "ArrowDown", "?")
		open(false)
		if got, err := page.Evaluate(`() => document.activeElement.closest("th")`); err != nil || got != nil {
			t.Fatalf("switched off, a key still moves the focus to %v (%v)", got, err)
		}
		goTo("/shop")
	}
	if err := page.Locator("#show-keys").Click(); err != nil {
		t.Fatal(err)
	}
	open(true)
	if on, err := page.Locator("#use-keys").IsChecked(); err != nil || on {
		t.Errorf("the keys that were switched off are shown as on (%v)", err)
	}

	shop.set(func() { shop.without = "/static/queue.js" })
	goTo("/shop")
	if shown, err := page.Locator("#show-keys").IsVisible(); err != nil || shown {
		t.Errorf("without a script, keys are offered (%v)", err)
	}
	if n, err := page.Locator("#queue tbody a").Count(); err != nil || n != 2 {
		t.Errorf("without a script %d jobs are there (%v), want 2", n, err)
	}
}
