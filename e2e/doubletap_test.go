package e2e

import "testing"

// TestDoubleTap: the second tap of a double tap records nothing, neither while the
// first is under way nor on what the first has just brought under the finger
// (pitfall 50).
func TestDoubleTap(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.countForm()
	const press = `document.querySelector("#begin, #count-form button[type=submit], #r-bar .action").click();`
	const settled = `while ("busy" in document.documentElement.dataset) await new Promise((later) => setTimeout(later));`
	taps := func(what, script string) {
		t.Helper()
		before := len(p.log())
		p.fill("#f-found", "7")
		p.pace()
		p.eval(`async () => {
			const { now } = Date, tapped = Date.now();
			Date.now = () => tapped; // a busy machine takes longer than a double tap
			` + press + script + press + settled + `
			Date.now = now;
		}`)
		p.calm()
		if got := len(p.log()); got != before+1 || p.has("#dismiss") {
			t.Errorf("%s made %d events, want one: %s", what, got-before, p.text("body"))
		}
	}
	taps("two taps at once", "")
	taps("a second tap on the new screen", `
			const shown = document.getElementById("r-main").textContent;
			`+settled+`
			if (document.getElementById("r-main").textContent === shown) throw new Error("no new screen: the test shows nothing");
			if (document.querySelector("#f-found")) document.querySelector("#f-found").value = "7";
			`)

	before := len(p.log())
	p.fill("#f-found", "7")
	p.pace()
	p.eval(`async () => { ` + press + settled + ` globalThis.pace(-3600000); }`) // while the new screen rests
	p.calm()
	p.fill("#f-found", "7")
	p.tap("#count-form button[type=submit]")
	if got := len(p.log()); got != before+2 {
		t.Errorf("two presses and a clock set back between them made %d events, want two: %s", got-before, p.text("body"))
	}
}
