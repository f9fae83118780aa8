package sqlite

import "database/sql"

// Writer and Readers open the pools to tests that look at their settings.
func (db *DB) Writer() *sql.DB  { return db.write }
func (db *DB) Readers() *sql.DB { return db.read }
