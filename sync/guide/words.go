package guide

import (
	"strings"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/sheet"
)

// Describe says in words what an event recorded. The sheet may be nil.
func Describe(s *sheet.Sheet, e event.Event) string {
	w := words{s}
	switch p := e.Payload().(type) {
	case *event.JobOpened:
		return lang.F("Job opened: %s", p.Vehicle)
	case *event.PartCounted:
		return lang.F("Counted %s: %d", w.part(p.Part), p.Found)
	case *event.ToolListed:
		if p.Have {
			return lang.F("At hand: %s", w.named(p))
		}
		return lang.F("Not here: %s", w.named(p))
	case *event.SpecGiven:
		return lang.F("Torque looked up for %s: %s (%s)", w.fastener(p.Fastener), newtonMetres(p.TorqueCNM), p.Source)
	case *event.ReadingTaken:
		return lang.F("Measured %s (%s)", ReadingWords(p.Quantity, p.Place()), purposeWords(p.Purpose))
	case *event.AdjustmentMade:
		return lang.F("Changed, %s: %s", ReadingWords(p.Quantity, p.Corner.Place()), p.After)
	case *event.DamperSet:
		return lang.F("Damper set, %s: %d clicks", lang.T(p.Corner.Words()), p.Clicks)
	case *event.CheckAnswered:
		return lang.F("Check before the %s: %s: %s", AxleWords(p.Axle), w.check(p.Check), lang.T(string(p.Answer)))
	case *event.CarRaised:
		return lang.F("The %s stands on stands", AxleWords(p.Axle))
	case *event.CarLowered:
		return lang.F("The %s is down on its wheels", AxleWords(p.Axle))
	case *event.PositionNoted:
		return lang.F("Position (%s), %s adjuster, %s: %s", purposeWords(p.Purpose), lang.T(p.Adjuster.Words()), lang.T(p.Corner.Words()), p.Text)
	case *event.WorkParked:
		return lang.F("Parked: work stops for longer. %s", p.Note)
	case *event.WorkResumed:
		if p.AsLeft {
			return lang.T("Back at work: the car stands as the record says")
		}
		return lang.F("Back at work, something is different: %s", p.Note)
	case *event.WithdrawalSeen:
		return lang.F("Went on although the sheet was withdrawn: %s", p.Reason)
	case *event.NoteAdded:
		return lang.F("Note: %s", p.Text)
	case *event.Corrected:
		return lang.F("Taken back: %s", ReasonWords(p.Reason))
	case *event.JobFinished:
		return lang.T("Job finished")
	case nil:
		return lang.F("Needs a newer app: %s", string(e.Kind))
	}
	return w.work(e.Payload())
}

type words struct{ sheet *sheet.Sheet }

func (w words) work(p event.Payload) string {
	switch p := p.(type) {
	case *event.StepStarted:
		return lang.F("At step: %s", w.step(p.Step))
	case *event.StepDone:
		return lang.F("Step done: %s", w.step(p.Step))
	case *event.StepSkipped:
		return lang.F("Step skipped: %s: %s", w.step(p.Step), p.Reason)
	case *event.HoldAsked:
		return lang.F("Waits for a look: %s", w.step(p.Step))
	case *event.HoldReleased:
		return lang.F("Hold point released: %s: %s", w.step(p.Step), p.Reason)
	case *event.CommentAdded:
		return lang.F("%s says: %s", NameWords(p.Name), p.Text)
	case *event.FindingRaised:
		return lang.F("%s raised (%s): %s", p.Name, lang.C(p.Severity, "a finding"), p.Text)
	case *event.DecisionMade:
		return w.decision(p)
	case *event.StepChecked:
		return lang.F("Asked: %s: %s", w.question(p.Step, p.Check), lang.T(string(p.Answer)))
	case *event.StepReopened:
		return lang.F("To be done again: %s: %s", w.step(p.Step), p.Reason)
	case *event.PhotoTaken:
		return lang.F("Photo: %s", w.photo(p.Step, p.Photo, p.Caption))
	case *event.PhotoLeftOut:
		return lang.F("No photo of %s: %s", w.photo(p.Step, p.Photo, ""), ReasonWords(p.Reason))
	case *event.LeftoversCounted:
		return lang.F("Left over on the bench: %d", p.Count)
	case *event.FastenerLoosened:
		return lang.F("Loosened: %s", w.fastener(p.Fastener))
	case *event.FastenerFitted:
		if p.Renewed {
			return lang.F("Fitted new: %s", w.fastener(p.Fastener))
		}
		return lang.F("Fitted, used again: %s", w.fastener(p.Fastener))
	case *event.FastenerMarked:
		return lang.F("Marked: %s", w.fastener(p.Fastener))
	case *event.PassDone:
		if p.TorqueCNM == 0 {
			return lang.F("Tightened (%s): %s", PassName(p.Pass), w.fastener(p.Fastener))
		}
		return lang.F("Tightened (%s): %s, %s", PassName(p.Pass), w.fastener(p.Fastener), newtonMetres(p.TorqueCNM))
	}
	return string(p.Kind())
}

func (w words) decision(p *event.DecisionMade) string {
	about := lang.T("the whole job")
	switch {
	case p.Fastener != "":
		about = w.fastener(p.Fastener)
	case p.Step != "":
		about = w.step(p.Step)
	case p.Finding != "":
		about = lang.T("a finding")
	}
	said := map[event.Decision]string{event.Accept: lang.F("%s accepts %s", p.Name, about), event.Query: lang.F("%s asks about %s", p.Name, about),
		event.Redo: lang.F("%s wants again %s", p.Name, about), event.Return: lang.F("%s returns %s", p.Name, about)}[p.Decision]
	return strings.TrimSuffix(said+": "+p.Text, ": ")
}

// Installer is who speaks from a phone without giving a name, as the record has it.
const Installer = "Installer"

// NameWords shows who spoke.
func NameWords(name string) string {
	if name == Installer {
		return lang.T(Installer)
	}
	return name
}

// Reasons that a press writes: in the record they are English in every language.
const (
	NotWanted     = "not wanted" // of a photo that was only wished for
	NotReallyDone = "Not really done: asked after a break."
)

// ReasonWords shows a reason: ours said, anybody else's as it is.
func ReasonWords(reason string) string {
	switch reason {
	case NotWanted:
		return lang.T(NotWanted)
	case NotReallyDone:
		return lang.T(NotReallyDone)
	}
	return reason
}

func purposeWords(p event.Purpose) string { return lang.C(string(p), "of a reading") }

// PassName is what a sheet calls a pass, in the reader's language where it is a usual name.
func PassName(id event.PassID) string { return lang.C(string(id), "a pass") }

func (w words) step(id event.StepID) string {
	if w.sheet != nil && w.sheet.Step(id) != nil {
		return w.sheet.Step(id).Title
	}
	return string(id)
}

func (w words) fastener(id event.FastenerID) string {
	if w.sheet != nil && w.sheet.Fastener(id) != nil {
		f := w.sheet.Fastener(id)
		return f.Name()
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
	switch id {
	case "":
		return w.step(step)
	case HoldPhoto:
		return lang.T("what a second pair of eyes would look at")
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
