package e2e

import (
	"strings"
	"testing"

	"strutcard/pwa"
)

// TestUpdateOverNetwork has the worker look for a new version over each condition,
// and fetch a changed file over each: the old version stays whole until the new one is.
func TestUpdateOverNetwork(t *testing.T) {
	t.Parallel()
	n := newNetwork(t)
	old := n.caches()
	newer := later(t, "0123456789abcdef", "/how.js")
	serve := func(a func(pwa.Asset) pwa.Asset) { n.shop.set(func() { n.shop.newer = a }) }
	for _, path := range []string{"/sw.js", "/how.js"} {
		n.within(t, strings.Trim(path, "/"), func() {
			for _, f := range conditions {
				if f.whole {
					continue // the update would be there, and the conditions over
				}
				n.within(n.t, f.name, func() {
					n.proxy.meet(f, "GET", path)
					serve(newer)
					if got := n.lookForUpdate(f); got != "" {
						n.t.Errorf("the look for a new version ended with one that is %s", got)
					}
					n.keepsOnly(old)
				})
			}
			n.opensAlone()
		})
	}
	serve(newer)
	if got := n.lookForUpdate(fine); got != "waiting" {
		t.Fatalf("over a network that is fine the new version is %q", got)
	}
	n.wait(`() => document.querySelector("#update")`)
	n.eval(`() => { globalThis.before = true; }`)
	n.tap("#update")
	n.wait(`() => !globalThis.before && performance.getEntriesByName("sc-ready").length > 0`)
	if got := n.caches(); got == old || strings.Contains(got, " ") {
		t.Errorf("after the update the browser keeps the versions %s", got)
	}
	n.opensAlone()
}

// lookForUpdate has the worker look, and says what became of a new version. An
// attempt that the browser made by itself meanwhile is over, too.
func (n *network) lookForUpdate(f condition) string {
	n.t.Helper()
	n.eval(`() => {
		globalThis.looked = "";
		const look = async () => {
			const registration = await navigator.serviceWorker.getRegistration();
			await registration.update();
			while (registration.installing?.state === "installing") {
				await new Promise((resolve) => registration.installing.addEventListener("statechange", resolve, { once: true }));
			}
			return registration.waiting ? "waiting" : "";
		};
		look().catch(() => "").then((state) => { globalThis.looked = "it is " + state; });
	}`)
	if !f.away && !f.whole {
		n.met(func() {})
	}
	if f.holds {
		n.note() // the work goes on
		n.proxy.cut()
	}
	n.wait(`() => globalThis.looked`)
	return strings.TrimPrefix(n.eval(`() => globalThis.looked`).(string), "it is ")
}

// keepsOnly checks that nothing is left of a version that did not arrive. The browser
// also looks by itself: it finds nothing newer from here on, but may still be at it.
func (n *network) keepsOnly(caches string) {
	n.t.Helper()
	n.shop.set(func() { n.shop.newer = nil })
	n.until("nothing is left of the other version", func() bool { return n.caches() == caches })
	if got := n.kept(); got != "" {
		n.t.Errorf("these kept files are not whole: %s", got)
	}
}

func (n *network) caches() string {
	n.t.Helper()
	return n.eval(`async () => (await caches.keys()).join(" ")`).(string)
}
