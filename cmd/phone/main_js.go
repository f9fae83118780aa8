// Command phone is the phone's app as WebAssembly: it wires the client to the
// browser and exports one global.
package main

import (
	"time"

	"strutcard/pwa/browser"
	"strutcard/pwa/client"
)

func main() {
	browser.Run(client.New(client.Config{
		Platform: browser.Host{},
		Log:      browser.Log{},
		Photos:   browser.Photos{},
		Inspect:  browser.Inspect,
		Now:      time.Now,
	}))
}
