package job_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"
	"time"

	"strutcard/sync/event"
	"strutcard/sync/job"
)

const (
	jobID   event.JobID    = "01900000-0000-7000-8000-0000000000ff"
	phone   event.DeviceID = "01900000-0000-7000-8000-00000000000a"
	helper  event.DeviceID = "01900000-0000-7000-8000-00000000000b"
	thirdly event.DeviceID = "01900000-0000-7000-8000-00000000000c"
)

func id(n int) event.ID { return event.ID(fmt.Sprintf("01900000-0000-7000-8000-%012d", n)) }

// record writes a log as one phone would and folds it after each event.
type record struct {
	t      testing.TB
	chain  event.Chain
	events []event.Event
}

func newRecord(t testing.TB) *record {
	return &record{t: t, chain: event.Chain{Job: jobID, Device: phone}}
}

// do appends the payloads and returns the id of the last.
func (r *record) do(payloads ...event.Payload) event.ID {
	r.t.Helper()
	for _, p := range payloads {
		n := len(r.events) + 1
		e, err := r.chain.Seal(id(n), time.UnixMilli(int64(n)*1000), p)
		if err != nil {
			r.t.Fatalf("seal %s: %v", p.Kind(), err)
		}
		r.chain, r.events = r.chain.See(e), append(r.events, e)
	}
	return r.events[len(r.events)-1].ID
}

// undo takes an event back.
func (r *record) undo(what event.ID) event.ID {
	return r.do(&event.Corrected{Event: what, Reason: "a slip"})
}

func (r *record) state() *job.State { return job.Fold(jobID, r.events) }

func jsonOf(t testing.TB, s *job.State) string {
	t.Helper()
	data, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// diff shortens two long texts to where they part.
func diff(got, want string) string {
	i := 0
	for i < len(got) && i < len(want) && got[i] == want[i] {
		i++
	}
	cut := func(s string) string { return s[max(0, i-60):min(len(s), i+60)] }
	return "\n got …" + cut(got) + "…\nwant …" + cut(want) + "…"
}

func unknown(n int, device event.DeviceID, seq, tick int64, prev event.Hash) event.Event {
	e, err := event.Decode([]byte(fmt.Sprintf(`{"id":"%s","job":"%s","device":"%s","seq":%d,"tick":%d,"at":5,"kind":"wing_flapped","v":1,"prev":"%s","data":{}}`,
		id(n), jobID, device, seq, tick, prev)))
	if err != nil {
		panic("the test spells a line wrong: " + err.Error())
	}
	return e
}

func text(n int) string { return strings.Repeat("x", n%7+1) }
