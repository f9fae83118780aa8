package client_test

import (
	"context"
	"fmt"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"golang.org/x/net/html"

	"strutcard/calc/lang"
	"strutcard/calc/lang/langtest"
	"strutcard/pwa/client"
	"strutcard/sync/job"
	"strutcard/sync/store"
)

// page is a phone without a browser: it keeps what was painted until its test ends.
type page struct {
	t        testing.TB
	mu       sync.Mutex // guards regions: a phone paints also from beside
	regions  map[string]string
	env      client.Env
	http     func(method, path string, body []byte, token string) (int, string, []byte, error)
	files    map[string]string
	kept     map[string]string // beside the record
	printed  int
	installs int
}

// looked sees every painting of every phone; nil for none.
var looked func(regions map[string]string)

func newPage(t testing.TB) *page {
	return &page{t: t, env: client.Env{Leader: true}, files: map[string]string{}}
}

func (p *page) Paint(regions map[string]string) {
	if p.t.Context().Err() != nil {
		return // what this phone still does beside is of no test
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.regions = regions
	if looked != nil {
		looked(regions)
	}
}

// region is what was painted last in a part of the page.
func (p *page) region(name string) string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.regions[name]
}

func (p *page) HTTP(_ context.Context, method, path string, body []byte, token string) (int, string, []byte, error) {
	if p.http == nil {
		return 0, "", nil, fmt.Errorf("no network")
	}
	return p.http(method, path, body, token)
}
func (p *page) Env() client.Env { return p.env }
func (p *page) Remember(key, value string) {
	if p.kept == nil {
		p.kept = map[string]string{}
	}
	p.kept[key] = value
}
func (p *page) Recall(key string) string { return p.kept[key] }

// Words gives the language that the test speaks.
func (p *page) Words(context.Context, string) (string, string, error) {
	tag := lang.Tag()
	if tag == lang.English {
		return tag, "", nil
	}
	texts, err := langtest.Words()
	if tag != langtest.Tag {
		texts, err = lang.Catalogue(tag)
	}
	if err != nil {
		return "", "", err
	}
	small, err := lang.Small(texts)
	return tag, string(small), err
}

func (p *page) Persist()                      { p.env.Persisted = true }
func (p *page) Theme(string)                  {}
func (p *page) ApplyUpdate()                  {}
func (p *page) Wake(bool)                     {}
func (p *page) Print()                        { p.printed++ }
func (p *page) Download(name, _, text string) { p.files[name] = text }

// phone is a client with its page and its disk.
type phone struct {
	t    *testing.T
	page *page
	disk *store.Memory
	c    *client.Client
	time time.Time // runs on with each press
}

func newPhone(t *testing.T, disk *store.Memory) *phone {
	t.Helper()
	p := &phone{t: t, disk: disk, page: newPage(t), time: time.Date(2026, 11, 25, 8, 0, 0, 0, time.UTC)}
	p.c = client.New(client.Config{Platform: p.page, Log: disk, Now: func() time.Time { return p.time }})
	if err := p.c.Start(context.Background()); err != nil {
		t.Fatalf("start: %v", err)
	}
	return p
}

func (p *phone) act(name string, args ...string) error {
	p.time = p.time.Add(7 * time.Second) // as long as hands take
	m := map[string]string{}
	for i := 0; i+1 < len(args); i += 2 {
		m[args[i]] = args[i+1]
	}
	err := p.c.Act(context.Background(), name, m)
	if name == "join" && err == nil {
		return p.c.Act(context.Background(), "sync", nil) // so does the page
	}
	return err
}

func (p *phone) must(name string, args ...string) {
	p.t.Helper()
	if err := p.act(name, args...); err != nil {
		p.t.Fatalf("%s %v: %v\n%s", name, args, err, p.text("r-main"))
	}
}

// text is what a region says, without its marks.
func (p *phone) text(region string) string {
	return strings.Join(strings.Fields(regexp.MustCompile(`<[^>]*>`).ReplaceAllString(p.page.region(region), " ")), " ")
}

// openDemo opens the first demo job.
func (p *phone) openDemo() {
	p.t.Helper()
	hash := regexp.MustCompile(`(?s)data-sheet="([0-9a-f]{64})"[^>]*>\s*<strong>‹?Ostler Wren`).FindStringSubmatch(p.page.region("r-main"))
	if hash == nil {
		p.t.Fatalf("the demo sheet is not offered:\n%s", p.text("r-main"))
	}
	p.must("start_job", "sheet", hash[1], "vehicle", "Ostler Wren (invented)")
}

// button finds the first element of a class in a region: its action and arguments.
func (p *phone) button(region, class string) (do string, args []string, ok bool) {
	root, err := html.Parse(strings.NewReader(p.page.region(region)))
	if err != nil {
		p.t.Fatal(err)
	}
	var walk func(*html.Node)
	walk = func(n *html.Node) {
		if ok {
			return
		}
		attr := map[string]string{}
		for _, a := range n.Attr {
			attr[a.Key] = a.Val
		}
		if n.Type == html.ElementNode && n.Data == "button" && strings.Contains(" "+attr["class"]+" ", " "+class+" ") && attr["data-do"] != "" {
			ok, do = true, attr["data-do"]
			for k, v := range attr {
				if name, is := strings.CutPrefix(k, "data-"); is && name != "do" {
					args = append(args, name, v)
				}
			}
			return
		}
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			walk(c)
		}
	}
	walk(root)
	return do, args, ok
}

// next does the one thing that the screen asks for, as a person would. It
// reports false when nothing more is asked.
func (p *phone) next() bool {
	p.t.Helper()
	main := p.page.region("r-main")
	hidden := func(name string) string {
		m := regexp.MustCompile(`name="` + name + `" value="([^"]*)"`).FindStringSubmatch(main)
		if m == nil {
			p.t.Fatalf("no field %q:\n%s", name, p.text("r-main"))
		}
		return m[1]
	}
	switch {
	case strings.Contains(main, `id="photo-out-form"`):
		main = main[strings.Index(main, `id="photo-out-form"`):] // further down the step offers a photo of one's own
		p.must("photo_left_out", "step", hidden("step"), "photo", hidden("photo"), "reason", "The lens is broken.")
	case strings.Contains(main, `id="photo-skip"`):
		m := regexp.MustCompile(`id="photo-skip"[^>]*data-step="([^"]*)" data-photo="([^"]*)"`).FindStringSubmatch(main)
		p.must("photo_skip", "step", m[1], "photo", m[2])
	case strings.Contains(main, `id="position-form"`):
		p.must("position", "adjuster", hidden("adjuster"), "corner", hidden("corner"), "purpose", hidden("purpose"), "text", "14 threads showing")
	case strings.Contains(main, `id="clicks-form"`):
		p.must("clicks", "corner", hidden("corner"), "knob", hidden("knob"), "purpose", hidden("purpose"), "clicks", "7", "from", "full_hard", "stop", "0", "total", "")
	case strings.Contains(main, `id="leftovers-form"`):
		p.must("leftovers", "count", "0", "note", "")
	case strings.Contains(main, `id="count-form"`):
		want := regexp.MustCompile(`class="question">[^<]*: ›?(\d+)[ ‹]`).FindStringSubmatch(main)
		p.must("count", "part", hidden("part"), "found", want[1], "damaged", "0")
	case strings.Contains(main, `id="tool-form"`):
		args := []string{"tool", hidden("tool"), "have", "yes"}
		switch {
		case strings.Contains(main, `value="wrench_small"`):
			args = append(args, "low", "5", "high", "60")
		case strings.Contains(main, `value="wrench_large"`):
			args = append(args, "low", "40", "high", "210")
		case strings.Contains(main, `name="rating"`):
			args = append(args, "rating", "2000")
		}
		p.must("tool", args...)
	case strings.Contains(main, `id="reading-form"`):
		p.read(hidden("quantity"), hidden("place"), hidden("purpose"))
	case strings.Contains(main, `id="release-form"`):
		p.must("release", "reason", "Nobody could be reached; checked every mark twice.")
	case strings.Contains(main, `id="begin"`):
		p.must("begin", "step", regexp.MustCompile(`data-do="begin" data-step="([^"]*)"`).FindStringSubmatch(main)[1])
	default:
		do, args, ok := p.button("r-bar", "action")
		if !ok {
			return false
		}
		p.must(do, args...)
	}
	return true
}

func (p *phone) read(quantity, place, purpose string) {
	p.t.Helper()
	front := strings.HasPrefix(strings.ToUpper(place), "F")
	if quantity == "ride_height" {
		value := map[bool]string{true: "355", false: "350"}[front]
		if purpose == "before" {
			value = "383.5"
		}
		p.must("reading", "quantity", quantity, "place", place, "purpose", purpose, "height", value, "mark", "1")
		return
	}
	if quantity == "total_toe" {
		p.must("reading", "quantity", quantity, "place", place, "purpose", purpose, "rear", "1482", "front", "1480", "diameter", "600", "mark", "1", "diameter_mark", "1")
		return
	}
	gap := map[bool]string{true: "11", false: "9"}[front]
	if purpose == "before" {
		gap = "4"
	}
	p.must("reading", "quantity", quantity, "place", place, "purpose", purpose,
		"gap", gap, "gap_at", "top", "span", "412", "along", "rim", "mark", "0.5", "span_mark", "1")
}

func (p *phone) state() *job.State {
	p.t.Helper()
	jobs, err := p.disk.Jobs(context.Background())
	if err != nil || len(jobs) == 0 {
		p.t.Fatalf("no job on disk: %v", err)
	}
	events, err := p.disk.Job(context.Background(), jobs[len(jobs)-1])
	if err != nil {
		p.t.Fatal(err)
	}
	return job.Fold(jobs[len(jobs)-1], events)
}

func TestWholeDemoJob(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	p.openDemo()
	for i := 0; p.state().Finished == nil; i++ {
		if i > 800 {
			t.Fatalf("the job does not end; it stands at:\n%s\n%s", p.text("r-main"), p.text("r-bar"))
		}
		if !p.next() {
			t.Fatalf("nothing is asked, yet the job is not finished:\n%s\n%s", p.text("r-main"), p.text("r-bar"))
		}
	}
	st := p.state()
	if got := len(st.Fasteners); got < 40 {
		t.Errorf("%d fasteners were worked on, want at least 40", got)
	}
	if len(st.Lifts) != 2 || st.Up() {
		t.Errorf("lifts = %d, still up = %v; want 2 and down", len(st.Lifts), st.Up())
	}
	if strings.Contains(p.text("r-strip"), "not final") {
		t.Errorf("the strip of a finished job says %q", p.text("r-strip"))
	}
	if got, want := p.c.State(), st.JSON(); got != want {
		t.Error("the state on the screen differs from the state on disk")
	}
	t.Logf("%d events", st.Count)
}

func TestReopenShowsTheSamePlace(t *testing.T) {
	disk := store.NewMemory(time.Now)
	p := newPhone(t, disk)
	p.openDemo()
	for range 60 {
		p.next()
		again := newPhone(t, disk)
		if got, want := again.text("r-main"), p.text("r-main"); got != want {
			t.Fatalf("after a restart the screen shows\n%s\nwant\n%s", got, want)
		}
	}
}

func TestHalfTypedValueSurvives(t *testing.T) {
	disk := store.NewMemory(time.Now)
	p := newPhone(t, disk)
	p.openDemo()
	p.c.Input(context.Background(), "part.found", "7")
	again := newPhone(t, disk)
	if !strings.Contains(again.page.region("r-main"), `value="7"`) {
		t.Errorf("the half-typed count is gone:\n%s", again.page.region("r-main"))
	}
}

func TestSecondTabMayNotWrite(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	p.openDemo()
	before := p.state().Count
	p.page.env.Leader = false
	if err := p.act("note", "text", "from the second tab"); err == nil {
		t.Error("a second tab wrote")
	}
	if got := p.state().Count; got != before {
		t.Errorf("events = %d, want %d", got, before)
	}
}
