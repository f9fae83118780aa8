package web

import (
	"fmt"
	"strings"

	"strutcard/sync/event"
	"strutcard/sync/guide"
)

// words tells one event in a sentence.
func (n namer) words(e event.Event) string {
	switch p := e.Payload().(type) {
	case *event.JobOpened:
		return fmt.Sprintf("Job opened for %s with the sheet “%s”.", p.Vehicle, p.Title)
	case *event.StepStarted:
		return "Went to " + n.step(p.Step) + "."
	case *event.StepDone:
		return "Done: " + n.step(p.Step) + "."
	case *event.StepSkipped:
		return fmt.Sprintf("Skipped %s. Reason: %s", n.step(p.Step), p.Reason)
	case *event.HoldAsked:
		return "Asked somebody to look at " + n.step(p.Step) + "."
	case *event.HoldReleased:
		return fmt.Sprintf("Hold at %s released by the %s: %s", n.step(p.Step), p.By, p.Reason)
	case *event.CarRaised:
		return fmt.Sprintf("The %s axle went up.", p.Axle)
	case *event.CarLowered:
		return fmt.Sprintf("The %s axle came down.", p.Axle)
	case *event.CheckAnswered:
		return n.answerWords(p)
	case *event.NoteAdded:
		return "Note: " + p.Text
	case *event.CommentAdded, *event.FindingRaised, *event.DecisionMade:
		return guide.Describe(n.sheet, e)
	case *event.JobFinished:
		return strings.TrimSpace("Called finished. " + p.Note)
	case nil:
		return fmt.Sprintf("Something that only a newer version of this program can read (%s).", e.Kind)
	}
	return n.workWords(e)
}

// workWords tells the events about fasteners, parts, tools and readings.
func (n namer) workWords(e event.Event) string {
	switch p := e.Payload().(type) {
	case *event.FastenerLoosened:
		return "Loosened: " + n.fastener(p.Fastener) + "."
	case *event.FastenerFitted:
		if p.Renewed {
			return "Fitted, new: " + n.fastener(p.Fastener) + "."
		}
		return "Fitted, used again: " + n.fastener(p.Fastener) + "."
	case *event.FastenerMarked:
		return "Marked with paint: " + n.fastener(p.Fastener) + "."
	case *event.PassDone:
		return n.passWords(p)
	case *event.SpecGiven:
		return n.specWords(p)
	case *event.PartCounted:
		return strings.TrimSpace(fmt.Sprintf("Counted %d of %s, %d damaged. %s", p.Found, n.part(p.Part), p.Damaged, p.Note))
	case *event.ToolListed:
		if !p.Have {
			return "Not at hand: " + n.tool(p.Tool) + "."
		}
		return strings.TrimSpace("At hand: " + n.tool(p.Tool) + ". " + p.Label)
	case *event.ReadingTaken:
		return readingWords(p)
	case *event.AdjustmentMade:
		return fmt.Sprintf("Adjusted %s, %s, from “%s” to “%s”.", quantityWords(p.Quantity), p.Corner.Words(), p.Before, p.After)
	case *event.DamperSet:
		return fmt.Sprintf("Damper %s set to %d clicks from %s.", p.Corner.Words(), p.Clicks, event.StopWords(p.From))
	}
	return strings.TrimSuffix(guide.Describe(n.sheet, e), ".") + "."
}

func (n namer) answerWords(p *event.CheckAnswered) string {
	answer := string(p.Answer)
	if p.Answer == event.Override {
		answer = "overridden"
	}
	text := fmt.Sprintf("Before the %s axle goes %s: %s %s.", p.Axle, map[event.Move]string{event.Raise: "up", event.Lower: "down"}[p.Move], n.check(p.Check), answer)
	if p.Reason != "" {
		text += " Reason: " + p.Reason
	}
	return text
}

func (n namer) passWords(p *event.PassDone) string {
	text := fmt.Sprintf("Tightened, pass “%s”: %s", p.Pass, n.fastener(p.Fastener))
	if p.TorqueCNM > 0 {
		text += ", " + newtonMetres(p.TorqueCNM)
	}
	if p.AngleMdeg > 0 {
		text += ", " + degrees(p.AngleMdeg)
	}
	if p.SetCNM > 0 && p.SetCNM != p.TorqueCNM {
		text += ", wrench set to " + newtonMetres(p.SetCNM)
	}
	if p.Count > 1 {
		text += fmt.Sprintf(", %d of them", p.Count)
	}
	return text + "."
}

func (n namer) specWords(p *event.SpecGiven) string {
	text := "Looked up for " + n.fastener(p.Fastener) + ":"
	if p.TorqueCNM > 0 {
		text += " " + newtonMetres(p.TorqueCNM)
	}
	if p.AngleMdeg > 0 {
		text += " " + degrees(p.AngleMdeg)
	}
	text += ", source: " + p.Source + "."
	if p.Questioned != "" {
		text += " Questioned: " + p.Questioned
	}
	if p.Questioned != "" && p.Confirmed {
		text += " Kept by the installer."
	}
	return text
}

// readingWords gives no spread where none was recorded: "± 0" would be a claim.
func readingWords(p *event.ReadingTaken) string {
	value, spread := degrees(p.ValueMD), degrees(p.U95Mdeg)
	if p.Quantity == event.RideHeight {
		value, spread = millimetres(p.ValueUM), millimetres(p.U95UM)
	}
	if p.U95Mdeg == 0 && p.U95UM == 0 {
		spread = "unknown"
	}
	return fmt.Sprintf("Measured %s, %s, %s: %s ± %s, by %s.", quantityWords(p.Quantity), p.Corner.Words(), purposeWords(p.Purpose), value, spread, p.Method)
}

func quantityWords(q event.Quantity) string { return strings.ReplaceAll(string(q), "_", " ") }

func purposeWords(p event.Purpose) string {
	return map[event.Purpose]string{event.Before: "as found", event.Setting: "while setting", event.Final: "at the end"}[p]
}

func newtonMetres(cnm int64) string { return decimal(cnm, 100, 2) + " N·m" }

func degrees(mdeg int64) string { return decimal(mdeg, 1000, 3) + "°" }

func millimetres(um int64) string { return decimal(um, 1000, 3) + " mm" }

// decimal writes an integer of small units exactly, without zeros at the end.
func decimal(v, per int64, places int) string {
	sign := ""
	if v < 0 {
		sign, v = "−", -v
	}
	text := fmt.Sprintf("%s%d.%0*d", sign, v/per, places, v%per)
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
}
