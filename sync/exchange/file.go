package exchange

import (
	"bytes"
	"encoding/json"
	"strings"

	"strutcard/sync/event"
)

// File is a record as it leaves a phone without a server: lines of text, each an
// event, or {"sheet":…} with a fitting sheet that a job pins. It may have been
// cut short or repeated; every line stands for itself.
type File struct {
	Events []event.Event
	Sheets []json.RawMessage
	Broken int // lines that are neither
}

type sheetLine struct {
	Sheet json.RawMessage `json:"sheet"`
}

// String writes the file: sheets first, so that a file that was cut short still opens.
func (f File) String() string {
	var b strings.Builder
	for _, s := range f.Sheets {
		b.WriteString(`{"sheet":`)
		b.Write(s)
		b.WriteString("}\n")
	}
	for _, e := range f.Events {
		b.WriteString(e.Line())
		b.WriteByte('\n')
	}
	return b.String()
}

// ReadFile reads what it can and counts the rest.
func ReadFile(data []byte) File {
	var f File
	for line := range bytes.SplitSeq(data, []byte("\n")) {
		line = bytes.TrimSpace(line) // some mail programs end lines with a carriage return
		if len(line) == 0 {
			continue
		}
		var s sheetLine
		if e, err := event.Decode(line); err == nil {
			f.Events = append(f.Events, e)
		} else if json.Unmarshal(line, &s) == nil && len(s.Sheet) > 0 {
			f.Sheets = append(f.Sheets, s.Sheet)
		} else {
			f.Broken++
		}
	}
	return f
}
