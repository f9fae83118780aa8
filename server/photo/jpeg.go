package photo

import (
	"bytes"

	"strutcard/sync/fault"
)

// Markers of ITU-T T.81, table B.1.
const (
	soi  = 0xd8
	eoi  = 0xd9
	sos  = 0xda
	dqt  = 0xdb
	dri  = 0xdd
	dht  = 0xc4
	app0 = 0xe0
	app2 = 0xe2
	appE = 0xee
)

// bare accepts a JPEG that is a picture and nothing else. Where a photo was taken,
// with which phone, a second picture inside, or a film behind it: none of that
// belongs to the record, and our own app never sends it. What is allowed is
// listed, so that what nobody thought of is refused.
func bare(body []byte) error {
	r := &reader{body: body}
	if r.marker() != soi {
		return notJPEG()
	}
	var frame, scan bool
	for {
		m := r.marker()
		switch {
		case m == eoi:
			if r.at != len(body) {
				return hidden()
			}
			if !frame || !scan {
				return notJPEG()
			}
			return nil
		case isFrame(m):
			frame = true
		case m == sos:
			scan = true
		case m == dqt, m == dht, m == dri:
		case 0xe0 <= m && m <= 0xef, m == 0xfe:
			if !allowed(m, r.peek()) {
				return hidden()
			}
		default:
			return notJPEG()
		}
		r.segment()
		if m == sos {
			r.scan()
		}
		if r.bad {
			return notJPEG()
		}
	}
}

// isFrame tells the frames that browsers draw: baseline, extended, progressive.
func isFrame(m byte) bool { return 0xc0 <= m && m <= 0xc2 }

// allowed are the JFIF header without a small picture in it, the colours' profile,
// and Adobe's note on the colours.
func allowed(m byte, content []byte) bool {
	switch m {
	case app0:
		return bytes.HasPrefix(content, []byte("JFIF\x00")) && len(content) == 14 && content[12] == 0 && content[13] == 0
	case app2:
		return bytes.HasPrefix(content, []byte("ICC_PROFILE\x00"))
	case appE:
		return bytes.HasPrefix(content, []byte("Adobe")) && len(content) == 12
	}
	return false
}

// reader walks over a JPEG; bad is set at the first thing that is none.
type reader struct {
	body []byte
	at   int
	bad  bool
}

// marker reads the next marker; 0, which is none, when there is no marker here.
func (r *reader) marker() byte {
	if r.at+2 > len(r.body) || r.body[r.at] != 0xff {
		r.bad = true
		return 0
	}
	m := r.body[r.at+1]
	r.at += 2
	return m
}

// peek returns the content of the segment that begins here.
func (r *reader) peek() []byte {
	if r.at+2 > len(r.body) {
		return nil
	}
	end := r.at + int(r.body[r.at])<<8 + int(r.body[r.at+1])
	if end < r.at+2 || end > len(r.body) {
		return nil
	}
	return r.body[r.at+2 : end]
}

func (r *reader) segment() {
	content := r.peek()
	if content == nil {
		r.bad = true
		return
	}
	r.at += 2 + len(content)
}

// scan goes over coded data to the next marker that is not part of it.
func (r *reader) scan() {
	for ; r.at+1 < len(r.body); r.at++ {
		next := r.body[r.at+1]
		if r.body[r.at] == 0xff && next != 0 && !(0xd0 <= next && next <= 0xd7) {
			return
		}
	}
	r.bad = true
}

func hidden() error {
	return fault.New(fault.Invalid, "The photo holds more than the picture, such as where it was taken. It was not stored.", "It stays on the phone. Take it again with the app.")
}

func notJPEG() error {
	return fault.New(fault.Invalid, "What arrived is not a whole JPEG picture. It was not stored.", "It stays on the phone. Take it again with the app.")
}
