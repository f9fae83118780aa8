// Package plausible asks about numbers of a fitting sheet that look like a slip:
// a unit taken for its neighbour, a mark that was lost, two columns mixed up. It
// never mends a number and never gives one to use. What it asks about stays
// unverified until somebody has compared it with the source and says so.
//
// Its functions return questions to put to a person; "" is nothing to ask, which
// is no approval. The ids beside the rules (TOR-08, CAL-18 and others) name the
// project's collection of cases from manuals, bulletins and forums.
package plausible

import (
	"fmt"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/sheet"
)

// Doubt is one question about a sheet.
type Doubt struct {
	Where     string           // in words
	At        string           // the path of the number in the sheet's file, such as "targets/0"; of a whole fastener that of its final pass
	Fastener  event.FastenerID // "" for what belongs to none
	Pass      event.PassID     // "" for a question about the whole fastener
	Text      string
	Confirmed string // who compared it with what; "" while it is open
	Unchecked bool   // nothing looks wrong: nothing here can judge the number, so it is to be read back
}

// Sheet lists every doubt about a sheet in the order of the sheet, also those
// that somebody has confirmed. The car, dampers and perches have no place for a
// confirmation.
func Sheet(s *sheet.Sheet) []Doubt {
	var out []Doubt
	for _, text := range Vehicle(&s.Vehicle) {
		out = append(out, Doubt{Where: lang.T("the car"), At: "vehicle", Text: text})
	}
	for i := range s.Fasteners {
		out = append(out, fastened(s, i)...)
	}
	for i := range s.Targets {
		t := &s.Targets[i]
		out = add(out, Doubt{Where: lang.T(t.Quantity.Words()) + ", " + lang.T(t.Axle.Place().Words()), At: fmt.Sprintf("targets/%d", i), Text: Target(t), Confirmed: t.Confirmed})
	}
	for i := range s.Dampers {
		d := &s.Dampers[i]
		out = add(out, Doubt{Where: lang.F("dampers, %s", lang.T(d.Axle.Place().Words())), At: fmt.Sprintf("dampers/%d", i), Text: Damper(d)})
	}
	for i := range s.Perches {
		p := &s.Perches[i]
		out = add(out, Doubt{Where: lang.F("spring perches, %s", lang.T(p.Axle.Place().Words())), At: fmt.Sprintf("perches/%d", i), Text: Perch(p)})
	}
	return out
}

func add(list []Doubt, d Doubt) []Doubt {
	if d.Text == "" {
		return list
	}
	return append(list, d)
}
