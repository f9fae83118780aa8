package e2e

import (
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"
)

// engine is a browser other than Chromium.
type engine struct {
	name     string
	programs []string // that it needs
	start    func(b *browser) (*exec.Cmd, driver, error)
}

// browser is one of them over a folder that is its disk. It does what phone does.
type browser struct {
	t      *testing.T
	engine engine
	dir    string
	url    string
	cmd    *exec.Cmd
	driver driver
	screen string // the X server's number, for an engine that needs one
	ahead  int    // ms that the page's clock runs ahead
}

func newBrowser(t *testing.T, e engine, url string) *browser {
	t.Helper()
	e.installed(t)
	b := &browser{t: t, engine: e, dir: t.TempDir(), url: url}
	t.Cleanup(func() {
		if b.cmd != nil {
			b.kill()
		}
	})
	b.launch()
	return b
}

// installed skips the test of an engine that is not there.
func (e engine) installed(t *testing.T) {
	t.Helper()
	for _, program := range e.programs {
		if _, err := exec.LookPath(program); err != nil {
			t.Skipf("NOT RUN in %s: %s is not installed. To install it: go run ./cmd/dev test", e.name, program)
		}
	}
}

func (b *browser) launch() {
	b.t.Helper()
	var err error
	if b.cmd, b.driver, err = b.engine.start(b); err != nil {
		b.t.Fatalf("launch %s: %v\n%s", b.engine.name, err, b.output())
	}
	b.do(setRect, params{Width: 390, Height: 844})
}

// command is a program in a process group of its own, so that one signal ends it
// with all that it starts. Its output goes to a file in the browser's folder.
func (b *browser) command(env []string, name string, args ...string) (*exec.Cmd, error) {
	out, err := os.OpenFile(filepath.Join(b.dir, "output"), os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o600)
	if err != nil {
		return nil, err
	}
	defer func() { _ = out.Close() }()
	cmd := exec.Command(name, args...)
	cmd.Env = append(append(os.Environ(), "HOME="+b.dir, "GTK_A11Y=none", "NO_AT_BRIDGE=1", "DBUS_SESSION_BUS_ADDRESS=disabled:"), env...)
	cmd.Stdout, cmd.Stderr = out, out
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	return cmd, begin(cmd)
}

// starts are carried out on a thread that stays: a program that is to end with this
// process is ended by the kernel with the thread that started it.
var starts = make(chan func())

func init() {
	go func() {
		runtime.LockOSThread()
		for start := range starts {
			start()
		}
	}()
}

// begin starts a program that ends with this process, however that ends.
func begin(cmd *exec.Cmd) error {
	if cmd.SysProcAttr == nil {
		cmd.SysProcAttr = &syscall.SysProcAttr{}
	}
	cmd.SysProcAttr.Pdeathsig = syscall.SIGKILL
	failed := make(chan error)
	starts <- func() { failed <- cmd.Start() }
	return <-failed
}

// kill ends every process of this browser at once, as a phone out of memory does.
func (b *browser) kill() {
	b.t.Helper()
	group := -b.cmd.Process.Pid
	if err := syscall.Kill(group, syscall.SIGKILL); err != nil {
		b.t.Fatalf("nothing was killed: %v", err)
	}
	_ = b.cmd.Wait() // it was killed; this only takes it off the list
	for end := time.Now().Add(10 * time.Second); !errors.Is(syscall.Kill(group, 0), syscall.ESRCH); time.Sleep(10 * time.Millisecond) {
		if time.Now().After(end) {
			b.t.Fatal("the browser lives on after it was killed")
		}
	}
	if b.driver != nil {
		b.driver.hangUp()
	}
	b.cmd, b.driver = nil, nil
}

// output is the end of what the browser has written.
func (b *browser) output() string {
	text, _ := os.ReadFile(filepath.Join(b.dir, "output"))
	return string(text[max(0, len(text)-4000):])
}

// do carries out a command that has to work.
func (b *browser) do(c command, p params) json.RawMessage {
	b.t.Helper()
	value, err := b.driver.send(c, p)
	if err != nil {
		b.t.Fatalf("%v\n%s: on screen: %s", err, b.engine.name, b.text("body"))
	}
	return value
}

func (b *browser) open(path string) {
	b.t.Helper()
	b.do(navigate, params{URL: b.url + path})
	b.ready()
}

// reload reloads as the page itself would: the driver's own way goes past the
// service worker in Firefox.
func (b *browser) reload() {
	b.t.Helper()
	b.eval(`() => { document.documentElement.dataset.old = ""; location.reload(); }`)
	b.wait(`() => !("old" in document.documentElement.dataset)`)
	b.ready()
}

// ready waits until the app can be pressed, and plants the clock of runOn.
func (b *browser) ready() {
	b.t.Helper()
	b.wait(`() => performance.getEntriesByName("sc-ready").length > 0`)
	b.eval(`() => { if (!window.pace) ((globalThis) => ` + fmt.Sprintf(runOn, b.ahead) + `)(window); }`)
	b.calm()
}

func (b *browser) pace() {
	b.t.Helper()
	b.ahead += 5000
	b.eval(`() => window.pace(5000)`)
}

func (b *browser) fatalf(format string, args ...any) {
	b.t.Helper()
	b.t.Fatalf(b.engine.name+": "+format, args...)
}

func (b *browser) calm() {
	b.t.Helper()
	b.wait(`() => !("busy" in document.documentElement.dataset) && !("settling" in document.documentElement.dataset)`)
}

// try runs a function in the page. The driver does so past the page's policy.
func (b *browser) try(script string, arg ...any) (any, error) {
	if arg == nil {
		arg = []any{}
	}
	value, err := b.driver.send(execute, params{Script: "return (" + script + ")(...arguments)", Args: arg})
	if err != nil {
		return nil, err
	}
	var got any
	return got, json.Unmarshal(value, &got)
}

func (b *browser) eval(script string, arg ...any) any {
	b.t.Helper()
	got, err := b.try(script, arg...)
	if err != nil {
		b.t.Fatalf("evaluate %s: %v\noutput: %s", script, err, b.output())
	}
	return got
}

func (b *browser) wait(condition string) { b.t.Helper(); b.waitFor(condition, time.Minute) }

func (b *browser) waitFor(condition string, patience time.Duration) {
	b.t.Helper()
	var err error
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(30 * time.Millisecond) {
		var got any
		if got, err = b.try(`() => { const got = (` + condition + `)(); if (got instanceof Promise) throw new Error("this driver does not wait"); return Boolean(got); }`); err == nil && got == true {
			return
		}
	}
	b.t.Fatalf("%s waited in vain for %s: %v\non screen: %s\noutput: %s", b.engine.name, condition, err, b.text("body"), b.output())
}

func (b *browser) text(selector string) string {
	got, err := b.try(`(selector) => document.querySelector(selector)?.innerText ?? "(nothing)"`, selector)
	if err != nil {
		return "(" + err.Error() + ")"
	}
	return strings.Join(strings.Fields(fmt.Sprint(got)), " ")
}

func (b *browser) value(selector string) string {
	b.t.Helper()
	return fmt.Sprint(b.eval(`(selector) => document.querySelector(selector).value`, selector))
}

// element is the driver's name of the first element, after it was brought to the
// middle: at the edge the foot of the screen covers it.
func (b *browser) element(selector string) string {
	b.t.Helper()
	b.eval(`(selector) => document.querySelector(selector)?.scrollIntoView({block: "center", behavior: "instant"})`, selector)
	var found []map[string]string
	if err := json.Unmarshal(b.do(findElements, params{Using: "css selector", Value: selector}), &found); err != nil {
		b.t.Fatal(err)
	}
	if len(found) == 0 {
		b.t.Fatalf("no %s; on screen: %s", selector, b.text("body"))
	}
	for _, id := range found[0] { // the key is the same in every reply, and a name of the standard's own
		return id
	}
	return ""
}

func (b *browser) tap(selector string) {
	b.t.Helper()
	b.calm()
	b.do(clickElement, params{ID: b.element(selector)})
	b.calm()
}

func (b *browser) fill(selector, value string) {
	b.t.Helper()
	id := b.element(selector)
	b.do(clearElement, params{ID: id})
	b.do(sendKeys, params{ID: id, Text: value})
}

func (b *browser) choose(name, value string) {
	b.t.Helper()
	b.tap(fmt.Sprintf(`#reading-form input[name=%s][value="%s"]`, name, value))
}

// picture keeps what the browser shows, when pictures were asked for.
func (b *browser) picture(name string) {
	b.t.Helper()
	if !*shots {
		return
	}
	var text string
	if err := json.Unmarshal(b.do(screenshot, params{Full: new(false)}), &text); err != nil {
		b.t.Fatal(err)
	}
	png, err := base64.StdEncoding.DecodeString(text)
	if err != nil {
		b.t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join("shots", name+".png"), png, 0o600); err != nil {
		b.t.Errorf("picture %s: %v", name, err)
	}
}
