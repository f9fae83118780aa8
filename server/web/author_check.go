package web

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/plausible"
	"strutcard/sync/sheet"
	"strutcard/templates"
)

// checked says what is wrong and what is doubtful about a sheet.
func checked(s *sheet.Sheet) templates.DraftCheck {
	var v templates.DraftCheck
	if err := s.Validate(); err != nil {
		v.Fault = strings.TrimPrefix(fault.Of(err).Message, lang.T("This fitting sheet cannot be used.")+" ")
	}
	for _, d := range plausible.Sheet(s) {
		_, confirmable := confirmation(s, d.At)
		v.Doubts = append(v.Doubts, templates.DoubtRow{Path: d.At, Where: sentence(d.Where), Text: d.Text, Confirmed: confirmedWords(d.Confirmed), Confirmable: confirmable})
	}
	return v
}

// sentence raises the first letter.
func sentence(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return s
	}
	return string(unicode.ToUpper(first)) + s[size:]
}

// lowered lowers the first letter.
func lowered(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return s
	}
	return string(unicode.ToLower(first)) + s[size:]
}

// confirmation returns where the confirmation of the number at a path stands; ok
// is false for what cannot carry one.
func confirmation(s *sheet.Sheet, path string) (at *string, ok bool) {
	var i, j int
	if n, _ := fmt.Sscanf(path, "fasteners/%d/passes/%d", &i, &j); n == 2 && i >= 0 && i < len(s.Fasteners) && j >= 0 && j < len(s.Fasteners[i].Passes) {
		return &s.Fasteners[i].Passes[j].Confirmed, true
	}
	if n, _ := fmt.Sscanf(path, "targets/%d", &i); n == 1 && i >= 0 && i < len(s.Targets) {
		return &s.Targets[i].Confirmed, true
	}
	return nil, false
}

// against joins who confirmed a number with the source that it was compared with. A
// sheet is hashed, so what stands in it is the same in every language of a server.
const against = ", against "

func confirmedWords(kept string) string {
	if who, source, ok := strings.Cut(kept, against); ok {
		return lang.F("%s, against %s", who, source)
	}
	return kept
}

// asked is what a confirmation was given for: the number, and every question
// about it. The key survives a change of order.
func asked(s *sheet.Sheet) map[string]string {
	texts := map[string]string{} // by fastener and pass, else by path
	for _, d := range plausible.Sheet(s) {
		if d.Fastener != "" {
			d.At = fmt.Sprint(d.Fastener, " ", d.Pass)
		}
		texts[d.At] += d.Text
	}
	out := map[string]string{}
	for _, f := range s.Fasteners {
		for _, p := range f.Passes {
			key := fmt.Sprint(f.ID, " ", p.ID)
			out[key] = fmt.Sprint(p.Confirmed, "|", p.Kind, p.TorqueCNM, p.TolCNM, p.Share, p.AngleMdeg, p.Source, f.Thread, f.Source, texts[key], texts[fmt.Sprint(f.ID, " ")])
		}
	}
	for i := range s.Targets {
		t := s.Targets[i]
		out[targetKey(&t)] = fmt.Sprint(t, texts[fmt.Sprintf("targets/%d", i)])
	}
	return out
}

func targetKey(t *sheet.Target) string { return fmt.Sprint("target ", t.Quantity, " ", t.Axle) }

// keepConfirmed drops every confirmation in s that was not given, for the same
// number and the same questions, in the sheet before.
func keepConfirmed(before, s *sheet.Sheet) {
	was, is := asked(before), asked(s)
	for i := range s.Fasteners {
		for j := range s.Fasteners[i].Passes {
			p := &s.Fasteners[i].Passes[j]
			if key := fmt.Sprint(s.Fasteners[i].ID, " ", p.ID); was[key] != is[key] {
				p.Confirmed = ""
			}
		}
	}
	for i := range s.Targets {
		if key := targetKey(&s.Targets[i]); was[key] != is[key] {
			s.Targets[i].Confirmed = ""
		}
	}
}

// unverifiedAt reports whether a number at or below a path is unverified.
func unverifiedAt(v templates.DraftCheck, path string) bool {
	for _, d := range v.Unverified() {
		if within(d.Path, path) {
			return true
		}
	}
	return false
}

// doubted reports whether the torque of a pass is unverified.
func doubted(v templates.DraftCheck, s *sheet.Sheet, ref sheet.PassRef) bool {
	for i := range s.Fasteners {
		for j, p := range s.Fasteners[i].Passes {
			if s.Fasteners[i].ID == ref.Fastener && p.ID == ref.Pass {
				return unverifiedAt(v, fmt.Sprintf("fasteners/%d/passes/%d", i, j))
			}
		}
	}
	return false
}

// names of a draft that its steps and passes refer to.
func namesOf(s *sheet.Sheet) []templates.NameGroup {
	fasteners := templates.NameGroup{Title: lang.T("Fasteners and passes of this sheet")}
	for _, f := range s.Fasteners {
		for _, p := range f.Passes {
			fasteners.Rows = append(fasteners.Rows, templates.Choice{Value: fmt.Sprint(f.ID, " ", p.ID), Label: f.Place + ", " + cornerWords(f.Corner)})
		}
	}
	tools := templates.NameGroup{Title: lang.T("Tools of this sheet")}
	for _, t := range s.Tools {
		tools.Rows = append(tools.Rows, templates.Choice{Value: string(t.ID), Label: t.Name})
	}
	steps := templates.NameGroup{Title: lang.T("Steps of this sheet")}
	for _, stage := range s.Stages {
		for _, step := range stage.Steps {
			steps.Rows = append(steps.Rows, templates.Choice{Value: string(step.ID), Label: step.Title})
		}
	}
	return []templates.NameGroup{fasteners, tools, steps}
}

func cornerWords(c event.Corner) string {
	if !c.Valid() {
		return lang.T("no corner")
	}
	return placeWords(c.Place())
}
