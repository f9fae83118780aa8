package sqlite_test

import (
	"context"
	"errors"
	"fmt"
	"testing"
	"time"

	"strutcard/server/shop"
	"strutcard/server/sqlite"
	"strutcard/sync/event"
	"strutcard/sync/store/storetest"
)

const batch = 300

// BenchmarkAppend stores batches of 300 events, each a new job, and in turn the same
// rows with the same durability and nothing else, so that both meet the same
// machine. share is what the store reaches of those bare inserts; the budget is
// half of them. The queue's projection here is next to nothing.
func BenchmarkAppend(b *testing.B) {
	db, bare := openYard(b, sqlite.Options{}), openYard(b, sqlite.Options{})
	var stored, inserted time.Duration
	for b.Loop() {
		events := storetest.Notes(b, storetest.NewID[event.JobID](), storetest.NewID[event.DeviceID](), batch)
		start := time.Now()
		if _, err := db.Shop(yard).Append(context.Background(), "device:x", events); err != nil {
			b.Fatal(err)
		}
		stored += time.Since(start)
		start = time.Now()
		insertBare(b, bare, events)
		inserted += time.Since(start)
	}
	b.ReportMetric(batch*float64(b.N)/stored.Seconds(), "events/s")
	b.ReportMetric(batch*float64(b.N)/inserted.Seconds(), "bare/s")
	b.ReportMetric(inserted.Seconds()/stored.Seconds(), "share")
}

func insertBare(b *testing.B, db *sqlite.DB, events []event.Event) {
	tx, err := db.Writer().Begin()
	if err != nil {
		b.Fatal(err)
	}
	add, err := tx.Prepare(`INSERT INTO event (shop, id, job, device, seq, tick, kind, line, received_at, actor) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`)
	if err != nil {
		b.Fatal(err)
	}
	for _, e := range events {
		if _, err := add.Exec(yard, e.ID, e.Job, e.Device, e.Seq, e.Tick, e.Kind, e.Line(), 1, "device:x"); err != nil {
			b.Fatal(err)
		}
	}
	if err := errors.Join(add.Close(), tx.Commit()); err != nil {
		b.Fatal(err)
	}
}

// BenchmarkAppendOne adds one event to a job that has 2,000.
func BenchmarkAppendOne(b *testing.B) {
	db := openYard(b, sqlite.Options{})
	job, device := storetest.NewID[event.JobID](), storetest.NewID[event.DeviceID]()
	events := storetest.Notes(b, job, device, 2000)
	if _, err := db.Shop(yard).Append(context.Background(), "device:x", events); err != nil {
		b.Fatal(err)
	}
	chain := event.ChainOf(job, device, events)
	for b.Loop() {
		e, err := chain.Seal(storetest.NewID[event.ID](), events[0].Time(), &event.NoteAdded{Text: "one more"})
		if err != nil {
			b.Fatal(err)
		}
		chain = chain.See(e)
		if _, err := db.Shop(yard).Append(context.Background(), "device:x", []event.Event{e}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkQueue reads a page of 100,000 jobs; the budget for the whole web page
// is 50 ms at the 99th percentile.
func BenchmarkQueue(b *testing.B) {
	db := openYard(b, sqlite.Options{})
	_, err := db.Writer().Exec(`WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 100000)
		INSERT INTO job SELECT ?, printf('job%06d', i), 'hash', 'A sheet', printf('car %d', i), i, i * 7919 % 100003, i, 0, i % 7, i % 3, i % 5, i % 9, i % 2,
		iif(i % 4, '', 'accept') FROM n`, yard)
	if err == nil {
		_, err = db.Writer().Exec(`INSERT INTO job_text (rowid, words) SELECT first_seq, vehicle || ' the top mount sits well' FROM job`)
	}
	if err == nil {
		_, err = db.Writer().Exec(`INSERT INTO job_finding SELECT shop, id, 'rule' || (first_seq % 30), 1 FROM job`)
	}
	if err != nil {
		b.Fatal(err)
	}
	for _, f := range []shop.Filter{{Limit: 101}, {Limit: 101, Offset: 50000}, {Limit: 101, Words: []string{"car", "77"}}, {Limit: 101, Words: []string{"mount"}}, {Limit: 101, Rule: "rule7"}} {
		b.Run(fmt.Sprintf("from=%d words=%q rule=%q", f.Offset, f.Words, f.Rule), func(b *testing.B) {
			for b.Loop() {
				rows, err := db.Queue(context.Background(), yard, f)
				if err != nil || len(rows) != 101 {
					b.Fatalf("%d rows, %v", len(rows), err)
				}
				if totals, err := db.QueueTotals(context.Background(), yard, f); err != nil || totals.Jobs < 101 {
					b.Fatalf("%+v, %v", totals, err)
				}
			}
		})
	}
}
