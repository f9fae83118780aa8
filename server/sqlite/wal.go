package sqlite

import (
	"context"
	"database/sql"
	"os"
	"sync"
	"time"
)

// Sizes of the write-ahead log at which it is emptied, and by how much it grows
// before the next try.
const (
	walLimit = 16 << 20
	walStep  = 8 << 20
	walWait  = time.Second // for readers to finish; then the next try
)

// wal empties the write-ahead log. SQLite by itself starts it afresh only in a
// moment in which nobody reads: a busy server has none, and the log would grow
// until the disk is full.
type wal struct {
	path  string
	pool  *sql.DB // a connection of its own, less patient than the writer's
	write *sql.DB

	mu   sync.Mutex
	next int64 // size at the next try
}

func openWAL(path string, write *sql.DB) (*wal, error) {
	pool, err := open(path, walWait, false, 1)
	if err != nil {
		return nil, err
	}
	return &wal{path: path + "-wal", pool: pool, write: write, next: walLimit}, nil
}

// trim empties the log when it is large. It waits a moment for the readers in the
// way and leaves the rest to a later commit. What was committed is safe whatever
// becomes of it; a disk that fails here fails the next commit too.
func (w *wal) trim() {
	if !w.mu.TryLock() {
		return
	}
	defer w.mu.Unlock()
	info, err := os.Stat(w.path)
	if err != nil || info.Size() < w.next {
		return
	}
	w.next = walLimit
	if !w.empty() {
		w.next = info.Size() + walStep
	}
}

// empty reports whether the log could be emptied. It keeps the one writer from
// writing meanwhile.
func (w *wal) empty() bool {
	ctx := context.Background()
	idle, err := w.write.Conn(ctx)
	if err != nil {
		return false
	}
	defer func() { _ = idle.Close() }()
	var busy, frames, moved int
	err = w.pool.QueryRowContext(ctx, `PRAGMA wal_checkpoint(TRUNCATE)`).Scan(&busy, &frames, &moved)
	return err == nil && busy == 0
}
