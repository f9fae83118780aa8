package web

import (
	"context"
	"net/http/httptest"
	"runtime"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"github.com/labstack/echo/v4"

	"strutcard/server/auth"
	"strutcard/server/shop"
	"strutcard/sync/event"
	"strutcard/sync/fault"
)

// TestGate: as many as there are processors work at once; who would wait long is told
// to come back, and who waits a moment gets the turn that is given back.
func TestGate(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		g := newGate()
		leave := make([]func(), runtime.GOMAXPROCS(0))
		for i := range leave {
			var err error
			if leave[i], err = g.enter(t.Context()); err != nil {
				t.Fatalf("turn %d of %d: %v", i, len(leave), err)
			}
		}
		began := time.Now()
		if _, err := g.enter(t.Context()); !fault.Is(err, fault.Busy) {
			t.Errorf("with every turn taken: %v, want busy", err)
		}
		if waited := time.Since(began); waited != gatePatience {
			t.Errorf("it waited %v, want %v", waited, gatePatience)
		}
		time.AfterFunc(gatePatience/2, leave[0])
		last, err := g.enter(t.Context())
		if err != nil {
			t.Fatalf("with a turn given back in time: %v", err)
		}
		last()
	})
}

// fullHouse is a store that knows one phone, and is never asked for its record.
type fullHouse struct{ Storage }

func (fullHouse) PhoneByToken(context.Context, string) (shop.Phone, bool, error) {
	return shop.Phone{Device: "d"}, true, nil
}

// TestGateOfSync: a phone that finds every turn taken is told so, before anything of
// its record is touched.
func TestGateOfSync(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		tokens, err := auth.NewTokens(auth.NewKey(), time.Now)
		if err != nil {
			t.Fatal(err)
		}
		token, err := tokens.Issue(auth.Claim{Device: event.DeviceID("d"), TokenID: "t", Issued: time.Now()})
		if err != nil {
			t.Fatal(err)
		}
		s := &site{Config: Config{Store: fullHouse{}, Tokens: tokens, Now: time.Now}, gate: newGate()}
		if err := s.gate.turns.Acquire(t.Context(), int64(runtime.GOMAXPROCS(0))); err != nil {
			t.Fatal(err)
		}
		r := httptest.NewRequestWithContext(t.Context(), "POST", "/api/v1/sync", strings.NewReader("{}"))
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("Authorization", "Bearer "+token)
		if err := s.handleSync(echo.New().NewContext(r, httptest.NewRecorder())); !fault.Is(err, fault.Busy) {
			t.Errorf("a sync with every turn taken: %v, want busy", err)
		}
	})
}
