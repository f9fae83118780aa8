// Package langtest is a made-up language, in which every text of the catalogue is
// the English one in marks: ‹so›. What a page shows outside of the marks was not
// looked up: it would stay English in any language.
package langtest

import (
	"regexp"
	"sort"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"strutcard/calc/lang"
)

// Tag names the made-up language.
const Tag = "x-marked"

var (
	letter = regexp.MustCompile(`\p{L}`)
	slot   = regexp.MustCompile(`%(\[\d\])?[-+#0-9.]*[a-zA-Z%]|\|`) // "|" stands between the forms of one word
	marked = regexp.MustCompile(`‹[^‹›]*›`)
	code   = regexp.MustCompile(`[0-9a-f]{8}-[0-9a-f-]{27}|\b[0-9a-f]{12,64}\b|\bM[0-9]+(x[0-9.]+)?|\b[0-9A-Z]{4}(-[0-9A-Z]{4}){3}-[0-9A-Z]{3}[0-9A-Z*~$=]`) // ids, hashes, threads, the code of a card
	device = regexp.MustCompile(`…›[0-9a-f]{6}`)                                                                                                             // the end of an id
	word   = regexp.MustCompile(`[\p{L}_][\p{L}\p{M}\p{N}_'’-]*`)
)

// Words is the catalogue of the made-up language. What is put into a slot stands
// outside of the marks, so that it must have been looked up itself.
func Words() (map[string]string, error) {
	texts, err := lang.Catalogue(lang.German)
	if err != nil {
		return nil, err
	}
	out := make(map[string]string, len(texts))
	for text := range texts {
		out[text] = mark(text)
	}
	return out, nil
}

func mark(text string) string {
	var b strings.Builder
	from := 0
	put := func(part string) {
		if letter.MatchString(part) {
			part = "‹" + part + "›"
		}
		b.WriteString(part)
	}
	for _, at := range slot.FindAllStringIndex(text, -1) {
		put(text[from:at[0]])
		b.WriteString(text[at[0]:at[1]])
		from = at[1]
	}
	put(text[from:])
	return b.String()
}

// Speak has this process speak the made-up language until the test ends.
func Speak(t testing.TB) {
	t.Helper()
	texts, err := Words()
	if err != nil {
		t.Fatal(err)
	}
	byKey := make(map[uint32]string, len(texts))
	for text, other := range texts {
		byKey[lang.Key(text)] = other
	}
	lang.Speak(Tag, byKey)
	t.Cleanup(lang.SpeakEnglish)
}

// Allowed is what may stand outside of the marks, each with the reason.
type Allowed struct {
	Texts []string          // as typed or recorded: left out wherever they stand
	Words map[string]string // the same in every language, each with the reason
}

// units and letters are the same in every language.
var units = map[string]bool{}

func init() {
	for _, u := range strings.Fields("N m Nm lbf ft in mm cm µm km kg g lb t kN N·m lbf·ft kgf kgf·m kPa bar psi MPa kB MB GB s min h Hz C F x GPa kHz J K") {
		units[u] = true
	}
}

// Unsaid lists the texts on a page that were not looked up: those that are read, and
// those of the attributes that are read out or shown.
func (a Allowed) Unsaid(page string) []string {
	root, err := html.Parse(strings.NewReader(page))
	if err != nil {
		return []string{err.Error()}
	}
	var out []string
	look := func(where, text string) {
		if rest := a.rest(text); len(rest) > 0 {
			out = append(out, strings.Join(rest, " ")+" | "+where+": "+strings.Join(strings.Fields(text), " "))
		}
	}
	for n := range root.Descendants() {
		switch n.Type {
		case html.TextNode:
			if !quiet[n.Parent.Data] && !drawn(n) {
				look(n.Parent.Data, n.Data)
			}
		case html.ElementNode:
			if n.Data == "svg" {
				look(n.Data, linesOf(n))
			}
			for _, at := range n.Attr {
				if shown[at.Key] || at.Key == "value" && n.Data == "input" && button(n) {
					look(n.Data+" "+at.Key, at.Val)
				}
			}
		}
	}
	return out
}

var quiet = map[string]bool{"script": true, "style": true, "template": false}

// shown are the attributes that a person reads or hears.
var shown = map[string]bool{"aria-label": true, "aria-description": true, "aria-roledescription": true, "aria-valuetext": true, "alt": true, "title": true, "placeholder": true, "label": true, "summary": true,
	"data-old": true, "data-aloud": true, "data-opening": true, "data-apart": true, "data-apart-new": true, "data-unfinished": true, "data-again": true, "data-ended": true, "data-unkept": true,
	"data-refused": true, "data-wait": true, "data-wait-how": true, "data-wait-name": true, "data-change": true, "data-unknown": true}

// drawn tells the texts of a drawing: a text there takes several lines, so they are
// read together.
func drawn(n *html.Node) bool {
	for ; n != nil; n = n.Parent {
		if n.Data == "svg" {
			return true
		}
	}
	return false
}

func linesOf(drawing *html.Node) string {
	var lines []string
	for n := range drawing.Descendants() {
		if n.Type == html.TextNode && n.Parent.Data != "title" {
			lines = append(lines, n.Data)
		}
	}
	return strings.Join(lines, " ")
}

func button(n *html.Node) bool {
	for _, at := range n.Attr {
		if at.Key == "type" && (at.Val == "submit" || at.Val == "button") {
			return true
		}
	}
	return false
}

func (a Allowed) rest(text string) []string {
	text = code.ReplaceAllString(device.ReplaceAllString(text, "›"), " ")
	for was := ""; was != text; {
		was, text = text, marked.ReplaceAllString(text, " ")
	}
	sort.SliceStable(a.Texts, func(i, j int) bool { return len(a.Texts[i]) > len(a.Texts[j]) }) // a name stands within longer texts
	for _, known := range a.Texts {
		text = strings.ReplaceAll(text, known, " ")
	}
	var out []string
	for _, w := range word.FindAllString(text, -1) {
		if _, ok := a.Words[w]; !ok && !units[w] {
			out = append(out, w)
		}
	}
	return out
}
