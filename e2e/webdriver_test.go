package e2e

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"strconv"
	"strings"
	"time"
)

// command is one of W3C WebDriver's, in its two spellings: over HTTP, below the
// session's address, and as Firefox's Marionette names it.
type command struct{ method, path, name string }

var (
	newSession   = command{"POST", "", "WebDriver:NewSession"}
	setRect      = command{"POST", "/window/rect", "WebDriver:SetWindowRect"}
	navigate     = command{"POST", "/url", "WebDriver:Navigate"}
	execute      = command{"POST", "/execute/sync", "WebDriver:ExecuteScript"}
	findElements = command{"POST", "/elements", "WebDriver:FindElements"}
	clearElement = command{"POST", "/element/{id}/clear", "WebDriver:ElementClear"}
	clickElement = command{"POST", "/element/{id}/click", "WebDriver:ElementClick"}
	sendKeys     = command{"POST", "/element/{id}/value", "WebDriver:ElementSendKeys"}
	screenshot   = command{"GET", "/screenshot", "WebDriver:TakeScreenshot"}
)

// params are what commands take. A field that is not set is not sent.
type params struct {
	Capabilities json.RawMessage `json:"capabilities,omitempty"`
	URL          string          `json:"url,omitempty"`
	Script       string          `json:"script,omitempty"`
	Args         []any           `json:"args,omitzero"`
	Using        string          `json:"using,omitempty"`
	Value        string          `json:"value,omitempty"`
	Text         string          `json:"text,omitempty"`
	ID           string          `json:"id,omitempty"` // of an element
	Width        int             `json:"width,omitempty"`
	Height       int             `json:"height,omitempty"`
	Full         *bool           `json:"full,omitempty"` // Firefox: the whole page, not what is in view
}

// driver carries commands to one browser and brings what they answer.
type driver interface {
	send(c command, p params) (json.RawMessage, error)
	hangUp()
}

// commandPatience is more than any one command may take: a page that loads on a
// busy machine.
const commandPatience = 90 * time.Second

// webDriver is a driver that is a program of its own and speaks HTTP.
type webDriver struct {
	client  http.Client
	session string // its address
}

func (w *webDriver) send(c command, p params) (json.RawMessage, error) {
	var body io.Reader
	if c.method == "POST" {
		text, err := json.Marshal(p)
		if err != nil {
			return nil, err
		}
		body = bytes.NewReader(text)
	}
	req, err := http.NewRequest(c.method, w.session+strings.Replace(c.path, "{id}", p.ID, 1), body)
	if err != nil {
		return nil, err
	}
	resp, err := w.client.Do(req)
	if err != nil {
		return nil, err
	}
	defer func() { _ = resp.Body.Close() }()
	var reply struct{ Value json.RawMessage }
	if err := json.NewDecoder(resp.Body).Decode(&reply); err != nil {
		return nil, fmt.Errorf("%s: %s: %w", c.name, resp.Status, err)
	}
	if resp.StatusCode != http.StatusOK {
		return nil, fmt.Errorf("%s: %s", c.name, reply.Value)
	}
	return reply.Value, nil
}

func (w *webDriver) hangUp() { w.client.CloseIdleConnections() }

// dialWebDriver opens a session at a driver's address.
func dialWebDriver(url, capabilities string) (*webDriver, error) {
	w := &webDriver{client: http.Client{Timeout: commandPatience}, session: url + "/session"}
	value, err := w.send(newSession, params{Capabilities: json.RawMessage(capabilities)})
	if err != nil {
		return nil, err
	}
	var made struct{ SessionID string }
	if err := json.Unmarshal(value, &made); err != nil {
		return nil, err
	}
	w.session += "/" + made.SessionID
	return w, nil
}

// marionette is the driver inside Firefox itself: each message is a JSON array with
// its length in front, "12:[0,1,"…",{}]".
type marionette struct {
	conn net.Conn
	in   *bufio.Reader
	last int // number of the last command
}

func dialMarionette(addr string) (*marionette, error) {
	conn, err := net.DialTimeout("tcp", addr, commandPatience)
	if err != nil {
		return nil, err
	}
	m := &marionette{conn: conn, in: bufio.NewReader(conn)}
	if _, err := m.read(); err != nil { // it says first which protocol it speaks
		return nil, err
	}
	_, err = m.send(newSession, params{})
	return m, err
}

func (m *marionette) read() ([]byte, error) {
	if err := m.conn.SetReadDeadline(time.Now().Add(commandPatience)); err != nil {
		return nil, err
	}
	length, err := m.in.ReadString(':')
	if err != nil {
		return nil, err
	}
	n, err := strconv.Atoi(strings.TrimSuffix(length, ":"))
	if err != nil {
		return nil, err
	}
	text := make([]byte, n)
	_, err = io.ReadFull(m.in, text)
	return text, err
}

func (m *marionette) send(c command, p params) (json.RawMessage, error) {
	m.last++
	text, err := json.Marshal([]any{0, m.last, c.name, p})
	if err != nil {
		return nil, err
	}
	if _, err := fmt.Fprintf(m.conn, "%d:%s", len(text), text); err != nil {
		return nil, err
	}
	if text, err = m.read(); err != nil {
		return nil, fmt.Errorf("%s: %w", c.name, err)
	}
	var reply [4]json.RawMessage // 1, number, error, result
	if err := json.Unmarshal(text, &reply); err != nil {
		return nil, err
	}
	if string(reply[2]) != "null" {
		return nil, fmt.Errorf("%s: %s", c.name, reply[2])
	}
	var boxed struct{ Value json.RawMessage }
	if json.Unmarshal(reply[3], &boxed) == nil && boxed.Value != nil {
		return boxed.Value, nil
	}
	return reply[3], nil // a list comes without a box
}

func (m *marionette) hangUp() { _ = m.conn.Close() }
