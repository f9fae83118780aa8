package e2e

import (
	"bytes"
	"regexp"
	"strings"
	"testing"

	"github.com/playwright-community/playwright-go"
)

// An installed app on iOS, as far as a page can see it. What is shared, saved and
// copied is kept for the test.
const installed = `(() => {
	Object.defineProperty(navigator, "standalone", { value: true });
	globalThis.shared = [];
	globalThis.saved = [];
	globalThis.copied = "";
	globalThis.can = true;
	globalThis.ends = () => new Promise(() => {}); // some browsers never say
	Object.defineProperty(navigator, "canShare", { value: ({ files, text, url }) => can && files.length === 1 && text === undefined && url === undefined });
	Object.defineProperty(navigator, "share", { value: (what) => {
		shared.push({ keys: Object.keys(what).join(), name: what.files[0].name, type: what.files[0].type, active: navigator.userActivation.isActive, size: what.files[0].size });
		return ends();
	} });
	Object.defineProperty(navigator, "clipboard", { value: { writeText: async (text) => { copied = text; } } });
	HTMLAnchorElement.prototype.click = function () { saved.push(this.download); };
})()`

// export presses for a copy of the job's record.
func (p *phone) export() {
	p.t.Helper()
	p.eval(`() => strutcard.act("export", "{}")`)
}

// TestShareSheet: in an installed app a file goes through the share sheet alone,
// nothing waits for its end, and each way that fails leads to another.
func TestShareSheet(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.plant(installed)
	p.open("/")
	p.openDemo()

	p.export()
	p.wait(`() => shared.length === 1`)
	if got := p.eval(`() => shared[0].keys + " " + /^strutcard-.*[.]jsonl[.]txt$/.test(shared[0].name) + " " + shared[0].type + " " + (shared[0].size > 100)`); got != "files true text/plain true" {
		t.Errorf("shared: %v, want a text file alone", got)
	}
	before := len(p.log())
	p.next() // the sheet is still open, as far as the browser says
	if got := len(p.log()); got <= before {
		t.Error("an open share sheet holds up the job")
	}
	p.export()
	p.wait(`() => shared.length === 2`)
	if p.eval(`() => saved.length`) != 0 {
		t.Error("a link was pressed too: in an installed app that shows a page without a way back")
	}

	t.Run("Closed", func(t *testing.T) {
		p.eval(`() => { ends = () => Promise.reject(new DOMException("closed", "AbortError")); }`)
		p.export()
		p.wait(`() => shared.length === 3`)
		if p.eval(`() => document.getElementById("notice").hidden`) != true {
			t.Errorf("the person closed the sheet, and is told %q", p.text("#notice"))
		}
	})
	t.Run("PressTooLongAgo", func(t *testing.T) {
		p.eval(`() => { ends = () => Promise.reject(new DOMException("no press", "NotAllowedError")); }`)
		p.export()
		p.wait(`() => document.getElementById("notice").innerText.includes("is ready")`)
		p.eval(`() => { ends = () => Promise.resolve(); }`)
		p.tap(`#notice button`)
		p.wait(`() => shared.length === 5 && shared[4].active && document.getElementById("notice").hidden`)
	})
	t.Run("CannotShare", func(t *testing.T) {
		p.eval(`() => { can = false; }`)
		p.export()
		p.wait(`() => saved.length === 1 && document.getElementById("notice").innerText.includes("copy its text")`)
		p.tap(`#notice button`)
		p.wait(`() => copied.startsWith("{") && document.getElementById("notice").innerText.includes("Copied")`)
		if p.eval(`() => shared.length`) != 5 {
			t.Error("the file was shared although that cannot be")
		}
	})
}

// TestPrint: the card on paper has its pictures, in black on white, and nothing
// to press.
func TestPrint(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.open("/")
	p.openDemo()
	p.more()
	for i := range 3 {
		p.snap("#photo-own", shot(t, 800, 600, 40+i))
	}
	p.tap("#place-card")
	p.open("/") // a fresh page has shown none of them yet
	p.eval(`() => {
		const photos = document.querySelector(".photos-by-step");
		photos.style.marginTop = "20000px"; // far below what is seen, so that none is drawn yet
		photos.open = true;
	}`)
	p.wait(`() => document.querySelectorAll(".photo img[src]").length === 3`)
	p.eval(`() => {
		globalThis.printed = null;
		globalThis.print = () => { printed = [...document.querySelectorAll(".photo img")].map((i) => i.complete && i.naturalWidth > 0).join(); };
		return strutcard.act("print", "{}");
	}`)
	p.wait(`() => printed !== null`)
	if got := p.eval(`() => printed`); got != "true,true,true" {
		t.Errorf("when the print dialogue opens, the pictures are there: %v", got)
	}
	if err := p.page.EmulateMedia(playwright.PageEmulateMediaOptions{Media: playwright.MediaPrint}); err != nil {
		t.Fatal(err)
	}
	if got := p.eval(`() => [...document.querySelectorAll("button, input, form, nav")].filter((e) => e.checkVisibility()).map((e) => e.outerHTML).join()`); got != "" {
		t.Errorf("on paper there is something to press: %v", got)
	}
	if got := p.eval(`() => getComputedStyle(document.querySelector("h1")).color`); got != "rgb(0, 0, 0)" {
		t.Errorf("on paper the ink is %v", got)
	}
	pdf, err := p.page.PDF(playwright.PagePdfOptions{Format: playwright.String("A4")})
	if err != nil {
		t.Fatal(err)
	}
	sheets, pictures := len(regexp.MustCompile(`/Type\s*/Page\b`).FindAll(pdf, -1)), bytes.Count(pdf, []byte("/DCTDecode"))
	if sheets == 0 || pictures != 3 {
		t.Errorf("on paper: %d pages with %d photos, want 3 photos", sheets, pictures)
	}
	if got := p.text("article.card"); !strings.Contains(got, "Ostler Wren") {
		t.Errorf("the card says %q", got)
	}
}
