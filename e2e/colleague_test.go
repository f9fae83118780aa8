package e2e

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"image"
	"image/color"
	"image/jpeg"
	"io"
	"net/http"
	"testing"
	"time"

	"github.com/google/uuid"

	"strutcard/server/auth"
	"strutcard/server/shop"
	"strutcard/sync/event"
	"strutcard/sync/exchange"
	"strutcard/sync/store"
)

// colleague is another phone of the shop, without a screen: it writes in the same
// job over a good connection.
type colleague struct {
	t     *testing.T
	shop  *shopServer
	chain event.Chain
	token string
	shots int
}

// newColleague joins the shop by an invitation of its own.
func newColleague(t *testing.T, s *shopServer, id event.JobID) *colleague {
	t.Helper()
	c := &colleague{t: t, shop: s, chain: event.Chain{Job: id, Device: event.DeviceID(uuid.NewString())}}
	ask, err := json.Marshal(map[string]string{"invitation": s.invites(), "device": string(c.chain.Device), "name": "Another phone"})
	if err != nil {
		t.Fatal(err)
	}
	var got struct{ Token string }
	if err := json.Unmarshal(c.request("POST", "/api/v1/join", "application/json", ask), &got); err != nil || got.Token == "" {
		t.Fatalf("the other phone did not join: %v", err)
	}
	c.token = got.Token
	return c
}

// invites makes an invitation for one more phone.
func (s *shopServer) invites() (secret string) {
	s.t.Helper()
	secret = auth.NewSecret()
	db := s.db()
	defer func() { _ = db.Close() }()
	err := db.Invite(context.Background(), shop.Invitation{Digest: auth.Digest(secret), Shop: "demo", By: "demo", Expires: time.Now().Add(time.Hour)})
	if err != nil {
		s.t.Fatal(err)
	}
	return secret
}

// writes puts an event on the server, after those that it has seen.
func (c *colleague) writes(seen []event.Event, payload event.Payload) {
	c.t.Helper()
	for _, e := range seen {
		c.chain = c.chain.See(e)
	}
	e, err := c.chain.Seal(event.ID(uuid.NewString()), time.Now(), payload)
	if err != nil {
		c.t.Fatal(err)
	}
	c.chain = c.chain.See(e)
	ask, err := json.Marshal(exchange.Request{V: exchange.Version, Nonce: "another phone", Events: []json.RawMessage{json.RawMessage(e.Line())}})
	if err != nil {
		c.t.Fatal(err)
	}
	var got exchange.Reply
	if err := json.Unmarshal(c.request("POST", "/api/v1/sync", "application/json", ask), &got); err != nil {
		c.t.Fatal(err)
	}
	if len(got.Verdicts) != 1 || got.Verdicts[0].Outcome != store.Stored {
		c.t.Fatalf("the other phone's event was not stored: %+v", got.Verdicts)
	}
}

// photographs puts a picture on the server, and the event that names it.
func (c *colleague) photographs(seen []event.Event) {
	c.t.Helper()
	c.shots++
	const side = 48
	img := image.NewRGBA(image.Rect(0, 0, side, side))
	for i := range side * side {
		img.Set(i%side, i/side, color.RGBA{R: uint8(i * c.shots), G: uint8(i / side * 5), B: uint8(c.shots * 9), A: 255})
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, nil); err != nil {
		c.t.Fatal(err)
	}
	sum := sha256.Sum256(b.Bytes())
	sha := hex.EncodeToString(sum[:])
	c.writes(seen, &event.PhotoTaken{SHA256: sha, Bytes: int64(b.Len()), Width: side, Height: side})
	c.request("PATCH", "/api/v1/photos/"+sha, "application/partial-upload", b.Bytes())
	if c.shop.photo(sha) == nil {
		c.t.Fatal("the other phone's photo is not on the server")
	}
}

func (c *colleague) request(method, path, mediaType string, body []byte) []byte {
	c.t.Helper()
	req, err := http.NewRequest(method, "http://"+c.shop.addr+path, bytes.NewReader(body))
	if err != nil {
		c.t.Fatal(err)
	}
	req.Header.Set("Content-Type", mediaType)
	req.Header.Set("Upload-Offset", "0") // of a picture; others take no notice
	req.Header.Set("Authorization", "Bearer "+c.token)
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		c.t.Fatal(err)
	}
	defer func() { _ = res.Body.Close() }()
	got, err := io.ReadAll(res.Body)
	if err != nil || res.StatusCode >= 300 {
		c.t.Fatalf("the other phone was answered with %s: %s (%v)", res.Status, got, err)
	}
	return got
}
