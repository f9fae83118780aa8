package photo_test

import (
	"bytes"
	"encoding/binary"
	"testing"

	"strutcard/sync/fault"
)

// segment is a marker with content, as of ITU-T T.81, B.1.1.4.
func segment(marker byte, content string) []byte {
	head := binary.BigEndian.AppendUint16([]byte{0xff, marker}, uint16(len(content)+2))
	return append(head, content...)
}

// with puts a segment behind the picture's first marker.
func with(body []byte, extra ...byte) []byte {
	return append(append(bytes.Clone(body[:2]), extra...), body[2:]...)
}

// TestBareJPEG: a picture is taken only when it is nothing but a picture (pitfall
// 48). Each refused one is sound otherwise, and its hash is right.
func TestBareJPEG(t *testing.T) {
	plain := picture(t, 20)
	jfif := segment(0xe0, "JFIF\x00\x01\x01\x00\x00\x01\x00\x01\x00\x00")
	scan := bytes.Index(plain, []byte{0xff, 0xda})
	for _, c := range []struct {
		name string
		body []byte
		kind fault.Kind
	}{
		{"bare", plain, ""},
		{"JFIF header", with(plain, jfif...), ""},
		{"profile of colours", with(plain, segment(0xe2, "ICC_PROFILE\x00\x01\x01profile")...), ""},
		{"Adobe's note", with(plain, segment(0xee, "Adobe\x00d\x00\x00\x00\x00\x00")...), ""},
		{"EXIF with a place", with(plain, segment(0xe1, "Exif\x00\x00II*\x00\x08\x00\x00\x00 GPS 51 N 38 E")...), fault.Invalid},
		{"EXIF behind the JFIF header", with(plain, append(bytes.Clone(jfif), segment(0xe1, "Exif\x00\x00II*\x00")...)...), fault.Invalid},
		{"EXIF between tables and scan", append(append(bytes.Clone(plain[:scan]), segment(0xe1, "Exif\x00\x00II*\x00")...), plain[scan:]...), fault.Invalid},
		{"XMP", with(plain, segment(0xe1, "http://ns.adobe.com/xap/1.0/\x00<x/>")...), fault.Invalid},
		{"a small picture in the header", with(plain, segment(0xe0, "JFIF\x00\x01\x01\x00\x00\x01\x00\x01\x01\x01rgb")...), fault.Invalid},
		{"JFXX", with(plain, segment(0xe0, "JFXX\x00\x10small")...), fault.Invalid},
		{"several pictures", with(plain, segment(0xe2, "MPF\x00more")...), fault.Invalid},
		{"captions", with(plain, segment(0xed, "Photoshop 3.0\x008BIM")...), fault.Invalid},
		{"a comment", with(plain, segment(0xfe, "at my home")...), fault.Invalid},
		{"a film behind it", append(bytes.Clone(plain), "ftypmp42"...), fault.Invalid},
		{"a picture behind it", append(bytes.Clone(plain), plain...), fault.Invalid},
		{"cut off", plain[:len(plain)-2], fault.Invalid},
		{"cut off in the header", plain[:10], fault.Invalid},
		{"a length beyond the end", append(bytes.Clone(plain[:2]), 0xff, 0xdb, 0xff, 0xff, 0, 0, 0, 0), fault.Invalid},
		{"a length of nothing", with(plain, 0xff, 0xdb, 0, 0), fault.Invalid},
		{"no picture in it", []byte{0xff, 0xd8, 0xff, 0xd9}, fault.Invalid},
		{"PNG", []byte("\x89PNG\r\n\x1a\n and more of it"), fault.Invalid},
		{"a page", []byte("<html>Welcome</html>"), fault.Invalid},
		{"one byte", []byte{0xff}, fault.Invalid},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, dir := open(t)
			now, whole, err := s.Append(yard, hashOf(c.body), int64(len(c.body)), 0, c.body)
			if c.kind == "" {
				if err != nil || !whole {
					t.Fatalf("append = %d, %v, %v, want it whole", now, whole, err)
				}
				wantWhole(t, s, c.body)
				return
			}
			if !fault.Is(err, c.kind) || fault.Of(err).Hint == "" || whole {
				t.Errorf("append = %v, %v, want kind %s with a hint", whole, err, c.kind)
			}
			if got := files(t, dir); len(got) != 0 {
				t.Errorf("files %v, want none", got)
			}
		})
	}
}
