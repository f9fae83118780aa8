package templates

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"strutcard/calc/lang"
	"strutcard/sync/event"
)

func join(words []string) string { return strings.Join(words, ", ") }

// pick takes the half-typed value, if there is one.
func pick(draft, value string) string {
	if draft != "" {
		return draft
	}
	return value
}

func count(n int64) string {
	if n < 2 {
		return ""
	}
	return ", " + lang.F("all %d", n)
}

func since(opened, finished string) string {
	if finished == "" {
		return lang.F("Opened %s, not finished", opened)
	}
	return lang.F("Opened %s, finished %s", opened, finished)
}

func axleWords(a event.Axle) string {
	if a == event.Front {
		return lang.C("front", "axle of a lift")
	}
	return lang.C("rear", "axle of a lift")
}

func turnWords(side string) string {
	if side == "nut" {
		return lang.T("Turn the nut. If its bolt turns with it, hold the bolt still.")
	}
	return lang.T("Turn the bolt. If its nut turns with it, hold the nut still.")
}

// capital raises the first letter, for the start of a line.
func capital(s string) string {
	if s == "" {
		return s
	}
	first, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[size:]
}

// said is a table of choices in the reader's language.
func said(table []Choice) []Choice {
	out := slices.Clone(table)
	for i := range out {
		out[i].Label = lang.T(out[i].Label)
	}
	return out
}

var (
	damperStops = []Choice{{"full_hard", "full hard"}, {"full_soft", "full soft"}}
	stopCounts  = []Choice{{"0", "0: the first click after it is 1"}, {"1", "1: the stop is the first"}}
)
