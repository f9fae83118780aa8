package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"strutcard/server"
	"strutcard/sync/event"
	"strutcard/sync/exchange"
	"strutcard/sync/store"
	"strutcard/sync/store/storetest"
)

// stopBound is how long the program may take to stop: its own 5 s, and as much
// again for a busy machine.
const stopBound = 10 * time.Second

// program is a running `strutcard serve`.
type program struct {
	cmd *exec.Cmd
	url string
}

// serve starts the program over a data folder and waits until it listens.
func serve(dir string) (*program, error) {
	self, err := os.Executable()
	if err != nil {
		return nil, err
	}
	cmd := exec.Command(self, "serve", "--addr", "127.0.0.1:0", "--data", dir, "--quiet")
	cmd.Env, cmd.Stderr = append(os.Environ(), "STRUTCARD_AS_PROGRAM=1"), os.Stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := cmd.Start(); err != nil {
		return nil, err
	}
	late := time.AfterFunc(time.Minute, func() { _ = cmd.Process.Kill() })
	defer late.Stop()
	line, err := bufio.NewReader(out).ReadString('\n')
	url, serving := strings.CutPrefix(strings.TrimSpace(line), "Serving at ")
	if !serving {
		_ = cmd.Process.Kill()
		return nil, fmt.Errorf("it said %q: %v, %v", line, err, cmd.Wait())
	}
	return &program{cmd, url}, nil
}

// mustServe is serve in a test, which leaves no program behind.
func mustServe(t *testing.T, dir string) *program {
	t.Helper()
	p, err := serve(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = p.cmd.Process.Kill() })
	return p
}

// stop sends a signal and waits for the end, which must come in time.
func (p *program) stop(sig os.Signal) error {
	if err := p.cmd.Process.Signal(sig); err != nil {
		return err
	}
	ended := make(chan error, 1)
	go func() { ended <- p.cmd.Wait() }()
	select {
	case err := <-ended:
		return err
	case <-time.After(stopBound):
		_ = p.cmd.Process.Kill()
		return fmt.Errorf("still running %v after %v", stopBound, sig)
	}
}

// phone is what a phone keeps: its token. It carries events of any device.
type phone struct {
	token string
	http  http.Client
}

// prepare makes a data folder with the demo shop and a phone that joined it.
func prepare(dir string) (*phone, error) {
	s, err := server.New(server.Config{Addr: "127.0.0.1:0", DataDir: dir, Demo: true})
	if err != nil {
		return nil, err
	}
	if err := s.Start(); err != nil {
		return nil, err
	}
	_, invitation, _ := strings.Cut(s.InvitationURL(), "#")
	var joined struct {
		Token string `json:"token"`
	}
	p := &phone{http: http.Client{Timeout: 30 * time.Second}}
	err = p.call(s.URL()+"/api/v1/join", map[string]string{"invitation": invitation, "device": storetest.NewID[string](), "name": "a phone"}, &joined)
	p.token = joined.Token
	if closed := s.Close(); err == nil {
		err = closed
	}
	return p, err
}

func mustPrepare(t *testing.T, dir string) *phone {
	t.Helper()
	p, err := prepare(dir)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// call posts JSON and reads the reply whole: half of one is an error.
func (p *phone) call(url string, body, into any) error {
	text, err := json.Marshal(body)
	if err != nil {
		return err
	}
	req, err := http.NewRequest("POST", url, bytes.NewReader(text))
	if err != nil {
		return err
	}
	req.Header = http.Header{"Content-Type": {"application/json"}, "Authorization": {"Bearer " + p.token}}
	res, err := p.http.Do(req)
	if err != nil {
		return err
	}
	defer func() { _ = res.Body.Close() }()
	answer, err := io.ReadAll(res.Body)
	if err != nil {
		return err
	}
	if res.StatusCode != http.StatusOK {
		return fmt.Errorf("%s: %s", res.Status, answer)
	}
	return json.Unmarshal(answer, into)
}

// send brings a batch; without an error every event of it was acknowledged.
func (p *phone) send(url string, batch []event.Event) error {
	req := exchange.Request{V: exchange.Version, Nonce: "n", Events: []json.RawMessage{}}
	for _, e := range batch {
		req.Events = append(req.Events, json.RawMessage(e.Line()))
	}
	var reply exchange.Reply
	if err := p.call(url+"/api/v1/sync", req, &reply); err != nil {
		return err
	}
	if len(reply.Verdicts) != len(batch) {
		return fmt.Errorf("%d verdicts for %d events", len(reply.Verdicts), len(batch))
	}
	for _, v := range reply.Verdicts {
		if v.Outcome != store.Stored && v.Outcome != store.Duplicate {
			return fmt.Errorf("event %s: %s %v", v.ID, v.Outcome, v.Reason)
		}
	}
	return nil
}

// place is where a phone stands in the server's log: what the last reply said,
// by the names that the next request has for it.
type place struct{ exchange.Request }

// pull returns the lines of all that is new since a place, and the place after it.
func (p *phone) pull(url string, from place) (map[event.ID]string, place, error) {
	got := map[event.ID]string{}
	for {
		from.V, from.Nonce, from.Events = exchange.Version, "n", []json.RawMessage{}
		var answer json.RawMessage
		if err := p.call(url+"/api/v1/sync", from, &answer); err != nil {
			return nil, from, err
		}
		var reply exchange.Reply
		if err := errors.Join(json.Unmarshal(answer, &reply), json.Unmarshal(answer, &from)); err != nil {
			return nil, from, err
		}
		for _, r := range reply.Events {
			got[r.Event.ID] = r.Event.Line()
		}
		if !reply.More {
			return got, from, nil
		}
	}
}
