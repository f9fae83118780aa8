package method

import (
	"strconv"
	"strings"
)

// Picture is a line drawing: what was measured, with its real numbers. X grows
// to the right, Y downwards, 320 units wide.
type Picture struct {
	Height float64
	Alt    string // the drawing in words
	Note   string // such as how much is exaggerated
	Marks  []Mark
}

// Mark is one line or one label of a picture.
type Mark struct {
	Class  string // "ink", "heavy", "accent", "dashed", "fill" for lines; "label", "small" for text
	Points string // of a line or an outline
	Closed bool
	Text   string // of a label, at X, Y
	X, Y   string
	Anchor string // "start", "middle", "end"
	R      string // radius of a circle at X, Y
}

// Line adds a line through points given as x, y, x, y …
func (p *Picture) Line(class string, xy ...float64) {
	p.Marks = append(p.Marks, Mark{Class: class, Points: points(xy)})
}

// Outline adds a closed shape.
func (p *Picture) Outline(class string, xy ...float64) {
	p.Marks = append(p.Marks, Mark{Class: class, Points: points(xy), Closed: true})
}

// Circle adds a circle.
func (p *Picture) Circle(class string, x, y, r float64) {
	p.Marks = append(p.Marks, Mark{Class: class, X: num(x), Y: num(y), R: num(r)})
}

// Label adds words; anchor is "start", "middle" or "end".
func (p *Picture) Label(anchor string, x, y float64, text string) {
	p.Marks = append(p.Marks, Mark{Class: "label", Text: text, X: num(x), Y: num(y), Anchor: anchor})
}

// Small adds words in small letters.
func (p *Picture) Small(anchor string, x, y float64, text string) {
	p.Marks = append(p.Marks, Mark{Class: "small", Text: text, X: num(x), Y: num(y), Anchor: anchor})
}

func points(xy []float64) string {
	var b strings.Builder
	for i := 0; i+1 < len(xy); i += 2 {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(num(xy[i]) + "," + num(xy[i+1]))
	}
	return b.String()
}

func num(v float64) string { return strconv.FormatFloat(v, 'f', 1, 64) }
