package guide

import (
	"fmt"
	"strings"

	"strutcard/sync/event"
	"strutcard/sync/sheet"
)

// Describe says in words what an event recorded. The sheet may be nil.
func Describe(s *sheet.Sheet, e event.Event) string {
	w := words{s}
	switch p := e.Payload().(type) {
	case *event.JobOpened:
		return "Job opened: " + p.Vehicle
	case *event.PartCounted:
		return fmt.Sprintf("Counted %s: %d", w.part(p.Part), p.Found)
	case *event.ToolListed:
		if p.Have {
			return "At hand: " + w.named(p)
		}
		return "Not here: " + w.named(p)
	case *event.SpecGiven:
		return fmt.Sprintf("Torque looked up for %s: %s (%s)", w.fastener(p.Fastener), newtonMetres(p.TorqueCNM), p.Source)
	case *event.ReadingTaken:
		return fmt.Sprintf("Measured %s (%s)", ReadingWords(p.Quantity, p.Place()), p.Purpose)
	case *event.AdjustmentMade:
		return fmt.Sprintf("Changed, %s: %s", ReadingWords(p.Quantity, p.Corner.Place()), p.After)
	case *event.DamperSet:
		return fmt.Sprintf("Damper set, %s: %d clicks", p.Corner.Words(), p.Clicks)
	case *event.CheckAnswered:
		return fmt.Sprintf("Check before the %s axle: %s: %s", p.Axle, w.check(p.Check), p.Answer)
	case *event.CarRaised:
		return fmt.Sprintf("The %s axle stands on stands", p.Axle)
	case *event.CarLowered:
		return fmt.Sprintf("The %s axle is down on its wheels", p.Axle)
	case *event.PositionNoted:
		return fmt.Sprintf("Stands (%s), %s adjuster, %s: %s", p.Purpose, p.Adjuster.Words(), p.Corner.Words(), p.Text)
	case *event.WorkParked:
		return "Parked: work stops for longer. " + p.Note
	case *event.WorkResumed:
		if p.AsLeft {
			return "Back at work: the car stands as the record says"
		}
		return "Back at work, something is different: " + p.Note
	case *event.WithdrawalSeen:
		return "Went on although the sheet was withdrawn: " + p.Reason
	case *event.NoteAdded:
		return "Note: " + p.Text
	case *event.Corrected:
		return "Taken back: " + p.Reason
	case *event.JobFinished:
		return "Job finished"
	case nil:
		return "Needs a newer app: " + string(e.Kind)
	}
	return w.work(e.Payload())
}

type words struct{ sheet *sheet.Sheet }

func (w words) work(p event.Payload) string {
	switch p := p.(type) {
	case *event.StepStarted:
		return "At step: " + w.step(p.Step)
	case *event.StepDone:
		return "Step done: " + w.step(p.Step)
	case *event.StepSkipped:
		return "Step skipped: " + w.step(p.Step) + ": " + p.Reason
	case *event.HoldAsked:
		return "Waits for a look: " + w.step(p.Step)
	case *event.HoldReleased:
		return "Hold point released: " + w.step(p.Step) + ": " + p.Reason
	case *event.CommentAdded:
		return p.Name + " says: " + p.Text
	case *event.FindingRaised:
		return fmt.Sprintf("%s raised (%s): %s", p.Name, p.Severity, p.Text)
	case *event.DecisionMade:
		return w.decision(p)
	case *event.StepChecked:
		return fmt.Sprintf("Asked: %s: %s", w.question(p.Step, p.Check), p.Answer)
	case *event.StepReopened:
		return "To be done again: " + w.step(p.Step) + ": " + p.Reason
	case *event.PhotoTaken:
		return "Photo: " + w.photo(p.Step, p.Photo, p.Caption)
	case *event.PhotoLeftOut:
		return "No photo of " + w.photo(p.Step, p.Photo, "") + ": " + p.Reason
	case *event.LeftoversCounted:
		return fmt.Sprintf("Left over on the bench: %d", p.Count)
	case *event.FastenerLoosened:
		return "Loosened: " + w.fastener(p.Fastener)
	case *event.FastenerFitted:
		if p.Renewed {
			return "Fitted new: " + w.fastener(p.Fastener)
		}
		return "Fitted, used again: " + w.fastener(p.Fastener)
	case *event.FastenerMarked:
		return "Marked: " + w.fastener(p.Fastener)
	case *event.PassDone:
		if p.TorqueCNM == 0 {
			return fmt.Sprintf("Tightened (%s): %s", p.Pass, w.fastener(p.Fastener))
		}
		return fmt.Sprintf("Tightened (%s): %s, %s", p.Pass, w.fastener(p.Fastener), newtonMetres(p.TorqueCNM))
	}
	return string(p.Kind())
}

func (w words) decision(p *event.DecisionMade) string {
	about := "the whole job"
	switch {
	case p.Fastener != "":
		about = w.fastener(p.Fastener)
	case p.Step != "":
		about = w.step(p.Step)
	case p.Finding != "":
		about = "a finding"
	}
	said := map[event.Decision]string{event.Accept: "accepts", event.Query: "asks about", event.Redo: "wants again", event.Return: "returns"}[p.Decision]
	return strings.TrimSuffix(fmt.Sprintf("%s %s %s: %s", p.Name, said, about, p.Text), ": ")
}

func (w words) step(id event.StepID) string {
	if w.sheet != nil && w.sheet.Step(id) != nil {
		return w.sheet.Step(id).Title
	}
	return string(id)
}

func (w words) fastener(id event.FastenerID) string {
	if w.sheet != nil && w.sheet.Fastener(id) != nil {
		f := w.sheet.Fastener(id)
		return f.Place + ", " + f.Corner.Words()
	}
	return string(id)
}

func (w words) question(step event.StepID, id event.CheckID) string {
	if w.sheet != nil && w.sheet.Step(step) != nil {
		for _, c := range w.sheet.Step(step).Checks {
			if c.ID == id {
				return c.Ask
			}
		}
	}
	return string(id)
}

func (w words) photo(step event.StepID, id event.PhotoID, caption string) string {
	if caption != "" {
		return caption
	}
	if w.sheet != nil && w.sheet.Step(step) != nil {
		for _, p := range w.sheet.Step(step).Photos {
			if p.ID == id {
				return p.What
			}
		}
	}
	if id == "" {
		return w.step(step)
	}
	return string(id)
}

func (w words) tool(id event.ToolID) string {
	if w.sheet != nil && w.sheet.Tool(id) != nil {
		return w.sheet.Tool(id).Name
	}
	return string(id)
}

// named is the sheet's name of a tool, or the owner's own for one that it does not list.
func (w words) named(p *event.ToolListed) string {
	if name := w.tool(p.Tool); name != string(p.Tool) || p.Label == "" {
		return name
	}
	return p.Label
}

func (w words) part(id event.PartID) string {
	if w.sheet != nil {
		for _, p := range w.sheet.Parts {
			if p.ID == id {
				return p.Name
			}
		}
	}
	return string(id)
}

func (w words) check(id event.CheckID) string {
	if w.sheet != nil {
		for _, c := range w.sheet.Checks {
			if c.ID == id {
				return c.Ask
			}
		}
	}
	return string(id)
}
