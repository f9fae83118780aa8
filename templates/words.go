package templates

import (
	"fmt"
	"strings"
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
	return fmt.Sprintf(", all %d", n)
}

func since(finished string) string {
	if finished == "" {
		return ", not finished"
	}
	return ", finished " + finished
}

// capital raises the first letter, for the start of a line.
func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

var (
	damperStops = []Choice{{"full_hard", "full hard"}, {"full_soft", "full soft"}}
	stopCounts  = []Choice{{"0", "0: the first click after it is 1"}, {"1", "1: the stop is the first"}}
)
