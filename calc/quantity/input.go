package quantity

import (
	"unicode/utf8"

	"strutcard/calc/lang"
)

// InputError tells a person that a value cannot be used. What says what is
// wrong, Next says what to do; both are whole sentences.
type InputError struct {
	What, Next string
}

func (e *InputError) Error() string { return e.What + " " + e.Next }

// Inputf makes an InputError: next is what to do, what says what is wrong and is
// formatted with args. Both are said in the reader's language.
func Inputf(next, what string, args ...any) *InputError {
	return &InputError{What: lang.F(what, args...), Next: lang.T(next)}
}

const longestQuote = 40

// quote shows typed text in a message, cut when it is long.
func quote(s string) string {
	if utf8.RuneCountInString(s) > longestQuote {
		s = string([]rune(s)[:longestQuote]) + "…"
	}
	return lang.F("“%s”", s)
}
