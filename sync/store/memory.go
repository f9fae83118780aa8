package store

import (
	"context"
	"crypto/rand"
	"maps"
	"slices"
	"sync"
	"time"

	"strutcard/sync/event"
)

// Memory is a Store and a Device that keeps everything in memory, for tests.
type Memory struct {
	now func() time.Time

	mu      sync.Mutex
	records []Record
	byID    map[event.ID]int
	taken   map[seqKey]bool
	brought map[string]map[event.JobID]bool // actor -> job -> came late
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
	return &Memory{now: now, byID: map[event.ID]int{}, taken: map[seqKey]bool{}, brought: map[string]map[event.JobID]bool{},
		pending: map[event.ID]bool{}, refused: map[event.ID]Verdict{}, meta: map[string]string{}}
}

// Append implements Store.
func (m *Memory) Append(_ context.Context, actor string, events []event.Event) ([]Verdict, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	verdicts := make([]Verdict, len(events))
	for i, e := range events {
		late := slices.ContainsFunc(m.records, func(r Record) bool { return r.Event.Job == e.Job })
		verdicts[i] = m.add(Record{Event: e, Received: m.now().UnixMilli(), Actor: actor})
		m.bring(actor, e.Job, late)
	}
	return verdicts, nil
}

// bring notes that the actor has a part in a job; the first time counts.
func (m *Memory) bring(actor string, job event.JobID, late bool) {
	if m.brought[actor] == nil {
		m.brought[actor] = map[event.JobID]bool{}
	}
	if _, had := m.brought[actor][job]; !had {
		m.brought[actor][job] = late
	}
}

// Write implements Device.
func (m *Memory) Write(_ context.Context, events []event.Event) ([]Verdict, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	verdicts := make([]Verdict, len(events))
	for i, e := range events {
		if _, had := m.byID[e.ID]; !had && m.taken[seqKey{e.Job, e.Device, e.Seq}] {
			verdicts[i] = Conflict(e.ID, "number in its chain")
			continue
		}
		if verdicts[i] = m.add(Record{Event: e, Received: m.now().UnixMilli()}); verdicts[i].Outcome == Stored {
			m.pending[e.ID] = true
		}
	}
	return verdicts, nil
}

func (m *Memory) add(r Record) Verdict {
	e := r.Event
	if i, ok := m.byID[e.ID]; ok {
		if m.records[i].Event.Line() != e.Line() {
			return Conflict(e.ID, "id")
		}
		return Verdict{ID: e.ID, Outcome: Duplicate}
	}
	r.Pos, r.Mark = int64(len(m.records))+1, rand.Text()
	m.records = append(m.records, r)
	m.byID[e.ID] = len(m.records) - 1
	m.taken[seqKey{e.Job, e.Device, e.Seq}] = true
	return Verdict{ID: e.ID, Outcome: Stored}
}

// Job implements Log.
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

// Jobs implements Log.
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
	var out []Record
	for _, r := range m.records {
		_, mine := m.brought[scope.Actor][r.Event.Job]
		visible := (scope.Job == "" || r.Event.Job == scope.Job) && (scope.Actor == "" || mine)
		if r.Pos > pos && visible && len(out) < limit {
			out = append(out, r)
		}
	}
	return out, nil
}

// Last implements Store.
func (m *Memory) Last(context.Context) (int64, string, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if len(m.records) == 0 {
		return 0, "", nil
	}
	last := m.records[len(m.records)-1]
	return last.Pos, last.Mark, nil
}

// Mark implements Store.
func (m *Memory) Mark(_ context.Context, pos int64) (string, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if pos < 1 || pos > int64(len(m.records)) {
		return "", nil
	}
	return m.records[pos-1].Mark, nil
}

// Late implements Store.
func (m *Memory) Late(_ context.Context, actor string) ([]event.JobID, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	var jobs []event.JobID
	for job, late := range m.brought[actor] {
		if late {
			jobs = append(jobs, job)
		}
	}
	slices.Sort(jobs)
	return jobs, nil
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

// Take implements Device.
func (m *Memory) Take(_ context.Context, c Change) ([]event.Event, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	for name, value := range c.Was {
		if m.meta[name] != value {
			return nil, Moved()
		}
	}
	if c.Forget {
		m.forget()
	}
	for _, v := range c.Verdicts {
		delete(m.pending, v.ID)
		if v.Outcome == Refused {
			m.refused[v.ID] = v
		}
	}
	var fresh []event.Event
	for _, e := range c.Events {
		if m.add(Record{Event: e, Received: m.now().UnixMilli()}).Outcome != Stored {
			continue
		}
		fresh = append(fresh, e)
		if c.Carry {
			m.pending[e.ID] = true
		}
	}
	maps.Copy(m.meta, c.Meta)
	return fresh, nil
}

func (m *Memory) forget() {
	for _, r := range m.records {
		m.pending[r.Event.ID] = true
	}
	clear(m.refused)
}

// Copy returns a copy that shares nothing: a backup, or the phone as it was.
func (m *Memory) Copy() *Memory {
	m.mu.Lock()
	defer m.mu.Unlock()
	c := &Memory{now: m.now, records: slices.Clone(m.records), byID: maps.Clone(m.byID), taken: maps.Clone(m.taken),
		brought: map[string]map[event.JobID]bool{}, pending: maps.Clone(m.pending), refused: maps.Clone(m.refused), meta: maps.Clone(m.meta)}
	for actor, jobs := range m.brought {
		c.brought[actor] = maps.Clone(jobs)
	}
	return c
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
