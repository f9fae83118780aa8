package web

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
	"strutcard/sync/store"
	"strutcard/templates"
)

// lateAfter is how long an event may take to reach the server without a word.
const lateAfter = 12 * time.Hour

// timeline tells a job's events in words, in the order of the record.
func timeline(records []store.Record, sh *sheet.Sheet, names map[event.DeviceID]string) []templates.Moment {
	records = slices.Clone(records)
	slices.SortFunc(records, func(a, b store.Record) int {
		switch {
		case event.Less(a.Event, b.Event):
			return -1
		case event.Less(b.Event, a.Event):
			return 1
		}
		return 0
	})
	n := namer{sh}
	told, gone := map[event.ID]string{}, job.TakenBack(eventsOf(records)) // what is taken back shows no picture
	out := make([]templates.Moment, 0, len(records))
	for _, r := range records {
		words := n.words(r.Event)
		if p, ok := r.Event.Payload().(*event.Corrected); ok {
			words = lang.F("Taken back: “%s” Reason: %s", cmp.Or(told[p.Event], lang.T("an event that is not here")), guide.ReasonWords(p.Reason))
		}
		told[r.Event.ID] = words
		m := templates.Moment{At: when(r.Event.Time()), Words: words, By: cmp.Or(names[r.Event.Device], speaker(r))}
		if p, ok := r.Event.Payload().(*event.PhotoTaken); ok && !gone[r.Event.ID] {
			m.Photo = &templates.PhotoRow{SHA: p.SHA256}
		}
		if arrived := time.UnixMilli(r.Received); arrived.Sub(r.Event.Time()) > lateAfter {
			m.Late = lang.F("reached the server %s", when(arrived))
		}
		out = append(out, m)
	}
	return out
}

// speaker is who wrote an event whose device has no name here.
func speaker(r store.Record) string {
	switch p := r.Event.Payload().(type) {
	case *event.CommentAdded:
		return p.Name
	case *event.FindingRaised:
		return p.Name
	case *event.DecisionMade:
		return p.Name
	}
	switch kind, _, _ := strings.Cut(r.Actor, ":"); kind {
	case "staff":
		return lang.T("the shop")
	case "share":
		return lang.T("somebody with a link")
	}
	return lang.T("another phone")
}

// namer calls things by the names in the sheet, or by their ids without it.
type namer struct{ sheet *sheet.Sheet }

func (n namer) step(id event.StepID) string {
	if n.sheet != nil {
		if s := n.sheet.Step(id); s != nil {
			return lang.F("“%s”", s.Title)
		}
	}
	return string(id)
}

func (n namer) fastener(id event.FastenerID) string {
	if n.sheet != nil {
		if f := n.sheet.Fastener(id); f != nil {
			return f.Name()
		}
	}
	return string(id)
}

func (n namer) part(id event.PartID) string {
	if n.sheet != nil {
		for _, p := range n.sheet.Parts {
			if p.ID == id {
				return p.Name
			}
		}
	}
	return string(id)
}

func (n namer) tool(id event.ToolID) string {
	if n.sheet != nil {
		if t := n.sheet.Tool(id); t != nil {
			return t.Name
		}
	}
	return string(id)
}

func (n namer) check(id event.CheckID) string {
	if n.sheet != nil {
		for _, c := range n.sheet.Checks {
			if c.ID == id {
				return lang.F("“%s”", c.Ask)
			}
		}
	}
	return string(id)
}
