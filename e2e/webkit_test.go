package e2e

import (
	"bufio"
	"fmt"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

const miniBrowser = "/usr/lib/x86_64-linux-gnu/webkit2gtk-4.1/MiniBrowser"

var webKit = engine{name: "WebKit", programs: []string{"WebKitWebDriver", miniBrowser, "Xvfb", "cc"}, start: startWebKit}

const webKitCapabilities = `{"alwaysMatch": {"webkitgtk:browserOptions": {"binary": %q,
	"args": ["--automation", "--enable-write-console-messages-to-stdout=true"]}}}`

// startWebKit starts Debian's driver, which starts WebKit's small browser. That
// keeps nothing on disk when it is driven, so it is given a folder: testdata/keep.c.
func startWebKit(b *browser) (*exec.Cmd, driver, error) {
	if err := b.needScreen(); err != nil {
		return nil, nil, fmt.Errorf("start a screen: %w", err)
	}
	keep := filepath.Join(b.dir, "keep.so")
	if out, err := exec.Command("cc", "-shared", "-fPIC", "-o", keep, "testdata/keep.c").CombinedOutput(); err != nil {
		return nil, nil, fmt.Errorf("build keep.c: %w: %s", err, out)
	}
	port, err := freePort()
	if err != nil {
		return nil, nil, err
	}
	env := []string{"DISPLAY=" + b.screen, "LD_PRELOAD=" + keep, "KEEP_IN=" + b.dir, "LIBGL_ALWAYS_SOFTWARE=1"}
	cmd, err := b.command(env, "WebKitWebDriver", "--port="+port)
	if err != nil {
		return nil, nil, err
	}
	url := "http://127.0.0.1:" + port
	if err := answers(url + "/status"); err != nil {
		return cmd, nil, err
	}
	driver, err := dialWebDriver(url, fmt.Sprintf(webKitCapabilities, miniBrowser))
	return cmd, driver, err
}

// needScreen starts an X server once for all lives of the browser. The server
// takes a number that is free and says which.
func (b *browser) needScreen() error {
	if b.screen != "" {
		return nil
	}
	read, write, err := os.Pipe()
	if err != nil {
		return err
	}
	defer func() { _ = read.Close() }()
	cmd := exec.Command("Xvfb", "-displayfd", "3", "-screen", "0", "800x1000x24", "-nolisten", "tcp")
	cmd.ExtraFiles = []*os.File{write}
	err = begin(cmd)
	_ = write.Close() // so that reading ends when the server does
	if err != nil {
		return err
	}
	b.t.Cleanup(func() {
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
	})
	number, err := bufio.NewReader(read).ReadString('\n')
	b.screen = ":" + strings.TrimSpace(number)
	return err
}

func freePort() (string, error) {
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return "", err
	}
	_, port, err := net.SplitHostPort(listener.Addr().String())
	if err != nil {
		return "", err
	}
	return port, listener.Close()
}

// answers waits until something answers at an address.
func answers(url string) error {
	var err error
	for end := time.Now().Add(commandPatience); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		var resp *http.Response
		if resp, err = http.Get(url); err == nil {
			return resp.Body.Close()
		}
	}
	return err
}
