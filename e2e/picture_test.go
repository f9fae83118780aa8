package e2e

import (
	"fmt"
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

// sizes are a small phone, a usual one, a tablet and a desk, in CSS pixels.
var sizes = [][2]int{{360, 740}, {390, 844}, {820, 1180}, {1280, 800}}

// pictures keeps the screen in every size and theme, and in every size with its text
// twice as large.
func (p *phone) pictures(name string) {
	p.t.Helper()
	if !*shots {
		return
	}
	was := p.page.ViewportSize()
	p.eval(`() => document.activeElement.blur()`) // where a field has the focus, a phone zooms in as its window changes
	for _, size := range sizes {
		if err := p.page.SetViewportSize(size[0], size[1]); err != nil {
			p.t.Fatal(err)
		}
		for _, theme := range themes {
			p.eval(`(theme) => host.theme(theme)`, theme)
			picture(p.t, p.page, fmt.Sprintf("%s-%d-%s", name, size[0], theme))
		}
		p.eval(`() => { host.theme("paper"); document.documentElement.style.fontSize = "200%"; }`)
		picture(p.t, p.page, fmt.Sprintf("%s-%d-large", name, size[0]))
		p.eval(`() => { document.documentElement.style.fontSize = ""; }`)
	}
	if err := p.page.SetViewportSize(was.Width, was.Height); err != nil {
		p.t.Fatal(err)
	}
}

// scenes are the screens that pictures are kept of: where the walk stops.
var scenes = []struct {
	name, at string
	do, back func(*phone) // what is done there first, and afterwards to go on
}{
	{"box", `#count-form`, nil, nil},
	{"tool", `#tool-form input[value=wrench_small]`, nil, nil},
	{"prepare", `section.step[data-step=tools] .prepare`, func(p *phone) {
		hurried{p}.tap("#torques")
		p.pictures("torques")
		hurried{p}.tap("#place-work")
	}, nil},
	{"question", `section.step[data-step=special] .ask.check`, nil, nil},
	{"photo", `section.step[data-step=photos_before] .photo-form`, nil, nil},
	{"words", `#reading-form input[name=quantity][value=camber]`, func(p *phone) {
		p.pace() // past the moment in which a second tap is no press
		hurried{p}.tap("#words-here")
		p.wait(`() => document.querySelector("#r-bar [data-do=words_back]")`)
	}, func(p *phone) {
		p.pace()
		hurried{p}.tap(`#r-bar [data-do=words_back]`)
		p.wait(`() => document.querySelector("#words-here")`)
	}},
	{"camber", `#reading-form input[name=quantity][value=camber]`, func(p *phone) {
		p.fill("#f-gap", "11")
		p.fill("#f-span", "412")
		p.fill("#f-mark", "0.5")
		p.fill("#f-span_mark", "1")
		p.choose("gap_at", "top")
		p.choose("along", "rim")
		p.wait(`() => document.querySelector(".result svg")`)
	}, nil},
	{"check", `section.step[data-step=raise_step_front] .ask.check`, nil, nil},
	{"lifting", `section.step[data-step=raise_step_front] .ask.check:has-text("dead still")`, nil, nil},
	{"stop", `section.step[data-step=raise_step_front] .ask.check:has-text("dead still")`, func(p *phone) {
		p.pace()
		hurried{p}.tap(`#r-bar button[data-answer=no]`)
		p.wait(`() => document.querySelector(".ask.stop")`)
	}, func(p *phone) { hurried{p}.tap(`#r-bar button[data-do=give_up]`) }},
	{"position", `#position-form`, nil, nil},
	{"loosen", `section.step[data-step=free_FL] .ask.loosen`, nil, nil},
	{"clicks", `#clicks-form`, nil, nil},
	{"torque", `section.step[data-step=strut_in_FL] .torque .number`, nil, nil},
	{"wheel-nuts", `section.step[data-step=nuts_front] .torque .star`, nil, nil},
	{"round", `section.step[data-step=round] .ask.check`, nil, nil},
	{"leftovers", `#leftovers-form`, nil, nil},
	{"hold", `#release-form`, nil, nil},
	{"card", `article.card`, nil, nil},
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
		}
		if scene.name == "wheel-nuts" {
			p.places()
		}
		if scene.back != nil {
			scene.back(p)
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
