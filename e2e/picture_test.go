package e2e

import (
	"path/filepath"
	"testing"

	"github.com/playwright-community/playwright-go"
)

var themes = []string{"paper", "board", "sun"}

// picture keeps a picture of the page when pictures are wanted.
func picture(t *testing.T, page playwright.Page, name string) {
	t.Helper()
	if !*shots {
		return
	}
	if _, err := page.Screenshot(playwright.PageScreenshotOptions{Path: playwright.String(filepath.Join("shots", name+".png"))}); err != nil {
		t.Errorf("picture %s: %v", name, err)
	}
}

// pictures keeps the screen in every theme.
func (p *phone) pictures(name string) {
	p.t.Helper()
	for _, theme := range themes {
		p.eval(`(theme) => host.theme(theme)`, theme)
		picture(p.t, p.page, name+"-"+theme)
	}
	p.eval(`() => host.theme("paper")`)
}

// scenes are the screens that pictures are kept of: where the walk stops, and
// what is done there first.
var scenes = []struct {
	name, at string
	do       func(*phone)
}{
	{"box", `#count-form`, nil},
	{"tool", `#tool-form input[value=wrench_small]`, nil},
	{"prepare", `section.step[data-step=tools] .prepare`, func(p *phone) {
		p.tap("#torques")
		p.pictures("torques")
		p.tap("#place-work")
	}},
	{"question", `section.step[data-step=special] .ask.check`, nil},
	{"photo", `section.step[data-step=photos_before] .photo-form`, nil},
	{"camber", `#reading-form input[name=quantity][value=camber]`, func(p *phone) {
		p.fill("#f-gap", "11")
		p.fill("#f-span", "412")
		p.fill("#f-mark", "0.5")
		p.fill("#f-span_mark", "1")
		p.choose("gap_at", "top")
		p.choose("along", "rim")
		p.wait(`() => document.querySelector(".result svg")`)
	}},
	{"check", `section.step[data-step=raise_step_front] .ask.check`, nil},
	{"lifting", `section.step[data-step=raise_step_front] .ask.check:has-text("dead still")`, nil},
	{"stop", `section.step[data-step=raise_step_front] .ask.check:has-text("dead still")`, func(p *phone) {
		p.pace()
		p.tap(`#r-bar button[data-answer=no]`)
		p.wait(`() => document.querySelector(".ask.stop")`)
	}},
	{"position", `#position-form`, nil},
	{"loosen", `section.step[data-step=free_FL] .ask.loosen`, nil},
	{"clicks", `#clicks-form`, nil},
	{"torque", `section.step[data-step=strut_in_FL] .torque .number`, nil},
	{"wheel-nuts", `section.step[data-step=nuts_front] .torque .star`, nil},
	{"round", `section.step[data-step=round] .ask.check`, nil},
	{"leftovers", `#leftovers-form`, nil},
	{"hold", `#release-form`, nil},
	{"card", `article.card`, nil},
}

// TestPictures walks the job and keeps pictures of its screens, for people to look at.
func TestPictures(t *testing.T) {
	t.Parallel()
	if !*shots {
		t.Log("no pictures were asked for: run go run ./cmd/dev shots")
		return
	}
	shop := newShop(t)
	p := newPhone(t, shop)
	p.open("/")
	p.pictures("home")
	p.join()
	p.tap("#strip-sync")
	p.pictures("record")
	p.tap("#to-home")
	p.openDemo()
	for _, scene := range scenes {
		p.hurry(scene.at)
		if scene.do != nil {
			scene.do(p)
		}
		p.pictures(scene.name)
		if scene.name == "stop" {
			if p.has("#r-bar .action") {
				t.Error("a stop offers a main action to press past it")
			}
			p.tap(`#r-bar button[data-do=give_up]`)
		}
		if scene.name == "wheel-nuts" {
			p.places()
		}
	}
	p.synced()
	desk := shop.staff()
	picture(t, desk, "desk-list")
	if err := desk.Locator(`a:has-text("Ostler Wren (invented)")`).First().Click(); err != nil {
		t.Fatal(err)
	}
	picture(t, desk, "desk-job")
}

// places keeps pictures of the tally, the list of steps and the readings.
func (p *phone) places() {
	p.t.Helper()
	p.tap("#strip-tally")
	p.pictures("tally")
	p.tap("#place-measure")
	p.pictures("measure")
	p.tap("#place-work")
	p.tap("details:has([data-do=park_form]) summary")
	p.tap("[data-do=park_form]")
	p.pictures("park")
	p.tap("#place-work")
}
