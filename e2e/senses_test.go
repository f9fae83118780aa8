package e2e

import (
	"strings"
	"testing"
)

// A phone that ticks and speaks, and tells the test.
const body = `(() => {
	globalThis.ticks = [];
	globalThis.said = [];
	globalThis.voices = [{ lang: "en-GB", localService: true }, { lang: "de-DE", localService: true }];
	Object.defineProperty(navigator, "vibrate", { configurable: true, value: (ms) => { ticks.push(JSON.stringify(ms)); return true; } });
	Object.defineProperty(globalThis, "speechSynthesis", { configurable: true, value: {
		getVoices: () => voices, cancel: () => { said.length = 0; }, speak: (one) => said.push(one.text),
	} });
	globalThis.SpeechSynthesisUtterance = function (text) { this.text = text; };
})()`

// TestTick: a recorded entry is felt, and a refused press is felt in another way.
// A tick comes only after the write.
func TestTick(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.plant(body)
	p.open("/")
	p.openDemo()
	p.wait(`() => ticks.length > 0`)
	before := len(p.log())
	p.eval(`() => {
		ticks.length = 0;
		const write = host.log.write;
		globalThis.release = () => {};
		host.log.write = (lines) => new Promise((go) => { globalThis.release = go; }).then(() => write(lines));
	}`)
	p.next()
	p.wait(`() => release.length === 1`)
	if got := p.eval(`() => ticks.length`); got != 0 {
		t.Errorf("%v ticks before anything was written", got)
	}
	p.eval(`() => release()`)
	p.wait(`() => ticks.join() === "20"`)
	if got := len(p.log()); got != before+1 {
		t.Errorf("one tick, and %d entries", got-before)
	}
	p.eval(`() => { ticks.length = 0; }`)
	p.eval(`() => { document.querySelector("details.more").open = true; }`)
	p.tap(`#note-form button`) // an empty note
	p.wait(`() => ticks.join() === "[20,80,20,80,20]"`)
}

// TestReadAloud: the button reads the step, and reads it again; where it was asked
// for, each new step is read by itself; without a voice the screen says so.
func TestReadAloud(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.plant(body)
	p.open("/")
	p.openDemo()
	title := p.text("h1")
	for range 2 {
		p.eval(`() => { said.length = 0; }`)
		p.tap("#aloud")
		if got := p.eval(`() => said.join("")`).(string); !strings.HasPrefix(got, title) {
			t.Errorf("on the step %q is read: %q", title, got)
		}
	}
	p.eval(`() => { said.length = 0; }`)
	p.tap("#strip-sync")
	p.tap(`[data-name=aloud][data-value=on]`)
	p.eval(`() => { said.length = 0; }`)
	p.tap("#place-work")
	p.wait(`() => said.length > 0`)
	p.eval(`() => { voices.length = 0; }`)
	p.tap("#aloud")
	p.wait(`() => document.getElementById("notice").textContent.includes("no voice for this language")`)
}

// TestGloves: with gloves everything to press is larger, and stays so.
func TestGloves(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.open("/")
	p.tap("#strip-sync")
	const smallest = `() => Math.min(...[...document.querySelectorAll("#r-main button, #r-bar button, #r-strip button, #r-main input")].filter((one) => one.offsetParent && !one.closest(".unseen, .take")).map((one) => one.getBoundingClientRect().height))`
	if got := p.eval(`() => document.documentElement.hasAttribute("data-glove")`); got != false {
		t.Error("without gloves the page is already for them")
	}
	p.tap(`[data-name=glove][data-value=on]`)
	p.wait(`() => document.documentElement.hasAttribute("data-glove")`)
	p.reload()
	if got := p.number(smallest); got < 72 {
		t.Errorf("the smallest thing to press is %.0f px high, want 72", got)
	}
	p.tap("#to-home")
	p.openDemo()
	if got := p.number(smallest); got < 72 {
		t.Errorf("in a job it is %.0f px high", got)
	}
}

// TestLanguage: the app speaks another language at a press, at once, after a reload,
// and without a server; and goes back.
func TestLanguage(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	p := newPhone(t, s)
	p.open("/")
	p.offlineReady()
	p.openDemo()
	p.tap("#strip-sync")
	p.tap(`[data-name=language][data-value=de]`)
	p.wait(`() => document.documentElement.lang === "de"`)
	p.wait(`() => document.querySelector("h1").textContent === "Aufzeichnung und Einstellungen"`)
	s.stop()
	p.reload()
	if got := p.text("h1"); got != "Aufzeichnung und Einstellungen" {
		t.Errorf("after a reload without a server the heading is %q", got)
	}
	p.tap(`[data-name=language][data-value=en]`)
	p.wait(`() => document.querySelector("h1").textContent === "Record and settings"`)
}

func (p *phone) number(script string) float64 {
	p.t.Helper()
	switch got := p.eval(script).(type) {
	case float64:
		return got
	case int:
		return float64(got)
	}
	p.t.Fatalf("%s is no number", script)
	return 0
}
