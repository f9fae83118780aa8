package guide

import (
	"slices"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
)

// Lifting returns the axle that may be in the air although its raising is not
// recorded: the check that is answered with the car lifted has been reached, or
// was answered with no and nothing was answered since. It is "" when there is none.
func (g Guide) Lifting() event.Axle {
	for _, axle := range event.Axles {
		if !g.State.Axles[axle].Up && g.leftGround(axle) {
			return axle
		}
	}
	return ""
}

func (g Guide) leftGround(axle event.Axle) bool {
	answers := g.State.Axles[axle].Answers[event.Raise]
	checks := g.Sheet.ChecksFor(axle, event.Raise)
	lifts := slices.IndexFunc(checks, func(c sheet.Check) bool { return c.Lifts })
	if len(answers) == 0 || lifts < 0 {
		return len(answers) > 0
	}
	if stopped, fresh := g.Stopped(axle, event.Raise); stopped != nil && fresh {
		return slices.IndexFunc(checks, func(c sheet.Check) bool { return c.ID == stopped.ID }) >= lifts
	}
	return !slices.ContainsFunc(checks[:lifts], func(c sheet.Check) bool { return !g.saidYes(axle, c) })
}

// lastMoved is when the axle, or with "" any axle, was last raised or lowered.
func (g Guide) lastMoved(axle event.Axle) (raised, lowered job.N) {
	for _, l := range g.State.Lifts {
		if axle == "" || l.Axle == axle {
			raised, lowered = max(raised, l.RaisedN), max(lowered, l.LoweredN)
		}
	}
	return raised, lowered
}

// Reminders are what holds all the time while an axle is up, or may be.
func (g Guide) Reminders() []string {
	axle := g.Lifting()
	for _, a := range event.Axles {
		if g.State.Axles[a].Up {
			axle = a
		}
	}
	if axle == "" {
		return nil
	}
	out := []string{
		lang.T("No part of your body goes under the car unless it stands on both stands. A jack alone never holds it."),
		lang.T("Nobody gets in, starts it, or shuts a door hard. Children and animals stay away."),
		lang.T("Pull in a direction away from the stands, never so that the car rocks. If the car moves, get clear and stay clear."),
	}
	if brake := g.Sheet.Vehicle.ParkingBrake; brake == axle {
		out = append(out, lang.F("The parking brake acts on the %s wheels, which are in the air: only the chocks hold the car.", EndWords(axle)))
	}
	return out
}
