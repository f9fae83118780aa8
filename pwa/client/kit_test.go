package client_test

import (
	"context"
	"errors"
	"strings"
	"testing"
	"time"

	"strutcard/pwa/client"
	"strutcard/sync/fault"
	"strutcard/sync/store"
)

// has wants texts on the main screen, said in that order or not.
func (p *phone) has(texts ...string) {
	p.t.Helper()
	for _, text := range texts {
		if !strings.Contains(p.text("r-main"), text) {
			p.t.Errorf("the screen does not say %q:\n%s", text, p.text("r-main"))
		}
	}
}

func (p *phone) hasNot(texts ...string) {
	p.t.Helper()
	for _, text := range texts {
		if strings.Contains(p.page.region("r-main"), text) {
			p.t.Errorf("the screen has %q:\n%s", text, p.text("r-main"))
		}
	}
}

// press presses the first button of an action that carries the given arguments.
func (p *phone) press(do string, with ...string) {
	p.t.Helper()
	for _, tag := range strings.Split(p.page.region("r-main"), "<button")[1:] {
		tag, _, _ = strings.Cut(tag, ">")
		fits := strings.Contains(tag, `data-do="`+do+`"`)
		args := map[string]string{}
		for _, part := range strings.Split(tag, ` data-`)[1:] {
			name, value, _ := strings.Cut(part, `="`)
			args[name], _, _ = strings.Cut(value, `"`)
		}
		for i := 0; i+1 < len(with); i += 2 {
			fits = fits && args[with[i]] == with[i+1]
		}
		if fits {
			if err := p.c.Act(context.Background(), do, args); err != nil {
				p.t.Fatalf("%s %v: %v", do, args, err)
			}
			return
		}
	}
	p.t.Fatalf("there is no button for %s %v:\n%s", do, with, p.page.region("r-main"))
}

// keepWrench puts a torque wrench of 40 to 210 N·m among the owner's tools.
func (p *phone) keepWrench(label string, more ...string) {
	p.t.Helper()
	p.must("kit")
	p.press("kit_add", "kind", "torque_wrench")
	p.must("kit_save", append([]string{"item", "", "kind", "torque_wrench", "label", label, "low", "40", "high", "210", "unit", "N·m"}, more...)...)
}

// toTool walks on until the step of the tools asks for one.
func (p *phone) toTool(id string) {
	p.t.Helper()
	for range 200 {
		if strings.Contains(p.page.region("r-main"), `name="tool" value="`+id+`"`) {
			return
		}
		if !p.next() {
			break
		}
	}
	p.t.Fatalf("%s is never asked for:\n%s", id, p.text("r-main"))
}

// toPass walks on until that pass of the named fastener is on the screen.
func (p *phone) toPass(fastener, pass string) {
	p.t.Helper()
	for range 600 {
		bar := p.page.region("r-bar")
		if strings.Contains(bar, `data-do="pass"`) && strings.Contains(bar, `data-fastener="`+fastener+`"`) && strings.Contains(bar, `data-pass="`+pass+`"`) {
			return
		}
		if !p.next() {
			break
		}
	}
	p.t.Fatalf("%s is never tightened:\n%s", fastener, p.text("r-main"))
}

// barArgs are the arguments of the main action.
func (p *phone) barArgs() map[string]string {
	p.t.Helper()
	_, args, ok := p.button("r-bar", "action")
	if !ok {
		p.t.Fatalf("there is no main action:\n%s", p.text("r-bar"))
	}
	out := map[string]string{}
	for i := 0; i+1 < len(args); i += 2 {
		out[args[i]] = args[i+1]
	}
	return out
}

func TestMyTools(t *testing.T) {
	disk := store.NewMemory(time.Now)
	p := newPhone(t, disk)
	p.press("kit")
	p.has("My tools", "Jack", "Axle stands", "Torque wrench", "Adapter for a torque wrench", "Gauge or level")
	for _, x := range []struct{ kind, label, name, value, says string }{
		{"jack", "Red jack", "rating", "2 t", "2000 kg"},
		{"jack", "Old jack", "rating", "4400 lb", "1995"},
		{"stands", "Short stands", "pair", "6 t", "3000 kg each, half of what is marked for the pair"},
		{"adapter", "Crowfoot", "length", "50", "50 mm in line"},
		{"gauge", "Cube", "resolution", "0.1°", "no check noted"},
	} {
		p.press("kit_add", "kind", x.kind)
		p.must("kit_save", "item", "", "kind", x.kind, "label", x.label, x.name, x.value)
		p.has(x.label, x.says)
	}
	p.press("kit_change")
	p.hasNot(`id="kit-add-jack"`)
	if !strings.Contains(p.page.region("r-main"), `value="2000 kg"`) {
		t.Errorf("the rating to change is not shown:\n%s", p.page.region("r-main"))
	}
	p.c.Input(context.Background(), "kit.rating", "3 t") // half typed, then the browser is killed
	p = newPhone(t, disk)
	p.has("Change: Red jack", "Crowfoot")
	if !strings.Contains(p.page.region("r-main"), `value="3 t"`) {
		t.Error("the half-typed rating is gone")
	}
	p.press("kit_close")
	p.has("2000 kg", "Add")
	p.press("kit_change")
	p.press("kit_remove")
	p.hasNot("Red jack")
	if p = newPhone(t, disk); strings.Contains(p.text("r-main"), "Red jack") {
		t.Error("a removed tool is back after a restart")
	}
	p.has("Old jack")
}

func TestErrMyTools(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	p.must("kit")
	for name, args := range map[string][]string{
		"NoName": {"kind", "jack", "rating", "2 t"}, "Unit": {"kind", "jack", "label", "x", "rating", "2 stone"},
		"Both": {"kind", "stands", "label", "x", "rating", "2 t", "pair", "4 t"}, "Kind": {"kind", "", "label", "x"},
	} {
		t.Run(name, func(t *testing.T) {
			var f *fault.Error
			if err := p.act("kit_save", args...); !errors.As(err, &f) || f.Kind != fault.Invalid || f.Hint == "" {
				t.Errorf("error = %v, want an invalid input with a hint", err)
			}
			p.hasNot(`class="row"`)
		})
	}
	if err := p.act("kit_change", "item", "gone"); err == nil {
		t.Error("a tool that is not there was opened")
	}
}

// TestUnitOfAScale: a scale keeps its own unit, whatever the display is set to.
func TestUnitOfAScale(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	p.must("kit")
	p.press("kit_add", "kind", "torque_wrench")
	p.c.Input(context.Background(), "kit.high", "150")
	p.c.Input(context.Background(), "kit.length", "406.4")
	p.c.Input(context.Background(), "kit.unit", "lbf·ft")
	if got := strings.Count(p.page.region("r-main"), `<span class="unit">lbf·ft</span>`); got != 3 {
		t.Errorf("%d fields say lbf·ft beside them, want 3", got)
	}
	p.must("set", "name", "length", "value", "in")
	main := p.page.region("r-main")
	if !strings.Contains(main, `value="150"`) || !strings.Contains(main, `value="16"`) {
		t.Errorf("half-typed 150 lbf·ft and 406.4 mm became:\n%s", main)
	}
}

// TestLostRegister: what cannot be read is said and kept aside, and no job waits
// for it.
func TestLostRegister(t *testing.T) {
	disk, ctx := store.NewMemory(time.Now), context.Background()
	torn := `{"items":[{"id":"a","kind":"jack","label":"Red jack"},{"id":"b"`
	if err := disk.SetMeta(ctx, "kit", torn); err != nil {
		t.Fatal(err)
	}
	p := newPhone(t, disk)
	p.openDemo()
	p.toTool("stands")
	p.press("kit")
	p.has("could not be read and is not shown")
	p.keepWrench("Long")
	p.hasNot("could not be read")
	if got, err := disk.Meta(ctx, "kit.lost"); err != nil || got != torn {
		t.Errorf("kept aside: %q, %v; want what could not be read", got, err)
	}
}

// stubborn is a disk that cannot read or write the register.
type stubborn struct{ *store.Memory }

func (d stubborn) Meta(ctx context.Context, name string) (string, error) {
	if name == "kit" {
		return "", errors.New("disk: no")
	}
	return d.Memory.Meta(ctx, name)
}

func TestUnreadableRegister(t *testing.T) {
	pg := newPage(t)
	disk := stubborn{store.NewMemory(time.Now)}
	p := &phone{t: t, page: pg, disk: disk.Memory, c: client.New(client.Config{Platform: pg, Log: disk, Now: time.Now})}
	if err := p.c.Start(context.Background()); err != nil {
		t.Fatalf("start: %v", err)
	}
	p.openDemo()
	p.toTool("jack")
	p.must("tool", "tool", "jack", "have", "yes", "rating", "2 t")
	if got := p.state().Tools["jack"].RatingG; got != 2_000_000 {
		t.Errorf("rating = %d, want 2000000", got)
	}
	var f *fault.Error
	if err := p.act("kit"); !errors.As(err, &f) || f.Kind != fault.Storage {
		t.Errorf("error = %v, want a word on the storage", err)
	}
}

func TestToolsStep(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	p.keepWrench("Long one", "tolerance", "4", "class", "II A", "length", "480", "checked", "May")
	p.press("kit_add", "kind", "adapter")
	p.must("kit_save", "item", "", "kind", "adapter", "label", "Crowfoot", "length", "50", "across", "no")
	p.must("home")
	p.openDemo()
	p.toTool("jack")
	p.has("Torque wrenches that this sheet asks for", "Marked rating")
	p.must("tool", "tool", "jack", "have", "yes", "rating", "300 kg")
	p.has("Too weak", "Do not lift with it.", "Read the plate again, or use stronger equipment")
	p.must("tool", "tool", "jack", "have", "keep", "label", "Red jack", "rating", "4400 lb")
	if got := p.state().Tools["jack"]; got.RatingG != 1_995_806 || got.Label != "Red jack" {
		t.Errorf("the jack is recorded as %+v", got)
	}
	p.must("tool", "tool", "stands", "have", "yes", "pair", "6 t")
	if got := p.state().Tools["stands"]; got.RatingG != 3_000_000 || !got.Pair {
		t.Errorf("the stands are recorded as %+v, want half of the pair", got)
	}
	p.has("half of what is marked for the pair")
	p.toTool("wrench_large")
	p.has("From my tools: Long one")
	p.press("tool_use", "tool", "wrench_large")
	got := p.state().Tools["wrench_large"]
	if got.Label != "Long one" || got.LowCNM != 4000 || got.HighCNM != 21_000 || got.Tolerance != 40 || got.Class != "II A" || got.LengthUM != 480_000 || got.Checked != "May" || got.Type != "" {
		t.Errorf("the wrench is recorded as %+v", got)
	}
	p.has("Your own wrenches and adapters", "Crowfoot")
	p.press("tool_use")
	var own string
	for id, tool := range p.state().Tools {
		if tool.Type == "adapter" {
			own = string(id)
		}
	}
	if own == "" || p.state().Tools["wrench_large"].Label != "Long one" {
		t.Fatalf("the adapter is not in the record: %+v", p.state().Tools)
	}
	p.hasNot("Your own wrenches and adapters")

	p.must("tool_change", "tool", own)
	p.has("Crowfoot: at hand?", "Leave it as it is recorded")
	p.press("tool_leave")
	p.hasNot("Crowfoot: at hand?")
	p.must("tool_change", "tool", own)
	p.must("tool", "tool", own, "have", "yes", "label", "Crowfoot", "length", "60")
	if got := p.state().Tools["wrench_large"].Label + " " + p.state().Tools["jack"].Label; got != "Long one Red jack" {
		t.Errorf("correcting one tool changed others: %s", got)
	}
	for id, tool := range p.state().Tools {
		if string(id) == own && (tool.LengthUM != 60_000 || tool.Type != "adapter") {
			t.Errorf("the corrected adapter is recorded as %+v", tool)
		}
	}
	p.must("kit")
	p.has("Red jack") // kept by "Yes, and keep it in my tools"
}

func TestErrToolsStep(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	p.keepWrench("Long one")
	p.must("home")
	p.openDemo()
	p.toTool("jack")
	before := p.state().Count
	for name, args := range map[string][]string{
		"tool": {"tool", "jack", "have", "yes", "rating", "2 stone"}, "tool ": {"tool", "wrench_large", "have", "yes", "low", "200", "high", "40"},
		" tool":    {"tool", "nothing", "have", "yes"},
		"tool_use": {"tool", "jack", "item", "gone"},
	} {
		if err := p.act(strings.TrimSpace(name), args...); err == nil {
			t.Errorf("%s %v was taken", name, args)
		}
	}
	p.must("kit")
	item := strings.SplitN(strings.SplitN(p.page.region("r-main"), `data-item="`, 2)[1], `"`, 2)[0]
	if err := p.act("tool_use", "tool", "jack", "item", item); err == nil {
		t.Error("a torque wrench was taken for a jack")
	}
	if got := p.state().Count; got != before {
		t.Errorf("refused tools made %d events", got-before)
	}
}

// toAdapter keeps an adapter of 50 mm beside the long wrench, and goes to a pass of a
// job that is made with that wrench.
func (p *phone) toAdapter() {
	p.t.Helper()
	p.press("kit_add", "kind", "adapter")
	p.must("kit_save", "item", "", "kind", "adapter", "label", "Crowfoot", "length", "50", "across", "no")
	p.must("home")
	p.openDemo()
	p.toTool("wrench_large")
	p.press("tool_use", "tool", "wrench_large")
	p.press("tool_use")
	p.toPass("rod_nut_FL", "final")
}

// TestTorqueWithAdapter: 480 mm and 50 mm in line: set = torque · 480/530.
func TestTorqueWithAdapter(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	p.keepWrench("Long one", "length", "480", "tolerance", "4", "step", "1")
	p.toAdapter()
	plain := p.barArgs()
	if plain["set"] != plain["shown"] || plain["adapter"] != "" {
		t.Fatalf("without an adapter the press says %v", plain)
	}
	p.press("use_wrench", "wrench", "wrench_large", "adapter", p.adapter())
	args := p.barArgs()
	// 68 N·m · 480/530 = 61.58, on marks of 1 N·m: 61
	if args["shown"] != "6800" || args["set"] != "6100" || args["wrench"] != "wrench_large" || args["adapter"] != p.adapter() {
		t.Errorf("the press says %v, want 68 N·m, set to 61", args)
	}
	p.has("61 N·m To set on the wrench. The fastener is to get 68 N·m.", "On: Long one with Crowfoot", "While the wrench keeps its tolerance, the fastener gets 64.8 to 70.2 N·m.", "If its bolt turns with it")
	if err := p.act("pass", "fastener", plain["fastener"], "pass", plain["pass"], "shown", plain["shown"], "set", plain["set"], "wrench", plain["wrench"], "adapter", ""); err == nil {
		t.Error("a press with a setting that is not on the screen any more was recorded")
	}
	if err := p.act("pass", "fastener", args["fastener"], "pass", args["pass"], "shown", args["shown"], "set", "6200", "wrench", args["wrench"], "adapter", args["adapter"]); err == nil {
		t.Error("a press with another setting was recorded")
	}
	if err := p.act("pass", "fastener", args["fastener"], "pass", args["pass"], "shown", "12000", "set", args["set"], "wrench", args["wrench"], "adapter", args["adapter"]); err == nil {
		t.Error("a press with another torque was recorded")
	}
	p.next()
	if got := p.state().Fasteners["rod_nut_FL"].Passes["final"]; got.SetCNM != 6100 || got.Wrench != "wrench_large" || string(got.Adapter) != p.adapter() || got.TorqueCNM != 6800 {
		t.Errorf("recorded %+v, want 68 N·m, set to 61 with the adapter", got)
	}
	p.toPass("rod_nut_FR", "final")
	if got := p.barArgs(); got["adapter"] != "" {
		t.Errorf("the adapter of one fastener was taken for the next: %v", got)
	}
}

// adapter is the id of the adapter on the list.
func (p *phone) adapter() string {
	for id, tool := range p.state().Tools {
		if tool.Type == "adapter" {
			return string(id)
		}
	}
	return ""
}

func TestWheelNutsCountUp(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	p.openDemo()
	p.toPass("wheel_nuts_FL", "half")
	p.hasNot("If its bolt turns with it")
	p.has("On: Torque wrench, large range, 40 to 210 N·m", "Torque wrench, small range: 56 N·m")
	if !strings.Contains(p.page.region("r-main"), "0 done, next is number 1.") {
		t.Errorf("no star with nothing done:\n%s", p.page.region("r-main"))
	}
	p.next()
	p.next()
	if !strings.Contains(p.page.region("r-main"), "2 done, next is number 3.") {
		t.Errorf("after two nuts the star does not show two done:\n%s", p.page.region("r-main"))
	}
	p.must("use_wrench", "fastener", "wheel_nuts_FL", "wrench", "wrench_small", "adapter", "")
	p.has("On: Torque wrench, small range, 5 to 60 N·m")
	pass := p.barArgs()["pass"]
	p.toPass("wheel_nuts_FL", "final")
	p.has("On: Torque wrench, large range", "Not with these, and why", "Torque wrench, small range: 112 N·m to set is above the range of this wrench")
	for id, made := range p.state().Fasteners["wheel_nuts_FL"].Passes {
		if string(id) == pass && (made.Count != 5 || made.Wrench != "wrench_small") {
			t.Errorf("the record has %+v, want 5 with the small wrench at last", made)
		}
	}
}

func TestTorquesOfThisSheet(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	p.openDemo()
	p.toTool("wrench_small")
	p.press("torques")
	p.has("Torques of this sheet", "Front left", "Rear right", "Invented", "Strut to knuckle, upper", "131 N·m", "Set: with no wrench here", "Source: demo value")
	p.must("work")
	p.toTool("wrench_large")
	p.must("tool", "tool", "wrench_large", "have", "yes", "low", "40", "high", "120")
	for strings.Contains(p.page.region("r-main"), `id="tool-form"`) && !strings.Contains(p.text("r-main"), "No wrench here covers") {
		p.next()
	}
	p.has("No wrench here can do these", "To borrow", "Recorded, but not enough to go on. No wrench here covers")
	if !strings.Contains(p.page.region("r-main"), `name="tool" value="wrench_large"`) || !strings.Contains(p.page.region("r-main"), `value="120"`) {
		t.Errorf("the ranges are not there to correct:\n%s", p.page.region("r-main"))
	}
	p.must("tool", "tool", "wrench_large", "have", "yes", "low", "40", "high", "210")
	for range 30 {
		if strings.Contains(p.page.region("r-main"), `data-step="specs"`) {
			break
		}
		p.next()
	}
	p.press("torques")
	p.has("Set: Torque wrench, large range: 131 N·m")
	if !strings.Contains(p.text("r-bar"), "correct the ranges") {
		t.Errorf("there is no way to the tools:\n%s", p.text("r-bar"))
	}
}
