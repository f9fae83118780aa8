// Package web answers HTTP: the phone's app and its calls, the shop's pages and
// the page behind a mentor's link.
package web

import (
	"log/slog"
	"net/http"
	"net/url"
	"strings"
	"sync"
	"time"

	"github.com/a-h/templ"
	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"strutcard/calc/lang"
	"strutcard/server/auth"
	"strutcard/sync/exchange"
	"strutcard/sync/sheet"
)

// Limits of a request's body, in bytes, and of the tries from one address.
const (
	maxSync  = exchange.MaxBytes + 64<<10 // the events and the envelope around them
	maxSheet = sheet.MaxBytes
	maxForm  = 16 << 10

	tryEvery   = 3 * time.Second
	usualBurst = 20
)

// Config is what the handlers need.
type Config struct {
	Store     Storage
	Pictures  Pictures
	Tokens    *auth.Tokens
	Notary    auth.Notary
	Passwords *auth.Passwords
	Assets    Lookup
	Now       func() time.Time
	Log       *slog.Logger
	PublicURL string // how people reach this server, such as https://shop.example; "" takes it from the request
	Secure    bool   // cookies travel over TLS only
	Burst     int    // tries to sign in, set up, join or open a link at once from one address; 0: 20
}

type site struct {
	Config
	speaking sync.Mutex // held while an event follows the one before
	deciding sync.Mutex // held from looking whether something may be decided or released to writing it
	tries    *limiter
	gate     gate
	ready    readiness
	field    fieldCounter
}

// New returns the handler of the whole site.
func New(cfg Config) http.Handler {
	if cfg.Burst == 0 {
		cfg.Burst = usualBurst
	}
	s := &site{Config: cfg, tries: newLimiter(tryEvery, cfg.Burst, cfg.Now), gate: newGate()}
	e := echo.New()
	e.HideBanner, e.HidePort = true, true
	e.Logger.SetOutput(discard{})
	e.IPExtractor = echo.ExtractIPDirect() // a header that anyone can send is no address
	e.HTTPErrorHandler = s.handleError
	e.Use(s.record, s.guard, recovered)
	r := routes{e}
	s.registerHealthRoutes(r)
	s.registerSyncRoutes(r)
	s.registerDeviceRoutes(r)
	s.registerSheetRoutes(r)
	s.registerPhotoRoutes(r)
	registerSchemaRoutes(r)
	s.registerAccountRoutes(r)
	s.registerQueueRoutes(r)
	s.registerAuthorRoutes(r)
	s.registerFieldRoutes(r)
	s.registerJobRoutes(r)
	s.registerCardRoutes(r)
	s.registerReviewRoutes(r)
	s.registerInvitationRoutes(r)
	s.registerStaffRoutes(r)
	s.registerMeRoutes(r)
	s.registerAuditRoutes(r)
	s.registerDataRoutes(r)
	s.registerShareRoutes(r)
	s.registerPhoneShareRoutes(r)
	s.registerAppRoutes(r)
	return e
}

// discard drops what echo itself would log: requests are logged in one place.
type discard struct{}

func (discard) Write(p []byte) (int, error) { return len(p), nil }

// routes registers handlers with the limit of their body.
type routes struct{ e *echo.Echo }

// get also answers HEAD. Such a handler changes nothing.
func (r routes) get(path string, h echo.HandlerFunc) {
	r.e.GET(path, h)
	r.e.HEAD(path, h)
}

func (r routes) post(path string, limit int64, h echo.HandlerFunc) { r.e.POST(path, limited(limit, h)) }

func (r routes) put(path string, limit int64, h echo.HandlerFunc) { r.e.PUT(path, limited(limit, h)) }

func limited(limit int64, h echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		req := c.Request()
		req.Body = http.MaxBytesReader(c.Response().Writer, req.Body, limit)
		return h(c)
	}
}

// page writes an HTML page.
func page(c echo.Context, status int, body templ.Component) error {
	c.Response().Header().Set(echo.HeaderContentType, echo.MIMETextHTMLCharsetUTF8)
	c.Response().WriteHeader(status)
	return body.Render(c.Request().Context(), c.Response())
}

// base is how people reach this server: scheme and host, no slash at the end.
func (s *site) base(c echo.Context) string {
	if s.PublicURL != "" {
		return strings.TrimSuffix(s.PublicURL, "/")
	}
	u := url.URL{Scheme: "http", Host: c.Request().Host}
	if c.Request().TLS != nil {
		u.Scheme = "https"
	}
	return u.String()
}

// when writes an instant for people; none is a dash.
func when(t time.Time) string {
	if t.IsZero() {
		return "–"
	}
	return t.Local().Format(lang.T("2 Jan 2006, 15:04"))
}

func newID() string { return uuid.Must(uuid.NewV7()).String() }
