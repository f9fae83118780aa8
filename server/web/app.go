package web

import (
	"bytes"
	_ "embed"
	"net/http"
	"strconv"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"strutcard/pwa"
	"strutcard/sync/fault"
)

// fragmentScript is the one script of all of the shop's pages. It is not part of
// the phone's app, which may not be built.
//
//go:embed static/fragment.js
var fragmentScript []byte

const (
	scriptType  = "text/javascript; charset=utf-8"
	askEachTime = "no-cache"
	keepNone    = "no-store"
)

func (s *site) registerAppRoutes(r routes) {
	r.get("/static/fragment.js", fixed(fragmentScript, scriptType, askEachTime))
	r.get("/*", s.handleApp)
}

// handleApp serves a file of the phone's app by its exact path: the list of files
// is fixed, so no path leads anywhere else.
func (s *site) handleApp(c echo.Context) error {
	path := c.Request().URL.Path
	a, ok := s.Assets(path)
	if !ok && isShell(path) {
		return fault.New(fault.NotFound, "The phone's app is not part of this server yet.", "Whoever built it must run: go run ./cmd/dev build")
	}
	if !ok {
		return fault.New(fault.NotFound, "There is nothing at this address.", "Check the link, or start again from the first page.")
	}
	h := c.Response().Header()
	h.Set("Cache-Control", askEachTime) // the hash answers with 304
	h.Set(echo.HeaderContentType, a.Type)
	h.Set("Vary", "Accept-Encoding")
	if isShell(path) {
		h.Set("Content-Security-Policy", appPolicy(a.Body))
	}
	body, tag := a.Body, a.Hash
	if len(a.Brotli) > 0 && accepts(c.Request(), "br") {
		body, tag = a.Brotli, a.Hash+"-br"
		h.Set(echo.HeaderContentEncoding, "br")
	}
	h.Set(echo.HeaderContentLength, strconv.Itoa(len(body))) // also when compressed: the phone shows real progress
	h.Set("ETag", `"`+tag+`"`)
	if a.Path == pwa.Worker { // one that was spoilt on its way would be confirmed by its tag, and no new version be found
		h.Set("Cache-Control", keepNone)
		h.Del("ETag")
	}
	req := c.Request().Clone(c.Request().Context())
	req.Header.Del("Range") // a part of a compressed file helps nobody
	http.ServeContent(c.Response(), req, "", time.Time{}, bytes.NewReader(body))
	return nil
}

func isShell(path string) bool {
	for _, p := range pwa.Shell() {
		if p == path {
			return true
		}
	}
	return false
}

func accepts(r *http.Request, coding string) bool {
	for _, part := range strings.Split(r.Header.Get(echo.HeaderAcceptEncoding), ",") {
		name, weight, _ := strings.Cut(strings.TrimSpace(part), ";")
		if strings.TrimSpace(name) == coding {
			return strings.ReplaceAll(weight, " ", "") != "q=0"
		}
	}
	return false
}
