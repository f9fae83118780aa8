package sqlite_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"strutcard/server/sqlite"
)

// maxWAL is what the write-ahead log may take of the disk, whoever reads.
const maxWAL = 64 << 20

// write puts so many megabytes into the log.
func write(t *testing.T, db *sqlite.DB, megabytes int) {
	t.Helper()
	text := strings.Repeat("x", 1<<20)
	for i := range megabytes {
		if err := db.SetMeta(context.Background(), "m"+itoa(i), text); err != nil {
			t.Fatal(err)
		}
	}
}

func walSize(t *testing.T, path string) int64 {
	t.Helper()
	info, err := os.Stat(path + "-wal")
	if err != nil {
		t.Fatal(err)
	}
	return info.Size()
}

// until waits for something that must come, on a machine that may be slow.
func until(t *testing.T, what string, is func() bool) {
	t.Helper()
	for end := time.Now().Add(time.Minute); !is(); time.Sleep(10 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("%s: not within a minute", what)
		}
	}
}

func TestSlowReaderIsCutAndTheLogShrinks(t *testing.T) {
	path := filepath.Join(t.TempDir(), "x.db")
	db := openAt(t, path, sqlite.Options{Query: time.Second})
	write(t, db, 1)
	rows, err := db.Query(context.Background(), `SELECT name FROM meta`)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = rows.Close() }()
	if !rows.Next() {
		t.Fatal("nothing to read")
	}
	write(t, db, 80) // and the reader never comes for its second row
	until(t, "the reader is cut", func() bool { return db.Readers().Stats().InUse == 0 })
	if rows.Next() || !errors.Is(rows.Err(), context.DeadlineExceeded) {
		t.Errorf("the reader ended with %v, want its deadline", rows.Err())
	}
	write(t, db, 1)
	if size := walSize(t, path); size >= maxWAL {
		t.Errorf("the log takes %d MB after the reader was cut, want less than 64", size>>20)
	}
}

// Readers that take turns leave no moment without one: SQLite alone would never
// start its log afresh.
func TestLogIsBoundedUnderReadersInTurn(t *testing.T) {
	path := filepath.Join(t.TempDir(), "x.db")
	db := openAt(t, path, sqlite.Options{})
	write(t, db, 1)
	ctx, stop := context.WithCancel(context.Background())
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			for ctx.Err() == nil {
				rows, err := db.Query(context.Background(), `SELECT name FROM meta`)
				if err != nil {
					t.Errorf("read: %v", err)
					return
				}
				rows.Next()
				time.Sleep(20 * time.Millisecond)
				_ = rows.Close()
			}
		})
	}
	write(t, db, 120)
	size := walSize(t, path)
	stop()
	wg.Wait()
	if size >= maxWAL {
		t.Errorf("the log takes %d MB, want less than 64", size>>20)
	}
}
