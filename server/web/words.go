package web

import (
	"fmt"
	"strings"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/guide"
)

// words tells one event in a sentence.
func (n namer) words(e event.Event) string {
	switch p := e.Payload().(type) {
	case *event.JobOpened:
		return lang.F("Job opened for %s with the sheet “%s”.", p.Vehicle, lang.T(p.Title))
	case *event.StepStarted:
		return lang.F("Went to %s.", n.step(p.Step))
	case *event.StepDone:
		return lang.F("Done: %s.", n.step(p.Step))
	case *event.StepSkipped:
		return lang.F("Skipped %s. Reason: %s", n.step(p.Step), p.Reason)
	case *event.HoldAsked:
		return lang.F("Asked somebody to look at %s.", n.step(p.Step))
	case *event.HoldReleased:
		if p.By == "mentor" {
			return lang.F("Hold at %s released by the mentor: %s", n.step(p.Step), p.Reason)
		}
		return lang.F("Hold at %s released by the installer: %s", n.step(p.Step), p.Reason)
	case *event.CarRaised:
		return lang.F("The %s went up.", placeWords(p.Axle.Place()))
	case *event.CarLowered:
		return lang.F("The %s came down.", placeWords(p.Axle.Place()))
	case *event.CheckAnswered:
		return n.answerWords(p)
	case *event.NoteAdded:
		return lang.F("Note: %s", p.Text)
	case *event.CommentAdded, *event.FindingRaised, *event.DecisionMade:
		return guide.Describe(n.sheet, e)
	case *event.JobFinished:
		return strings.TrimSpace(lang.T("Called finished.") + " " + p.Note)
	case nil:
		return lang.F("Something that only a newer version of this program can read (%s).", e.Kind)
	}
	return n.workWords(e)
}

// workWords tells the events about fasteners, parts, tools and readings.
func (n namer) workWords(e event.Event) string {
	switch p := e.Payload().(type) {
	case *event.FastenerLoosened:
		return lang.F("Loosened: %s.", n.fastener(p.Fastener))
	case *event.FastenerFitted:
		if p.Renewed {
			return lang.F("Fitted, new: %s.", n.fastener(p.Fastener))
		}
		return lang.F("Fitted, used again: %s.", n.fastener(p.Fastener))
	case *event.FastenerMarked:
		return lang.F("Marked with paint: %s.", n.fastener(p.Fastener))
	case *event.PassDone:
		return n.passWords(p)
	case *event.SpecGiven:
		return n.specWords(p)
	case *event.PartCounted:
		return strings.TrimSpace(lang.F("Counted %d of %s, %d damaged.", p.Found, n.part(p.Part), p.Damaged) + " " + p.Note)
	case *event.ToolListed:
		if !p.Have {
			return lang.F("Not at hand: %s.", n.tool(p.Tool))
		}
		return strings.TrimSpace(lang.F("At hand: %s.", n.tool(p.Tool)) + " " + p.Label)
	case *event.ReadingTaken:
		return readingWords(p)
	case *event.AdjustmentMade:
		return lang.F("Adjusted %s, %s, from “%s” to “%s”.", quantityWords(p.Quantity), placeWords(p.Corner.Place()), p.Before, p.After)
	case *event.DamperSet:
		return lang.F("Damper %s set to %d clicks from %s.", placeWords(p.Corner.Place()), p.Clicks, lang.T(event.StopWords(p.From)))
	}
	return strings.TrimSuffix(guide.Describe(n.sheet, e), ".") + "."
}

func (n namer) answerWords(p *event.CheckAnswered) string {
	answer := lang.T(string(p.Answer))
	if p.Answer == event.Override {
		answer = lang.T("overridden")
	}
	axle, check := placeWords(p.Axle.Place()), n.check(p.Check)
	text := lang.F("Before the %s goes up: %s %s.", axle, check, answer)
	if p.Move == event.Lower {
		text = lang.F("Before the %s goes down: %s %s.", axle, check, answer)
	}
	if p.Reason != "" {
		text += " " + lang.F("Reason: %s", p.Reason)
	}
	return text
}

func (n namer) passWords(p *event.PassDone) string {
	parts := append([]string{lang.F("Tightened, pass “%s”: %s", guide.PassName(p.Pass), n.fastener(p.Fastener))}, figures(p.TorqueCNM, p.AngleMdeg)...)
	if p.SetCNM > 0 && p.SetCNM != p.TorqueCNM {
		parts = append(parts, lang.F("wrench set to %s", newtonMetres(p.SetCNM)))
	}
	if p.Count > 1 {
		parts = append(parts, lang.F("%d of them", p.Count))
	}
	return strings.Join(parts, ", ") + "."
}

func (n namer) specWords(p *event.SpecGiven) string {
	text := lang.F("Looked up for %s: %s, source: %s.", n.fastener(p.Fastener), strings.Join(figures(p.TorqueCNM, p.AngleMdeg), " "), p.Source)
	if p.Questioned != "" {
		text += " " + lang.F("Questioned: %s", p.Questioned)
	}
	if p.Questioned != "" && p.Confirmed {
		text += " " + lang.T("Kept by the installer.")
	}
	return text
}

// figures are what a pass is made with.
func figures(cnm, mdeg int64) (out []string) {
	if cnm > 0 {
		out = append(out, newtonMetres(cnm))
	}
	if mdeg > 0 {
		out = append(out, degrees(mdeg))
	}
	return out
}

// readingWords gives no spread where none was recorded: "± 0" would be a claim.
func readingWords(p *event.ReadingTaken) string {
	value, spread := degrees(p.ValueMD), degrees(p.U95Mdeg)
	if p.Quantity == event.RideHeight {
		value, spread = millimetres(p.ValueUM), millimetres(p.U95UM)
	}
	if p.U95Mdeg == 0 && p.U95UM == 0 {
		spread = lang.T("unknown")
	}
	return lang.F("Measured %s, %s, %s: %s ± %s, by %s.", quantityWords(p.Quantity), placeWords(p.Corner.Place()), purposeWords(p.Purpose), value, spread, lang.T(p.Method))
}

func quantityWords(q event.Quantity) string { return lang.T(strings.ReplaceAll(string(q), "_", " ")) }

// placeWords names a corner or an axle.
func placeWords(at event.Place) string { return lang.T(at.Words()) }

func purposeWords(p event.Purpose) string {
	return map[event.Purpose]string{event.Before: lang.T("as found"), event.Setting: lang.T("while setting"), event.Final: lang.T("at the end")}[p]
}

func newtonMetres(cnm int64) string { return lang.Number(decimal(cnm, 100, 2)) + " N·m" }

func degrees(mdeg int64) string { return lang.Number(decimal(mdeg, 1000, 3)) + "°" }

func millimetres(um int64) string { return lang.Number(decimal(um, 1000, 3)) + " mm" }

// decimal writes an integer of small units exactly, without zeros at the end.
func decimal(v, per int64, places int) string {
	sign := ""
	if v < 0 {
		sign, v = "−", -v
	}
	text := fmt.Sprintf("%s%d.%0*d", sign, v/per, places, v%per)
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
}
