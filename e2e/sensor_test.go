package e2e

import (
	"strings"
	"testing"
)

// A wake lock that a test can take away and refuse.
const wakeLocks = `(() => {
	globalThis.locks = [];
	globalThis.refuse = false;
	Object.defineProperty(navigator, "wakeLock", { configurable: true, value: { request: async () => {
		if (refuse) throw new DOMException("made by the test", "NotAllowedError");
		const lock = new EventTarget();
		lock.release = async () => { lock.dispatchEvent(new Event("release")); };
		locks.push(lock);
		return lock;
	} } });
})()`

// TestWakeLock: the screen stays on while a job is open. The browser may take
// that back or refuse it; the app asks again, says so when it may not, and works on.
func TestWakeLock(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.plant(wakeLocks)
	p.open("/")
	if p.eval(`() => locks.length`) != 0 {
		t.Error("without a job the screen is kept on")
	}
	p.openDemo()
	p.wait(`() => locks.length === 1 && host.env().wake === true`)

	p.eval(`() => locks[0].release()`)
	p.wait(`() => locks.length === 2 && host.env().wake === true`)

	p.eval(`() => { refuse = true; return locks[1].release(); }`) // as on a low battery
	p.wait(`() => document.getElementById("notice").textContent.includes("lets the screen go dark. Nothing is lost")`)
	before := len(p.log())
	p.next()
	if got := len(p.log()); got <= before || p.eval(`() => host.env().wake`) != false {
		t.Errorf("refused, the job stands at %d events of %d, or the app believes that the screen stays on", got, before)
	}
	p.eval(`() => { refuse = false; document.dispatchEvent(new Event("visibilitychange")); }`)
	p.wait(`() => locks.length === 3 && host.env().wake === true`)
	if p.eval(`() => { host.wake(false); return host.env().wake; }`) != false {
		t.Error("the app wanted the screen let go, and it is not")
	}
	for _, line := range p.console {
		if !strings.Contains(line, "open: no answer") { // of a busy machine's storage; the app tries again
			t.Errorf("on the console: %s", line)
		}
	}
}

// TestMotionPermission: the browser is asked for the sensor inside the press, and
// a refusal leads to another way of measuring.
func TestMotionPermission(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.plant(`(() => {
		globalThis.asked = [];
		globalThis.answer = "denied";
		DeviceMotionEvent.requestPermission = () => {
			asked.push({ during: globalThis.event?.type, active: navigator.userActivation.isActive });
			if (answer === "throws") return Promise.reject(new DOMException("made by the test", "NotAllowedError"));
			return Promise.resolve(answer);
		};
	})()`)
	p.open("/")
	p.tap("#methods")
	p.tap("#method-phone_level")
	p.choose("cover", "bare")
	if p.eval(`() => asked.length`) != 0 {
		t.Error("the sensor is asked for before anybody pressed")
	}
	for _, answer := range []string{"denied", "throws", "default"} {
		p.eval(`(answer) => { globalThis.answer = answer; asked.length = 0; }`, answer)
		p.tap(`[data-sense]`)
		p.wait(`() => document.getElementById("r-sheet").textContent.includes("did not allow")`)
		if got := p.text("#r-sheet"); !strings.Contains(got, "type it, or measure another way") {
			t.Errorf("%s: the person is told %q", answer, got)
		}
		if got := p.eval(`() => asked.map((a) => a.during + " " + a.active).join()`); got != "click true" {
			t.Errorf("%s: the browser was asked during %v, want once in a press", answer, got)
		}
		p.tap("#dismiss")
	}
	p.eval(`() => { answer = "granted"; }`)
	p.feels(0, 0, 9.8)
	p.readSensor(0)
	p.eval(`() => clearInterval(window.feeling)`)
}
