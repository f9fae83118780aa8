package e2e

import (
	"fmt"
	"strings"
	"testing"
)

// TestReady: each line on working without a signal follows what is true.
func TestReady(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.open("/")
	p.offlineReady()
	p.wait(`() => document.querySelector('#ready [data-mark="yes"]')`)
	p.wait(`() => !["no", "unknown"].includes(document.querySelector("#ready").dataset.mark)`)
	lines := p.readyLines()
	for _, want := range []string{"yes Every file of the app is on this phone", "yes The page \"How this is calculated\"", "yes The record takes entries", "yes Photos can be kept"} {
		if !strings.Contains(lines, want) {
			t.Errorf("no line %q:\n%s", want, lines)
		}
	}
	kept := p.eval(`() => navigator.storage.persisted()`).(bool)
	if got := strings.Contains(lines, "yes The browser has promised"); got != kept {
		t.Errorf("persisted is %v, and the screen says:\n%s", kept, lines)
	}

	if err := p.ctx.SetOffline(true); err != nil {
		t.Fatal(err)
	}
	p.eval(`async () => { for (const name of await caches.keys()) await (await caches.open(name)).delete("/how.html"); }`)
	p.open("/")
	p.wait(`() => document.querySelector("#ready").dataset.mark === "no"`)
	lines = p.readyLines()
	for _, want := range []string{"no Not every file of the app", "no The page \"How this is calculated\" is not"} {
		if !strings.Contains(lines, want) {
			t.Errorf("a file is gone, and no line says %q:\n%s", want, lines)
		}
	}

	if err := p.ctx.SetOffline(false); err != nil {
		t.Fatal(err)
	}
	p.open("/") // what is missing is fetched
	p.wait(`() => document.querySelector('#ready [data-mark="yes"]') && !["no", "unknown"].includes(document.querySelector("#ready").dataset.mark)`)
	p.narrow("home")
}

// TestReadySpoilt: a file that was changed in the cache is no file of the app.
func TestReadySpoilt(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.open("/")
	p.offlineReady()
	if err := p.ctx.SetOffline(true); err != nil {
		t.Fatal(err)
	}
	p.eval(`async () => {
		const [name] = (await caches.keys()).filter((n) => n.startsWith("strutcard-"));
		await (await caches.open(name)).put("/how.js", new Response("// another file", { headers: { "Content-Type": "text/javascript; charset=utf-8" } }));
	}`)
	p.open("/")
	p.wait(`() => document.querySelector("#ready").dataset.mark === "no"`)
	if lines := p.readyLines(); !strings.Contains(lines, "no Not every file of the app") {
		t.Errorf("a spoilt file is not noticed:\n%s", lines)
	}
}

func (p *phone) readyLines() string {
	p.t.Helper()
	return fmt.Sprint(p.eval(`() => [...document.querySelectorAll("#ready .row")].map((row) => row.dataset.mark + " " + row.lastElementChild.textContent).join("\n")`))
}
