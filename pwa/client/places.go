package client

import (
	"context"
	"strconv"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/review"
	"strutcard/templates"
)

// home lists the jobs and sheets on this phone.
func (c *Client) home(ctx context.Context) templates.Home {
	v := templates.Home{Ready: c.ready(), Lost: c.lostView()}
	jobs, err := c.cfg.Log.Jobs(ctx)
	if err != nil {
		v.Offline = lang.T("The jobs could not be read just now. Close the app fully and open it again.")
	}
	for i := len(jobs) - 1; i >= 0; i-- {
		v.Jobs = append(v.Jobs, c.jobRow(ctx, jobs[i]))
	}
	if err := c.listSheets(ctx); err != nil {
		v.Offline = lang.T("The fitting sheets could not be read just now. Close the app fully and open it again.")
	}
	v.Own = c.ownSheetRows()
	v.OwnLost = c.own.lost
	v.First = len(v.Jobs)+len(v.Own) == 0 && c.token == "" && v.Lost == nil && v.Offline == "" && !v.OwnLost
	v.Apart = len(v.Jobs) == 0 && c.cfg.Platform.Env().Standalone
	v.Install = c.installOnce(len(v.Jobs) > 0)
	for _, s := range c.offered() {
		v.Sheets = append(v.Sheets, c.sheetRow(s))
	}
	return v
}

func (c *Client) jobRow(ctx context.Context, id event.JobID) templates.JobRow {
	row := templates.JobRow{ID: string(id), Vehicle: lang.T("A job")}
	log, err := c.readLog(ctx, id)
	if err != nil {
		row.State = lang.T("cannot be read just now")
		return row
	}
	st := log.State()
	if st.Opened != nil {
		s := c.findSheet(ctx, string(st.Opened.Sheet)).Said()
		row.Title, row.Vehicle, row.State = st.Opened.Title, st.Opened.Vehicle, c.rowState(s, st)
		if s != nil && s.Invented {
			row.Title = lang.T(row.Title)
		}
	}
	return row
}

func offlineWords(env Env) string {
	if env.MemoryOnly {
		return lang.T("Not ready for no signal: this browser keeps nothing.")
	}
	if env.OfflineReady {
		return lang.T("Ready for no signal: every file was checked on this phone.")
	}
	return lang.T("Not yet ready for no signal. Keep this open with a connection until it says so.")
}

// tally lists what was touched, by corner.
func (c *Client) tally(g guide.Guide) templates.Tally {
	v := templates.Tally{NotFinal: len(g.NotFinal()), Drive: lang.T("Nothing is left loose.")}
	switch {
	case v.NotFinal > 0:
		v.Drive = lang.N(v.NotFinal, "Do not drive: %d fastener is not final.", "Do not drive: %d fasteners are not final.", v.NotFinal)
	case c.log.State().Up():
		v.Drive = lang.T("Do not drive: an axle is up.")
	}
	for _, corner := range event.Corners {
		open, done := templates.CornerRows{Corner: capital(lang.T(corner.Words()))}, templates.CornerRows{Corner: capital(lang.T(corner.Words()))}
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
		row.Figure = lang.F("final %s", c.units.FormatTorque(quantity.TorqueFromCNM(spec.TorqueCNM)))
	}
	row.Now = c.tallyButton(g, item)
	return row
}

// tallyButton lets wheel nuts be made tight from the tally, whatever the steps say: a
// car must never stand on loose wheels for want of a screen. So it does with the nut of
// an adjuster, whose step may come much later than the hand that moved it.
func (c *Client) tallyButton(g guide.Guide, item guide.Item) *templates.Button {
	f := item.Fastener
	if item.Clear || !f.Wheel && !g.Sheet.Standing(f) {
		return nil
	}
	if item.Next == nil {
		fitted := &event.FastenerFitted{Fastener: f.ID}
		if g.Allow(fitted) != nil {
			return nil
		}
		return &templates.Button{Do: "fit", Label: lang.T("Wheel is on: nuts run up by hand"), Args: map[string]string{"fastener": string(f.ID), "renewed": "no"}}
	}
	if g.Allow(c.passPayload(g, f, item.Next)) != nil {
		return nil
	}
	spec, _ := g.Spec(f, item.Next)
	return &templates.Button{Do: "pass", Label: passLabel(g, f, item.Next, c.torque(g, f, item.Next)),
		Args: map[string]string{"fastener": string(f.ID), "pass": string(item.Next.ID), "shown": strconv.FormatInt(spec.TorqueCNM, 10)}}
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
