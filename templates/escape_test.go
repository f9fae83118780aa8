package templates_test

import (
	"context"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/a-h/templ"
	"golang.org/x/net/html"

	"strutcard/templates"
)

// components is every template that others may call. Each takes views, numbers
// and texts, and gives a templ.Component.
var components = []any{
	templates.Aloud, templates.InstallBlock, templates.Languages, templates.Senses,
	templates.AlarmScreen, templates.BarRegion, templates.ButtonOf, templates.CardScreen, templates.ChangesDeskPage, templates.Copies, templates.DeskJobPage,
	templates.DraftConflictPage, templates.DraftDeskPage, templates.Drawing, templates.FaultPage, templates.FieldDeskPage, templates.Glyph, templates.HomeScreen,
	templates.JobCard, templates.KitScreen, templates.LookPage, templates.LostBlock, templates.MeasureScreen, templates.MessageRegion, templates.MethodFormOf,
	templates.MethodScreen, templates.MethodsScreen, templates.NewJobScreen, templates.OwnFormScreen, templates.OwnScreen, templates.ParkScreen, templates.PeopleScreen,
	templates.PhonesPage, templates.PhotoFormOf, templates.PhotoRows, templates.PublishDeskPage, templates.QueuePage, templates.Readings,
	templates.ReadyBlock, templates.RecheckScreen, templates.ResumeScreen, templates.SetUpPage, templates.SheetDeskPage, templates.SheetListPage,
	templates.SignInPage, templates.Sketch, templates.StageRows, templates.Star, templates.StepScreen, templates.StepsScreen,
	templates.StripRegion, templates.SyncScreen, templates.TallyScreen, templates.TorqueSheet, templates.TorquesScreen, templates.WatchScreen,
	templates.WorkScreen, templates.GlossaryScreen, templates.WordsHere,
	templates.AuditPage, templates.DataPage, templates.JobDataPage, templates.MePage, templates.ResetPage, templates.StaffPage, templates.WelcomePage,
}

func nameOf(component any) string {
	full := runtime.FuncForPC(reflect.ValueOf(component).Pointer()).Name()
	return full[strings.LastIndex(full, ".")+1:]
}

// sources is the text of every template.
func sources(t testing.TB) string {
	t.Helper()
	names, err := filepath.Glob("*.templ")
	if err != nil || len(names) == 0 {
		t.Fatalf("no templates found: %v", err)
	}
	var all strings.Builder
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		all.Write(text)
	}
	return all.String()
}

func firsts(word *regexp.Regexp, text string) []string {
	var out []string
	for _, m := range word.FindAllStringSubmatch(text, -1) {
		out = append(out, m[1])
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// filler makes up views: texts of anybody's, and now and then what a template
// tells cases apart by.
type filler struct {
	rand        *rand.Rand
	text        string
	words, keys []string
}

func newFiller(t testing.TB, seed uint64, text string) filler {
	all := sources(t)
	words := append(firsts(regexp.MustCompile(`case "([^"]+)"`), all), firsts(regexp.MustCompile(`== "([^"]+)"`), all)...)
	keys := firsts(regexp.MustCompile(`\["([^"]+)"\]`), all)
	if len(words) < 20 || len(keys) == 0 {
		t.Fatalf("only %d words and %d keys were found in the templates", len(words), len(keys))
	}
	return filler{rand.New(rand.NewPCG(seed, 1)), text, words, keys}
}

// deepest ends views that hold themselves.
const deepest = 12

func (f filler) fill(v reflect.Value, depth int) {
	if depth++; depth > deepest {
		return
	}
	switch v.Kind() {
	case reflect.String:
		v.SetString(f.some())
	case reflect.Bool:
		v.SetBool(f.rand.IntN(3) > 0)
	case reflect.Int, reflect.Int64:
		v.SetInt(f.rand.Int64N(9))
	case reflect.Float64:
		v.SetFloat(40)
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Field(i).CanSet() {
				f.fill(v.Field(i), depth)
			}
		}
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		f.fill(v.Elem(), depth)
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 1+f.rand.IntN(2), 2))
		for i := range v.Len() {
			f.fill(v.Index(i), depth)
		}
	case reflect.Map:
		v.Set(reflect.MakeMap(v.Type()))
		for _, key := range f.keys {
			one := reflect.New(v.Type().Elem()).Elem()
			f.fill(one, depth)
			v.SetMapIndex(reflect.ValueOf(key), one)
		}
	}
}

func (f filler) some() string {
	switch f.rand.IntN(8) {
	case 0:
		return ""
	case 1, 2:
		return f.words[f.rand.IntN(len(f.words))]
	}
	return f.text
}

// render draws a component with made-up views.
func (f filler) render(t testing.TB, component any) string {
	t.Helper()
	call := reflect.ValueOf(component)
	args := make([]reflect.Value, call.Type().NumIn())
	for i := range args {
		args[i] = reflect.New(call.Type().In(i)).Elem()
		f.fill(args[i], 0)
	}
	drawn, ok := call.Call(args)[0].Interface().(templ.Component)
	if !ok {
		t.Fatal("this is no component")
	}
	var b strings.Builder
	if err := drawn.Render(context.Background(), &b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

var (
	ownScripts = []string{"/clip.js", "/static/fragment.js", "/static/author.js", "/static/queue.js", "/static/look.js"}
	leadsHome  = regexp.MustCompile(`^(/([^/\\\t\r\n][^\\\t\r\n]*)?|[#?].*|tel:.*|about:invalid)?$`)
)

// misled says what a browser would make of a page that nobody meant.
func misled(page string) string {
	root, err := html.Parse(strings.NewReader(page))
	if err != nil {
		return err.Error()
	}
	for n := range root.Descendants() {
		if n.Type == html.ElementNode && n.Data == "injected" {
			return "text became an element"
		}
		source := ""
		for _, a := range n.Attr {
			switch {
			case a.Key == "injected" || strings.HasPrefix(a.Key, "on") || a.Key == "style":
				return "text became the attribute " + a.Key
			case slices.Contains([]string{"href", "src", "action", "formaction"}, a.Key) && !leadsHome.MatchString(a.Val):
				return "a link leads to " + a.Val
			case a.Key == "src":
				source = a.Val
			}
		}
		if n.Data == "script" && n.Type == html.ElementNode && (n.FirstChild != nil || !slices.Contains(ownScripts, source)) {
			return "there is a script that is not ours"
		}
	}
	return ""
}

// nasty is what somebody might type, or send in an event.
var nasty = []string{
	`"><injected>`, `' injected='1`, `" injected="1`, `</textarea></title></option></script><injected>`, `--><injected><!--`, `]]><injected>`,
	"\x00<injected>", `<script>alert(1)</script>`, `" onfocus="alert(1)" autofocus="`, `javascript:alert(1)`, `//evil.example/x`, `/\evil.example`,
	"/\t/evil.example", `\\evil.example`, `https://evil.example`, `data:text/html,<injected>`, `&quot;&gt;<injected>`, "é\xff<injected>",
}

// TestEscaping draws every template with every nasty text in every place.
func TestEscaping(t *testing.T) {
	if bad := misled(`<a href="//evil.example">x</a>`) + misled(`<p><injected>`) + misled(`<script>x</script>`) + misled(`<b onclick=x>`); strings.Count(bad, "evil")+strings.Count(bad, "element")+strings.Count(bad, "script")+strings.Count(bad, "onclick") != 4 {
		t.Fatalf("the look for harm does not see it: %s", bad)
	}
	missing := firsts(regexp.MustCompile(`(?m)^templ ([A-Z]\w*)\(`), sources(t))
	for _, c := range components {
		name := nameOf(c)
		missing = slices.DeleteFunc(missing, func(m string) bool { return m == name })
		t.Run(name, func(t *testing.T) {
			for i, text := range nasty {
				f := newFiller(t, uint64(i), text)
				for range 6 {
					if page := f.render(t, c); misled(page) != "" {
						t.Fatalf("with %q %s:\n%s", text, misled(page), page)
					}
				}
			}
		})
	}
	if len(missing) > 0 {
		t.Errorf("not drawn: %v: put them into components", missing)
	}
}

func FuzzEscaping(f *testing.F) {
	for i, text := range nasty {
		f.Add(uint64(i), text)
	}
	f.Fuzz(func(t *testing.T, seed uint64, text string) {
		fill := newFiller(t, seed, text)
		c := components[fill.rand.IntN(len(components))]
		if page := fill.render(t, c); misled(page) != "" {
			t.Fatalf("%s: %s:\n%s", nameOf(c), misled(page), page)
		}
	})
}
