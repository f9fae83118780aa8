package quantity

import (
	"fmt"
	"unicode/utf8"
)

// InputError tells a person that a value cannot be used. What says what is
// wrong, Next says what to do; both are whole sentences.
type InputError struct {
	What, Next string
}

func (e *InputError) Error() string { return e.What + " " + e.Next }

// Inputf makes an InputError: next is what to do, what says what is wrong and is
// formatted with args.
func Inputf(next, what string, args ...any) *InputError {
	return &InputError{What: fmt.Sprintf(what, args...), Next: next}
}

const longestQuote = 40

// quote shows typed text in a message, cut when it is long.
func quote(s string) string {
	if utf8.RuneCountInString(s) > longestQuote {
		s = string([]rune(s)[:longestQuote]) + "…"
	}
	return "“" + s + "”"
}
