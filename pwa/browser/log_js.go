package browser

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"syscall/js"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/store"
)

// Log is the phone's store in IndexedDB. It implements store.Device.
type Log struct{}

var _ store.Device = Log{}

// Write implements store.Device. It waits for the disk whatever ctx says: a
// write that was given up on might still be carried out.
func (Log) Write(_ context.Context, events []event.Event) ([]store.Verdict, error) {
	lines := make([]any, len(events))
	for i, e := range events {
		lines[i] = e.Line()
	}
	outcomes, err := outcomesOf(len(events), "write", lines)
	if err != nil {
		return nil, err
	}
	verdicts := make([]store.Verdict, len(events))
	for i, e := range events {
		if verdicts[i], err = verdict(e.ID, outcomes[i]); err != nil {
			return nil, unsaved(err)
		}
	}
	return verdicts, nil
}

// outcomesOf calls a method that answers with a word for each event.
func outcomesOf(n int, method string, args ...any) ([]string, error) {
	list, err := write(method, args...)
	if err != nil {
		return nil, err
	}
	if text(list) == "moved" {
		return nil, store.Moved()
	}
	if list.Type() != js.TypeObject || list.Length() != n {
		return nil, unsaved(errors.New(method + ": the page answered with another number of outcomes"))
	}
	outcomes := make([]string, n)
	for i := range outcomes {
		outcomes[i] = text(list.Index(i))
	}
	return outcomes, nil
}

func verdict(id event.ID, outcome string) (store.Verdict, error) {
	switch outcome {
	case "stored":
		return store.Verdict{ID: id, Outcome: store.Stored}, nil
	case "duplicate":
		return store.Verdict{ID: id, Outcome: store.Duplicate}, nil
	case "conflict:id":
		return store.Conflict(id, lang.C("id", "of an entry")), nil
	case "conflict:seq":
		return store.Conflict(id, lang.T("number in its chain")), nil
	}
	return store.Verdict{}, fmt.Errorf("write: unknown outcome %q", outcome)
}

// Take implements store.Device.
func (Log) Take(_ context.Context, c store.Change) ([]event.Event, error) {
	change := struct {
		Was      map[string]string `json:"was"`
		Forget   bool              `json:"forget"`
		Verdicts []store.Verdict   `json:"verdicts"`
		Lines    []string          `json:"lines"`
		Carry    bool              `json:"carry"`
		Meta     map[string]string `json:"meta"`
	}{c.Was, c.Forget, c.Verdicts, make([]string, len(c.Events)), c.Carry, c.Meta}
	if change.Was == nil {
		change.Was = map[string]string{}
	}
	if change.Meta == nil {
		change.Meta = map[string]string{}
	}
	if change.Verdicts == nil {
		change.Verdicts = []store.Verdict{}
	}
	for i, e := range c.Events {
		change.Lines[i] = e.Line()
	}
	body, err := json.Marshal(change)
	if err != nil {
		return nil, fmt.Errorf("take: %w", err)
	}
	outcomes, err := outcomesOf(len(c.Events), "take", string(body))
	if err != nil {
		return nil, err
	}
	var fresh []event.Event
	for i, e := range c.Events {
		if outcomes[i] == "stored" {
			fresh = append(fresh, e)
		}
	}
	return fresh, nil
}

// Job implements store.Log.
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

// Jobs implements store.Log.
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
