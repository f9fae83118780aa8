package web

import (
	"context"
	"net/http"
	"sync"
	"time"

	"github.com/labstack/echo/v4"
)

const readyFor = 5 * time.Second

// readiness remembers the last trial write, so that asking often writes seldom.
type readiness struct {
	mu  sync.Mutex
	at  time.Time
	err error
}

func (s *site) registerHealthRoutes(r routes) {
	r.get("/health", handleHealth)
	r.get("/ready", s.handleReady)
}

// handleHealth says that the process is up.
func handleHealth(c echo.Context) error { return c.String(http.StatusOK, "ok\n") }

// handleReady says whether an event could be stored now.
func (s *site) handleReady(c echo.Context) error {
	s.ready.mu.Lock()
	defer s.ready.mu.Unlock()
	if now := s.Now(); s.ready.at.IsZero() || now.Sub(s.ready.at) >= readyFor {
		ctx, cancel := context.WithTimeout(c.Request().Context(), 2*time.Second)
		defer cancel()
		s.ready.at, s.ready.err = now, s.Store.Ready(ctx)
	}
	if s.ready.err != nil {
		return s.ready.err
	}
	return c.String(http.StatusOK, "ready\n")
}
