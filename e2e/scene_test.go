package e2e

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"
)

// TestScenes walks the job once and looks at every screen as different people do: by
// the names in the accessibility tree, with axe in every theme, on a narrow window, with
// large text, with gloves, and in the other language.
func TestScenes(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.open("/")
	p.wait(`() => document.querySelector('#ready [data-mark="yes"]')`) // the app is done with what it paints by itself
	p.inspect("home")
	for _, place := range []string{`[data-do=kit]`, `[data-do=own_form]`, "#strip-sync", `[data-do=new_job]`} {
		p.tap(place)
		p.inspect("home, " + place)
		p.eval(`() => strutcard.act("home", "{}")`)
	}
	p.openDemo()
	for _, scene := range scenes {
		p.hurry(scene.at)
		if scene.do != nil {
			scene.do(p)
		}
		p.inspect(scene.name)
		if scene.back != nil {
			scene.back(p)
		}
		if scene.name == "wheel-nuts" {
			for _, place := range []string{"tally", "measure", "park_form", "steps", "people"} {
				p.eval(`(place) => strutcard.act(place, "{}")`, place)
				p.inspect(place)
			}
			p.eval(`() => strutcard.act("work", "{}")`)
		}
	}
}

// inspect opens all that a screen has and wants it to be in order for everybody.
func (p *phone) inspect(screen string) {
	p.t.Helper()
	p.eval(`() => {
		document.activeElement.blur(); // where a field has the focus, a phone zooms in as its window changes
		for (const one of document.querySelectorAll("details")) one.open = true;
	}`)
	p.named(screen)
	p.check(screen)
	p.targets(screen, 48)
	p.reflows(screen, 320) // 1280 px at 400 %

	p.large(true)
	p.targets(screen+" for gloves", 72)
	p.reflows(screen+" in large German", 390)
	p.eval(`() => scrollTo(0, 0)`) // a button half under the strip is as large as any, once it is scrolled to
	accessible(p.t, p.page, screen+" in large German for gloves")
	p.large(false)
}

// large switches gloves, German and text of twice the size on or off.
func (p *phone) large(on bool) {
	p.t.Helper()
	p.eval(`async (on) => {
		const set = (name, value) => strutcard.act("set", JSON.stringify({ name, value }));
		await set("glove", on ? "on" : "off");
		await set("language", on ? "de" : "en");
		document.documentElement.style.fontSize = on ? "200%" : "";
	}`, on)
	tag := map[bool]string{true: "de", false: "en"}[on]
	p.wait(`() => document.documentElement.lang === "` + tag + `" && document.documentElement.hasAttribute("data-glove") === ` + fmt.Sprint(on))
}

// reflows wants no scrolling sideways in a window of this width, except in a region of
// its own that has a name and that keys can reach.
func (p *phone) reflows(screen string, width int) {
	p.t.Helper()
	was := p.page.ViewportSize()
	if err := p.page.SetViewportSize(width, was.Height); err != nil {
		p.t.Fatal(err)
	}
	wide := p.list(`(width) => {
		const found = [];
		for (const one of document.querySelectorAll("body *")) {
			if (!one.checkVisibility() || one.closest(".unseen")) continue;
			const own = one.closest(".wide");
			if (own && own.matches("[tabindex='0'][role=region][aria-label]")) continue;
			const { right } = one.getBoundingClientRect();
			if (right > width + 1 && (one.matches("text") || !one.closest("svg"))) found.push(one.outerHTML.slice(0, 120) + " ends at " + right);
		}
		const { scrollWidth } = document.scrollingElement;
		if (scrollWidth > width) found.unshift("the page is " + scrollWidth + " px wide");
		return found;
	}`, width)
	for _, one := range wide {
		p.t.Errorf("the %s in %d px: %s", screen, width, one)
	}
	if err := p.page.SetViewportSize(was.Width, was.Height); err != nil {
		p.t.Fatal(err)
	}
}

// targets wants all that is pressed to be as large as a knuckle; a link within a line
// of text has at least 24 px.
func (p *phone) targets(screen string, least float64) {
	p.t.Helper()
	for _, one := range p.list(`(least) => [...document.querySelectorAll("button, a[href], input:not([type=hidden]), select, textarea, summary")].filter((one) => one.checkVisibility()).map((one) => {
		const inline = getComputedStyle(one).display === "inline";
		const { width, height } = (one.closest(".take, .choice label, label.choice") ?? one).getBoundingClientRect();
		const want = inline ? 24 : least;
		return height < want - 0.5 || width < Math.min(want, 48) - 0.5 ? one.outerHTML.slice(0, 120) + " is " + width + " x " + height : "";
	}).filter(Boolean)`, least) {
		p.t.Errorf("the %s: %s", screen, one)
	}
}

func (p *phone) list(script string, arg ...any) []string {
	p.t.Helper()
	var out []string
	for _, one := range p.eval(script, arg...).([]any) {
		out = append(out, one.(string))
	}
	return out
}

// heard is one node of the accessibility tree, as a screen reader gets it.
type heard struct {
	role, name string
	level      int
}

// tree reads the accessibility tree of a page, in the order of reading.
func (p *phone) tree() []heard {
	p.t.Helper()
	cdp, err := p.ctx.NewCDPSession(p.page)
	if err != nil {
		p.t.Fatal(err)
	}
	defer func() { _ = cdp.Detach() }()
	got, err := cdp.Send("Accessibility.getFullAXTree", nil)
	if err != nil {
		p.t.Fatal(err)
	}
	nodes := map[string]map[string]any{}
	all := got.(map[string]any)["nodes"].([]any)
	for _, n := range all {
		node := n.(map[string]any)
		nodes[node["nodeId"].(string)] = node
	}
	var out []heard
	var walk func(node map[string]any)
	walk = func(node map[string]any) {
		if node["ignored"] != true {
			out = append(out, heard{spoken(node["role"]), spoken(node["name"]), level(node)})
		}
		children, _ := node["childIds"].([]any)
		for _, id := range children {
			if child := nodes[id.(string)]; child != nil {
				walk(child)
			}
		}
	}
	walk(all[0].(map[string]any))
	return out
}

func spoken(value any) string {
	m, _ := value.(map[string]any)
	text, _ := m["value"].(string)
	return strings.Join(strings.Fields(text), " ")
}

func level(node map[string]any) int {
	properties, _ := node["properties"].([]any)
	for _, x := range properties {
		property := x.(map[string]any)
		if property["name"] == "level" {
			n := property["value"].(map[string]any)["value"]
			return int(number(n))
		}
	}
	return 0
}

func number(n any) float64 {
	switch n := n.(type) {
	case int:
		return float64(n)
	case float64:
		return n
	}
	return 0
}

// shownKinds are the things of a page that must be in the tree: how they are found in the
// page, and the roles that they may have.
var shownKinds = []struct{ selector, roles string }{
	{"button, summary, input[type=file]", "button DisclosureTriangle"},
	{"a[href]", "link"},
	{"select", "combobox"},
	{"input[type=radio]", "radio"},
	{"input[type=checkbox]", "checkbox"},
	{"textarea, input:not([type=hidden], [type=radio], [type=checkbox], [type=file])", "textbox searchbox"},
	{"img, [role=img]", "image"},
	{"h1, h2, h3", "heading"},
	{"table", "table"},
}

// labels are, for each of shownKinds, what stands beside each one on the screen.
func (p *phone) labels() [][]string {
	p.t.Helper()
	var all [][]string
	for _, kind := range shownKinds {
		all = append(all, p.list(`(selector) => [...document.querySelectorAll(selector)].filter((one) => one.checkVisibility()).map((one) => {
			const field = one.closest(".field");
			return field ? [field.querySelector("span").innerText, field.querySelector(".unit")?.innerText ?? ""].join("\n").trim() : one.closest("label")?.innerText ?? "";
		})`, kind.selector))
	}
	return all
}

// named wants the tree to say what the eye sees: each control and drawing in its role
// and with a name, fields with their label and unit, headings in order, the landmarks.
func (p *phone) named(screen string) {
	p.t.Helper()
	shown, tree := p.labels(), p.tree()
	for again := p.labels(); !reflect.DeepEqual(shown, again); again = p.labels() { // painted by itself meanwhile
		shown, tree = again, p.tree()
	}
	has := map[string][]string{}
	for _, n := range tree {
		has[n.role] = append(has[n.role], n.name)
	}
	for i, kind := range shownKinds {
		wanted := shown[i]
		var names []string
		for role := range strings.FieldsSeq(kind.roles) {
			names = append(names, has[role]...)
		}
		if len(names) != len(wanted) {
			p.t.Errorf("the %s shows %d of %s, and the tree has %d: %q", screen, len(wanted), kind.selector, len(names), names)
			continue
		}
		if slices.Contains(names, "") && kind.roles != "table" {
			p.t.Errorf("the %s: a %s has no name: %q", screen, kind.roles, names)
		}
		for _, label := range wanted {
			if label == "" {
				continue
			}
			parts := strings.FieldsFunc(label, func(r rune) bool { return r == '\n' })
			i := slices.IndexFunc(names, func(name string) bool {
				return !slices.ContainsFunc(parts, func(part string) bool { return !strings.Contains(name, strings.TrimSpace(part)) })
			})
			if i < 0 {
				p.t.Errorf("the %s: nothing of %s is called by its label and unit %q: %q", screen, kind.roles, parts, names)
				continue
			}
			names = slices.Delete(names, i, i+1)
		}
	}
	for _, landmark := range []string{"main", "banner", "contentinfo"} {
		if n := len(has[landmark]); n != 1 {
			p.t.Errorf("the %s has %d of the landmark %s", screen, n, landmark)
		}
	}
	p.outlined(screen, tree)
}

// outlined wants one heading of the first level, and none that jumps a level.
func (p *phone) outlined(screen string, tree []heard) {
	p.t.Helper()
	first, before := 0, 0
	for _, n := range tree {
		if n.role != "heading" {
			continue
		}
		if n.level == 1 {
			first++
		}
		if n.level > before+1 {
			p.t.Errorf("the %s: the heading %q is of level %d after %d", screen, n.name, n.level, before)
		}
		before = n.level
	}
	if first != 1 {
		p.t.Errorf("the %s has %d headings of the first level", screen, first)
	}
}
