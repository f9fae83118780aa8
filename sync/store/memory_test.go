package store_test

import (
	"testing"
	"time"

	"strutcard/sync/store"
	"strutcard/sync/store/storetest"
)

func TestMemory(t *testing.T) {
	storetest.Run(t, func(*testing.T) store.Store { return store.NewMemory(time.Now) })
	storetest.RunDevice(t, func(*testing.T) store.Device { return store.NewMemory(time.Now) })
}
