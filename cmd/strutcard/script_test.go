package main

import (
	"crypto/sha256"
	"encoding/hex"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"syscall"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"strutcard/sync/event"
	"strutcard/sync/store/storetest"
)

func TestWords(t *testing.T) {
	testscript.Run(t, testscript.Params{Dir: "testdata", Cmds: map[string]func(*testscript.TestScript, bool, []string){
		"fill":   func(ts *testscript.TestScript, _ bool, args []string) { fill(t, ts, ts.MkAbs(args[0])) },
		"serve":  func(ts *testscript.TestScript, _ bool, args []string) { serveInScript(ts, ts.MkAbs(args[0])) },
		"redeem": func(ts *testscript.TestScript, _ bool, args []string) { redeem(ts, args) },
	}})
}

// fill makes a data folder with 30 events, one whole photo and one that is still
// arriving.
func fill(t *testing.T, ts *testscript.TestScript, dir string) {
	p, err := prepare(dir)
	ts.Check(err)
	running, err := serve(dir)
	ts.Check(err)
	ts.Check(p.send(running.url, storetest.Notes(t, storetest.NewID[event.JobID](), storetest.NewID[event.DeviceID](), 30)))
	ts.Check(running.stop(syscall.SIGTERM))
	sum := sha256.Sum256([]byte("a picture"))
	hash := hex.EncodeToString(sum[:])
	for path, text := range map[string]string{hash[:2] + "/" + hash: "a picture", "partial/demo/" + hash: "a pic"} {
		path = filepath.Join(dir, "photos", path)
		ts.Check(os.MkdirAll(filepath.Dir(path), 0o700))
		ts.Check(os.WriteFile(path, []byte(text), 0o600))
	}
}

// serveInScript runs the program until the script ends.
func serveInScript(ts *testscript.TestScript, dir string) {
	running, err := serve(dir)
	ts.Check(err)
	ts.Setenv("URL", running.url)
	ts.Defer(func() { ts.Check(running.stop(syscall.SIGTERM)) })
}

var staffLink = regexp.MustCompile(`(?m)^  (\S+)#(\S+)$`)

// redeem opens the link that a command printed, and fills in its form; with a name it
// is one for an account. It must lead into the shop.
func redeem(ts *testscript.TestScript, args []string) {
	link := staffLink.FindStringSubmatch(ts.ReadFile(args[0]))
	if link == nil {
		ts.Fatalf("no link was printed")
	}
	form := url.Values{"token": {link[2]}, "password": {"four words make one"}}
	if len(args) > 1 {
		form.Set("name", args[1])
	}
	c := http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	res, err := c.PostForm(link[1], form)
	ts.Check(err)
	ts.Check(res.Body.Close())
	if res.StatusCode != http.StatusSeeOther || res.Header.Get("Location") != "/shop" {
		ts.Fatalf("the link gives %s", res.Status)
	}
}
