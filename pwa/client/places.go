package client

import (
	"context"
	"fmt"
	"strconv"

	"strutcard/calc/quantity"
	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/review"
	"strutcard/templates"
)

// home lists the jobs and sheets on this phone.
func (c *Client) home(ctx context.Context) templates.Home {
	v := templates.Home{Ready: c.ready(), Shop: c.shop, Lost: c.lostView()}
	jobs, err := c.cfg.Log.Jobs(ctx)
	if err != nil {
		v.Offline = "The jobs could not be read just now. Close the app fully and open it again."
	}
	for i := len(jobs) - 1; i >= 0; i-- {
		v.Jobs = append(v.Jobs, c.jobRow(ctx, jobs[i]))
	}
	if err := c.listSheets(ctx); err != nil {
		v.Offline = "The fitting sheets could not be read just now. Close the app fully and open it again."
	}
	v.Own = c.ownSheetRows()
	v.OwnLost = c.own.lost
	for _, s := range c.offered() {
		v.Sheets = append(v.Sheets, c.sheetRow(s))
	}
	return v
}

func (c *Client) jobRow(ctx context.Context, id event.JobID) templates.JobRow {
	row := templates.JobRow{ID: string(id), Vehicle: "A job"}
	log, err := c.readLog(ctx, id)
	if err != nil {
		row.State = "cannot be read just now"
		return row
	}
	st := log.State()
	if st.Opened != nil {
		row.Title, row.Vehicle = st.Opened.Title, st.Opened.Vehicle
		row.State = c.rowState(c.findSheet(ctx, string(st.Opened.Sheet)), st)
	}
	return row
}

func offlineWords(env Env) string {
	if env.OfflineReady {
		return "Ready for no signal: every file was checked on this phone."
	}
	return "Not yet ready for no signal. Keep this open with a connection until it says so."
}

// tally lists what was touched, by corner.
func (c *Client) tally(g guide.Guide) templates.Tally {
	v := templates.Tally{NotFinal: len(g.NotFinal()), Drive: "Nothing is left loose."}
	switch {
	case v.NotFinal > 0:
		v.Drive = "Do not drive: " + plural(v.NotFinal, "fastener is", "fasteners are") + " not final."
	case c.log.State().Up():
		v.Drive = "Do not drive: an axle is up."
	}
	for _, corner := range event.Corners {
		open, done := templates.CornerRows{Corner: capital(corner.Words())}, templates.CornerRows{Corner: capital(corner.Words())}
		for _, item := range g.Tally() {
			switch {
			case item.Fastener.Corner != corner:
			case item.Clear:
				done.Rows = append(done.Rows, c.tallyRow(g, item))
			default:
				open.Rows = append(open.Rows, c.tallyRow(g, item))
			}
		}
		if len(open.Rows) > 0 {
			v.Open = append(v.Open, open)
		}
		if len(done.Rows) > 0 {
			v.Clear = append(v.Clear, done)
		}
	}
	return v
}

func (c *Client) tallyRow(g guide.Guide, item guide.Item) templates.TallyRow {
	row := templates.TallyRow{ID: string(item.Fastener.ID), Place: item.Fastener.Place, Phase: string(item.Phase),
		Words: item.Phase.Words(), Reason: item.Reason, Mark: item.Clear && item.Phase != guide.Marked}
	if spec, ok := g.Spec(item.Fastener, item.Fastener.Final()); ok {
		row.Figure = c.units.FormatTorque(quantity.TorqueFromCNM(spec.TorqueCNM))
	}
	row.Now = c.wheelButton(g, item)
	return row
}

// wheelButton lets wheel nuts be made tight from the tally, whatever the steps
// say: a car must never stand on loose wheels for want of a screen.
func (c *Client) wheelButton(g guide.Guide, item guide.Item) *templates.Button {
	f := item.Fastener
	if !f.Wheel || item.Clear {
		return nil
	}
	if item.Next == nil {
		fitted := &event.FastenerFitted{Fastener: f.ID}
		if g.Allow(fitted) != nil {
			return nil
		}
		return &templates.Button{Do: "fit", Label: "Wheel is on: nuts run up by hand", Args: map[string]string{"fastener": string(f.ID), "renewed": "no"}}
	}
	if g.Allow(c.passPayload(g, f, item.Next)) != nil {
		return nil
	}
	spec, _ := g.Spec(f, item.Next)
	return &templates.Button{Do: "pass", Label: passLabel(g, f, item.Next, c.torque(g, f, item.Next)),
		Args: map[string]string{"fastener": string(f.ID), "pass": string(item.Next.ID), "shown": strconv.FormatInt(spec.TorqueCNM, 10)}}
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// purpose says what a reading taken now is for.
func (c *Client) purpose(g guide.Guide) event.Purpose {
	if step, _ := c.step(); step != nil {
		for _, ask := range step.Readings {
			if ask.Quantity == c.view.Quantity && ask.Place() == c.view.At {
				return ask.Purpose
			}
		}
	}
	if g.State.HeightN+g.State.LoweredN == 0 {
		return event.Before
	}
	return event.Setting
}

// card is the job's record.
func (c *Client) card() templates.Card {
	st := c.log.State()
	v := templates.CardOf(c.sheet, st, review.Findings(c.sheet, st, c.log.Events()))
	v.Decided = c.decided()
	return v
}
