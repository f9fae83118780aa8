package e2e

import (
	"net/http"
	"strings"
	"testing"
	"time"
)

// TestPanicRestarts: a program that dies is noticed wherever it dies, a fresh one
// starts over the same record, and the next press works. Dying again at once
// ends in the repair message.
func TestPanicRestarts(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ name, die string }{
		{"InCallback", `() => { strutcard.act(); }`},
		{"InTheQueue", `() => { unreadable(); strutcard.act("look", "{}"); }`},
		{"InAGoroutine", `() => { unreadable(); strutcard.act("sync", "{}"); }`},
		{"InAPress", `() => { unreadable(); document.querySelector("#strip-tally").click(); }`},
		{"WhileTyping", `() => { strutcard.act(); document.querySelector("#f-found").value = "7"; document.querySelector("#f-found").dispatchEvent(new Event("input", { bubbles: true })); }`},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := newPhone(t, newShop(t))
			p.join() // or sync has nothing to do
			p.openDemo()
			before := len(p.log())
			// What the page tells of itself is none: Go cannot read it and panics.
			p.eval(`() => {
				const env = host.env;
				globalThis.unreadable = () => { host.env = () => undefined; };
				globalThis.mend = () => { host.env = env; };
				globalThis.was = strutcard;
				const start = Object.getOwnPropertyDescriptor(globalThis, "strutcard").value;
				Object.defineProperty(globalThis, "strutcard", { configurable: true, get: () => start, set: (fresh) => {
					mend(); // the fresh program finds things as they were
					Object.defineProperty(globalThis, "strutcard", { configurable: true, writable: true, value: fresh });
				} });
			}`)
			p.eval(c.die)
			p.wait(`() => document.getElementById("notice").innerText.includes("Restarted")`)
			p.wait(`() => strutcard !== was`)
			if got := len(p.log()); got != before {
				t.Errorf("after the restart %d events are there, want %d", got, before)
			}
			if c.name == "WhileTyping" {
				p.wait(`() => document.querySelector("#f-found").value === "7"`)
			}
			if p.has("#place-work") {
				p.tap("#place-work") // the press itself may have led elsewhere
			}
			p.next()
			if got := len(p.log()); got <= before {
				t.Errorf("after the restart a press records nothing: %d events", got)
			}
			if p.eval(`() => document.getElementById("repair").hidden`) != true {
				t.Error("the repair message is shown for a program that runs")
			}
			p.eval(`() => { strutcard.act(); }`)
			p.wait(`() => !document.getElementById("repair").hidden`)
			if got := p.text("#repair"); !strings.Contains(got, "still on this phone") {
				t.Errorf("dead twice within a minute, the app says %q", got)
			}
		})
	}
}

// TestHungRequest: a request that is never answered holds up neither the page nor
// the work.
func TestHungRequest(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.join()
	p.openDemo()
	p.eval(`() => {
		globalThis.asked = 0;
		host.http = () => { asked++; return new Promise(() => {}); };
		globalThis.settled = [];
		for (const [name, args] of [["sync", "{}"], ["look", "{}"], ["tick", "{}"]]) {
			const reply = strutcard.act(name, args);
			if (!(reply instanceof Promise)) throw new Error(name + " gives no promise");
			reply.then(() => settled.push(name));
		}
		strutcard.input("a", "b");
	}`)
	p.wait(`() => settled.includes("look") && settled.includes("tick") && asked > 0`)
	before := len(p.log())
	p.next()
	if got := len(p.log()); got <= before {
		t.Errorf("while a request hangs a press records nothing: %d events", got)
	}
	if p.eval(`() => settled.includes("sync")`) != false {
		t.Error("the request was not hung: the test shows nothing")
	}
}

// plainType sends the program as a server does that does not know its type.
type plainType struct{ http.ResponseWriter }

func (w plainType) WriteHeader(status int) {
	w.Header().Set("Content-Type", "application/octet-stream")
	w.ResponseWriter.WriteHeader(status)
}

func (w plainType) Write(b []byte) (int, error) {
	w.Header().Set("Content-Type", "application/octet-stream")
	return w.ResponseWriter.Write(b)
}

// TestCompileFallback: the app starts where the program comes under another type, and
// in a browser that compiles nothing beside the page.
func TestCompileFallback(t *testing.T) {
	t.Parallel()
	for name, plant := range map[string]string{
		"OtherType":  ``,
		"Slow":       ``, // longer than a worker that does not run is waited for
		"NoWorker":   `delete globalThis.Worker;`,
		"DeafWorker": `globalThis.Worker = class {};`,
		"DeadWorker": `globalThis.Worker = class { constructor() { setTimeout(() => this.onerror()); } };`,
	} {
		t.Run(name, func(t *testing.T) {
			shop := serve(t, func(next http.Handler) http.Handler {
				return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
					if r.URL.Path == "/app.wasm" && name == "OtherType" {
						w = plainType{w}
					}
					if r.URL.Path == "/app.wasm" && name == "Slow" {
						time.Sleep(10 * time.Second)
					}
					next.ServeHTTP(w, r)
				})
			})
			p := newPhone(t, shop)
			p.plant(`globalThis.here = 0; WebAssembly.compile = ((real) => (bytes) => { here++; return real(bytes); })(WebAssembly.compile);` + plant)
			p.open("/")
			if got, want := p.eval(`() => here`), map[bool]int{true: 0, false: 1}[plant == ""]; got != want {
				t.Errorf("the program was compiled in the page %v times, want %d", got, want)
			}
			p.openDemo()
		})
	}
}
