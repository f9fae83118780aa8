// Package photo keeps pictures as files that are named by their content. A
// picture arrives in pieces; it counts only once the whole of it was compared
// with its name and found to be a bare JPEG.
package photo

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"time"

	"strutcard/sync/fault"
)

// Limits, in bytes.
const (
	MaxBytes = 5 << 20   // of one picture
	MaxPiece = 256 << 10 // of one piece
	MaxParts = 256 << 20 // of all the pictures of one shop that are still arriving
)

// idle is how long half a picture is kept for a phone that may come back.
const idle = 30 * 24 * time.Hour

// partial is the folder of what is still arriving, by shop: nobody can spoil
// what another shop's phone is sending.
const partial = "partial"

// Store is one folder: <first two digits>/<hash> for whole pictures, which never
// change, and partial/<shop>/<hash> for those that are still arriving.
type Store struct {
	dir   string
	locks [256]sync.Mutex // by the first byte of the hash: one writer for each picture
}

// Open makes the folder if it is not there.
func Open(dir string) (*Store, error) {
	if err := os.MkdirAll(filepath.Join(dir, partial), 0o700); err != nil {
		return nil, fmt.Errorf("make photo folder: %w", err)
	}
	return &Store{dir: dir}, nil
}

// Held tells how much of a picture is here, and whether that is all of it.
func (s *Store) Held(shop, hash string) (offset int64, whole bool, err error) {
	if !isHash(hash) || !isFolder(shop) {
		return 0, false, notOurs()
	}
	if offset, err = sizeOf(s.whole(hash)); err != nil || offset > 0 {
		return offset, err == nil, asFault("look for photo", err)
	}
	offset, err = sizeOf(s.part(shop, hash))
	return offset, false, asFault("look for part of photo", err)
}

// Append adds a piece at its offset to a picture of the given size, and tells
// what is here then. A piece that belongs elsewhere is a Conflict, with nothing
// changed: the sender goes on from the offset that is returned. When the last
// byte is here, the picture is compared with its hash; one that does not hold is
// dropped. Sending again what is whole already does nothing.
func (s *Store) Append(shop, hash string, size, offset int64, piece []byte) (now int64, whole bool, err error) {
	if size < 1 || size > MaxBytes || len(piece) > MaxPiece {
		return 0, false, tooLarge()
	}
	if !isHash(hash) { // which the lock goes by; Held looks at the shop too
		return 0, false, notOurs()
	}
	lock := s.lock(hash)
	lock.Lock()
	defer lock.Unlock()
	now, whole, err = s.Held(shop, hash)
	switch {
	case err != nil || whole:
		return now, whole, err
	case offset != now:
		return now, false, fault.New(fault.Conflict, "This piece of the photo does not follow what is here. Nothing was changed.", "The phone goes on from where the server stands.")
	case now+int64(len(piece)) > size:
		return now, false, tooLarge()
	}
	if err := s.room(shop, now, size); err != nil {
		return now, false, err
	}
	if err := write(s.part(shop, hash), piece); err != nil {
		return now, false, asFault("write part of photo", err)
	}
	if now += int64(len(piece)); now < size {
		return now, false, nil
	}
	if err := s.finish(shop, hash); err != nil {
		return 0, false, err
	}
	return now, true, nil
}

// Open opens a whole picture.
func (s *Store) Open(hash string) (io.ReadSeekCloser, error) {
	if !isHash(hash) {
		return nil, notOurs()
	}
	f, err := os.Open(s.whole(hash))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fault.New(fault.NotFound, "This photo has not arrived yet.", "It is still on the installer's phone. It comes when that phone has a signal.")
	}
	return f, asFault("open photo", err)
}

func (s *Store) whole(hash string) string      { return filepath.Join(s.dir, hash[:2], hash) }
func (s *Store) part(shop, hash string) string { return filepath.Join(s.dir, partial, shop, hash) }

func (s *Store) lock(hash string) *sync.Mutex {
	first, _ := hex.DecodeString(hash[:2]) // it is a hash
	return &s.locks[first[0]]
}

// room refuses to begin another picture while too much is arriving. What nobody
// has touched for long goes first.
func (s *Store) room(shop string, now, size int64) error {
	if now > 0 {
		return nil // begun, so it may be ended
	}
	parts, err := os.ReadDir(filepath.Join(s.dir, partial, shop))
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return asFault("list parts of photos", err)
	}
	sum := size
	for _, p := range parts {
		info, err := p.Info()
		if err != nil {
			continue // it has just arrived whole
		}
		if time.Since(info.ModTime()) > idle { // by the machine's clock, which wrote it
			_ = os.Remove(filepath.Join(s.dir, partial, shop, p.Name())) // the next one tries again
			continue
		}
		sum += info.Size()
	}
	if sum > MaxParts {
		return fault.New(fault.Busy, "Too many photos are arriving at once. Nothing was changed.", "Photos and record are safe on the phone. It tries again by itself.")
	}
	return nil
}

// write adds to a file; the bytes are on disk when it returns. What a failed
// write left behind is taken away, so that the offset stays true.
func write(name string, piece []byte) error {
	if err := os.MkdirAll(filepath.Dir(name), 0o700); err != nil {
		return err
	}
	f, err := os.OpenFile(name, os.O_CREATE|os.O_WRONLY|os.O_APPEND, 0o600)
	if err != nil {
		return err
	}
	had, err := f.Seek(0, io.SeekEnd)
	if err == nil {
		if _, err = f.Write(piece); err == nil {
			err = f.Sync()
		}
		if err != nil {
			err = errors.Join(err, f.Truncate(had))
		}
	}
	return errors.Join(err, f.Close())
}

// finish gives a picture that holds its name, and drops one that does not.
func (s *Store) finish(shop, hash string) error {
	part, whole := s.part(shop, hash), s.whole(hash)
	body, err := os.ReadFile(part)
	if err != nil {
		return asFault("read photo", err)
	}
	if err := verify(hash, body); err != nil {
		return errors.Join(err, asFault("drop photo", os.Remove(part)))
	}
	if err := os.MkdirAll(filepath.Dir(whole), 0o700); err != nil {
		return asFault("make photo folder", err)
	}
	if err := os.Rename(part, whole); err != nil {
		return asFault("keep photo", err)
	}
	return asFault("keep photo", errors.Join(syncFolder(filepath.Dir(whole)), syncFolder(s.dir)))
}

func verify(hash string, body []byte) error {
	if sum := sha256.Sum256(body); hex.EncodeToString(sum[:]) != hash {
		return fault.New(fault.Invalid, "What arrived is not the photo that the record names. It was dropped.", "The photo is still on the phone. Sync again; if it happens again, tell the shop.")
	}
	return bare(body)
}

// syncFolder makes a new name last through a power cut.
func syncFolder(name string) error {
	d, err := os.Open(name)
	if err != nil {
		return err
	}
	return errors.Join(d.Sync(), d.Close())
}

func sizeOf(name string) (int64, error) {
	info, err := os.Stat(name)
	if errors.Is(err, fs.ErrNotExist) {
		return 0, nil
	}
	if err != nil {
		return 0, err
	}
	return info.Size(), nil
}

// isHash guards every path: what a name is made of comes from outside.
func isHash(name string) bool {
	return len(name) == 2*sha256.Size && strings.Trim(name, "0123456789abcdef") == ""
}

func isFolder(name string) bool {
	return name != "" && name != "." && name != ".." && !strings.ContainsAny(name, `/\`)
}

func notOurs() error {
	return fault.New(fault.NotFound, "There is no such photo here.", "Look at the job's page again.")
}

func tooLarge() error {
	return fault.New(fault.TooLarge, "The photo is larger than the record says, or than this server takes. It was not stored.", "It stays on the phone. Tell the shop.")
}

// asFault says what a failure of the disk means for the person who waits. A
// fault passes through.
func asFault(doing string, err error) error {
	var known *fault.Error
	switch {
	case err == nil:
		return nil
	case errors.As(err, &known):
		return err
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
		return fault.Wrap(fmt.Errorf("%s: %w", doing, err), fault.Full, "The server's disk is full. The photo was not stored.", "Photos and record are safe on the phone. Make room on the server.")
	}
	return fault.Wrap(fmt.Errorf("%s: %w", doing, err), fault.Storage, "The server cannot use its photo folder. The photo was not stored.", "Photos and record are safe on the phone. The shop's administrator must look at the server.")
}
