package e2e

import (
	"fmt"
	"testing"
	"time"

	"github.com/google/uuid"

	"strutcard/sync/event"
	"strutcard/sync/sheet"
)

// TestKeyboard goes from the first screen into the demo job, through its first lift to
// the first fasteners, by keys alone. At each key the focus can be seen, nothing covers
// it, no press loses it, and it goes down the screen as the eye does.
func TestKeyboard(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	k := keys{p}
	p.open("/")
	k.tap(`button[data-do=new_job]:has(strong)`)
	k.fill("#f-vehicle", "Ostler Wren (invented)")
	k.tap("#start-form button[type=submit]")
	p.wait(`() => document.querySelector("section.step")`)
	next(k)
	if got, want := p.text("#said"), p.text("#ask .question"); got != want || !p.has(`#said[role=status]`) {
		t.Errorf("once an entry is on the disk, %q is said, and the next question is %q", got, want)
	}
	for !p.has(`section.step[data-step=free_FL] .ask`) {
		if !next(k) {
			t.Fatalf("nothing is asked; on screen: %s", p.text("body"))
		}
	}
	for range 4 {
		next(k)
	}
	k.tap("#strip-tally")
	k.tap("#place-measure")
	k.tap("#place-card")
	k.around("card")
	k.tap("#strip-sync")
	k.around("record")
	k.tap(`[data-name=glove][data-value=on]`)
	k.tap("#place-work")
	k.tap("details.more summary")
	k.tap("#note-form button") // an empty note is refused
	if !p.has(`#r-sheet [role=alert] p`) {
		t.Error("a refusal is no alert")
	}
	k.tap("#dismiss")
	if got := p.eval(`() => document.activeElement.closest("#note-form") !== null`); got != true {
		t.Error("after a message the focus is not where it was before")
	}
	k.around("step")
}

// TestKeyboardAtTheDesk signs in by keys and goes through the pages of the desk by keys;
// axe finds nothing on any of them.
func TestKeyboardAtTheDesk(t *testing.T) {
	t.Parallel()
	shop := newShop(t)
	c := newColleague(t, shop, event.JobID(uuid.NewString()))
	demo := sheet.Demo()[0]
	c.writes(nil, &event.JobOpened{Sheet: demo.Hash(), Title: "A sheet", Vehicle: "first car"})
	page := shop.staff() // a desk of its own; it is signed out again, to come in by keys
	k := keys{&phone{t: t, shop: shop, page: page}}
	pages := 0
	at := func(name string) {
		t.Helper()
		pages++
		accessible(t, page, name)
		k.around(name)
	}
	follow := func(selector, to string) {
		t.Helper()
		k.goTo(selector)
		k.press("Enter")
		if err := page.WaitForURL(to); err != nil {
			t.Fatalf("Enter on %s leads to %s: %v", selector, page.URL(), err)
		}
	}
	if err := page.Context().ClearCookies(); err != nil {
		t.Fatal(err)
	}
	if _, err := page.Goto(shop.url + "/sign-in"); err != nil {
		t.Fatal(err)
	}
	at("sign-in")
	k.fill("input[name=name]", shop.demo.Name)
	k.fill("input[name=password]", shop.demo.Password)
	follow("main form button", "**/shop")
	follow("#queue tbody a", "**/shop/jobs/**")
	at("job")
	follow(`a[href="/shop/sheets"]`, "**/shop/sheets")
	at("sheets")
	follow(fmt.Sprintf(`a[href="/shop/sheets/%s"]`, demo.Hash()), "**/shop/sheets/*")
	at("sheet")
	follow(`form[action$="/copy"] button`, "**/shop/drafts/*")
	at("draft")
	follow(`a[href*="/edit/"]`, "**/edit/**")
	at("part of a draft")
	for _, path := range []string{"/shop/phones", "/shop/staff", "/shop/me", "/shop/data"} {
		if _, err := page.Goto(shop.url + path); err != nil {
			t.Fatal(err)
		}
		at(path)
	}
	if pages != 10 {
		t.Errorf("%d pages were looked at", pages)
	}
}

// keys are hands that only press keys.
type keys struct{ *phone }

// focused says where the focus is, and where it was before as the page is now; or why it
// cannot be seen. At the desk a field may be seen in part.
const focused = `(() => {
	const regions = ["notice", "r-strip", "r-main", "r-sheet", "r-bar"];
	const place = (one) => {
		if (!one?.isConnected) return { region: -1 };
		const { top, bottom } = one.getBoundingClientRect();
		const down = one.closest("main") ? scrollY : 0;
		return { what: one.outerHTML.slice(0, 100), region: regions.findIndex((id) => one.closest("#" + id)), top: top + down, bottom: bottom + down };
	};
	const from = place(globalThis.focusedBefore);
	const one = document.activeElement;
	globalThis.focusedBefore = one === document.body ? null : one;
	if (one === document.body) return { lost: true };
	const shown = one.id === "r-main" ? one.querySelector("h1") : one.closest(".take") ?? one;
	const style = getComputedStyle(shown);
	const box = shown.getBoundingClientRect();
	let wrong = "";
	if (style.outlineStyle === "none" || parseFloat(style.outlineWidth) < 2) wrong = "has no outline";
	const hidden = [[box.left + 3, box.top + 3], [box.left + box.width / 2, box.top + box.height / 2], [box.right - 3, box.bottom - 3]].filter(([x, y]) => {
		const top = document.elementFromPoint(x, y);
		return !top || !(shown.contains(top) || top.contains(shown) && !top.matches(".foot, .top"));
	});
	const most = document.body.matches(".desk") ? 2 : 0;
	if (hidden.length > most && box.height < innerHeight / 2) wrong = "is covered at " + hidden + " in " + innerHeight;
	return { wrong, from, to: place(one) };
})()`

type spot struct {
	what                string
	region, top, bottom float64
}

func spotOf(value any) spot {
	at := value.(map[string]any)
	what, _ := at["what"].(string)
	return spot{what, number(at["region"]), number(at["top"]), number(at["bottom"])}
}

// look wants the focus to be where it can be seen, unless the page has none, and says
// whence it came.
func (k keys) look(after string) (from, to spot, lost bool) {
	k.t.Helper()
	at := k.eval(focused).(map[string]any)
	if at["lost"] == true {
		return spot{}, spot{}, true
	}
	from, to = spotOf(at["from"]), spotOf(at["to"])
	if at["wrong"] != "" {
		k.t.Errorf("after %s the focus %v: %s", after, at["wrong"], to.what)
	}
	return from, to, false
}

func (k keys) press(key string) {
	k.t.Helper()
	if err := k.page.Keyboard().Press(key); err != nil {
		k.t.Fatalf("press %s: %v", key, err)
	}
}

// step goes one further with Tab, or one back, and wants the order of the screen. It
// reports whether the page has come to its end. The desk has columns.
func (k keys) step(key string) (ended bool) {
	k.t.Helper()
	k.press(key)
	first, second, lost := k.look(key)
	if lost {
		return true
	}
	if key != "Tab" {
		first, second = second, first
	}
	if first.region >= 0 && second.region >= 0 && (first.region > second.region || first.region == second.region && first.top > second.bottom) {
		k.t.Errorf("%s from %s to %s goes up the screen", key, first.what, second.what)
	}
	return false
}

// goTo goes to something with Tab, the shorter way.
func (k keys) goTo(selector string) {
	k.t.Helper()
	k.calm()
	key := "Tab"
	if k.eval(`(selector) => Boolean(document.querySelector(selector)?.compareDocumentPosition(document.activeElement) & Node.DOCUMENT_POSITION_FOLLOWING)`, selector) == true {
		key = "Shift+Tab"
	}
	k.look("a press")
	for range 120 {
		if k.eval(`(selector) => document.activeElement === document.querySelector(selector)`, selector) == true {
			return
		}
		k.step(key)
	}
	k.t.Fatalf("%s cannot be reached by %s; on screen: %s", selector, key, k.text("body"))
}

// around goes to the end of the page, and once through all of it.
func (k keys) around(screen string) {
	k.t.Helper()
	n := 0
	for ends := 0; ends < 2; n++ {
		if n > 300 {
			k.t.Fatalf("the %s has no end for keys", screen)
		}
		if k.step("Tab") {
			ends++
		}
	}
	if n < 8 {
		k.t.Errorf("the %s has %d stops for keys", screen, n)
	}
}

func (k keys) tap(selector string) {
	k.t.Helper()
	k.goTo(selector)
	k.press("Enter")
	time.Sleep(30 * time.Millisecond) // the page hears it
	k.calm()
	if _, _, lost := k.look("Enter on " + selector); lost {
		k.t.Errorf("Enter on %s loses the focus; on screen: %s", selector, k.text("#r-main h1"))
	}
}

func (k keys) fill(selector, value string) {
	k.t.Helper()
	k.goTo(selector)
	k.press("Control+A")
	if err := k.page.Keyboard().Type(value); err != nil {
		k.t.Fatalf("type into %s: %v", selector, err)
	}
}

// choose goes to the question with Tab and to its answer with the arrows.
func (k keys) choose(name, value string) {
	k.t.Helper()
	group := fmt.Sprintf(`#reading-form input[name=%s]`, name)
	stop := k.eval(`(group) => { const all = [...document.querySelectorAll(group)]; const one = all.find((r) => r.checked) ?? all[0]; return "#reading-form input[name=" + one.name + "][value='" + one.value + "']"; }`, group).(string)
	k.goTo(stop)
	for range 10 {
		if k.eval(`(value) => document.activeElement.value === value`, value) == true {
			k.press("Space")
			return
		}
		k.press("ArrowDown")
	}
	k.t.Fatalf("%s cannot be answered with %s", name, value)
}
