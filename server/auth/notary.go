package auth

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"time"

	"strutcard/sync/event"
)

// Notary knows again what this server wrote. After a restore a phone may bring
// back a reviewer's decision, and no phone may make one up: such an event carries a
// proof over all of it (HMAC-SHA-256, RFC 2104). Its tick and id are covered too: a
// copy of an old decision that sorts last would overrule what was decided since.
type Notary struct{ key []byte }

// NewNotary takes a key as NewKey makes it.
func NewNotary(key string) (Notary, error) {
	raw, err := hex.DecodeString(key)
	if err != nil || len(raw) != sha256.Size {
		return Notary{}, fmt.Errorf("key of proofs is not 32 bytes of hex")
	}
	return Notary{key: raw}, nil
}

// Seal makes the chain's next event from a payload that only a server writes.
func (n Notary) Seal(c event.Chain, id event.ID, at time.Time, p event.Proven) (event.Event, error) {
	_, bare := p.Claim()
	proof, err := n.proof(place{id, c.Job, c.Device, c.Seq + 1, c.Tick + 1, at.UnixMilli(), c.Head}, bare)
	if err != nil {
		return event.Event{}, err
	}
	return c.Seal(id, at, p.With(proof))
}

// Wrote reports whether this server wrote an event.
func (n Notary) Wrote(e event.Event) bool {
	p, ok := e.Payload().(event.Proven)
	if !ok {
		return false
	}
	given, bare := p.Claim()
	want, err := n.proof(place{e.ID, e.Job, e.Device, e.Seq, e.Tick, e.At, e.Prev}, bare)
	return err == nil && hmac.Equal([]byte(given), []byte(want))
}

// place is where an event stands in the record.
type place struct {
	id     event.ID
	job    event.JobID
	device event.DeviceID
	seq    int64
	tick   int64
	at     int64 // ms UTC
	prev   event.Hash
}

func (n Notary) proof(p place, bare event.Payload) (string, error) {
	data, err := json.Marshal(bare)
	if err != nil {
		return "", fmt.Errorf("write what is to be proven: %w", err)
	}
	mac := hmac.New(sha256.New, n.key)
	fmt.Fprintf(mac, "%s\n%s\n%s\n%d\n%d\n%d\n%s\n%s\n", p.id, p.job, p.device, p.seq, p.tick, p.at, p.prev, bare.Kind())
	mac.Write(data)
	return hex.EncodeToString(mac.Sum(nil)), nil
}
