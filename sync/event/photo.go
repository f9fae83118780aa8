package event

import "strutcard/sync/fault"

const (
	KindPhotoTaken   Kind = "photo_taken"
	KindPhotoLeftOut Kind = "photo_left_out"
)

// MaxPhotoBytes is the largest picture that is kept, after it was made smaller.
const MaxPhotoBytes = 4 << 20

// PhotoID names one picture that a step asks for; the sheet gives it.
type PhotoID string

// PhotoTaken names a picture by its content. The picture itself is kept beside
// the log, never in it.
type PhotoTaken struct {
	Step    StepID  `json:"step,omitempty"`
	Photo   PhotoID `json:"photo,omitempty"` // what the step asked for; "" for one of the person's own
	SHA256  string  `json:"sha256"`          // of the bytes, lower-case hex
	Bytes   int64   `json:"bytes"`
	Width   int64   `json:"width"`
	Height  int64   `json:"height"`
	Caption string  `json:"caption,omitempty"`
}

func (*PhotoTaken) Kind() Kind { return KindPhotoTaken }

func (p *PhotoTaken) check() string {
	if !isHash(p.SHA256) {
		return fault.T("Its hash is not a SHA-256 in lower-case hex.")
	}
	return first(text("step", string(p.Step)), text("photo", string(p.Photo)), within("size", p.Bytes, 1, MaxPhotoBytes, count),
		within("width", p.Width, 1, 20_000, count), within("height", p.Height, 1, 20_000, count), text("caption", p.Caption))
}

// PhotoLeftOut goes on without a picture that the step requires.
type PhotoLeftOut struct {
	Step   StepID  `json:"step"`
	Photo  PhotoID `json:"photo"`
	Reason string  `json:"reason"`
}

func (*PhotoLeftOut) Kind() Kind { return KindPhotoLeftOut }

func (p *PhotoLeftOut) check() string {
	return first(name("step", string(p.Step)), name("photo", string(p.Photo)), name("reason", p.Reason), text("reason", p.Reason))
}
