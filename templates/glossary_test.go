package templates_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	"strutcard/calc/lang"
	"strutcard/sync/sheet"
	"strutcard/templates"
)

// inBoth runs a test in either language.
func inBoth(t *testing.T, test func(t *testing.T)) {
	t.Helper()
	for _, tag := range []string{lang.English, lang.German} {
		t.Run(tag, func(t *testing.T) {
			if err := lang.Use(tag); err != nil {
				t.Fatal(err)
			}
			defer lang.SpeakEnglish()
			test(t)
		})
	}
}

// Every word stands once, in the order of the alphabet, and says something.
func TestGlossary(t *testing.T) {
	english := templates.Glossary()
	if len(english) < 40 {
		t.Fatalf("it has %d words", len(english))
	}
	inBoth(t, func(t *testing.T) {
		before := ""
		for _, w := range templates.Glossary() {
			key := strings.NewReplacer("ä", "a", "ö", "o", "ü", "u", "ß", "ss").Replace(strings.ToLower(w.Head))
			if key <= before {
				t.Errorf("%q comes after %q", w.Head, before)
			}
			before = key
			if strings.Contains(w.Head, "|") || len(strings.Fields(w.Text)) < 10 || !strings.HasSuffix(w.Text, ".") {
				t.Errorf("%q says too little: %q", w.Head, w.Text)
			}
			i := slices.IndexFunc(english, func(e templates.Word) bool { return e.ID == w.ID })
			if lang.Tag() != lang.English && (w.Head == english[i].Head || w.Text == english[i].Text) {
				t.Errorf("%q has no German: %q", w.ID, w.Text)
			}
		}
	})
}

// Every drawing that a word names is there, in the frame, with a text alternative;
// and none is drawn for nothing.
func TestGlossaryDrawings(t *testing.T) {
	inBoth(t, func(t *testing.T) {
		drawn := map[string]bool{}
		for _, w := range templates.Glossary() {
			if w.Picture != "" && !drawn[w.Picture] {
				drawn[w.Picture] = true
				t.Run(w.Picture, func(t *testing.T) { checkSketch(t, draw(t, templates.Sketch(w.Picture))) })
			}
		}
		for _, name := range templates.FigureNames() {
			if !drawn[name] || slices.Contains(sheet.Pictures, name) {
				t.Errorf("no word shows the drawing %q, or a step names it too", name)
			}
		}
	})
}

// The words of the screen before stand first, with their drawings; where there are none
// all words stand at once.
func TestGlossaryScreen(t *testing.T) {
	all := templates.Glossary()
	i := slices.IndexFunc(all, func(w templates.Word) bool { return w.ID == "camber" })
	if all[i].Head != "camber" || all[i].Picture != "camber" {
		t.Fatalf("the word camber is %+v", all[i])
	}
	html := func(v templates.Words) string {
		var b strings.Builder
		if err := templates.GlossaryScreen(v).Render(context.Background(), &b); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	with, without := html(templates.Words{Here: all[i : i+1], All: all}), html(templates.Words{All: all})
	first, rest, found := strings.Cut(with, "All words")
	if !found || !strings.Contains(first, "On the screen before") || !strings.Contains(first, all[i].Text) || strings.Count(first, "<details") != 1 || !strings.Contains(first, "<svg") {
		t.Errorf("before all words stands:\n%s", first)
	}
	if strings.Count(rest, "<details") != len(all) || strings.Count(without, "<details") != len(all) || strings.Contains(without, "All words") {
		t.Errorf("of %d words %d stand after those of the screen, and %d alone", len(all), strings.Count(rest, "<details"), strings.Count(without, "<details"))
	}
}

// The signs are those of the calculators.
func TestGlossarySigns(t *testing.T) {
	for word, want := range map[string]string{
		"camber": "Top in, towards the car: negative. Top out: positive.", "caster": "Positive when its top leans rearward",
		"toe": "Toe-in is positive.",
	} {
		all := templates.Glossary()
		i := slices.IndexFunc(all, func(w templates.Word) bool { return w.ID == word })
		if !strings.Contains(all[i].Text, want) {
			t.Errorf("%s says %q, want %q in it", word, all[i].Text, want)
		}
	}
}

func TestWordsIn(t *testing.T) {
	for _, c := range []struct{ tag, html, want string }{
		{lang.English, `<p>Fit both Struts.</p>`, "strut"},
		{lang.English, `<p>The bushes and wishbones, the toe-in</p>`, "bush, toe, wishbone"},
		{lang.English, `<p>structure, ambush, standard, understand, hubcap, tiptoe, silly, compass</p>`, ""},
		{lang.English, `<p data-do="camber" title="a strut">nothing <b class="hub">here</b></p>`, ""},
		{lang.English, `<p>a hubcap on the hub</p>`, "hub"},
		{lang.English, `<b>live</b><b>axle</b>`, ""},
		{lang.English, `-1.2° ± 0.3°`, "uncertainty"},
		{lang.German, `<p>Zwei Böcke, die Federbeine, eine Schraube im Gummilager, die Gesamtspur</p>`, "Federbein, Gummilager, Spur, Unterstellbock"},
		{lang.German, `<p>Spurweite, Sturzhelm, Naben</p>`, "Nabe"},
	} {
		if err := lang.Use(c.tag); err != nil {
			t.Fatal(err)
		}
		var heads []string
		for _, w := range templates.WordsIn(c.html) {
			heads = append(heads, w.Head)
		}
		lang.SpeakEnglish()
		if got := strings.Join(heads, ", "); got != c.want {
			t.Errorf("%q: found %q, want %q", c.html, got, c.want)
		}
	}
}
