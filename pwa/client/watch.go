package client

import (
	"context"
	"slices"
	"strconv"
	"strings"
	"time"

	"strutcard/calc/lang"
	"strutcard/sync/fault"
	"strutcard/templates"
)

// metaWatch names the watch settings beside the log. They stay on this phone:
// a name in the record would be synced and kept for ever.
const metaWatch = "watch"

// unanswered is how long the question may stand before the alarm goes on.
const unanswered = 2 * time.Minute

// everyChoices are the minutes between two questions, the usual one in the middle.
var everyChoices = []int{20, 30, 45}

const usualEvery = 30

// watch is what the person set once on this phone.
type watch struct {
	Number string `json:"number,omitempty"` // local emergency number; there is no default
	Who    string `json:"who,omitempty"`    // who knows about this work
	Every  int    `json:"every,omitempty"`  // minutes; 0 for the usual
	Off    string `json:"off,omitempty"`    // why nothing is asked; "" asks
	Alive  int64  `json:"alive,omitempty"`  // the last answer, ms UTC of this phone, so that a restart does not ask again
}

func (w watch) minutes() int {
	if w.Every == 0 {
		return usualEvery
	}
	return w.Every
}

// vigil is what runs while the car is up. Times are ms of this phone's clock.
type vigil struct {
	on     bool  // an axle was up when a job was last open
	alive  int64 // the last press of a person; 0 takes the last event
	asked  int64 // when "Are you all right?" went up; 0 when it is not
	due    int64 // when it should have
	loud   bool  // nobody answered, or help is needed
	ticked int64
}

// tick looks at the clock. It paints only when something has changed.
func (c *Client) tick(ctx context.Context) error {
	c.mu.Lock()
	defer c.mu.Unlock()
	now := c.cfg.Now().UnixMilli()
	before, gated := c.vigil, c.gated()
	if c.vigil.ticked != 0 && long(time.Duration(now-c.vigil.ticked)*time.Millisecond) {
		c.noticeBreak() // the page slept without being hidden, as a closed laptop does
	}
	c.vigil.ticked = now
	c.lookAfter(now)
	if c.vigil.asked != before.asked || c.vigil.loud != before.loud || c.gated() != gated {
		c.paint(ctx)
	}
	return nil
}

// arrive is for a page that comes back into view: it reads the log again, asks
// after a break, and asks what was missed while the page was frozen.
func arrive(c *Client, ctx context.Context, _ map[string]string) error {
	err := look(c, ctx, nil)
	c.noticeBreak()
	c.lookAfter(c.cfg.Now().UnixMilli())
	return err
}

// watching reports whether somebody may be under or beside a raised car. On the
// list of jobs, what was last seen holds.
func (c *Client) watching() bool {
	if c.log != nil {
		st := c.log.State()
		up := st.Up()
		if g, ok := c.guide(); ok {
			up = up || g.Lifting() != ""
		}
		c.vigil.on = up && st.Finished == nil && st.Parked() == nil
	}
	return c.vigil.on && c.watch.Off == ""
}

// lookAfter asks when it is time, and sounds on while nobody answers. A clock
// that was set far back makes the time unknown: it asks at once, and only once,
// since the answer counts from the new time.
func (c *Client) lookAfter(now int64) {
	if !c.watching() {
		c.vigil.alive, c.vigil.asked, c.vigil.loud = 0, 0, false
		return
	}
	if c.vigil.asked != 0 {
		if waited := time.Duration(now-c.vigil.asked) * time.Millisecond; waited >= unanswered || waited < -breakAfter {
			c.vigil.loud = true
		}
		if c.vigil.loud {
			c.cfg.Platform.Alarm()
		}
		return
	}
	alive := c.vigil.alive
	if alive == 0 && c.log != nil {
		alive = now - c.sinceOwn().Milliseconds()
		if c.watch.Alive <= now {
			alive = max(alive, c.watch.Alive)
		}
	}
	every := time.Duration(c.watch.minutes()) * time.Minute
	if since := time.Duration(now-alive) * time.Millisecond; since < every && since > -breakAfter {
		return
	}
	c.vigil.asked, c.vigil.due = now, alive+every.Milliseconds()
	c.cfg.Platform.Alarm()
}

// touch takes a press for a sign of life while the car is up. Pressing anything
// but the answer does not end the question.
func (c *Client) touch() {
	if c.watching() && c.vigil.asked == 0 {
		c.vigil.alive = c.cfg.Now().UnixMilli()
	}
}

// allRight is the answer.
func allRight(c *Client, ctx context.Context, _ map[string]string) error {
	c.vigil.alive, c.vigil.asked, c.vigil.loud = c.cfg.Now().UnixMilli(), 0, false
	c.watch.Alive = c.vigil.alive
	c.saveJSON(ctx, metaWatch, c.watch)
	return nil
}

// needHelp shows at once whom to call.
func needHelp(c *Client, _ context.Context, _ map[string]string) error {
	if c.vigil.asked == 0 {
		c.vigil.asked = c.cfg.Now().UnixMilli()
	}
	c.vigil.loud = true
	c.cfg.Platform.Alarm()
	return nil
}

func tryAlarm(c *Client, _ context.Context, _ map[string]string) error {
	c.cfg.Platform.Alarm()
	return nil
}

// keepWatch keeps the number and the name.
func keepWatch(c *Client, ctx context.Context, args map[string]string) error {
	number := strings.TrimSpace(args["number"])
	if number != "" && dial(number) == "" {
		return fault.New(fault.Invalid, "This is not a telephone number: digits, spaces, and one + at the start.", "Type it as it is dialled where the car stands. Nothing was kept.")
	}
	c.watch.Number, c.watch.Who = number, strings.TrimSpace(args["who"])
	c.dropDrafts(ctx, "watch.number", "watch.who")
	c.saveJSON(ctx, metaWatch, c.watch)
	return nil
}

// askEvery sets the minutes between two questions.
func askEvery(c *Client, ctx context.Context, args map[string]string) error {
	minutes, err := strconv.Atoi(args["minutes"])
	if err != nil || !slices.Contains(everyChoices, minutes) {
		return fault.New(fault.Invalid, "The app does not ask at that interval.", "Choose one of the times that are shown.")
	}
	c.watch.Every, c.watch.Off = minutes, ""
	c.saveJSON(ctx, metaWatch, c.watch)
	return nil
}

// askNever turns the question off, with a reason, as a should-check is passed over.
func askNever(c *Client, ctx context.Context, args map[string]string) error {
	reason := strings.TrimSpace(args["reason"])
	if reason == "" {
		return fault.New(fault.Invalid, "It is turned off only with a reason.", "Write who looks in on you instead, or leave the timer on.")
	}
	c.watch.Off = reason
	c.dropDrafts(ctx, "watch.reason")
	c.saveJSON(ctx, metaWatch, c.watch)
	return nil
}

// dial is a number as a telephone takes it, or "" when it is none.
func dial(number string) string {
	var b strings.Builder
	for i, r := range number {
		switch {
		case r >= '0' && r <= '9', r == '+' && i == 0:
			b.WriteRune(r)
		case strings.ContainsRune(" -./()", r):
		default:
			return ""
		}
	}
	if digits := strings.TrimPrefix(b.String(), "+"); len(digits) < 2 || len(digits) > 15 {
		return ""
	}
	return b.String()
}

func (c *Client) watchView() templates.Watch {
	v := templates.Watch{Number: c.watch.Number, Who: c.watch.Who, Off: c.watch.Off, Draft: c.drafts}
	for _, minutes := range everyChoices {
		v.Every = append(v.Every, templates.Choice{Value: strconv.Itoa(minutes), Label: lang.F("%d min", minutes)})
	}
	if v.Off == "" {
		v.Chosen = strconv.Itoa(c.watch.minutes())
	}
	return v
}

// alarmView is the question, and after two minutes whom to call.
func (c *Client) alarmView() (templates.Alarm, templates.Bar) {
	v := templates.Alarm{Loud: c.vigil.loud, Who: c.watch.Who, Number: c.watch.Number, Dial: dial(c.watch.Number)}
	if late := time.Duration(c.vigil.asked-c.vigil.due) * time.Millisecond; late > time.Minute && c.vigil.due > 0 {
		v.Missed = templates.When(c.vigil.due)
	}
	bar := templates.Bar{Buttons: []templates.Button{{Do: "all_right", Label: lang.T("I am all right"), Primary: true}}}
	if !v.Loud {
		bar.Buttons = append(bar.Buttons, templates.Button{Do: "need_help", Label: lang.T("I need help")})
	}
	return v, bar
}

// watchWords is the state of it in a line, for the further actions of a step.
func (c *Client) watchWords() string {
	words := lang.F("Asks every %d min while the car is up", c.watch.minutes())
	if c.watch.Off != "" {
		words = lang.T("Asks nothing while the car is up")
	}
	if c.watch.Who == "" {
		return lang.F("%s. Nobody is named who knows where you are.", words)
	}
	return lang.F("%s. %s knows where you are.", words, c.watch.Who)
}

// automatic are the acts that no finger presses: they are no sign of life and
// clear no message.
func automatic(name string) bool { return name == "look" || name == "arrive" }
