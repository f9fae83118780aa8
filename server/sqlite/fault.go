package sqlite

import (
	"errors"
	"fmt"

	"modernc.org/sqlite"
	lib "modernc.org/sqlite/lib"

	"strutcard/sync/fault"
)

// asFault says what a database error means for the person who waits. It goes by
// the result code, never by the text. A fault passes through.
func asFault(doing string, err error) error {
	if err == nil {
		return nil
	}
	var f *fault.Error
	if errors.As(err, &f) {
		return err
	}
	wrapped := fmt.Errorf("%s: %w", doing, err)
	var e *sqlite.Error
	if !errors.As(err, &e) {
		return wrapped
	}
	switch e.Code() & 0xff { // the low byte is the class
	case lib.SQLITE_FULL:
		return fault.Wrap(wrapped, fault.Full, "The server's disk is full. Nothing was stored.",
			"What is on the phone stays there. Make room on the server, then try again.")
	case lib.SQLITE_BUSY, lib.SQLITE_LOCKED:
		return fault.Wrap(wrapped, fault.Busy, "The server is busy. Nothing was stored.", "Try again in a minute; nothing is lost.")
	case lib.SQLITE_IOERR, lib.SQLITE_READONLY, lib.SQLITE_CANTOPEN, lib.SQLITE_CORRUPT, lib.SQLITE_NOTADB:
		return fault.Wrap(wrapped, fault.Storage, "The server cannot write to its disk. Nothing was stored.",
			"What is on the phone stays there. The shop's administrator must look at the server.")
	}
	return wrapped
}
