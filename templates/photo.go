package templates

import (
	"fmt"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
)

// PhotoForm takes one picture.
type PhotoForm struct {
	Job, Step string
	Photo     string // what the step asks for; "" for one of the person's own
	What      string
	Must      bool // may be left out only with a reason
}

func (p *PhotoForm) id() string {
	if p.Photo == "" {
		return "photo-own"
	}
	return "photo-" + p.Photo
}

// PhotoRow is one picture of the record.
type PhotoRow struct {
	SHA, Words, Size string
	Src              string // where a desk gets it; "" on a phone, whose page has it
	Away             bool   // at a desk: it has not arrived
}

// PhotoGroup is one step's pictures, and what was left out there.
type PhotoGroup struct {
	Title   string
	Rows    []PhotoRow
	LeftOut []string
}

// Photos is every picture of a job, by step.
type Photos struct {
	Total  string // how many, and how much they weigh
	Open   bool   // shown without a tap
	Groups []PhotoGroup
}

// PhotosAt lists the pictures taken at one step. The sheet may be nil.
func PhotosAt(s *sheet.Sheet, st *job.State, id event.StepID) []PhotoRow {
	var out []PhotoRow
	for _, p := range st.Photos {
		if p.Step == id {
			out = append(out, PhotoRow{SHA: p.SHA256, Words: photoWords(s, p), Size: sizeWords(p.Bytes)})
		}
	}
	return out
}

// photosOf groups the pictures of a job in the order of its steps; what belongs
// to no step of the sheet stands last.
func photosOf(s *sheet.Sheet, st *job.State) Photos {
	var v Photos
	if s != nil {
		for _, stage := range s.Stages {
			for i := range stage.Steps {
				step := &stage.Steps[i]
				g := PhotoGroup{Title: step.Title, Rows: PhotosAt(s, st, step.ID)}
				for _, ask := range step.Photos {
					if why, out := st.Steps[step.ID].LeftOut[ask.ID]; out {
						g.LeftOut = append(g.LeftOut, ask.What+": "+guide.ReasonWords(why))
					}
				}
				if len(g.Rows)+len(g.LeftOut) > 0 {
					v.Groups = append(v.Groups, g)
				}
			}
		}
	}
	other := PhotoGroup{Title: lang.T("At no step of this sheet")}
	var bytes int64
	for _, p := range st.Photos {
		bytes += p.Bytes
		if s == nil || s.Step(p.Step) == nil {
			other.Rows = append(other.Rows, PhotoRow{SHA: p.SHA256, Words: photoWords(s, p), Size: sizeWords(p.Bytes)})
		}
	}
	if len(other.Rows) > 0 {
		v.Groups = append(v.Groups, other)
	}
	v.Total = lang.N(len(st.Photos), "%d photo, %s", "%d photos, %s", len(st.Photos), sizeWords(bytes))
	return v
}

// photoWords says what a picture shows: what the step asked for, and the
// person's own words.
func photoWords(s *sheet.Sheet, p job.Photo) string {
	what := ""
	if s != nil && s.Step(p.Step) != nil {
		for _, ask := range s.Step(p.Step).Photos {
			if ask.ID == p.Photo {
				what = ask.What
			}
		}
	}
	switch {
	case what != "" && p.Caption != "":
		return what + ": " + p.Caption
	case what+p.Caption != "":
		return what + p.Caption
	}
	return lang.F("Photo of %s", when(p.At))
}

// PhotosSent tells how far the pictures of a phone have come. All sizes are in
// megabytes, so that they can be compared.
func PhotosSent(done, of int, bytesDone, bytesOf int64) string {
	return lang.F("%d of %d photos sent, %s of %s MB", done, of, megabytes(bytesDone), megabytes(bytesOf))
}

// sizeWords writes a number of bytes for people; 1 MB is a million.
func sizeWords(n int64) string {
	if n < 1_000_000 {
		return fmt.Sprintf("%d kB", (n+500)/1000)
	}
	return megabytes(n) + " MB"
}

func megabytes(n int64) string { return lang.Number(fmt.Sprintf("%.1f", float64(n)/1e6)) }

// Ready is what was found of working without a signal.
type Ready struct {
	Verdict string
	Mark    string // as of a line
	Checked string // when it was looked at; "" for not yet
	Lines   []ReadyLine
}

// ReadyLine is one thing that was checked. Mark is "yes", "no", "note" for what
// is worth knowing, or "unknown" for what could not be found out.
type ReadyLine struct{ Text, Mark string }

func markSign(mark string) string {
	return map[string]string{"yes": "✓", "no": "✕", "note": "△", "unknown": "?"}[mark]
}

func markWords(mark string) string {
	return map[string]string{"yes": lang.T("yes"), "no": lang.T("no"), "note": lang.T("take note"), "unknown": lang.T("not known")}[mark]
}
