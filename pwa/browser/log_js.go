package browser

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"syscall/js"
	"time"

	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/store"
)

// Log is the phone's store in IndexedDB. It implements store.Device.
type Log struct {
	Now func() time.Time // stamps arrivals
}

var _ store.Device = Log{}

// Append implements store.Store. It waits for the disk whatever ctx says: a
// write that was given up on might still be carried out.
func (l Log) Append(_ context.Context, actor string, events []event.Event) ([]store.Verdict, error) {
	lines := make([]any, len(events))
	for i, e := range events {
		lines[i] = e.Line()
	}
	outcomes, err := write("append", actor, lines, true, float64(l.Now().UnixMilli()))
	if err != nil {
		return nil, err
	}
	if outcomes.Type() != js.TypeObject || outcomes.Length() != len(events) {
		return nil, unsaved(errors.New("append: the page answered with another number of outcomes"))
	}
	verdicts := make([]store.Verdict, len(events))
	for i, e := range events {
		if verdicts[i], err = verdict(e.ID, text(outcomes.Index(i))); err != nil {
			return nil, unsaved(err)
		}
	}
	return verdicts, nil
}

func verdict(id event.ID, outcome string) (store.Verdict, error) {
	switch outcome {
	case "stored":
		return store.Verdict{ID: id, Outcome: store.Stored}, nil
	case "duplicate":
		return store.Verdict{ID: id, Outcome: store.Duplicate}, nil
	case "conflict:id":
		return store.Conflict(id, "id"), nil
	case "conflict:seq":
		return store.Conflict(id, "number in its chain"), nil
	}
	return store.Verdict{}, fmt.Errorf("append: unknown outcome %q", outcome)
}

// Job implements store.Store.
func (Log) Job(ctx context.Context, job event.JobID) ([]event.Event, error) {
	lines, err := read(ctx, "job", string(job))
	if err != nil {
		return nil, err
	}
	events, err := decode(text(lines))
	if err != nil {
		return nil, fmt.Errorf("job: %w", err)
	}
	return event.Sort(events), nil
}

// Jobs implements store.Store.
func (Log) Jobs(ctx context.Context) ([]event.JobID, error) {
	list, err := read(ctx, "jobs")
	if err != nil {
		return nil, err
	}
	jobs := make([]event.JobID, list.Length())
	for i := range jobs {
		jobs[i] = event.JobID(text(list.Index(i)))
	}
	return jobs, nil
}

// After implements store.Store.
func (Log) After(ctx context.Context, scope store.Scope, pos int64, limit int) ([]store.Record, error) {
	var records []store.Record
	err := readJSON(ctx, &records, "after", string(scope.Job), string(scope.Device), float64(pos), limit)
	return records, err
}

// Pending implements store.Device.
func (Log) Pending(ctx context.Context, limit int) ([]event.Event, error) {
	lines, err := read(ctx, "pending", limit)
	if err != nil {
		return nil, err
	}
	events, err := decode(text(lines))
	if err != nil {
		return nil, fmt.Errorf("pending: %w", err)
	}
	return events, nil
}

// Waiting implements store.Device.
func (Log) Waiting(ctx context.Context) (int, error) {
	n, err := read(ctx, "waiting")
	if err != nil {
		return 0, err
	}
	return n.Int(), nil
}

// Settle implements store.Device.
func (Log) Settle(_ context.Context, verdicts []store.Verdict) error {
	return writeJSON("settle", verdicts)
}

// Adopt implements store.Device.
func (Log) Adopt(_ context.Context, records []store.Record) error {
	type record struct {
		Line     string `json:"line"`
		Received int64  `json:"received"`
		Actor    string `json:"actor"`
	}
	list := make([]record, len(records))
	for i, r := range records {
		list[i] = record{r.Event.Line(), r.Received, r.Actor}
	}
	return writeJSON("adopt", list)
}

// Forget implements store.Device.
func (Log) Forget(_ context.Context, device event.DeviceID) error {
	_, err := write("forget", string(device))
	return err
}

// Troubled implements store.Device.
func (Log) Troubled(ctx context.Context) ([]store.Verdict, error) {
	var verdicts []store.Verdict
	err := readJSON(ctx, &verdicts, "troubled")
	return verdicts, err
}

// Meta implements store.Device.
func (Log) Meta(ctx context.Context, name string) (string, error) {
	value, err := read(ctx, "meta", name)
	if err != nil {
		return "", err
	}
	return text(value), nil
}

// SetMeta implements store.Device.
func (Log) SetMeta(_ context.Context, name, value string) error {
	_, err := write("setMeta", name, value)
	return err
}

func decode(lines string) ([]event.Event, error) {
	if lines == "" {
		return nil, nil
	}
	var events []event.Event
	for line := range strings.SplitSeq(lines, "\n") {
		e, err := event.Decode([]byte(line))
		if err != nil {
			return nil, err
		}
		events = append(events, e)
	}
	return events, nil
}

func read(ctx context.Context, method string, args ...any) (js.Value, error) {
	value, err := ask(ctx, method, args...)
	if err != nil {
		return value, fault.Wrap(err, fault.Storage, "The record could not be read just now. Nothing was changed.",
			"Try once more. If it fails again, close the app fully and open it.")
	}
	return value, nil
}

func readJSON(ctx context.Context, into any, method string, args ...any) error {
	value, err := read(ctx, method, args...)
	if err != nil {
		return err
	}
	if err := json.Unmarshal([]byte(text(value)), into); err != nil {
		return fmt.Errorf("%s: %w", method, err)
	}
	return nil
}

func write(method string, args ...any) (js.Value, error) {
	value, err := ask(context.Background(), method, args...)
	if err != nil {
		return value, unsaved(err)
	}
	return value, nil
}

func writeJSON(method string, value any) error {
	body, err := json.Marshal(value)
	if err != nil {
		return fmt.Errorf("%s: %w", method, err)
	}
	_, err = write(method, string(body))
	return err
}

func ask(ctx context.Context, method string, args ...any) (js.Value, error) {
	promise, err := call(host().Get("log"), method, args...)
	if err != nil {
		return js.Undefined(), err
	}
	value, err := await(ctx, promise)
	if err != nil {
		return js.Undefined(), fmt.Errorf("%s: %w", method, err)
	}
	return value, nil
}

// unsaved says that a write failed, and why where the person can mend it.
func unsaved(err error) error {
	var r *rejection
	if errors.As(err, &r) && r.name == "QuotaExceededError" {
		return fault.Wrap(err, fault.Full, "Not saved: the phone has no room left. What was saved before is safe.",
			"Delete something else on the phone, then press again.")
	}
	return fault.Wrap(err, fault.Storage, "Not saved: the phone's storage did not take it. What was saved before is safe.",
		"Press again. If it fails again, close the app fully and open it.")
}
