package server_test

import (
	"bufio"
	"bytes"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"strutcard/sync/event"
	v1 "strutcard/sync/event/testdata/v1"
	"strutcard/sync/exchange"
	"strutcard/sync/fault"
	"strutcard/sync/store"
)

// TestRequestsOfEveryVersion replays what the phone of each released version
// sends, as it was recorded then: it is accepted for ever, once and again.
func TestRequestsOfEveryVersion(t *testing.T) {
	versions, err := filepath.Glob("testdata/v*")
	if err != nil || len(versions) < exchange.Version {
		t.Fatalf("requests of %d versions are on file, want %d: %v", len(versions), exchange.Version, err)
	}
	for _, folder := range versions {
		t.Run(filepath.Base(folder), func(t *testing.T) {
			files, err := filepath.Glob(folder + "/*.http")
			if err != nil || len(files) < 7 {
				t.Fatalf("%d requests are on file: %v", len(files), err)
			}
			y := open(t, nil)
			token := ""
			for i, file := range append(files, files[1:]...) {
				a := y.replay(file, token)
				if a.status < 200 || a.status > 299 {
					t.Fatalf("%s: %d %s", file, a.status, a.body)
				}
				if strings.Contains(file, "join") {
					reply, err := decode[struct{ Token string }]([]byte(a.body))
					if err != nil || reply.Token == "" {
						t.Fatalf("%s: %v, %s", file, err, a.body)
					}
					token = reply.Token
				}
				if strings.Contains(file, "sync") {
					accepted(t, file, a.body, map[bool]store.Outcome{false: store.Stored, true: store.Duplicate}[i >= len(files)])
				}
			}
		})
	}
}

// replay sends a recorded request with the token and the invitation of today.
func (y *yard) replay(file, token string) answer {
	y.t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		y.t.Fatal(err)
	}
	req, err := http.ReadRequest(bufio.NewReader(bytes.NewReader(text)))
	if err != nil {
		y.t.Fatalf("%s: %v", file, err)
	}
	body, err := io.ReadAll(req.Body)
	if err != nil {
		y.t.Fatalf("%s: %v", file, err)
	}
	body = bytes.Replace(body, []byte("INVITATION"), []byte(fragment(y.srv.InvitationURL())), 1)
	if req.Header.Get("Authorization") != "" {
		req.Header.Set("Authorization", "Bearer "+token)
	}
	return y.do(browser(y.t), req.Method, req.URL.Path, req.Header, bytes.NewReader(body))
}

func accepted(t *testing.T, what, body string, want store.Outcome) {
	t.Helper()
	reply, err := decode[exchange.Reply]([]byte(body))
	if err != nil || len(reply.Verdicts) == 0 {
		t.Fatalf("%s: %v, %s", what, err, body)
	}
	for _, v := range reply.Verdicts {
		if v.Outcome != want {
			t.Errorf("%s: an event was %s, want %s: %v", what, v.Outcome, want, v.Reason)
		}
	}
}

// TestFrozenLogsAreTaken: every event that was ever written down is stored as it is.
// Only what a shop's server alone may write is not taken from a phone: these logs are
// another shop's.
func TestFrozenLogsAreTaken(t *testing.T) {
	for name, lines := range v1.Logs() {
		t.Run(name, func(t *testing.T) {
			p := open(t, nil).joined()
			for i, v := range p.sync(lines...).Verdicts {
				e, err := event.Decode([]byte(lines[i]))
				if err != nil {
					t.Fatal(err)
				}
				if _, proven := e.Payload().(event.Proven); proven {
					if v.Outcome != store.Refused || v.Reason == nil || v.Reason.Kind != fault.Denied || !strings.Contains(v.Reason.Message, "another shop") {
						t.Errorf("%s: %s %v, want it refused as a decision of another shop", lines[i], v.Outcome, v.Reason)
					}
				} else if v.Outcome != store.Stored {
					t.Errorf("%s: %s %v", lines[i], v.Outcome, v.Reason)
				}
			}
		})
	}
}
