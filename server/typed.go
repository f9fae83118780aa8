package server

import (
	"strings"

	"strutcard/sync/event"
)

// typed is what people wrote in a job, a text a line: what a reviewer may look for.
// What was taken back is in it too, as it is in the record.
func typed(events []event.Event) string {
	var lines []string
	for _, e := range events {
		for _, text := range words(e.Payload()) {
			if text = strings.TrimSpace(text); text != "" {
				lines = append(lines, text)
			}
		}
	}
	return strings.Join(lines, "\n")
}

// words lists the texts of a payload that somebody typed. Ids, units and what is
// chosen from a list are none, nor is a value or what it was measured with.
func words(p event.Payload) []string {
	switch p := p.(type) {
	case *event.JobOpened:
		return []string{p.Vehicle, p.Title}
	case *event.JobFinished:
		return []string{p.Note}
	case *event.NoteAdded:
		return []string{p.Text}
	case *event.CommentAdded:
		return []string{p.Name, p.Text}
	case *event.FindingRaised:
		return []string{p.Name, p.Text}
	case *event.DecisionMade:
		return []string{p.Name, p.Text}
	case *event.HoldReleased:
		return []string{p.Reason}
	case *event.Corrected:
		return []string{p.Reason}
	case *event.CheckAnswered:
		return []string{p.Reason}
	case *event.StepChecked:
		return []string{p.Reason}
	case *event.StepSkipped:
		return []string{p.Reason}
	case *event.StepReopened:
		return []string{p.Reason}
	case *event.PhotoTaken:
		return []string{p.Caption}
	case *event.PhotoLeftOut:
		return []string{p.Reason}
	case *event.PartCounted:
		return []string{p.Note}
	case *event.LeftoversCounted:
		return []string{p.Note}
	case *event.WorkParked:
		return []string{p.Note}
	case *event.WorkResumed:
		return []string{p.Note}
	case *event.ToolListed:
		return []string{p.Label}
	case *event.PositionNoted:
		return []string{p.Text}
	case *event.AdjustmentMade:
		return []string{p.Before, p.After}
	case *event.SpecGiven:
		return []string{p.Source}
	}
	return nil
}
