package store

import (
	"context"
	"sync"
	"time"

	"strutcard/sync/event"
)

// Memory is a Device that keeps everything in memory: for tests, and for a phone
// whose own storage refuses to work.
type Memory struct {
	now func() time.Time

	mu      sync.Mutex
	records []Record
	byID    map[event.ID]int
	bySeq   map[seqKey]event.ID
	pending map[event.ID]bool
	refused map[event.ID]Verdict
	meta    map[string]string
}

type seqKey struct {
	job    event.JobID
	device event.DeviceID
	seq    int64
}

// NewMemory returns an empty store that stamps arrivals with now.
func NewMemory(now func() time.Time) *Memory {
	return &Memory{now: now, byID: map[event.ID]int{}, bySeq: map[seqKey]event.ID{},
		pending: map[event.ID]bool{}, refused: map[event.ID]Verdict{}, meta: map[string]string{}}
}

// Append implements Store.
func (m *Memory) Append(_ context.Context, actor string, events []event.Event) ([]Verdict, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	verdicts := make([]Verdict, len(events))
	for i, e := range events {
		verdicts[i] = m.add(Record{Event: e, Received: m.now().UnixMilli(), Actor: actor})
		if verdicts[i].Outcome == Stored {
			m.pending[e.ID] = true
		}
	}
	return verdicts, nil
}

func (m *Memory) add(r Record) Verdict {
	e := r.Event
	key := seqKey{e.Job, e.Device, e.Seq}
	if i, ok := m.byID[e.ID]; ok {
		if m.records[i].Event.Line() != e.Line() {
			return Conflict(e.ID, "id")
		}
		return Verdict{ID: e.ID, Outcome: Duplicate}
	}
	if _, ok := m.bySeq[key]; ok {
		return Conflict(e.ID, "number in its chain")
	}
	r.Pos = int64(len(m.records)) + 1
	m.records = append(m.records, r)
	m.byID[e.ID] = len(m.records) - 1
	m.bySeq[key] = e.ID
	return Verdict{ID: e.ID, Outcome: Stored}
}

// Job implements Store.
func (m *Memory) Job(_ context.Context, job event.JobID) ([]event.Event, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	var out []event.Event
	for _, r := range m.records {
		if r.Event.Job == job {
			out = append(out, r.Event)
		}
	}
	return event.Sort(out), nil
}

// Jobs implements Store.
func (m *Memory) Jobs(context.Context) ([]event.JobID, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	seen := map[event.JobID]bool{}
	var out []event.JobID
	for _, r := range m.records {
		if !seen[r.Event.Job] {
			seen[r.Event.Job] = true
			out = append(out, r.Event.Job)
		}
	}
	return out, nil
}

// After implements Store.
func (m *Memory) After(_ context.Context, scope Scope, pos int64, limit int) ([]Record, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	mine := map[event.JobID]bool{}
	for _, r := range m.records {
		if r.Event.Device == scope.Device {
			mine[r.Event.Job] = true
		}
	}
	var out []Record
	for _, r := range m.records {
		visible := (scope.Job == "" || r.Event.Job == scope.Job) && (scope.Device == "" || mine[r.Event.Job])
		if r.Pos > pos && visible && len(out) < limit {
			out = append(out, r)
		}
	}
	return out, nil
}

// Pending implements Device.
func (m *Memory) Pending(_ context.Context, limit int) ([]event.Event, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	var out []event.Event
	for _, r := range m.records {
		if m.pending[r.Event.ID] && len(out) < limit {
			out = append(out, r.Event)
		}
	}
	return out, nil
}

// Waiting implements Device.
func (m *Memory) Waiting(context.Context) (int, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	return len(m.pending), nil
}

// Settle implements Device.
func (m *Memory) Settle(_ context.Context, verdicts []Verdict) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	for _, v := range verdicts {
		delete(m.pending, v.ID)
		if v.Outcome == Refused {
			m.refused[v.ID] = v
		}
	}
	return nil
}

// Adopt implements Device.
func (m *Memory) Adopt(_ context.Context, records []Record) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	for _, r := range records {
		m.add(r)
	}
	return nil
}

// Forget implements Device.
func (m *Memory) Forget(_ context.Context, device event.DeviceID) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	for _, r := range m.records {
		if r.Event.Device == device {
			m.pending[r.Event.ID] = true
			delete(m.refused, r.Event.ID)
		}
	}
	return nil
}

// Troubled implements Device.
func (m *Memory) Troubled(context.Context) ([]Verdict, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	var out []Verdict
	for _, r := range m.records {
		if v, ok := m.refused[r.Event.ID]; ok {
			out = append(out, v)
		}
	}
	return out, nil
}

// Meta implements Device.
func (m *Memory) Meta(_ context.Context, name string) (string, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.meta[name], nil
}

// SetMeta implements Device.
func (m *Memory) SetMeta(_ context.Context, name, value string) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.meta[name] = value
	return nil
}
