package e2e

import (
	"fmt"
	"strings"
	"testing"

	"strutcard/sync/method"
	"strutcard/sync/method/methodtest"
)

// TestCalculators opens every calculator without a job, types its example, and
// wants the figure that this machine computes: phone and server agree. Each
// screen is then looked at as a person with a small screen, and as axe does.
func TestCalculators(t *testing.T) {
	t.Parallel()
	examples, err := methodtest.Examples()
	if err != nil {
		t.Fatal(err)
	}
	shop := newShop(t)
	p := newPhone(t, shop)
	p.open("/")
	p.tap("#methods")
	p.check("calculators")
	p.pictures("calculators")
	for _, m := range method.All() {
		x, ok := methodtest.Plain(examples, m.ID)
		if !ok {
			continue // needs a calibrated phone: TestPhoneAsLevel
		}
		t.Run(m.ID, func(t *testing.T) {
			p.t = t
			p.tap("#method-" + m.ID)
			for _, f := range m.Fields {
				key := "m." + m.ID + "@home." + f.Name // without a job
				if f.Instrument {
					key = "m." + m.ID + "." + f.Name
				}
				if text := x.Typed[f.Name]; text != "" {
					p.eval(`([key, value]) => strutcard.input(key, value)`, []any{key, text})
				}
			}
			p.wait(fmt.Sprintf(`() => document.querySelector(".result .number")?.innerText === %q`, x.Figure))
			p.check(m.ID)
			back := p.whole()
			p.pictures("method-" + m.ID)
			back()
			p.tap(`#r-bar button[data-do=methods]`)
		})
	}
	p.t = t
}

// TestOldResult: a result is marked as old in the moment that something else is
// typed, and no longer than until it is worked out anew.
func TestOldResult(t *testing.T) {
	t.Parallel()
	shop := newShop(t)
	p := newPhone(t, shop)
	p.open("/")
	p.tap("#methods")
	p.tap("#method-torque_convert")
	for _, key := range []string{"value", "unit"} {
		if p.eval(`(name) => document.querySelector("[name=" + name + "]") === null`, key) == true {
			t.Fatalf("the calculator does not ask for %s", key)
		}
	}
	p.eval(`() => { strutcard.input("m.torque_convert@home.value", "80"); strutcard.input("m.torque_convert@home.unit", document.querySelector("[name=unit]").value); }`)
	p.wait(`() => document.querySelector(".result .number") !== null`)
	before := p.text(".result .number")
	old := p.eval(`() => {
		const field = document.querySelector("#f-value");
		field.value = "90";
		field.dispatchEvent(new Event("input", { bubbles: true }));
		return document.querySelector(".result").matches(".old");
	}`)
	if old != true {
		t.Error("the result of 80 stands under 90 as if it were of it")
	}
	old = p.eval(`async () => {
		const was = document.querySelector(".result .number").innerText;
		await strutcard.input("m.torque_convert@home.unit", document.querySelector("[name=unit]").value);
		return document.querySelector(".result").matches(".old") || document.querySelector(".result .number").innerText !== was;
	}`)
	if old != true {
		t.Error("a paint for something else makes the result of 80 stand under 90 as if it were of it")
	}
	p.wait(`() => document.querySelector(".result:not(.old) .number") !== null`)
	if after := p.text(".result .number"); after == before {
		t.Errorf("90 gives %q, and so did 80", after)
	}
}

// TestHow reads the page of formulas with the server gone.
func TestHow(t *testing.T) {
	t.Parallel()
	shop := newShop(t)
	p := newPhone(t, shop)
	p.open("/")
	p.offlineReady()
	shop.stop()
	p.tap("#methods")
	if err := p.page.Locator(`a[href="/how.html"]`).Click(); err != nil {
		t.Fatal(err)
	}
	p.wait(`() => document.querySelectorAll("article h2").length >= 12`)
	for _, want := range []string{"asin(gap / span)", "from memory", "common practice, no source"} {
		if !strings.Contains(p.text("main"), want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	accessible(t, p.page, "page of formulas")
	if *shots {
		picture(t, p.page, "how")
	}
}

// feels makes the phone's sensor give gravity for a while; x and y are in m/s²
// along the right edge and the top end.
func (p *phone) feels(x, y, z float64) {
	p.t.Helper()
	p.eval(`([x, y, z]) => {
		let n = 0;
		const shake = () => ((n * 7919) % 13 - 6) / 300; // a sensor is never quite still
		const began = performance.now();
		clearInterval(window.feeling);
		window.feeling = setInterval(() => {
			n += 1;
			const event = new DeviceMotionEvent("devicemotion", { accelerationIncludingGravity: { x: x + shake(), y: y + shake(), z: z + shake() } });
			Object.defineProperty(event, "timeStamp", { value: began + n * 16 }); // a sensor keeps its time, however busy the page is
			dispatchEvent(event);
		}, 16);
	}`, []any{x, y, z})
}

func (p *phone) readSensor(n int) {
	p.t.Helper()
	p.tap(fmt.Sprintf(`[data-sense] >> nth=%d`, n))
	p.wait(fmt.Sprintf(`() => document.querySelectorAll("#reading-form .field input[type=hidden]")[%d]?.value.length > 500`, n))
}

// TestPhoneAsLevel calibrates the phone and measures camber with it, in a job.
func TestPhoneAsLevel(t *testing.T) {
	t.Parallel()
	shop := newShop(t)
	p := newPhone(t, shop)
	p.open("/")
	p.tap("#methods")
	p.tap("#method-phone_level")
	p.choose("cover", "bare")
	p.feels(0.1, 0, 9.8)
	p.readSensor(0)
	p.feels(0.3, 9.8, 0) // the frame leans, and the phone is off
	p.readSensor(1)
	p.feels(-0.1, 9.8, 0)
	p.readSensor(2)
	p.tap(`button[data-do=keep_level]`)
	p.says("This phone is a level")

	p.kill() // the calibration is kept
	p.launch()
	p.open("/")
	p.tap(`#r-bar button[data-do=methods]`)
	p.tap("#method-camber_phone")
	p.choose("wheel", "left")
	p.choose("edge", "left")
	p.choose("faces", "front")
	p.choose("leans", "in")
	p.choose("cover", "bare")
	p.feels(0.1+0.4, 9.79, 0)
	p.readSensor(0)
	p.wait(`() => document.querySelector(".result .number")`)
	got := p.text(".result .number")
	if !strings.HasPrefix(got, "−2.3") { // asin(0.4/9.8) is 2.34°
		t.Errorf("camber by phone: got %q, want −2.3°", got)
	}
	p.pictures("method-camber_phone")
	if strings.Contains(p.text("#r-main"), "Not calibrated") {
		t.Error("the calibration was lost")
	}
	p.feels(-0.6, 9.79, 0)
	p.readSensor(0)
	p.wait(`() => document.querySelector("#reading-problem")?.innerText.includes("you see it leaning in")`)

	p.eval(`() => clearInterval(window.feeling)`)
	p.tap(`[data-sense]`)
	p.wait(`() => document.querySelector("#r-sheet").innerText.includes("silent")`)
}
