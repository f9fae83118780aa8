// Package client is the phone's app in plain Go: which screen to show, and what
// each press records. It reaches the browser through two ports and is tested
// on the host.
package client

import (
	"context"
	"time"

	"strutcard/sync/store"
)

// Platform is what the browser does for the client.
type Platform interface {
	// Paint replaces the named regions of the page.
	Paint(regions map[string]string)
	// HTTP carries one request to the server that served the app.
	HTTP(ctx context.Context, method, path string, body []byte, token string) (status int, contentType string, reply []byte, err error)
	// Env tells how the browser is just now.
	Env() Env
	// Persist asks the browser to keep the record when space runs short.
	Persist()
	// Theme switches "paper", "board", "sun"; "" follows the phone.
	Theme(name string)
	// ApplyUpdate starts the version that waits.
	ApplyUpdate()
	// Download hands a file to the person.
	Download(name, mediaType, text string)
	// Wake keeps the screen on, or lets it go.
	Wake(on bool)
}

// Env is the state of the browser.
type Env struct {
	Online       bool // says the browser; it may lie
	Standalone   bool // installed
	Persisted    bool // storage is kept when space runs short
	OfflineReady bool // every file of the app was checked on this phone
	UpdateReady  bool // a new version waits
	MemoryOnly   bool // this browser refuses to store: nothing outlives the page
	Leader       bool // this tab may write
}

// Config is what a client needs.
type Config struct {
	Platform Platform
	Log      store.Device
	Now      func() time.Time
}
