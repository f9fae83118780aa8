package event

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"

	"strutcard/sync/fault"
)

// Distinct names for things that must not mix.
type (
	ID         string // a UUIDv7, made at the tap
	JobID      string // a UUIDv7
	DeviceID   string // a UUIDv7
	SheetHash  string // SHA-256 of a sheet's canonical JSON, lower-case hex
	Hash       string // SHA-256 of an event's line, lower-case hex; "" before the first
	StepID     string // named by the sheet
	FastenerID string // named by the sheet
	PassID     string // named by the sheet, unique within its fastener
	CheckID    string // named by the sheet
	PartID     string // named by the sheet
	ToolID     string // named by the sheet, or by the phone's own register
)

// MaxData is the largest payload of one event, in bytes.
const MaxData = 16 << 10

// Event is one fact about one job. It is immutable: make it with Seal or Decode.
type Event struct {
	ID     ID
	Job    JobID
	Device DeviceID
	Seq    int64 // per job and device, from 1, no gaps
	Tick   int64 // Lamport clock: one more than any tick seen
	At     int64 // device wall clock, ms UTC; display only
	Kind   Kind
	V      int  // version of this kind's payload
	Prev   Hash // Hash of this device's previous event in this job

	data    json.RawMessage
	line    string
	payload Payload // nil when only a newer app can read it
}

// wire fixes the order of the envelope's fields in a line.
type wire struct {
	ID     ID              `json:"id"`
	Job    JobID           `json:"job"`
	Device DeviceID        `json:"device"`
	Seq    int64           `json:"seq"`
	Tick   int64           `json:"tick"`
	At     int64           `json:"at"`
	Kind   Kind            `json:"kind"`
	V      int             `json:"v"`
	Prev   Hash            `json:"prev"`
	Data   json.RawMessage `json:"data"`
}

// Line returns the event's canonical JSON: the bytes that are stored, sent and hashed.
func (e Event) Line() string { return e.line }

// Data returns the payload's canonical JSON.
func (e Event) Data() json.RawMessage { return e.data }

// Hash returns the SHA-256 of the line.
func (e Event) Hash() Hash { return hashOf(e.line) }

// Time returns the device's wall clock at the tap. Never order by it.
func (e Event) Time() time.Time { return time.UnixMilli(e.At).UTC() }

// MarshalJSON writes the line.
func (e Event) MarshalJSON() ([]byte, error) {
	if e.line == "" {
		return nil, fmt.Errorf("marshal event: not sealed")
	}
	return []byte(e.line), nil
}

// UnmarshalJSON reads a line; see Decode.
func (e *Event) UnmarshalJSON(line []byte) error {
	got, err := Decode(line)
	if err != nil {
		return err
	}
	*e = got
	return nil
}

// Decode reads one line. It refuses any spelling but the canonical one, so that
// a line's bytes, and with them its hash, survive every copy.
func Decode(line []byte) (Event, error) {
	if !utf8.Valid(line) {
		return Event{}, broken(nil, fault.T("It is not UTF-8 text."))
	}
	var w wire
	dec := json.NewDecoder(bytes.NewReader(line))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&w); err != nil {
		return Event{}, broken(err, fault.T("It is not an event line."))
	}
	e, err := fromWire(w)
	if err != nil {
		return Event{}, err
	}
	if e.line != string(line) {
		return Event{}, broken(nil, fault.T("It is not in canonical form."))
	}
	return e, nil
}

// fromWire checks the envelope and, where this app knows the kind, the payload.
func fromWire(w wire) (Event, error) {
	if reason := envelopeFault(w); reason != "" {
		return Event{}, broken(nil, reason)
	}
	line, err := json.Marshal(w)
	if err != nil {
		return Event{}, broken(err, fault.T("Its data is not JSON."))
	}
	e := Event{ID: w.ID, Job: w.Job, Device: w.Device, Seq: w.Seq, Tick: w.Tick, At: w.At,
		Kind: w.Kind, V: w.V, Prev: w.Prev, data: w.Data, line: string(line)}
	if e.payload, err = e.decode(); err != nil {
		return Event{}, err
	}
	return e, nil
}

func envelopeFault(w wire) string {
	switch {
	case !isUUID(string(w.ID)):
		return fault.T("Its id is missing or is not a UUID.")
	case !isUUID(string(w.Job)):
		return fault.T("Its job is missing or is not a UUID.")
	case !isUUID(string(w.Device)):
		return fault.T("Its device is missing or is not a UUID.")
	case w.Seq < 1 || w.Seq > maxCount:
		return fault.T("Its sequence number is out of range.")
	case w.Tick < 1 || w.Tick > maxCount:
		return fault.T("Its tick is out of range.")
	case w.Kind == "" || len(w.Kind) > 40 || strings.Trim(string(w.Kind), "abcdefghijklmnopqrstuvwxyz_") != "":
		return fault.T("Its kind is not a name.")
	case w.V < 1 || w.V > 1000:
		return fault.T("Its version is out of range.")
	case w.Seq == 1 && w.Prev != "", w.Seq > 1 && !isHash(string(w.Prev)):
		return fault.T("Its link to the event before does not fit its sequence number.")
	case len(w.Data) > MaxData:
		return fault.T("Its data is larger than an event may be.")
	case len(w.Data) == 0 || w.Data[0] != '{':
		return fault.T("Its data is not an object.")
	}
	return ""
}

// maxCount keeps counters inside what JavaScript numbers hold exactly.
const maxCount = 1 << 53

func isUUID(s string) bool {
	u, err := uuid.Parse(s)
	return err == nil && u.String() == s
}

func isHash(s string) bool {
	raw, err := hex.DecodeString(s)
	return err == nil && len(raw) == sha256.Size && strings.ToLower(s) == s
}

func hashOf(line string) Hash {
	sum := sha256.Sum256([]byte(line))
	return Hash(hex.EncodeToString(sum[:]))
}

func broken(cause error, reason string) *fault.Error {
	return fault.Wrap(cause, fault.Invalid, fault.T("An entry of this job cannot be read. %s", reason),
		"It was set aside, nothing was deleted. Export the job and show it to the shop.")
}
