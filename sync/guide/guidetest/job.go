// Package guidetest carries out fitting sheets in tests: it asks the guide what
// comes next, answers as a careful installer would, and fails when the guide
// refuses.
package guidetest

import (
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
)

// start is when every test job begins; each event comes a minute later.
var start = time.Date(2026, 9, 21, 8, 0, 0, 0, time.UTC)

// Job is one device's record of a job that follows a sheet. A mentor's word comes
// from another device.
type Job struct {
	T      testing.TB
	Sheet  *sheet.Sheet
	Log    *job.Log
	Chain  event.Chain
	Mentor event.Chain
}

// New opens a job with fresh ids.
func New(t testing.TB, s *sheet.Sheet) *Job {
	id := NewID[event.JobID]()
	j := &Job{T: t, Sheet: s, Log: job.NewLog(id), Chain: event.Chain{Job: id, Device: NewID[event.DeviceID]()},
		Mentor: event.Chain{Job: id, Device: NewID[event.DeviceID]()}}
	j.Force(&event.JobOpened{Sheet: s.Hash(), Title: s.Title, Vehicle: "test car"})
	return j
}

// NewID returns a fresh id.
func NewID[T ~string]() T { return T(uuid.Must(uuid.NewV7()).String()) }

// Guide returns what the guide says now.
func (j *Job) Guide() guide.Guide { return guide.New(j.Sheet, j.Log.State()) }

// Events returns the record so far.
func (j *Job) Events() []event.Event { return j.Log.Events() }

// Force records events without asking the guide, as a merge from another phone would.
func (j *Job) Force(payloads ...event.Payload) event.Event {
	j.T.Helper()
	var e event.Event
	for _, p := range payloads {
		var err error
		at := start.Add(time.Duration(len(j.Log.Events())) * time.Minute)
		by := j.Chain
		if released, ok := p.(*event.HoldReleased); ok && released.By == "mentor" {
			by = j.Mentor
		}
		if e, err = by.Seal(NewID[event.ID](), at, p); err != nil {
			j.T.Fatalf("seal %s: %v", p.Kind(), err)
		}
		j.Add(e)
	}
	return e
}

// Add takes in an event that was sealed elsewhere.
func (j *Job) Add(e event.Event) {
	j.Chain, j.Mentor = j.Chain.See(e), j.Mentor.See(e)
	j.Log.Add(e)
}

// Try records an event if the guide allows it, and returns the refusal if not.
func (j *Job) Try(p event.Payload) error {
	j.T.Helper()
	err := j.Guide().Allow(p)
	if c, ok := p.(*event.Corrected); ok {
		for _, e := range j.Events() {
			if e.ID == c.Event {
				err = j.Guide().AllowCorrection(e)
			}
		}
	}
	if err == nil {
		j.Force(p)
	}
	return err
}

// Do records events that the guide must allow.
func (j *Job) Do(payloads ...event.Payload) {
	j.T.Helper()
	for _, p := range payloads {
		if err := j.Try(p); err != nil {
			j.T.Fatalf("after %d events the guide refuses %s %+v: %v", len(j.Events()), p.Kind(), p, err)
		}
	}
}

// Pass returns the event that makes one pass as the guide asks for it.
func (j *Job) Pass(fastener event.FastenerID, pass event.PassID) *event.PassDone {
	g := j.Guide()
	f := j.Sheet.Fastener(fastener)
	spec, _ := g.Spec(f, f.Pass(pass))
	return &event.PassDone{Fastener: fastener, Pass: pass, TorqueCNM: spec.TorqueCNM, AngleMdeg: spec.AngleMdeg,
		SetCNM: spec.TorqueCNM, Wrench: g.Wrench(spec.TorqueCNM), Count: f.Count}
}

// Answer returns the event that does what a step asks for.
func (j *Job) Answer(step *sheet.Step, ask guide.Ask) event.Payload {
	switch {
	case ask.Part != "":
		return &event.PartCounted{Part: ask.Part, Found: partCount(j.Sheet, ask.Part)}
	case ask.Tool != "":
		return tool(j.Sheet.Tool(ask.Tool))
	case ask.Check != "":
		return &event.CheckAnswered{Axle: step.Axle, Move: step.Move, Check: ask.Check, Answer: event.Yes}
	case ask.Question != nil:
		return &event.StepChecked{Step: step.ID, Check: ask.Question.ID, Answer: event.Yes}
	case ask.Photo != nil:
		return photo(step.ID, ask.Photo.ID)
	case ask.Position != nil:
		return &event.PositionNoted{Adjuster: ask.Position.Adjuster, Corner: ask.Position.Corner, Purpose: ask.Position.Purpose, Text: "mark 3"}
	case ask.Clicks != nil:
		return j.clicks(ask.Clicks)
	case ask.Leftovers:
		return &event.LeftoversCounted{Step: step.ID}
	case ask.Loosen != "":
		return &event.FastenerLoosened{Fastener: ask.Loosen}
	case ask.Fit != "":
		return &event.FastenerFitted{Fastener: ask.Fit, Renewed: j.Sheet.Fastener(ask.Fit).Renew}
	case ask.Pass != (sheet.PassRef{}):
		return j.Pass(ask.Pass.Fastener, ask.Pass.Pass)
	case ask.Reading != nil:
		return j.Reading(ask.Reading.Quantity, ask.Reading.Place(), ask.Reading.Purpose)
	case ask.Spec != (sheet.PassRef{}):
		return j.LookUp(ask.Spec.Fastener)
	case step.Move == event.Raise:
		return &event.CarRaised{Axle: step.Axle}
	case step.Move == event.Lower:
		return &event.CarLowered{Axle: step.Axle}
	}
	return &event.StepDone{Step: step.ID}
}

// clicks counts some as found, and sets what the sheet asks for.
func (j *Job) clicks(ask *sheet.ClicksAsk) *event.DamperSet {
	p := &event.DamperSet{Corner: ask.Corner, Knob: ask.Knob, Purpose: ask.Purpose, From: "full_hard", Clicks: 7, Total: 20}
	if d := j.Sheet.Damper(ask.Corner.Axle(), ask.Knob); d != nil && ask.Purpose == event.Setting {
		p.From, p.Clicks, p.StopCount, p.Total = d.From, d.Clicks, d.StopCounts, d.Total
	}
	return p
}

// LookUp returns the event that gives a fastener's final torque with its source.
func (j *Job) LookUp(id event.FastenerID) *event.SpecGiven {
	f := j.Sheet.Fastener(id)
	spec := &event.SpecGiven{Fastener: id, Pass: f.Final().ID, TorqueCNM: 5000, Source: "test manual, page 1"}
	if given := j.Log.State().Specs[id][spec.Pass]; given.Questioned != "" {
		spec.TorqueCNM, spec.Questioned, spec.Confirmed = given.TorqueCNM, given.Questioned, true
	}
	return spec
}

// Reading returns a reading that meets its target.
func (j *Job) Reading(q event.Quantity, at event.Place, p event.Purpose) *event.ReadingTaken {
	r := &event.ReadingTaken{Quantity: q, Purpose: p, Method: "test"}
	if r.Corner = at.Corner(); r.Corner == "" {
		r.Axle = at.Axle()
	}
	usual := map[event.Unit][2]int64{event.UM: {350_000, 1000}, event.Mdeg: {0, 100}, event.G: {300_000, 1000}, event.Pa: {220_000, 5000}}[q.Unit()]
	value := usual[0]
	if target := j.Sheet.Target(q, at.Axle()); target != nil {
		value, _ = target.Amount()
	}
	r.SetAmount(value, usual[1])
	return r
}

func photo(step event.StepID, id event.PhotoID) *event.PhotoTaken {
	return &event.PhotoTaken{Step: step, Photo: id, SHA256: strings.Repeat("0f", 32), Bytes: 700_000, Width: 1600, Height: 1200}
}

func tool(t *sheet.Tool) *event.ToolListed {
	got := &event.ToolListed{Tool: t.ID, Have: true}
	switch t.Kind {
	case sheet.TorqueWrench:
		got.LowCNM, got.HighCNM, got.Checked = 3500, 21_000, "March 2026"
		if strings.Contains(string(t.ID), "small") {
			got.LowCNM, got.HighCNM = 500, 6000
		}
	case sheet.Stands, sheet.Jack:
		got.RatingG = 2_000_000
	}
	return got
}

func partCount(s *sheet.Sheet, id event.PartID) int64 {
	for _, p := range s.Parts {
		if p.ID == id {
			return p.Count
		}
	}
	return 0
}
