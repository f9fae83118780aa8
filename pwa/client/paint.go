package client

import (
	"bytes"
	"context"
	"unicode"
	"unicode/utf8"

	"github.com/a-h/templ"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/method"
	"strutcard/templates"
)

// Names of the page's regions.
const (
	regionStrip   = "r-strip"
	regionMain    = "r-main"
	regionBar     = "r-bar"
	regionMessage = "r-sheet"
)

// paint draws every region; the page replaces only what changed.
func (c *Client) paint(ctx context.Context) {
	main, bar := c.screen(ctx)
	c.cfg.Platform.Paint(map[string]string{
		regionStrip:   render(ctx, templates.StripRegion(c.strip())),
		regionMain:    c.withWords(ctx, render(ctx, main)),
		regionBar:     render(ctx, templates.BarRegion(bar)),
		regionMessage: render(ctx, templates.MessageRegion(c.message)),
	})
	c.cfg.Platform.Wake(c.log != nil && c.log.State().Finished == nil)
}

// render draws a component; writing to memory cannot fail, drawing can.
func render(ctx context.Context, t templ.Component) string {
	var b bytes.Buffer
	if err := t.Render(ctx, &b); err != nil {
		return "<p>" + lang.T("This part of the screen could not be drawn. The record is safe.") + "</p>"
	}
	return b.String()
}

// screen chooses the screen of the view; what needs a job falls back to home.
func (c *Client) screen(ctx context.Context) (templ.Component, templates.Bar) {
	if c.vigil.asked != 0 {
		v, bar := c.alarmView()
		return templates.AlarmScreen(v), bar
	}
	switch c.view.Place {
	case "watch":
		return templates.WatchScreen(c.watchView()), c.placeBar("work")
	case "new":
		if s := c.findSheet(ctx, c.view.Sheet); s != nil {
			return templates.NewJobScreen(newJobRow(c.sheetRow(hold(s)), s), pick(c.drafts["new.vehicle"], ownName(s))), c.homeBar()
		}
	case "kit":
		if c.log == nil {
			return templates.KitScreen(c.kitView()), c.homeBar()
		}
		return templates.KitScreen(c.kitView()), c.placeBar("")
	case "own":
		return c.ownScreen()
	case "sync":
		return templates.SyncScreen(c.syncView(ctx)), c.placeBar("")
	case "words":
		return templates.GlossaryScreen(templates.Words{Here: c.wordsBefore(ctx), All: templates.Glossary()}), c.wordsBar()
	case "people":
		if c.log != nil { // also while the job waits, or without its sheet: words need no car
			return templates.PeopleScreen(c.peopleView()), c.placeBar("")
		}
	case "methods":
		return templates.MethodsScreen(methods()), c.placeBar("measure")
	case "method":
		if m := method.Find(c.view.Method); m != nil {
			bar := c.placeBar("measure")
			bar.Buttons = append(bar.Buttons, templates.Button{Do: "methods", Label: lang.T("All calculators"), Quiet: true})
			return templates.MethodScreen(c.methodForm(wanted{method: m, at: c.view.At})), bar
		}
	}
	if c.log == nil {
		home := c.home(ctx)
		if home.First {
			return templates.HomeScreen(home), c.firstBar()
		}
		return templates.HomeScreen(home), templates.Bar{}
	}
	if c.sheet == nil {
		return templates.CardScreen(c.card()), c.placeBar("card")
	}
	return c.jobScreen()
}

func (c *Client) jobScreen() (templ.Component, templates.Bar) {
	g, _ := c.guide()
	if parked := c.view.Place == "park" && !c.pause.asked; c.gated() && !parked && c.view.Place != "tally" && c.view.Place != "card" {
		v, buttons := c.resumeView(g)
		bar := c.placeBar("work")
		bar.Buttons = buttons
		return templates.ResumeScreen(v), bar
	}
	switch c.view.Place {
	case "park":
		return templates.ParkScreen(c.parkView(g)), c.parkBar()
	case "torques":
		v, bar := c.torqueList(g)
		return templates.TorquesScreen(v), bar
	case "recheck":
		return templates.RecheckScreen(c.recheckView(g)), c.placeBar("card")
	case "steps":
		return templates.StepsScreen(templates.StagesOf(g)), c.placeBar("work")
	case "tally":
		bar := c.placeBar("work")
		if !c.gated() && c.log.State().Finished == nil {
			bar.Buttons = []templates.Button{{Do: "park_form", Label: lang.T("Stop for today"), Quiet: true}}
		}
		return templates.TallyScreen(c.tally(g)), bar
	case "measure":
		return templates.MeasureScreen(c.measure(g)), c.placeBar("measure")
	case "reading":
		if w := c.want(c.view.Quantity, c.view.At, c.purpose(g)); w.method != nil {
			return templates.MethodScreen(c.methodForm(w)), c.placeBar("measure")
		}
		return templates.MeasureScreen(c.measure(g)), c.placeBar("measure")
	case "card":
		bar := c.placeBar("card")
		if c.log.State().Finished == nil && len(g.FinishBlockers()) == 0 {
			bar.Buttons = []templates.Button{{Do: "finish", Label: lang.T("Finish the job"), Primary: true}}
		}
		c.remind(g, &bar)
		return templates.CardScreen(c.card()), bar
	}
	return c.workScreen(g)
}

func (c *Client) workScreen(g guide.Guide) (templ.Component, templates.Bar) {
	bar := c.placeBar("work")
	step, _ := c.step()
	if step == nil || step.Later && c.view.Step == "" && c.log.State().Finished == nil {
		bar.Buttons = []templates.Button{{Do: "finish", Label: lang.T("Finish the job"), Primary: true}}
		return templates.StepsScreen(templates.StagesOf(g)), bar
	}
	view, buttons := c.stepView()
	c.besideStep(&view)
	c.prepare(&view, step, g)
	bar.Buttons = buttons
	return templates.WorkScreen(view, c.watchWords()), bar
}

func (c *Client) placeBar(here string) templates.Bar {
	if c.log == nil {
		return c.homeBar()
	}
	if here == "" {
		here = "none" // the places are shown, none of them is here
	}
	return templates.Bar{Place: here}
}

func (c *Client) homeBar() templates.Bar {
	return templates.Bar{Buttons: []templates.Button{{Do: "home", Label: lang.T("All jobs"), Quiet: true}}}
}

// strip says where the car is and what is loose.
func (c *Client) strip() templates.Strip {
	env := c.cfg.Platform.Env()
	s := templates.Strip{Sync: c.syncWords()}
	switch {
	case c.unsaved:
		s.Warning = lang.T("Not saved. The last press is not in the record.")
	case env.MemoryOnly:
		s.Warning = lang.T("This browser keeps nothing. Save a copy of the record before you close it.")
	case !env.Leader:
		s.Warning = lang.T("Open in another tab, which writes. Here you can only read.")
	}
	if c.log == nil {
		return s
	}
	s.Job = true
	if n := c.newlySaid(); n > 0 {
		s.Said = lang.N(n, "%d remark to read", "%d remarks to read", n)
	}
	s.Stop = c.shopStop()
	s.Up = c.log.State().Up()
	s.Car = carWords(c.log.State().Axles[event.Front].Up, c.log.State().Axles[event.Rear].Up)
	if g, ok := c.guide(); ok {
		s.Invented = c.sheet.Invented
		if axle := g.Lifting(); axle != "" {
			s.Up, s.Car = true, raisedWords(axle)
		}
		if n := len(g.NotFinal()); n > 0 {
			s.Loose = lang.F("%d not final", n)
		}
	}
	return s
}

func carWords(front, rear bool) string {
	switch {
	case front && rear:
		return lang.T("Car up, both axles")
	case front:
		return lang.T("Front axle up")
	case rear:
		return lang.T("Rear axle up")
	}
	return lang.T("On its wheels")
}

// capital raises the first letter, for the start of a line.
func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if r >= 'a' && r <= 'z' || r == 'ä' || r == 'ö' || r == 'ü' {
		return string(unicode.ToUpper(r)) + s[n:]
	}
	return s
}

// lower lowers the first letter, for the middle of a line. German nouns keep theirs.
func lower(s string) string {
	if lang.Tag() != lang.English {
		return s
	}
	r, n := utf8.DecodeRuneInString(s)
	if r >= 'A' && r <= 'Z' {
		return string(r-'A'+'a') + s[n:]
	}
	return s
}
