package web

import (
	"context"
	"runtime"
	"time"

	"golang.org/x/sync/semaphore"

	"strutcard/sync/fault"
)

// gatePatience is how long a phone waits for its turn before it is told to come back.
const gatePatience = 800 * time.Millisecond

// gate lets as many syncs work at once as there are processors. When many phones
// come back at one moment, those that would wait long are answered at once, with
// nothing stored: a phone that waits for its reply learns nothing, and gives up later.
type gate struct{ turns *semaphore.Weighted }

func newGate() gate { return gate{semaphore.NewWeighted(int64(runtime.GOMAXPROCS(0)))} }

// enter waits for a turn. Whoever got one calls leave.
func (g gate) enter(ctx context.Context) (leave func(), err error) {
	waiting, cancel := context.WithTimeout(ctx, gatePatience)
	defer cancel()
	if err := g.turns.Acquire(waiting, 1); err != nil {
		return nil, fault.Wrap(err, fault.Busy, "Many phones are sending just now. Nothing is lost: it is still on this phone.", "The app tries again by itself.")
	}
	return func() { g.turns.Release(1) }, nil
}
