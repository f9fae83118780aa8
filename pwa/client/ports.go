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
	// Remember keeps a small text beside the record, in a place of its own; Recall
	// returns it, or "". A browser that refuses it loses a convenience.
	Remember(key, value string)
	Recall(key string) string
	// Persist asks the browser to keep the record when space runs short.
	Persist()
	// Words brings the words of a language, of which English has none: "" is the one
	// that was chosen before, or the phone's own. It returns the language's tag.
	Words(ctx context.Context, tag string) (spoken, words string, err error)
	// Theme switches "paper", "board", "sun"; "" follows the phone.
	Theme(name string)
	// ApplyUpdate starts the version that waits.
	ApplyUpdate()
	// Download hands a file to the person.
	Download(name, mediaType, text string)
	// Print opens the browser's print dialogue for what is shown.
	Print()
	// Wake keeps the screen on, or lets it go.
	Wake(on bool)
	// Install asks the browser to put the app on the home screen.
	Install()
	// Alarm sounds and vibrates once, where the phone can and is allowed to.
	Alarm()
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

	Install string // how it can be put on the home screen: "prompt", "share", or "" for not now
}

// Photos keeps pictures beside the log, by their hash. Their bytes never come to Go.
type Photos interface {
	// Size is the length in bytes of a picture on this phone; 0 when it is not there.
	Size(ctx context.Context, sha256 string) (int64, error)
	// Send carries to the server what it lacks, and brings those of the wanted
	// pictures that are not here. The epoch names the server. It ends when nothing
	// more can be done now, which may take hours, and at once when it is at work.
	Send(ctx context.Context, token, epoch string, wanted []string) error
	// Progress is how far this phone's own pictures have come.
	Progress() PhotoProgress
}

// PhotoProgress counts pictures and bytes; the zero value is: none.
type PhotoProgress struct {
	Done, Of           int
	BytesDone, BytesOf int64
	Trouble            string // why one does not come, or none does; in words
}

// Found is the answer of a check that may also fail; "" is: not found out.
type Found string

const (
	Yes Found = "yes"
	No  Found = "no"
)

// Inspection is what was found when the phone was looked at afresh.
type Inspection struct {
	Files     Found // every file of the app was compared with its hash
	How       Found // the page of formulas is among them
	Persisted Found // storage is kept when space runs short
	Photos    Found // a picture could be written
	Free      int64 // bytes that may still be stored; -1 when that is not told
}

// Config is what a client needs.
type Config struct {
	Platform Platform
	Log      store.Device
	Photos   Photos                                        // nil: this page keeps no pictures
	Inspect  func(ctx context.Context) (Inspection, error) // looks at the phone afresh; nil: nobody can
	Now      func() time.Time
}
