package card

import (
	"crypto/sha256"
	"encoding/hex"
	"time"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/guide"
	"strutcard/sync/job"
	"strutcard/sync/review"
	"strutcard/sync/sheet"
)

// Beside is what a card says that no line of the record does.
type Beside struct {
	Made  string                    // see Time
	Names map[event.DeviceID]string // of the devices
}

// Of makes the card of a job from its events. body is the sheet that the job
// pins, or nil while it is not here: then only the record itself is told.
func Of(id event.JobID, body []byte, events []event.Event, beside Beside) (Card, error) {
	log := job.NewLog(id)
	log.Add(events...)
	b := builder{state: log.State(), events: log.Events(), by: map[event.ID]event.DeviceID{}}
	for _, e := range b.events {
		b.by[e.ID] = e.Device
	}
	if body != nil {
		if opened := b.state.Opened; opened == nil || opened.Sheet != hashOf(body) {
			return Card{}, fault.New(fault.Invalid, "This is not the fitting sheet that the job follows. No card was made.", "Find the sheet with the hash that the job names.")
		}
		stored, err := sheet.Decode(body)
		if err != nil {
			return Card{}, err
		}
		b.sheet = stored.Said()
	}
	return b.card(id, body, beside), nil
}

func hashOf(body []byte) event.SheetHash {
	sum := sha256.Sum256(body)
	return event.SheetHash(hex.EncodeToString(sum[:]))
}

// Time writes an instant, in ms since 1970 UTC, as a card does; 0 is "".
func Time(ms int64) string {
	if ms == 0 {
		return ""
	}
	return time.UnixMilli(ms).UTC().Format(time.RFC3339)
}

// builder makes one card. Every list is empty rather than nil, so that it is
// written as one.
type builder struct {
	sheet  *sheet.Sheet // nil while it is not here
	state  *job.State
	events []event.Event // in fold order
	by     map[event.ID]event.DeviceID
}

func (b builder) card(id event.JobID, body []byte, beside Beside) Card {
	c := Card{Format: Format, Language: lang.Tag(), Job: id, State: lang.T("In work."), Made: beside.Made, Deferral: lang.T(Deferral),
		Cautions: []string{}, Fasteners: []Fastener{}, Readings: []Reading{}, Clicks: []Clicks{}, Positions: []Position{},
		Parts: []Part{}, Tools: []Tool{}, Lifts: []Lift{}, Skipped: []Word{}, Leftovers: []Leftovers{}, Rechecks: []Recheck{},
		Counts:  Counts{All: int(b.state.Count), Withdrawn: b.state.Withdrawn, Unknown: b.state.Unknown},
		Devices: b.devices(beside.Names), Findings: b.findings(), Review: b.review(), Notes: b.notes(), Record: b.record(body)}
	if o := b.state.Opened; o != nil {
		c.Vehicle, c.Opened, c.Sheet = o.Vehicle, Time(o.At), Sheet{Title: lang.T(o.Title), Hash: o.Sheet}
	}
	if f := b.state.Finished; f != nil {
		c.State, c.Finished, c.Closing = lang.T("Finished by the installer."), Time(f.At), f.Note
	}
	c.Code = CodeOf(c.Sheet.Hash, b.events)
	if b.sheet == nil {
		c.Readings = b.readings(nil)
		return c
	}
	g := guide.New(b.sheet, b.state)
	c.Invented = b.sheet.Invented
	c.Sheet.Version, c.Sheet.Vehicle, c.Sheet.Own, c.Sheet.Here = b.sheet.Version, b.sheet.Vehicle.Name, b.sheet.Own, true
	b.work(g, &c)
	return c
}

// work fills in what needs the sheet.
func (b builder) work(g guide.Guide, c *Card) {
	if len(g.DriveBlockers()) > 0 {
		c.State += " " + lang.T("Do not drive: not everything is final, or the car is up.")
	}
	c.Cautions, c.Fasteners, c.Readings = b.cautions(), b.fasteners(g), b.readings(&g)
	c.Clicks, c.Positions = b.clicks(), b.positions()
	c.Parts, c.Tools, c.Lifts = b.parts(), b.tools(g), b.lifts()
	c.Skipped, c.Leftovers, c.Rechecks = b.skipped(), b.leftovers(), b.rechecks(g)
}

func (b builder) devices(names map[event.DeviceID]string) []Device {
	out, at := []Device{}, map[event.DeviceID]int{}
	for _, e := range b.events {
		if _, known := at[e.Device]; !known {
			at[e.Device] = len(out)
			out = append(out, Device{Device: e.Device, Name: names[e.Device]})
		}
		d := &out[at[e.Device]]
		d.Events++
		d.Last = Time(e.At)
	}
	return out
}

// cautions are the sheet's, each once, in the order of the work.
func (b builder) cautions() []string {
	out, seen := []string{}, map[string]bool{}
	for _, step := range b.sheet.Steps() {
		for _, text := range step.Cautions {
			if !seen[text] {
				seen[text] = true
				out = append(out, text)
			}
		}
	}
	return out
}

func (b builder) findings() []Finding {
	out := []Finding{}
	for _, f := range review.Findings(b.sheet, b.state, b.events) {
		row := Finding{ID: f.ID, Rule: f.Rule, Severity: f.Severity.Words(), Text: f.Text, Todo: f.Todo, Look: f.Look,
			Step: f.Step, Fastener: f.Fastener, Evidence: f.Evidence}
		if d := b.state.DecisionOn(f.ID); d != nil && f.ID != "" {
			word := b.decision(d)
			row.Decision = &word
		}
		out = append(out, row)
	}
	return out
}

// record is the lines: the sheet's first.
func (b builder) record(body []byte) []string {
	out := make([]string, 0, len(b.events)+1)
	if body != nil {
		out = append(out, sheetLine(body))
	}
	for _, e := range b.events {
		out = append(out, e.Line())
	}
	return out
}

func sheetLine(body []byte) string { return `{"sheet":` + string(body) + "}" }
