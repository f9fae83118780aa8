package e2e

import (
	"bytes"
	"context"
	"image"
	"image/png"
	"strings"
	"testing"

	"github.com/playwright-community/playwright-go"

	"strutcard/sync/guide"
	"strutcard/templates"
)

// unlike are things that stand for different states: no two of a group may look alike.
var unlike = map[string][]string{
	"choices":  {`<button class="second">N</button>`, `<button class="second here">N</button>`},
	"places":   {`<button class="place">Work</button>`, `<button class="place here">Work</button>`},
	"strips":   {`<button class="strip">Front axle</button>`, `<button class="strip hazard">Front axle</button>`},
	"statuses": {`<p class="status">Step</p>`, `<p class="status done">Step</p>`, `<p class="status blocked">Step</p>`},
	"verdicts": {`<p class="verdict met">It</p>`, `<p class="verdict not_met">It</p>`, `<p class="verdict too_close">It</p>`},
	"rows":     {`<div class="row">Bolt</div>`, `<div class="row now">Bolt</div>`},
	"words":    {`<p>Stop</p>`, `<p class="caution">Stop</p>`, `<p class="hazard">Stop</p>`},
	"results":  {`<div class="result" data-old="Old"><p>2</p></div>`, `<div class="result old" data-old="Old"><p>2</p></div>`},
}

// TestForcedColours: where the person's own colours replace ours, light or dark, states
// still look different, and the hexagons still fill.
func TestForcedColours(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.open("/")
	groups := map[string][]string{}
	for _, phase := range []guide.Phase{guide.Loose, guide.Finger, guide.Snugged, guide.Part, guide.FinalDone, guide.Marked} {
		var b strings.Builder
		if err := templates.Glyph(string(phase)).Render(context.Background(), &b); err != nil {
			t.Fatal(err)
		}
		groups["hexagons"] = append(groups["hexagons"], b.String())
	}
	for name, group := range unlike {
		groups[name] = group
	}
	for _, scheme := range []*playwright.ColorScheme{playwright.ColorSchemeLight, playwright.ColorSchemeDark} {
		if err := p.page.EmulateMedia(playwright.PageEmulateMediaOptions{ForcedColors: playwright.ForcedColorsActive, ColorScheme: scheme, ReducedMotion: playwright.ReducedMotionReduce}); err != nil {
			t.Fatal(err)
		}
		for name, group := range groups {
			p.unlike(name+" in "+string(*scheme), group)
		}
	}
}

// unlike shows each thing alone at the same place and wants every two to differ in what
// an eye can see.
func (p *phone) unlike(name string, group []string) {
	p.t.Helper()
	var seen []image.Image
	for _, html := range group {
		p.eval(`(html) => { const main = document.getElementById("r-main"); main.innerHTML = html; main.firstChild.id = "specimen"; scrollTo(0, 0); }`, html)
		shot, err := p.page.Locator("#r-main").Screenshot()
		if err != nil {
			p.t.Fatal(err)
		}
		picture, err := png.Decode(bytes.NewReader(shot))
		if err != nil {
			p.t.Fatal(err)
		}
		for i, other := range seen {
			if n := differ(picture, other); n < 40 {
				p.t.Errorf("of the %s, %d and %d differ in %d points:\n%s\n%s", name, i, len(seen), n, group[i], html)
			}
		}
		seen = append(seen, picture)
	}
}

// differ counts the points of two pictures that are clearly not of the same brightness.
func differ(a, b image.Image) int {
	n := 0
	for y := range min(a.Bounds().Dy(), b.Bounds().Dy()) {
		for x := range min(a.Bounds().Dx(), b.Bounds().Dx()) {
			if d := bright(a, x, y) - bright(b, x, y); d > 90 || d < -90 {
				n++
			}
		}
	}
	return n
}

func bright(m image.Image, x, y int) int {
	r, g, b, _ := m.At(m.Bounds().Min.X+x, m.Bounds().Min.Y+y).RGBA()
	return int(r+g+b) / 3 / 256
}
