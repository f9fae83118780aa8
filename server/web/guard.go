package web

import (
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"math"
	"net/http"
	"net/netip"
	"regexp"
	"runtime/debug"
	"strconv"
	"strings"
	"sync"
	"time"

	"github.com/labstack/echo/v4"
	"golang.org/x/time/rate"

	"strutcard/calc/lang"
	"strutcard/sync/fault"
)

// policy lets a page load from this server only, and lets the app compile its
// WebAssembly. Nothing inline, so that no text of anybody's can become code; but see
// appPolicy.
const policy = "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data: blob:; " +
	"connect-src 'self'; object-src 'none'; base-uri 'none'; frame-ancestors 'none'; form-action 'self'"

// inlineScript is the app's own guard, which the build puts into its page.
var inlineScript = regexp.MustCompile(`(?s)<script>(.*?)</script>`)

// appPolicy is the policy of the app's page: of what stands in it, the one script that
// was built into it may run, known by its hash.
func appPolicy(page []byte) string {
	guard := inlineScript.FindSubmatch(page)
	if guard == nil {
		return policy
	}
	hash := sha256.Sum256(guard[1])
	const own = "script-src 'self'"
	return strings.Replace(policy, own, own+" 'sha256-"+base64.StdEncoding.EncodeToString(hash[:])+"'", 1)
}

// guard sets the headers that protect every reply and refuses what another site
// makes a browser send.
func (s *site) guard(next echo.HandlerFunc) echo.HandlerFunc {
	crossOrigin := http.NewCrossOriginProtection()
	return func(c echo.Context) error {
		h := c.Response().Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cache-Control", "no-store") // the app's own files say otherwise
		if strings.HasPrefix(s.PublicURL, "https://") {
			h.Set("Strict-Transport-Security", "max-age=31536000") // of this name only: what else its owner serves is not ours
		}
		if err := crossOrigin.Check(c.Request()); err != nil {
			return fault.Wrap(err, fault.Denied, "This was sent from another site. Nothing was changed.", "Open this server's own page and do it there.")
		}
		return next(c)
	}
}

// recovered turns a panic into a failed request.
func recovered(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) (err error) {
		defer func() {
			if r := recover(); r != nil {
				if r == http.ErrAbortHandler {
					panic(r)
				}
				err = fmt.Errorf("panic: %v\n%s", r, debug.Stack())
			}
		}()
		return next(c)
	}
}

// record logs each request: the path only. A query may hold a name, and a
// secret never stands in a path.
func (s *site) record(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		start := s.Now()
		if err := next(c); err != nil {
			c.Error(err)
		}
		req, res := c.Request(), c.Response()
		s.Log.Info("request", "method", req.Method, "path", req.URL.Path, "status", res.Status,
			"bytes", res.Size, "ms", s.Now().Sub(start).Milliseconds(), "from", c.RealIP())
		return nil
	}
}

// limiter slows down guessing: so many tries at once from one address, then one
// in a while.
type limiter struct {
	every time.Duration
	burst int
	now   func() time.Time

	mu    sync.Mutex
	tries map[netip.Prefix]*rate.Limiter
}

// maxAddresses bounds the memory; when it is reached the idle ones are dropped.
const maxAddresses = 10_000

func newLimiter(every time.Duration, burst int, now func() time.Time) *limiter {
	return &limiter{every: every, burst: burst, now: now, tries: map[netip.Prefix]*rate.Limiter{}}
}

// take counts one try, or tells how long to wait for the next.
func (l *limiter) take(ip string) (wait time.Duration) {
	l.mu.Lock()
	defer l.mu.Unlock()
	now, key := l.now(), network(ip)
	if len(l.tries) >= maxAddresses {
		l.forget(now)
	}
	one, ok := l.tries[key]
	if !ok {
		one = rate.NewLimiter(rate.Every(l.every), l.burst)
		l.tries[key] = one
	}
	if one.AllowN(now, 1) {
		return 0
	}
	return max(time.Duration((1-one.TokensAt(now))*float64(l.every)), 1)
}

// forget drops the addresses that have all their tries back, or else all.
func (l *limiter) forget(now time.Time) {
	for key, one := range l.tries {
		if one.TokensAt(now) >= float64(l.burst) {
			delete(l.tries, key)
		}
	}
	if len(l.tries) >= maxAddresses {
		clear(l.tries)
	}
}

// network is the address itself, or the /64 that one household has of IPv6.
func network(ip string) netip.Prefix {
	addr, err := netip.ParseAddr(ip)
	if err != nil {
		return netip.Prefix{}
	}
	bits := 32
	if addr = addr.Unmap(); addr.Is6() {
		bits = 64
	}
	prefix, err := addr.WithZone("").Prefix(bits)
	if err != nil {
		return netip.Prefix{}
	}
	return prefix
}

// try lets a handler that takes a secret run only so often.
func (s *site) try(h echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		if wait := s.tries.take(c.RealIP()); wait > 0 {
			seconds := int(math.Ceil(wait.Seconds()))
			c.Response().Header().Set("Retry-After", strconv.Itoa(seconds))
			return fault.New(fault.TooMany, "Too many tries from here. Nothing was changed.",
				lang.N(seconds, "Wait %d second, then try once more.", "Wait %d seconds, then try once more.", seconds))
		}
		return h(c)
	}
}
