package web

import (
	"fmt"
	"strings"

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
		v.Fault = strings.TrimPrefix(fault.Of(err).Message, "This fitting sheet cannot be used. ")
	}
	spots := spotsOf(s)
	for _, d := range plausible.Sheet(s) {
		path := spots[spot(d)]
		_, confirmable := confirmation(s, path)
		v.Doubts = append(v.Doubts, templates.DoubtRow{Path: path, Where: sentence(d.Where), Text: d.Text, Confirmed: d.Confirmed, Confirmable: confirmable})
	}
	return v
}

// sentence raises the first letter.
func sentence(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// spot names what a doubt is about.
func spot(d plausible.Doubt) string {
	if d.Fastener != "" {
		return fmt.Sprint(d.Fastener, " ", d.Pass)
	}
	return d.Where
}

// spotsOf finds the places that doubts are about. A doubt about a whole fastener
// is confirmed at its final pass.
func spotsOf(s *sheet.Sheet) map[string]string {
	out := map[string]string{"the car": "vehicle"}
	for i := range s.Fasteners {
		f := &s.Fasteners[i]
		for j, p := range f.Passes {
			path := fmt.Sprintf("fasteners/%d/passes/%d", i, j)
			out[fmt.Sprint(f.ID, " ", p.ID)] = path
			if p.Kind == sheet.Final {
				out[fmt.Sprint(f.ID, " ")] = path
			}
		}
	}
	for i, t := range s.Targets {
		out[t.Quantity.Words()+", "+t.Axle.Place().Words()] = fmt.Sprintf("targets/%d", i)
	}
	for _, d := range s.Dampers {
		out["dampers, "+d.Axle.Place().Words()] = "dampers"
	}
	for _, p := range s.Perches {
		out["spring perches, "+p.Axle.Place().Words()] = "perches"
	}
	return out
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

// asked is what a confirmation was given for: the number, and every question
// about it. The key survives a change of order.
func asked(s *sheet.Sheet) map[string]string {
	texts := map[string]string{}
	for _, d := range plausible.Sheet(s) {
		texts[spot(d)] += d.Text
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
		out[targetKey(&t)] = fmt.Sprint(t, texts[t.Quantity.Words()+", "+t.Axle.Place().Words()])
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
		if d.Path == path || strings.HasPrefix(d.Path, path+"/") {
			return true
		}
	}
	return false
}

// doubted reports whether the torque of a pass is unverified.
func doubted(v templates.DraftCheck, s *sheet.Sheet, ref sheet.PassRef) bool {
	return unverifiedAt(v, spotsOf(s)[fmt.Sprint(ref.Fastener, " ", ref.Pass)])
}

// names of a draft that its steps and passes refer to.
func namesOf(s *sheet.Sheet) []templates.NameGroup {
	fasteners := templates.NameGroup{Title: "Fasteners and passes of this sheet"}
	for _, f := range s.Fasteners {
		for _, p := range f.Passes {
			fasteners.Rows = append(fasteners.Rows, templates.Choice{Value: fmt.Sprint(f.ID, " ", p.ID), Label: f.Place + ", " + cornerWords(f.Corner)})
		}
	}
	tools := templates.NameGroup{Title: "Tools of this sheet"}
	for _, t := range s.Tools {
		tools.Rows = append(tools.Rows, templates.Choice{Value: string(t.ID), Label: t.Name})
	}
	steps := templates.NameGroup{Title: "Steps of this sheet"}
	for _, stage := range s.Stages {
		for _, step := range stage.Steps {
			steps.Rows = append(steps.Rows, templates.Choice{Value: string(step.ID), Label: step.Title})
		}
	}
	return []templates.NameGroup{fasteners, tools, steps}
}

func cornerWords(c event.Corner) string {
	if !c.Valid() {
		return "no corner"
	}
	return c.Words()
}
