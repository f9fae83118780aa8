package e2e

import (
	"os"
	"sync"
	"testing"

	"github.com/playwright-community/playwright-go"
)

var axe = sync.OnceValues(func() ([]byte, error) { return os.ReadFile("node_modules/axe-core/axe.min.js") })

// accessible wants nothing on a page that keeps people out: the rules of axe-core for
// WCAG 2.2, levels A and AA, or only those that are named.
func accessible(t *testing.T, page playwright.Page, name string, only ...string) {
	t.Helper()
	script, err := axe()
	if err != nil {
		t.Fatalf("read axe: %v", err)
	}
	loaded, err := page.Evaluate(`() => "axe" in globalThis`)
	if err == nil && loaded != true {
		_, err = page.Evaluate(string(script) + `; void 0`)
	}
	if err != nil {
		t.Fatalf("axe on the %s: %v", name, err)
	}
	found, err := page.Evaluate(`async (only) => {
		const runOnly = only?.length ? only : ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"];
		const result = await axe.run(document, {runOnly});
		return result.violations.map((v) => v.id + ": " + v.nodes.map((n) => n.html).slice(0, 3).join(" | "));
	}`, only)
	if err != nil {
		t.Fatalf("axe on the %s: %v", name, err)
	}
	for _, v := range found.([]any) {
		t.Errorf("the %s: %v", name, v)
	}
}

// check looks at a screen as a person with a small phone does, and as axe does in
// every theme. The themes differ in their colours alone.
func (p *phone) check(screen string) {
	p.t.Helper()
	p.narrow(screen)
	defer p.whole()() // what the foot happens to cover is no small target
	for i, theme := range themes {
		p.eval(`(theme) => host.theme(theme)`, theme)
		var only []string
		if i > 0 {
			only = []string{"color-contrast"}
		}
		accessible(p.t, p.page, screen+" in "+theme, only...)
	}
}
