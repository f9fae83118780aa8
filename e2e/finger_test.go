package e2e

import "testing"

// TestStillUnderFinger: what the app paints by itself waits while a finger is on
// the page, so that no other button slides under it; what a press paints does not.
func TestStillUnderFinger(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.open("/")
	p.wait(`() => document.querySelector('#ready [data-mark="yes"]')`) // the app is done with what it paints by itself
	p.eval(`() => {
		globalThis.finger = (type) => document.body.dispatchEvent(new PointerEvent(type, { bubbles: true }));
		globalThis.paints = (text) => { host.paint({ "r-strip": "<p>" + text + "</p>" }); return document.getElementById("r-strip").textContent; };
	}`)
	shows := func(what, script, want string) {
		t.Helper()
		if got := p.eval(script); got != want {
			t.Errorf("%s the strip shows %q, want %q", what, got, want)
		}
	}
	shows("without a finger", `() => paints("one")`, "one")
	shows("under a finger", `() => { paints("one"); finger("pointerdown"); paints("two"); return paints("three"); }`, "one")
	p.eval(`() => document.body.click()`)
	p.wait(`() => document.getElementById("r-strip").textContent !== "one"`) // "three", or what the app had to say since
	shows("while it scrolls", `() => { paints("one"); finger("pointerdown"); paints("two"); finger("pointercancel"); return document.getElementById("r-strip").textContent; }`, "two")
	shows("during a press", `() => {
		document.documentElement.dataset.busy = "";
		finger("pointerdown");
		const got = paints("three");
		delete document.documentElement.dataset.busy;
		finger("pointercancel");
		return got;
	}`, "three")
	shows("under a finger", `() => { paints("one"); finger("pointerdown"); return paints("two"); }`, "one")
	p.wait(`() => document.getElementById("r-strip").textContent !== "one"`) // a finger that rests hides nothing for long
}

// TestAskedIsInView: on a small phone that was killed in the middle of a lift, the
// question stands above the buttons that answer it.
func TestAskedIsInView(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.open("/")
	p.openDemo()
	p.hurry(`section.step[data-step="raise_step_front"] .ask.check`)
	p.wait(`() => localStorage.getItem("sc-snapshot")?.includes("raise_step_front")`)
	p.kill()
	p.launch()
	if err := p.page.SetViewportSize(360, 560); err != nil {
		t.Fatal(err)
	}
	p.open("/")
	if got := p.eval(`() => document.querySelector("#ask .question").getBoundingClientRect().bottom - document.getElementById("r-bar").getBoundingClientRect().top`); asFloat(got) > 0 {
		t.Errorf("the question ends %v px under the top of the buttons", got)
	}
}
