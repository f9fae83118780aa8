// Command phone is the phone's app as WebAssembly: it wires the client to the
// browser and exports one global.
package main

import (
	"runtime/debug"
	"time"

	"strutcard/pwa/browser"
	"strutcard/pwa/client"
)

// The page stands still while memory is cleared, and that is what a press waited for
// longest. So it is cleared seldom, and as before once there is much of it.
const (
	garbagePercent = 400
	memoryLimit    = 96 << 20 // bytes
)

func main() {
	debug.SetGCPercent(garbagePercent)
	debug.SetMemoryLimit(memoryLimit)
	browser.Run(client.New(client.Config{
		Platform: browser.Host{},
		Log:      browser.Log{},
		Photos:   browser.Photos{},
		Inspect:  browser.Inspect,
		Now:      time.Now,
	}))
}
