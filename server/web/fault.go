package web

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"mime"
	"net"
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"

	"strutcard/calc/lang"
	"strutcard/sync/fault"
	"strutcard/templates"
)

// statuses is the one table from what happened to an HTTP status.
var statuses = map[fault.Kind]int{
	fault.Invalid:     http.StatusBadRequest,
	fault.TooLarge:    http.StatusRequestEntityTooLarge,
	fault.NotFound:    http.StatusNotFound,
	fault.SignIn:      http.StatusUnauthorized,
	fault.Denied:      http.StatusForbidden,
	fault.Conflict:    http.StatusConflict,
	fault.Blocked:     http.StatusConflict,
	fault.Busy:        http.StatusServiceUnavailable,
	fault.TooMany:     http.StatusTooManyRequests,
	fault.Full:        http.StatusInsufficientStorage,
	fault.Outdated:    http.StatusUpgradeRequired,
	fault.Unreachable: http.StatusBadGateway,
	fault.Storage:     http.StatusInternalServerError,
	fault.Internal:    http.StatusInternalServerError,
}

const retryAfter = "30" // seconds, for all that is busy

func statusOf(kind fault.Kind) int {
	if status, ok := statuses[kind]; ok {
		return status
	}
	return http.StatusInternalServerError
}

// handleError answers with a fault: JSON for the phone's calls, a page for people.
func (s *site) handleError(err error, c echo.Context) {
	f := toFault(err)
	status := statusOf(f.Kind)
	if status >= http.StatusInternalServerError {
		s.Log.Error("request failed", "path", c.Request().URL.Path, "kind", f.Kind, "err", err)
	}
	if c.Response().Committed {
		return
	}
	if f.Kind == fault.Busy {
		c.Response().Header().Set("Retry-After", retryAfter)
	}
	if isCall(c) {
		err = c.JSON(status, f)
	} else {
		v := faultView(f)
		v.Look = strings.HasPrefix(c.Request().URL.Path, "/look/job/")
		err = page(c, status, templates.FaultPage(v))
	}
	if err != nil {
		s.Log.Warn("reply not sent", "path", c.Request().URL.Path, "err", err)
	}
}

func isCall(c echo.Context) bool { return strings.HasPrefix(c.Request().URL.Path, "/api/") }

func faultView(f *fault.Error) templates.Fault {
	v := templates.Fault{Desk: templates.Desk{Title: lang.T("Not done")}, Message: f.Message, Hint: f.Hint}
	if f.Kind == fault.SignIn {
		v.Link, v.Words = "/sign-in", lang.T("Sign in")
	}
	return v
}

// toFault gives every failure words, also those of the libraries below.
func toFault(err error) *fault.Error {
	var tooLarge *http.MaxBytesError
	var routed *echo.HTTPError
	var known *fault.Error
	switch {
	case errors.As(err, &known):
		return known
	case errors.As(err, &tooLarge):
		return fault.Wrap(err, fault.TooLarge, "What was sent is too large. Nothing was stored.", "What is on the phone stays there. Update the app and try again.")
	case errors.As(err, &routed) && routed.Code < http.StatusInternalServerError:
		return fault.Wrap(err, fault.NotFound, "There is nothing at this address.", "Check the link, or start again from the first page.")
	case errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded), errors.Is(err, io.ErrUnexpectedEOF), errors.Is(err, net.ErrClosed):
		return fault.Wrap(err, fault.Busy, "The request was cut off. Nothing was stored.", "Try again; nothing is lost.")
	}
	return fault.Of(err)
}

// readJSON reads a call's body. Unknown fields are left alone: a newer app may
// send more.
func readJSON(c echo.Context, into any) error {
	kind, _, err := mime.ParseMediaType(c.Request().Header.Get(echo.HeaderContentType))
	if err != nil || kind != echo.MIMEApplicationJSON {
		return fault.Wrap(err, fault.Invalid, "The request is not JSON. Nothing was stored.", "Update the app and try again.")
	}
	body, err := io.ReadAll(c.Request().Body)
	if err != nil {
		return err
	}
	if err := json.Unmarshal(body, into); err != nil {
		return fault.Wrap(err, fault.Invalid, "The request cannot be read. Nothing was stored.", "What is on the phone stays there. Update the app and try again.")
	}
	return nil
}

// readForm reads a page's form, from the body only.
func readForm(c echo.Context) (func(string) string, error) {
	if err := c.Request().ParseForm(); err != nil {
		var tooLarge *http.MaxBytesError
		if errors.As(err, &tooLarge) {
			return nil, err
		}
		return nil, fault.Wrap(err, fault.Invalid, "The form cannot be read. Nothing was changed.", "Go back and send it again.")
	}
	return func(name string) string { return strings.TrimSpace(c.Request().PostForm.Get(name)) }, nil
}
