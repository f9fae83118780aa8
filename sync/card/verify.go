package card

import (
	"bytes"
	"encoding/json"
	"reflect"
	"slices"
	"strings"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/fault"
)

// Check is one thing that was checked.
type Check struct {
	What  string   // that holds when there are no faults
	Wrong []string // what does not
}

// Report is what a check found.
type Report struct {
	Job    event.JobID
	Code   string // of the lines as they are, whatever is printed
	Events int
	Checks []Check
}

// Holds reports whether everything that was checked does.
func (r Report) Holds() bool {
	return !slices.ContainsFunc(r.Checks, func(c Check) bool { return len(c.Wrong) > 0 })
}

// Add keeps one more check; without faults it holds.
func (r *Report) Add(what string, wrong ...string) {
	r.Checks = append(r.Checks, Check{What: what, Wrong: wrong})
}

// VerifyJSON checks a card as it stands in a file: its lines, and that everything
// beside them follows from them. It computes the card in the language that is
// spoken, so it refuses a card in another one: Decode it first, and speak its own.
func VerifyJSON(data []byte) (Card, Report, error) {
	c, err := Decode(data)
	if err != nil {
		return Card{}, Report{}, err
	}
	if c.Spoken() != lang.Tag() {
		return Card{}, Report{}, fault.New(fault.Invalid, lang.F("This job card is written in another language, %s, and is checked in that one. Nothing was checked.", c.Spoken()),
			"It is not wrong for that. Check it with a program that speaks its language.")
	}
	r := verify(c)
	var wrong []string
	if a, b := canonical(data), canonical(c.Encode()); a != b {
		wrong = append(wrong, Difference(a, b))
	}
	r.Add(lang.T("Each thing is said once and by its name"), wrong...)
	return c, r, nil
}

func verify(c Card) Report {
	lines := make([][]byte, len(c.Record))
	for i, l := range c.Record {
		lines[i] = []byte(l)
	}
	r, read := verifyLines(lines)
	if c.Job != read.job {
		r.Add(lang.T("The card is of this job"), lang.F("The card says job %s, the lines say %s.", c.Job, read.job))
	}
	r.Add(lang.T("The code is the one of these lines"), otherCode(c.Code, r.Code)...)
	names := map[event.DeviceID]string{}
	for _, d := range c.Devices {
		names[d.Device] = d.Name
	}
	again, err := Of(read.job, read.body, read.events, Beside{Made: c.Made, Names: names})
	if err != nil {
		r.Add(lang.T("The card can be computed from the lines"), err.Error())
		return r
	}
	r.Add(lang.T("The lines are in order, each once"), differ(reflect.ValueOf(c.Record), reflect.ValueOf(again.Record))...)
	again.Code = c.Code         // looked at above
	again.Language = c.Language // none in a card from before there was another
	r.compare(c, again)
	return r
}

// canonical is JSON without its layout: what a tool may do to a file without
// changing what it says.
func canonical(data []byte) string {
	var compact, escaped bytes.Buffer
	if json.Compact(&compact, data) != nil {
		return ""
	}
	json.HTMLEscape(&escaped, compact.Bytes())
	return escaped.String()
}

// VerifyCopy checks a copy as a file. Its lines may stand in any order and
// repeat. The copy may hold several jobs: one report for each.
func VerifyCopy(data []byte) []Report {
	var loose [][]byte // sheets, and lines that cannot be read
	jobs, order := map[event.JobID][][]byte{}, []event.JobID{}
	for line := range bytes.SplitSeq(data, []byte("\n")) {
		line = bytes.TrimSuffix(line, []byte("\r")) // some mail programs end lines so
		if len(line) == 0 {
			continue
		}
		e, err := event.Decode(line)
		if err != nil {
			loose = append(loose, line)
			continue
		}
		if jobs[e.Job] == nil {
			order = append(order, e.Job)
		}
		jobs[e.Job] = append(jobs[e.Job], line)
	}
	if len(order) == 0 {
		order = []event.JobID{""}
	}
	var out []Report
	for _, id := range order {
		r, _ := verifyLines(slices.Concat(fitting(loose, jobs[id]), jobs[id]))
		out = append(out, r)
	}
	return out
}

// fitting leaves out the sheets of other jobs. When none is the one that the job
// follows, they all stay: one of them may have been changed.
func fitting(loose, lines [][]byte) [][]byte {
	var pinned event.SheetHash
	for _, line := range lines {
		if e, err := event.Decode(line); err == nil {
			if p, ok := e.Payload().(*event.JobOpened); ok {
				pinned = p.Sheet
			}
		}
	}
	here := slices.ContainsFunc(loose, func(line []byte) bool { return hashOf(sheetIn(line)) == pinned })
	return slices.DeleteFunc(slices.Clone(loose), func(line []byte) bool {
		body := sheetIn(line)
		return body != nil && (pinned == "" || here && hashOf(body) != pinned)
	})
}

// Against checks the code that somebody read from a card.
func (r *Report) Against(typed string) {
	what := lang.T("The code that you gave is the one of these lines")
	code, err := ReadCode(typed)
	if err != nil {
		r.Add(what, err.Error())
		return
	}
	r.Add(what, otherCode(code, r.Code)...)
}

func otherCode(printed, computed string) []string {
	if printed == computed {
		return nil
	}
	return []string{lang.F("It says %s, the lines give %s.", printed, computed)}
}

// contents is what the lines of one job hold.
type contents struct {
	job    event.JobID
	events []event.Event
	body   []byte // of the sheet, or nil
	pinned event.SheetHash
}

// verifyLines checks lines as they stand.
func verifyLines(lines [][]byte) (Report, contents) {
	var r Report
	var read contents
	var unread, twice, others, sheets []string
	known := map[event.ID]string{}
	for i, line := range lines {
		if body := sheetIn(line); body != nil {
			if read.body != nil && !bytes.Equal(read.body, body) {
				sheets = append(sheets, lang.F("Line %d is a second sheet.", i+1))
			}
			read.body = body
			continue
		}
		e, err := event.Decode(line)
		if err != nil {
			unread = append(unread, lang.F("Line %d: %s", i+1, reason(err)))
			continue
		}
		if read.job == "" {
			read.job = e.Job
		}
		switch before, there := known[e.ID]; {
		case there && before != e.Line():
			twice = append(twice, lang.F("Line %d has the id of another line.", i+1))
		case e.Job != read.job:
			others = append(others, lang.F("Line %d is of another job.", i+1))
		}
		known[e.ID] = e.Line()
		read.events = append(read.events, e)
		if p, ok := e.Payload().(*event.JobOpened); ok && read.pinned == "" {
			read.pinned = p.Sheet
		}
	}
	r.Job, r.Events = read.job, len(known)
	if r.Events == 0 {
		unread = append(unread, lang.T("There is no event in it."))
	}
	r.Add(lang.T("Every line is whole and in canonical form"), append(unread, twice...)...)
	r.Add(lang.T("All events are of one job"), others...)
	r.Add(lang.T("The fitting sheet is the one that the job follows"), append(sheets, wrongSheet(read)...)...)
	r.Add(lang.T("Every chain holds, with no gap and no fork"), broken(read.events)...)
	r.Code = CodeOf(read.pinned, read.events)
	return r, read
}

// reason is what is wrong with a line, without what to do about it on a phone.
func reason(err error) string {
	text := err.Error()
	if f, ok := err.(*fault.Error); ok {
		text = f.Message
	}
	return strings.TrimPrefix(text, lang.F("An entry of this job cannot be read. %s", ""))
}

func sheetIn(line []byte) []byte {
	var s struct {
		Sheet json.RawMessage `json:"sheet"`
	}
	if json.Unmarshal(line, &s) != nil || len(s.Sheet) == 0 || sheetLine(s.Sheet) != string(line) {
		return nil
	}
	return s.Sheet
}

func wrongSheet(read contents) []string {
	switch {
	case read.body == nil:
		return nil // a copy may come without it
	case read.pinned == "":
		return []string{lang.T("No line says which sheet the job follows.")}
	case hashOf(read.body) != read.pinned:
		return []string{lang.F("The job follows the sheet %s, here is %s.", read.pinned, hashOf(read.body))}
	}
	return nil
}

func broken(events []event.Event) []string {
	var out []string
	for _, g := range event.Gaps(events) {
		out = append(out, lang.F("Device %s, at its event %d: %s.", g.Device, g.Seq, g.Reason))
	}
	return out
}

// compare looks at every part of two cards, by the names that the file has for
// them.
func (r *Report) compare(printed, computed Card) {
	p, c := reflect.ValueOf(printed), reflect.ValueOf(computed)
	var head []string
	for i := range p.NumField() {
		if p.Type().Field(i).Name == "Record" {
			continue // where the rest follows from
		}
		field, _, _ := strings.Cut(p.Type().Field(i).Tag.Get("json"), ",")
		if p.Field(i).Kind() == reflect.Slice {
			r.Add(lang.F("What stands under “%s” follows from the lines", field), differ(p.Field(i), c.Field(i))...)
			continue
		}
		if a, b := written(p.Field(i)), written(c.Field(i)); a != b {
			head = append(head, field+": "+Difference(a, b))
		}
	}
	r.Add(lang.T("The head of the card follows from the lines"), head...)
}

func differ(printed, computed reflect.Value) []string {
	for i := range min(printed.Len(), computed.Len()) {
		if a, b := written(printed.Index(i)), written(computed.Index(i)); a != b {
			return []string{lang.F("Row %d: %s", i+1, Difference(a, b))}
		}
	}
	if printed.Len() != computed.Len() {
		return []string{lang.F("The card has %d rows, the lines give %d.", printed.Len(), computed.Len())}
	}
	return nil
}

func written(v reflect.Value) string {
	data, err := json.Marshal(v.Interface())
	if err != nil {
		panic("card: a struct of strings and integers failed to marshal: " + err.Error())
	}
	return string(data)
}

// around is how much of a text is shown on either side of a difference, in bytes.
const around = 40

// Difference shows where a printed text leaves what was computed.
func Difference(printed, computed string) string {
	at := 0
	for at < min(len(printed), len(computed)) && printed[at] == computed[at] {
		at++
	}
	window := func(s string) string {
		return strings.ToValidUTF8(s[max(0, at-around):min(len(s), at+around)], "")
	}
	return lang.F("the card says …%s…, the lines give …%s…", window(printed), window(computed))
}
