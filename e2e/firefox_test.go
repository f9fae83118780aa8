package e2e

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

var firefox = engine{name: "Firefox", programs: []string{"firefox-esr"}, start: startFirefox}

// firefoxPrefs: a free port for Marionette, which sets everything else that a
// test wants.
const firefoxPrefs = `user_pref("marionette.port", 0);
`

// startFirefox speaks to Firefox without a driver in between.
func startFirefox(b *browser) (*exec.Cmd, driver, error) {
	port := filepath.Join(b.dir, "MarionetteActivePort")
	if err := os.Remove(port); err != nil && !os.IsNotExist(err) {
		return nil, nil, err
	}
	if err := os.WriteFile(filepath.Join(b.dir, "user.js"), []byte(firefoxPrefs), 0o600); err != nil {
		return nil, nil, err
	}
	cmd, err := b.command(nil, "firefox-esr", "--marionette", "--headless", "--no-remote", "-profile", b.dir)
	if err != nil {
		return nil, nil, err
	}
	for end := time.Now().Add(commandPatience); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if text, err := os.ReadFile(port); err == nil && len(text) > 0 {
			driver, err := dialMarionette("127.0.0.1:" + strings.TrimSpace(string(text)))
			return cmd, driver, err
		}
	}
	return cmd, nil, errors.New("it opened no port")
}
