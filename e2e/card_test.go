package e2e

import (
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/playwright-community/playwright-go"

	"strutcard/sync/card"
	"strutcard/sync/event"
	"strutcard/sync/exchange"
	"strutcard/sync/guide/guidetest"
	"strutcard/sync/sheet"
	"strutcard/templates/paper"
)

// brings puts a whole record on the server.
func (c *colleague) brings(events []event.Event) {
	c.t.Helper()
	for len(events) > 0 {
		req := exchange.Request{V: exchange.Version, Nonce: "a record"}
		for _, e := range events[:min(len(events), exchange.MaxEvents)] {
			req.Events = append(req.Events, json.RawMessage(e.Line()))
		}
		ask, err := json.Marshal(req)
		if err != nil {
			c.t.Fatal(err)
		}
		c.request("POST", "/api/v1/sync", "application/json", ask)
		events = events[len(req.Events):]
	}
}

// TestCardOnPaper: the card of a finished job takes two to four pages, black on
// white, with no row torn apart and nothing to press; as a file it opens without
// any server and loads nothing.
func TestCardOnPaper(t *testing.T) {
	t.Parallel()
	shop := newShop(t)
	events := guidetest.Walk(t, sheet.Demo()[0])
	newColleague(t, shop, events[0].Job).brings(events)
	page := shop.staff()
	at := shop.url + "/shop/jobs/" + string(events[0].Job) + "/card"
	if _, err := page.Goto(at); err != nil {
		t.Fatal(err)
	}
	look := func(script string) any {
		t.Helper()
		got, err := page.Evaluate(script)
		if err != nil {
			t.Fatal(err)
		}
		return got
	}
	if got := look(`() => document.querySelectorAll("nav.screen a").length`); got != 5 {
		t.Errorf("%v links on the screen, want the job and four files", got)
	}
	if err := page.EmulateMedia(playwright.PageEmulateMediaOptions{Media: playwright.MediaPrint}); err != nil {
		t.Fatal(err)
	}
	for script, want := range map[string]any{
		`() => [...document.querySelectorAll("a, button, input, form, nav")].filter((e) => e.checkVisibility()).length`:                               0,
		`() => getComputedStyle(document.body).color + " on " + getComputedStyle(document.body).backgroundColor`:                                      "rgb(0, 0, 0) on rgb(255, 255, 255)",
		`() => [...document.querySelectorAll("tbody tr")].filter((e) => getComputedStyle(e).breakInside !== "avoid").length`:                          0,
		`() => [...document.querySelectorAll("thead")].filter((e) => getComputedStyle(e).display !== "table-header-group").length`:                    0,
		`() => document.querySelectorAll("thead").length > 3`:                                                                                         true,
		`() => [...document.querySelectorAll("table")].filter((e) => e.scrollWidth > document.documentElement.clientWidth).length`:                    0,
		`() => document.body.innerText.includes("Wheel nuts, 5 of them, M12x1.5, used again") && document.body.innerText.includes("112 N·m ± 6 N·m")`: true,
	} {
		if got := look(script); got != want {
			t.Errorf("on paper, %s: %v, want %v", script, got, want)
		}
	}
	for _, format := range []string{"A4", "Letter"} {
		pdf, err := page.PDF(playwright.PagePdfOptions{Format: playwright.String(format)})
		if err != nil {
			t.Fatal(err)
		}
		n := len(regexp.MustCompile(`/Type\s*/Page\b`).FindAll(pdf, -1))
		t.Logf("%s: %d pages", format, n)
		if n < 2 || n > 4 {
			t.Errorf("%s: %d pages, want 2 to 4", format, n)
		}
	}
	shown := look(`() => document.querySelector("main").innerText`)

	saved := filepath.Join(t.TempDir(), "card.html")
	got, err := page.ExpectDownload(func() error {
		_, err := page.Evaluate(`(at) => { location.href = at; }`, at+".html")
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if err := got.SaveAs(saved); err != nil {
		t.Fatal(err)
	}
	asked, complaints := []string{}, []string{}
	page.OnRequest(func(r playwright.Request) { asked = append(asked, r.URL()) })
	page.OnConsole(func(m playwright.ConsoleMessage) { complaints = append(complaints, m.Text()) })
	if _, err := page.Goto("file://" + saved); err != nil {
		t.Fatal(err)
	}
	if len(asked) != 1 || !strings.HasPrefix(asked[0], "file://") || len(complaints) > 0 {
		t.Errorf("the file alone asks for %q, and the browser says %q", asked, complaints)
	}
	written := regexp.MustCompile(`This card was written [^.]*\.`)
	again := look(`() => document.querySelector("main").innerText`)
	if written.ReplaceAllString(again.(string), "") != written.ReplaceAllString(shown.(string), "") {
		t.Error("the file does not show what the page shows")
	}
	if got := look(`() => getComputedStyle(document.querySelector("thead")).display`); got != "table-header-group" {
		t.Errorf("the style of the file is not in use: %v", got)
	}
	text, err := os.ReadFile(saved)
	if err != nil {
		t.Fatal(err)
	}
	data, err := paper.Data(text)
	if err != nil {
		t.Fatal(err)
	}
	if _, report, err := card.VerifyJSON(data); err != nil || !report.Holds() || report.Events != len(events) {
		t.Errorf("the file does not hold: %v, %+v", err, report)
	}
}
