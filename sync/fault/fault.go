// Package fault is the one error type that phone and server share: what
// happened, what is safe, and what to do next.
package fault

import (
	"errors"
	"strings"

	"strutcard/calc/lang"
)

// Kind names a class of failure. Kinds cross the wire, so the list is append-only.
type Kind string

const (
	Invalid     Kind = "invalid"     // the input breaks a rule; nothing was stored
	TooLarge    Kind = "too_large"   // over a stated limit; nothing was stored
	NotFound    Kind = "not_found"   // no such thing, or not yours to see
	SignIn      Kind = "sign_in"     // no valid sign-in; local data is untouched
	Denied      Kind = "denied"      // signed in, but not allowed
	Conflict    Kind = "conflict"    // the same identity with another content
	Blocked     Kind = "blocked"     // the job's own rules say not now
	Busy        Kind = "busy"        // try again later
	TooMany     Kind = "too_many"    // too many tries from one place; wait
	Full        Kind = "full"        // no room on disk; try again after making room
	Outdated    Kind = "outdated"    // this app is too old for the server
	Unreachable Kind = "unreachable" // no answer that is ours
	Storage     Kind = "storage"     // the phone's storage failed
	Internal    Kind = "internal"    // our own fault
)

// Error is a failure with words fit to show. Message says what happened and
// what is safe; Hint says what to do next. Neither carries secrets or paths.
type Error struct {
	Kind    Kind   `json:"kind"`
	Message string `json:"message"`
	Hint    string `json:"hint,omitempty"`

	cause error
}

// New returns an error without a cause, in the reader's language.
func New(kind Kind, message, hint string) *Error {
	return Wrap(nil, kind, message, hint)
}

// Wrap returns an error that keeps cause for logs and errors.Is, not for show.
func Wrap(cause error, kind Kind, message, hint string) *Error {
	return &Error{Kind: kind, Message: lang.T(message), Hint: lang.T(hint), cause: cause}
}

// Error joins message, hint and cause on one line.
func (e *Error) Error() string {
	parts := []string{e.Message}
	if e.Hint != "" {
		parts = append(parts, e.Hint)
	}
	if e.cause != nil {
		parts = append(parts, "("+e.cause.Error()+")")
	}
	return strings.Join(parts, " ")
}

// Unwrap returns the cause.
func (e *Error) Unwrap() error { return e.cause }

// T and Say say a text, as those of calc/lang do, for packages that may not know it.
func T(text string, args ...any) string { return lang.F(text, args...) }

// Say says a text that is data.
func Say(text string) string { return lang.T(text) }

// Is reports whether err is, or wraps, a fault of the given kind.
func Is(err error, kind Kind) bool {
	var f *Error
	return errors.As(err, &f) && f.Kind == kind
}

// Of returns the fault inside err, or an Internal one that hides err's text.
func Of(err error) *Error {
	if err == nil {
		return nil
	}
	var f *Error
	if errors.As(err, &f) {
		return f
	}
	return Wrap(err, Internal, "Something went wrong inside the program. What was saved before is still saved.",
		"Try once more. If it happens again, note the step and tell the shop.")
}
