package photo_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"strutcard/server/photo"
	"strutcard/sync/fault"
)

const yard = "yard"

// picture is a bare JPEG; seed makes each another one.
func picture(t testing.TB, seed uint64) []byte {
	t.Helper()
	random := rand.New(rand.NewPCG(seed, 1))
	img := image.NewRGBA(image.Rect(0, 0, 64, 48))
	for y := range 48 {
		for x := range 64 {
			img.SetRGBA(x, y, color.RGBA{uint8(random.UintN(256)), uint8(x * 4), uint8(y * 5), 255})
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 80}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func hashOf(body []byte) string {
	sum := sha256.Sum256(body)
	return hex.EncodeToString(sum[:])
}

func open(t testing.TB) (*photo.Store, string) {
	t.Helper()
	dir := t.TempDir()
	s, err := photo.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	return s, dir
}

// send appends a piece and wants this place afterwards.
func send(t testing.TB, s *photo.Store, body []byte, from, to int, now int64, whole bool) {
	t.Helper()
	gotNow, gotWhole, err := s.Append(yard, hashOf(body), int64(len(body)), int64(from), body[from:to])
	if err != nil || gotNow != now || gotWhole != whole {
		t.Fatalf("append %d:%d = %d, %v, %v, want %d, %v", from, to, gotNow, gotWhole, err, now, whole)
	}
}

func held(t testing.TB, s *photo.Store, hash string) (int64, bool) {
	t.Helper()
	now, whole, err := s.Held(yard, hash)
	if err != nil {
		t.Fatal(err)
	}
	return now, whole
}

func files(t testing.TB, dir string) (names []string) {
	t.Helper()
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			name, _ := filepath.Rel(dir, path)
			names = append(names, filepath.ToSlash(name))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return names
}

// TestCutAtEveryBorder: whatever the length of the pieces and wherever the
// program ends between two of them, the picture comes out whole.
func TestCutAtEveryBorder(t *testing.T) {
	body := picture(t, 1)
	for _, size := range []int{37, 512, len(body) - 1, len(body)} {
		t.Run(fmt.Sprint(size), func(t *testing.T) {
			s, dir := open(t)
			for at := 0; at < len(body); at += size {
				if now, whole := held(t, s, hashOf(body)); now != int64(at) || whole {
					t.Fatalf("held %d, %v, want %d and not whole", now, whole, at)
				}
				end := min(at+size, len(body))
				send(t, s, body, at, end, int64(end), end == len(body))
				var err error
				if s, err = photo.Open(dir); err != nil { // the program ended and starts again
					t.Fatal(err)
				}
			}
			if got, want := files(t, dir), hashOf(body)[:2]+"/"+hashOf(body); len(got) != 1 || got[0] != want {
				t.Errorf("files %v, want only %s", got, want)
			}
			wantWhole(t, s, body)
		})
	}
}

func wantWhole(t testing.TB, s *photo.Store, body []byte) {
	t.Helper()
	if now, whole := held(t, s, hashOf(body)); now != int64(len(body)) || !whole {
		t.Errorf("held %d, %v, want %d and whole", now, whole, len(body))
	}
	f, err := s.Open(hashOf(body))
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	if got, err := io.ReadAll(f); err != nil || !bytes.Equal(got, body) {
		t.Errorf("%d bytes came back (%v), want the %d that were sent", len(got), err, len(body))
	}
}

// TestOffsets: only the piece that follows is taken; every other one changes
// nothing and learns where to go on (pitfall 62).
func TestOffsets(t *testing.T) {
	body := picture(t, 2)
	size, hash := int64(len(body)), hashOf(body)
	const had = 300
	for _, c := range []struct {
		name     string
		from, to int64
		kind     fault.Kind // "" is taken
		now      int64
	}{
		{"follows", had, had + 100, "", had + 100},
		{"nothing more", had, had, "", had},
		{"the rest", had, size, "", size},
		{"the same again", 0, had, fault.Conflict, had},
		{"part of it again", 100, had + 100, fault.Conflict, had},
		{"a hole", had + 1, had + 100, fault.Conflict, had},
		{"behind the end", size, size, fault.Conflict, had},
		{"far behind the end", 1 << 40, 1 << 40, fault.Conflict, had},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, _ := open(t)
			send(t, s, body, 0, had, had, false)
			var piece []byte
			if c.to <= size {
				piece = body[c.from:c.to]
			}
			now, whole, err := s.Append(yard, hash, size, c.from, piece)
			if now != c.now || whole != (c.now == size) || (c.kind == "") != (err == nil) || c.kind != "" && !fault.Is(err, c.kind) {
				t.Errorf("append = %d, %v, %v, want %d, kind %q", now, whole, err, c.now, c.kind)
			}
			if now, _ := held(t, s, hash); now != c.now {
				t.Errorf("%d bytes are held, want %d", now, c.now)
			}
			if c.kind != "" { // and it can go on from there
				send(t, s, body, had, int(size), size, true)
				wantWhole(t, s, body)
			}
		})
	}
}

// TestAgain: a picture that is here already is here, whatever is sent for it.
func TestAgain(t *testing.T) {
	s, dir := open(t)
	body := picture(t, 3)
	send(t, s, body, 0, len(body), int64(len(body)), true)
	send(t, s, body, 0, len(body), int64(len(body)), true)
	send(t, s, body, 10, 20, int64(len(body)), true)
	if now, whole, err := s.Append("another shop", hashOf(body), int64(len(body)), 0, body[:5]); err != nil || !whole || now != int64(len(body)) {
		t.Errorf("from another shop: %d, %v, %v, want it whole", now, whole, err)
	}
	if got := files(t, dir); len(got) != 1 {
		t.Errorf("files %v, want one", got)
	}
	wantWhole(t, s, body)
}

// TestTwoPhones send the same picture at once: it is not mixed up.
func TestTwoPhones(t *testing.T) {
	s, _ := open(t)
	body := picture(t, 4)
	var both sync.WaitGroup
	for range 2 {
		both.Go(func() {
			var now int64
			for whole := false; !whole; {
				var err error
				end := min(now+50, int64(len(body)))
				now, whole, err = s.Append(yard, hashOf(body), int64(len(body)), now, body[now:end])
				if err != nil && !fault.Is(err, fault.Conflict) {
					t.Error(err)
					return
				}
			}
		})
	}
	both.Wait()
	wantWhole(t, s, body)
}

func TestErrAppend(t *testing.T) {
	body := picture(t, 5)
	size, hash := int64(len(body)), hashOf(body)
	for _, c := range []struct {
		name, shop, hash string
		size             int64
		piece            []byte
		kind             fault.Kind
	}{
		{"over the announced size", yard, hash, 100, body[:101], fault.TooLarge},
		{"larger than any photo", yard, hash, photo.MaxBytes + 1, body[:10], fault.TooLarge},
		{"a piece that is too long", yard, hash, photo.MaxBytes, make([]byte, photo.MaxPiece+1), fault.TooLarge},
		{"no size", yard, hash, 0, nil, fault.TooLarge},
		{"a path for a hash", yard, "../../../../../../../../../../../etc/passwd............../......", size, body[:10], fault.NotFound},
		{"upper case", yard, "AB" + hash[2:], size, body[:10], fault.NotFound},
		{"a short hash", yard, hash[:63], size, body[:10], fault.NotFound},
		{"a path for a shop", "..", hash, size, body[:10], fault.NotFound},
		{"another path for a shop", "a/b", hash, size, body[:10], fault.NotFound},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, dir := open(t)
			now, whole, err := s.Append(c.shop, c.hash, c.size, 0, c.piece)
			if !fault.Is(err, c.kind) || fault.Of(err).Hint == "" || now != 0 || whole {
				t.Errorf("append = %d, %v, %v, want kind %s with a hint", now, whole, err, c.kind)
			}
			if got := files(t, dir); len(got) != 0 {
				t.Errorf("files %v, want none", got)
			}
			if _, err := s.Open(c.hash); !fault.Is(err, fault.NotFound) {
				t.Errorf("open = %v, want kind %s", err, fault.NotFound)
			}
		})
	}
}

// TestWrongHash: what is not the named picture is dropped, and the right one can
// still come.
func TestWrongHash(t *testing.T) {
	s, dir := open(t)
	body := picture(t, 6)
	spoilt := bytes.Clone(body)
	spoilt[len(spoilt)/2] ^= 1
	size, hash := int64(len(body)), hashOf(body)
	if now, whole, err := s.Append(yard, hash, size, 0, spoilt); !fault.Is(err, fault.Invalid) || now != 0 || whole {
		t.Fatalf("append = %d, %v, %v, want kind %s and nothing held", now, whole, err, fault.Invalid)
	}
	if got := files(t, dir); len(got) != 0 {
		t.Errorf("files %v, want none", got)
	}
	send(t, s, body, 0, len(body), size, true)
	wantWhole(t, s, body)
}

// TestEndAfterLastByte: the program ended after the last byte was written and
// before the picture was given its name.
func TestEndAfterLastByte(t *testing.T) {
	s, dir := open(t)
	body := picture(t, 7)
	name := filepath.Join(dir, "partial", yard, hashOf(body))
	if err := os.MkdirAll(filepath.Dir(name), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, body, 0o600); err != nil {
		t.Fatal(err)
	}
	if now, whole := held(t, s, hashOf(body)); now != int64(len(body)) || whole {
		t.Fatalf("held %d, %v, want all of it and not whole", now, whole)
	}
	send(t, s, body, len(body), len(body), int64(len(body)), true)
	wantWhole(t, s, body)
}

// TestPartsAreBounded: a shop cannot fill the disk with beginnings; what was
// begun may be ended, and what nobody has touched for a month goes first.
func TestPartsAreBounded(t *testing.T) {
	s, dir := open(t)
	body := picture(t, 8)
	send(t, s, body, 0, 100, 100, false)
	big := filepath.Join(dir, "partial", yard, hashOf([]byte("big")))
	if err := os.WriteFile(big, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(big, photo.MaxParts); err != nil { // a hole, which takes no room here
		t.Fatal(err)
	}
	other := picture(t, 9)
	if _, _, err := s.Append(yard, hashOf(other), int64(len(other)), 0, other[:10]); !fault.Is(err, fault.Busy) {
		t.Errorf("append = %v, want kind %s", err, fault.Busy)
	}
	if _, _, err := s.Append("another shop", hashOf(other), int64(len(other)), 0, other[:10]); err != nil {
		t.Errorf("another shop has to wait: %v", err)
	}
	send(t, s, body, 100, len(body), int64(len(body)), true)
	old := time.Now().Add(-40 * 24 * time.Hour)
	if err := os.Chtimes(big, old, old); err != nil {
		t.Fatal(err)
	}
	send(t, s, other, 0, 10, 10, false)
	if _, err := os.Stat(big); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("the old part is still there: %v", err)
	}
}

// TestDiskFails: a folder that cannot be used is a fault with words, and what was
// there stays.
func TestDiskFails(t *testing.T) {
	s, dir := open(t)
	body := picture(t, 10)
	if err := os.WriteFile(filepath.Join(dir, "partial", yard), nil, 0o600); err != nil { // a file where a folder should be
		t.Fatal(err)
	}
	if _, _, err := s.Append(yard, hashOf(body), int64(len(body)), 0, body); !fault.Is(err, fault.Storage) || fault.Of(err).Hint == "" {
		t.Errorf("append = %v, want kind %s with a hint", err, fault.Storage)
	}
}
