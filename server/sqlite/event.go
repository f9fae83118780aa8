package sqlite

import (
	"context"
	"database/sql"
	"fmt"
	"time"

	"strutcard/server/shop"
	"strutcard/sync/event"
	"strutcard/sync/store"
)

// Events is one shop's log; it implements store.Store.
type Events struct {
	db   *DB
	shop shop.ID
}

// Shop returns the log of one shop.
func (db *DB) Shop(id shop.ID) store.Store { return Events{db: db, shop: id} }

// Append implements store.Store. The queue's rows of the jobs touched change in
// the same transaction.
func (s Events) Append(ctx context.Context, actor string, events []event.Event) ([]store.Verdict, error) {
	if len(events) == 0 {
		return nil, nil
	}
	verdicts := make([]store.Verdict, len(events))
	arrived := make(map[string]event.Event, len(events))
	for _, e := range events {
		arrived[e.Line()] = e
	}
	var logs []jobLog
	err := s.db.update(ctx, "store events", func(tx *sql.Tx) error {
		touched, err := s.insert(ctx, tx, actor, events, verdicts)
		if err != nil {
			return err
		}
		logs, err = s.db.projectJobs(ctx, tx, s.shop, touched, arrived)
		return err
	})
	if err != nil {
		return nil, err
	}
	s.db.logs.keep(logs)
	return verdicts, nil
}

// insert fills in the verdicts and returns the jobs that gained an event.
func (s Events) insert(ctx context.Context, tx *sql.Tx, actor string, events []event.Event, verdicts []store.Verdict) ([]event.JobID, error) {
	add, err := tx.PrepareContext(ctx, `INSERT INTO event (shop, id, job, device, seq, tick, kind, line, received_at, actor)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT DO NOTHING`)
	if err != nil {
		return nil, err
	}
	defer func() { _ = add.Close() }()
	now := s.db.now().UnixMilli()
	gained, noted, dropped := map[event.JobID]bool{}, map[event.JobID]bool{}, map[event.JobID]time.Time{}
	var touched []event.JobID
	for i, e := range events {
		if !noted[e.Job] { // before the insert: it tells whether others were here first
			if dropped[e.Job], err = deleted(ctx, tx, s.shop, e.Job); err != nil {
				return nil, err
			}
			if dropped[e.Job].IsZero() {
				err = s.noteWriter(ctx, tx, actor, e.Job)
			}
			if err != nil {
				return nil, err
			}
			noted[e.Job] = true
		}
		if at := dropped[e.Job]; !at.IsZero() {
			verdicts[i] = gone(e.ID, at)
			continue
		}
		res, err := add.ExecContext(ctx, s.shop, e.ID, e.Job, e.Device, e.Seq, e.Tick, e.Kind, e.Line(), now, actor)
		if err != nil {
			return nil, err
		}
		if n, err := res.RowsAffected(); err != nil {
			return nil, err
		} else if n == 0 {
			if verdicts[i], err = s.verdict(ctx, tx, e); err != nil {
				return nil, err
			}
			continue
		}
		verdicts[i] = store.Verdict{ID: e.ID, Outcome: store.Stored}
		if err := notePhotos(ctx, tx, s.shop, e); err != nil {
			return nil, err
		}
		if !gained[e.Job] {
			gained[e.Job] = true
			touched = append(touched, e.Job)
		}
	}
	return touched, nil
}

func (s Events) noteWriter(ctx context.Context, tx *sql.Tx, actor string, job event.JobID) error {
	_, err := tx.ExecContext(ctx, `INSERT INTO writer (shop, actor, job, late)
		SELECT ?1, ?2, ?3, EXISTS (SELECT 1 FROM event WHERE shop = ?1 AND job = ?3) WHERE true ON CONFLICT DO NOTHING`, s.shop, actor, job)
	return err
}

// verdict tells why an event did not go in: its id was seen before.
func (s Events) verdict(ctx context.Context, tx *sql.Tx, e event.Event) (store.Verdict, error) {
	var line string
	if err := tx.QueryRowContext(ctx, `SELECT line FROM event WHERE shop = ? AND id = ?`, s.shop, e.ID).Scan(&line); err != nil {
		return store.Verdict{}, err
	}
	if line != e.Line() {
		return store.Conflict(e.ID, "id"), nil
	}
	return store.Verdict{ID: e.ID, Outcome: store.Duplicate}, nil
}

// Job implements store.Log.
func (s Events) Job(ctx context.Context, job event.JobID) ([]event.Event, error) {
	events, _, err := loadJob(ctx, s.db.read, s.shop, job, 0, nil)
	if err != nil {
		return nil, asFault("read job", err)
	}
	return event.Sort(events), nil
}

// Jobs implements store.Log.
func (s Events) Jobs(ctx context.Context) ([]event.JobID, error) {
	rows, err := s.db.read.QueryContext(ctx, `SELECT id FROM job WHERE shop = ? ORDER BY first_seq`, s.shop)
	return collect(rows, err, "list jobs", func(rows *sql.Rows) (id event.JobID, err error) {
		err = rows.Scan(&id)
		return id, err
	})
}

// After implements store.Store.
func (s Events) After(ctx context.Context, scope store.Scope, pos int64, limit int) ([]store.Record, error) {
	query, args := afterQuery(s.shop, scope)
	rows, err := s.db.read.QueryContext(ctx, query, append(args, pos, limit)...)
	return collect(rows, err, "read events", func(rows *sql.Rows) (store.Record, error) {
		var r store.Record
		var line string
		if err := rows.Scan(&r.Pos, &line, &r.Received, &r.Actor, &r.Mark); err != nil {
			return r, err
		}
		e, err := event.Decode([]byte(line))
		r.Event = e
		return r, err
	})
}

// afterQuery starts from the jobs that the actor brought events of: walking the
// whole log in order would cost every phone the work of all phones. Who reads the
// whole log of a shop does walk it, instead of sorting it by the index of shops.
func afterQuery(id shop.ID, scope store.Scope) (string, []any) {
	const columns, tail = `SELECT e.server_seq, e.line, e.received_at, e.actor, e.mark FROM `, ` AND e.server_seq > ? ORDER BY e.server_seq LIMIT ?`
	if scope.Actor == "" {
		if scope.Job != "" {
			return columns + `event e WHERE e.shop = ? AND e.job = ?` + tail, []any{id, scope.Job}
		}
		return columns + `event e WHERE +e.shop = ?` + tail, []any{id}
	}
	query := `writer w CROSS JOIN event e ON e.shop = w.shop AND e.job = w.job WHERE w.shop = ? AND w.actor = ?`
	args := []any{id, scope.Actor}
	if scope.Job != "" {
		query, args = query+` AND w.job = ?`, append(args, scope.Job)
	}
	return columns + query + tail, args
}

// Last implements store.Store. The plus sign has it walk back along the log: by the
// index of shops it would read and sort every event of the shop.
func (s Events) Last(ctx context.Context) (pos int64, mark string, err error) {
	err = s.db.read.QueryRowContext(ctx, `SELECT server_seq, mark FROM event WHERE +shop = ? ORDER BY server_seq DESC LIMIT 1`, s.shop).Scan(&pos, &mark)
	if isNone(err) {
		return 0, "", nil
	}
	return pos, mark, asFault("look at the newest record", err)
}

// Mark implements store.Store.
func (s Events) Mark(ctx context.Context, pos int64) (string, error) {
	var mark string
	err := s.db.read.QueryRowContext(ctx, `SELECT mark FROM event WHERE server_seq = ?1 AND shop = ?2
		UNION ALL SELECT mark FROM deleted_mark WHERE server_seq = ?1 AND shop = ?2`, pos, s.shop).Scan(&mark)
	if isNone(err) {
		return "", nil
	}
	return mark, asFault("look at a record", err)
}

// Late implements store.Store.
func (s Events) Late(ctx context.Context, actor string) ([]event.JobID, error) {
	rows, err := s.db.read.QueryContext(ctx, `SELECT job FROM writer WHERE shop = ? AND actor = ? AND late ORDER BY job`, s.shop, actor)
	return collect(rows, err, "list late jobs", func(rows *sql.Rows) (id event.JobID, err error) {
		err = rows.Scan(&id)
		return id, err
	})
}

// querier is a pool or a transaction.
type querier interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
	QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row
}

// loadJob returns a job's events above pos in order of arrival, and the last pos.
// Those that are known already, by their lines, are not decoded again.
func loadJob(ctx context.Context, q querier, id shop.ID, job event.JobID, pos int64, known map[string]event.Event) ([]event.Event, int64, error) {
	rows, err := q.QueryContext(ctx, `SELECT server_seq, line FROM event WHERE shop = ? AND job = ? AND server_seq > ? ORDER BY server_seq`, id, job, pos)
	last := pos
	events, err := collect(rows, err, "read job", func(rows *sql.Rows) (event.Event, error) {
		var line string
		if err := rows.Scan(&last, &line); err != nil {
			return event.Event{}, err
		}
		if e, ok := known[line]; ok {
			return e, nil
		}
		e, err := event.Decode([]byte(line))
		if err != nil {
			return e, fmt.Errorf("event %d: %w", last, err)
		}
		return e, nil
	})
	return events, last, err
}
