package templates_test

import (
	"context"
	"encoding/xml"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/a-h/templ"

	"strutcard/calc/lang"
	"strutcard/sync/sheet"
	"strutcard/templates"
)

// drawn is an SVG drawing as XML.
type drawn struct {
	XMLName xml.Name
	Attrs   []xml.Attr `xml:",any,attr"`
	Text    string     `xml:",chardata"`
	Inside  []drawn    `xml:",any"`
}

func (d drawn) attr(name string) string {
	for _, a := range d.Attrs {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func (d drawn) number(t *testing.T, name string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(d.attr(name), 64)
	if err != nil {
		t.Fatalf("%s of %s: %v", name, d.XMLName.Local, err)
	}
	return v
}

func draw(t *testing.T, c templ.Component) drawn {
	t.Helper()
	var b strings.Builder
	if err := c.Render(context.Background(), &b); err != nil {
		t.Fatal(err)
	}
	var d drawn
	if err := xml.Unmarshal([]byte(b.String()), &d); err != nil {
		t.Fatalf("not well-formed: %v\n%s", err, b.String())
	}
	return d
}

// Every picture that a sheet may name is drawn, and no other.
func TestSketches(t *testing.T) {
	if got, want := templates.SketchNames(), slices.Sorted(slices.Values(sheet.Pictures)); !slices.Equal(got, want) {
		t.Errorf("names are %v, want %v", got, want)
	}
	for _, name := range sheet.Pictures {
		t.Run(name, func(t *testing.T) { checkSketch(t, draw(t, templates.Sketch(name))) })
	}
}

// German words are longer: they stay in the frame and clear of each other too.
func TestSketchesGerman(t *testing.T) {
	if err := lang.Use(lang.German); err != nil {
		t.Fatal(err)
	}
	defer lang.SpeakEnglish()
	for _, name := range sheet.Pictures {
		t.Run(name, func(t *testing.T) { checkSketch(t, draw(t, templates.Sketch(name))) })
	}
	const want = "Reihenfolge von 5 Muttern, im Uhrzeigersinn von oben: 1 4 2 5 3. 2 erledigt, als nächste kommt Nummer 3."
	if got := draw(t, templates.Star(5, 2)).attr("aria-label"); got != want {
		t.Errorf("it says %q, want %q", got, want)
	}
}

// sketchClasses are the classes that app.css gives a line.
var sketchClasses = strings.Fields("ink heavy thin accent dashed fill solid fill-accent tube tube-in band hatch next")

func checkSketch(t *testing.T, d drawn) {
	if d.XMLName.Local != "svg" || d.attr("role") != "img" {
		t.Errorf("it is <%s role=%q>, want an svg that is an image", d.XMLName.Local, d.attr("role"))
	}
	if alt := d.attr("aria-label"); len(strings.Fields(alt)) < 12 || !strings.HasSuffix(alt, ".") {
		t.Errorf("its alternative says too little: %q", alt)
	}
	var wide, high float64
	if _, err := fmt.Sscanf(d.attr("viewBox"), "0 0 %f %f", &wide, &high); err != nil || wide != 320 || high < 120 || high > 250 {
		t.Errorf("viewBox %q: %v", d.attr("viewBox"), err)
	}
	var boxes []box
	for _, m := range d.Inside {
		if m.attr("style") != "" || len(m.Inside) > 0 {
			t.Errorf("%s has a style or parts of its own", m.XMLName.Local)
		}
		if m.XMLName.Local == "text" {
			boxes = append(boxes, labelBox(t, m))
			continue
		}
		if path := m.attr("d"); m.XMLName.Local != "path" || !strings.HasPrefix(path, "M") || strings.Contains(path, "NaN") {
			t.Errorf("<%s d=%q>, want a path", m.XMLName.Local, path)
		}
		for _, c := range strings.Fields(m.attr("class")) {
			if !slices.Contains(sketchClasses, c) {
				t.Errorf("class %q is not in the style sheet", c)
			}
		}
	}
	crowded(t, boxes, high)
}

// box is where a label may lie, in the widest font that was seen.
type box struct {
	text                     string
	left, top, right, bottom float64
}

// labelBox allows for each letter what Chromium took with DejaVu Sans, which is
// wider than the fonts of phones.
func labelBox(t *testing.T, m drawn) box {
	each, size := 8.8, 11.0
	switch m.attr("class") {
	case "label", "warn":
	case "small":
		each, size = 6.4, 9.5
	default:
		t.Errorf("%q has class %q", m.Text, m.attr("class"))
	}
	share, ok := map[string]float64{"start": 0, "middle": 0.5, "end": 1}[m.attr("text-anchor")]
	if !ok {
		t.Errorf("%q is anchored at %q", m.Text, m.attr("text-anchor"))
	}
	x, y, wide := m.number(t, "x"), m.number(t, "y"), each*float64(utf8.RuneCountInString(m.Text))
	return box{m.Text, x - share*wide, y - size, x + (1-share)*wide, y + 3}
}

func crowded(t *testing.T, boxes []box, high float64) {
	for i, b := range boxes {
		if b.left < 0 || b.right > 320 || b.top < 0 || b.bottom > high {
			t.Errorf("%q leaves the frame: %.0f to %.0f across, %.0f to %.0f down of %.0f", b.text, b.left, b.right, b.top, b.bottom, high)
		}
		for _, o := range boxes[:i] {
			if b.left < o.right && o.left < b.right && b.top < o.bottom && o.top < b.bottom {
				t.Errorf("%q lies over %q", b.text, o.text)
			}
		}
	}
}

// A newer sheet may name a drawing that this app does not have.
func TestSketchErrUnknown(t *testing.T) {
	var b strings.Builder
	if err := templates.Sketch("turbine").Render(context.Background(), &b); err != nil || b.String() != "" {
		t.Errorf("an unknown name draws %q, %v", b.String(), err)
	}
}

func TestStar(t *testing.T) {
	for count := 3; count <= 10; count++ {
		for done := 0; done <= count+1; done++ {
			d := draw(t, templates.Star(count, done))
			filled, next, lines := 0, "", 0
			for i, m := range d.Inside {
				switch m.attr("class") {
				case "ink fill":
					filled++
				case "accent next solid":
					next = d.Inside[i+1].Text
				case "accent dashed":
					lines++
				}
			}
			wantNext, wantLines := "", 0
			if done < count {
				wantNext = fmt.Sprint(done + 1)
			}
			if done > 0 && done < count {
				wantLines = 1
			}
			if filled != min(done, count) || next != wantNext || lines != wantLines {
				t.Errorf("Star(%d, %d): %d filled, next %q, %d lines; want %d, %q, %d", count, done, filled, next, lines, min(done, count), wantNext, wantLines)
			}
		}
	}
	const want = "Order of 5 nuts, clockwise from the top: 1 4 2 5 3. 2 done, next is number 3."
	if got := draw(t, templates.Star(5, 2)).attr("aria-label"); got != want {
		t.Errorf("it says %q, want %q", got, want)
	}
}
