package photo_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"image"
	"image/jpeg"
	"testing"

	"strutcard/server/photo"
	"strutcard/sync/fault"
)

// FuzzPicture: what is taken in is a picture and nothing else: with a note about
// where it was taken in front of the rest, it would have been refused.
func FuzzPicture(f *testing.F) {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 9, 9)), nil); err != nil {
		f.Fatal(err)
	}
	good := b.Bytes()
	for _, seed := range [][]byte{good, good[:len(good)-1], good[:20], append(bytes.Clone(good), 0), {0xff, 0xd8, 0xff, 0xd9}, {0xff}, {0xff, 0xd8, 0xff, 0xda, 0, 0}} {
		f.Add(seed)
	}
	dir := f.TempDir()
	f.Fuzz(func(t *testing.T, body []byte) {
		if len(body) < 4 || len(body) > photo.MaxPiece/2 {
			return
		}
		store, err := photo.Open(dir)
		if err != nil {
			t.Fatal(err)
		}
		if !taken(t, store, body) {
			return
		}
		exif := append([]byte{0xff, 0xe1, 0, 10}, "Exif\x00\x00II"...)
		if taken(t, store, append(append(bytes.Clone(body[:2]), exif...), body[2:]...)) {
			t.Fatalf("a picture with a note in it was taken: %x", body)
		}
	})
}

func taken(t *testing.T, store *photo.Store, body []byte) bool {
	t.Helper()
	sum := sha256.Sum256(body)
	_, whole, err := store.Append("yard", hex.EncodeToString(sum[:]), int64(len(body)), 0, body)
	if err != nil && !fault.Is(err, fault.Invalid) || err == nil && !whole {
		t.Fatalf("whole %v, %v, want it taken or refused as %s", whole, err, fault.Invalid)
	}
	return whole
}
