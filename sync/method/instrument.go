package method

import (
	"fmt"
	"strings"

	"strutcard/calc/lang"
	"strutcard/sync/event"
)

const digits = "0123456789"

// kept writes what a reading was taken with as the record has it: in English,
// with decimal points, whatever is spoken.
func kept(words, figure string) string {
	return fmt.Sprintf(words, strings.Replace(figure, ",", ".", 1))
}

// Instrument says what a reading of the record was taken with.
func Instrument(kept string) string {
	format, rest := "", kept
	var figures []any
	for start := strings.IndexAny(rest, digits); start >= 0; start = strings.IndexAny(rest, digits) {
		f := leadingFigure(rest[start:])
		format += rest[:start] + "%s"
		rest, figures = rest[start+len(f):], append(figures, lang.Number(f))
	}
	format += rest
	if said := lang.T(format); said != format {
		return fmt.Sprintf(said, figures...)
	}
	return kept
}

// Questioned names, among the answers of a reading, what the person was asked about it.
const Questioned = "questioned"

// Typed tells the answers of a reading in the words of the form that they were
// typed into: of the method with that title.
func Typed(title string, inputs []event.Input) []string {
	var fields []Field
	for _, m := range all() {
		if m.Title == title {
			fields = m.Fields
		}
	}
	var out []string
	for _, in := range inputs {
		label, text := strings.ReplaceAll(in.Name, "_", " "), Field{}.answer(in.Text)
		for _, f := range fields {
			if f.Name == in.Name {
				label, text = lang.T(f.Label), f.answer(in.Text)
			}
		}
		if in.Name == Questioned {
			label, text = lang.T("asked about"), in.Text
		}
		if in.Unit != "" {
			text += " " + in.Unit
		}
		out = append(out, label+": "+text)
	}
	return out
}

const longestAnswer = 60 // characters; a recording of a sensor is longer

func (f Field) answer(typed string) string {
	for _, o := range f.Options {
		if o.Value == typed {
			return lang.T(o.Label)
		}
	}
	if len(typed) > longestAnswer {
		return lang.F("a recording, %d characters", len(typed))
	}
	return typed
}

// leadingFigure is the number that a text begins with, and its unit.
func leadingFigure(text string) string {
	rest := strings.TrimLeft(text, digits+".°′")
	for _, unit := range []string{" mm", " in", " kg", " lb", " bar", " kPa", " psi"} {
		if after, ok := strings.CutPrefix(rest, unit); ok && (after == "" || after[0] == ',') {
			rest = after
		}
	}
	return text[:len(text)-len(rest)]
}
