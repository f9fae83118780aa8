package client

import (
	"context"
	"encoding/json"
	"fmt"
	"sync"

	"github.com/google/uuid"

	"strutcard/sync/event"
	"strutcard/sync/exchange"
	"strutcard/sync/fault"
	"strutcard/sync/guide"
	"strutcard/sync/job"
	"strutcard/sync/method"
	"strutcard/sync/sheet"
	"strutcard/sync/units"
	"strutcard/templates"
)

// Names of what the client keeps beside the log.
const (
	metaDevice = "device"
	metaFormer = "device.former" // numbers that this phone had before
	metaView   = "view"
	metaUnits  = "units"
	metaTheme  = "theme"
	metaDrafts = "drafts"
	metaLevel  = "level"     // how this phone was calibrated as a level
	metaSheets = "sheets"    // hashes, newest last; each body under sheetKey
	metaGone   = "withdrawn" // sheets that the shop took back: hash -> sheet.Withdrawal
	metaToken  = "shop.token"
	metaShop   = "shop.name"
	metaLost   = "lost"  // a record that the browser cleared
	metaRead   = "read"  // what was read of what others say, by job
	metaLinks  = "links" // to jobs of this phone
)

// Client is one open page of the app. Every method may be called from any goroutine.
type Client struct {
	cfg Config

	mu      sync.Mutex
	device  event.DeviceID
	sheets  []held
	own     owns
	gone    map[string]sheet.Withdrawal // sheets that the shop took back, by hash
	kit     register
	log     *job.Log     // the open job; nil at home
	sheet   *sheet.Sheet // of the open job, as it is shown
	made    *sheet.Sheet // the same, as its hash names it: what copies hold
	chain   event.Chain
	view    view
	drafts  map[string]string
	units   units.Set
	level   *method.PhoneLevel
	theme   string
	message *templates.Message
	unsaved bool   // the last append failed
	pressed string // what was asked about as too fast, and not recorded
	waiting int
	former  []event.DeviceID  // numbers that this phone had before
	refused map[event.ID]bool // entries that the shop did not take
	alone   alone
	lost    *loss
	pace    exchange.Pace // of the link to the shop
	token   string
	shop    string
	last    string // how the last sync went, in words
	shut    bool   // the shop does not let this phone in any more
	pause   pause
	watch   watch
	vigil   vigil
	looked  *looked
	read    map[event.JobID][]event.ID
	links   map[event.JobID][]sharedLink
	looking bool

	syncing sync.Mutex
}

// view is where the person is; it is kept so that the next open returns there.
type view struct {
	Place    string         `json:"place"` // "home", "new", "own", "work", "steps", "tally", "measure", "reading", "methods", "method", "card", "sync", "kit", "torques", "people", "words"
	Job      event.JobID    `json:"job,omitempty"`
	Step     event.StepID   `json:"step,omitempty"` // looked at on purpose; "" follows the guide
	Sheet    string         `json:"sheet,omitempty"`
	Quantity event.Quantity `json:"quantity,omitempty"`
	At       event.Place    `json:"at,omitempty"`
	Method   string         `json:"method,omitempty"` // of a calculator opened by itself
	Own      string         `json:"own,omitempty"`    // an own sheet, "" for a new one
	Form     string         `json:"form,omitempty"`   // and what is changed in it; "" lists all
	Invite   string         `json:"invite,omitempty"`
	Tool     event.ToolID   `json:"tool,omitempty"`      // listed, and being corrected
	Item     event.ToolID   `json:"item,omitempty"`      // of the owner's tools, open to be changed
	ItemKind sheet.ToolKind `json:"item_kind,omitempty"` // of the form that is open among them; "" for none
	Back     string         `json:"back,omitempty"`      // the place that the glossary was opened from
	Again    event.CheckID  `json:"-"`                   // the stop that was said to be made safe
}

// New returns a client that has read nothing yet.
func New(cfg Config) *Client {
	return &Client{cfg: cfg, drafts: map[string]string{}, view: view{Place: "home"}}
}

// Start reads what this phone holds and shows where the person was.
func (c *Client) Start(ctx context.Context) error {
	c.mu.Lock()
	defer c.mu.Unlock()
	_ = c.speak(ctx, "") // else in English
	if err := c.load(ctx); err != nil {
		c.fail(err)
		c.paint(ctx)
		return err
	}
	c.cfg.Platform.Theme(c.theme)
	c.lookAfter(c.cfg.Now().UnixMilli())
	c.paint(ctx)
	return nil
}

func (c *Client) load(ctx context.Context) error {
	if err := c.loadIdentity(ctx); err != nil {
		return err
	}
	for name, into := range map[string]any{metaView: &c.view, metaDrafts: &c.drafts, metaUnits: &c.units, metaLevel: &c.level, metaGone: &c.gone, metaWatch: &c.watch,
		metaRead: &c.read, metaLinks: &c.links} {
		if err := c.loadJSON(ctx, name, into); err != nil {
			return err
		}
	}
	var err error
	if c.theme, err = c.cfg.Log.Meta(ctx, metaTheme); err != nil {
		return fmt.Errorf("load theme: %w", err)
	}
	if err := c.readOwn(ctx); err != nil {
		return err
	}
	c.units = c.units.OrDefault()
	_ = c.readKit(ctx) // no job waits for it
	c.countWaiting(ctx)
	c.readRefused(ctx)
	if c.view.Job == "" {
		return nil
	}
	return c.openJob(ctx, c.view.Job)
}

func newID() string { return uuid.Must(uuid.NewV7()).String() }

// loadJSON reads a small value; one that cannot be read counts as never set,
// since the record itself does not depend on it.
func (c *Client) loadJSON(ctx context.Context, name string, into any) error {
	text, err := c.cfg.Log.Meta(ctx, name)
	if err != nil {
		return fmt.Errorf("load %s: %w", name, err)
	}
	if text != "" {
		_ = json.Unmarshal([]byte(text), into)
	}
	return nil
}

func (c *Client) saveJSON(ctx context.Context, name string, value any) {
	text, err := json.Marshal(value)
	if err == nil {
		err = c.cfg.Log.SetMeta(ctx, name, string(text))
	}
	if err != nil {
		c.fail(fault.Wrap(err, fault.Storage, "The place where you are could not be kept. The record itself is not touched.", "Go on. After a restart the app may open at another screen."))
	}
}

// openJob loads a job's events and its sheet.
func (c *Client) openJob(ctx context.Context, id event.JobID) error {
	events, err := c.cfg.Log.Job(ctx, id)
	if err != nil {
		return fault.Wrap(err, fault.Storage, "The record of this job could not be read just now. Nothing was changed.", "Close the app fully and open it again.")
	}
	if len(events) == 0 {
		c.log, c.view = nil, view{Place: "home"}
		c.show(nil)
		return fault.New(fault.NotFound, "This job is not on this phone.", "If it was synced before, sync again to fetch it.")
	}
	c.log = job.NewLog(id)
	c.log.Add(events...)
	c.chain = event.ChainOf(id, c.device, events)
	c.show(nil)
	if opened := c.log.State().Opened; opened != nil {
		c.show(c.findSheet(ctx, string(opened.Sheet)))
	}
	c.view.Job = id
	c.pause = pause{}
	c.noticeBreak()
	return nil
}

// show takes the open job's sheet, or nil.
func (c *Client) show(s *sheet.Sheet) { c.made, c.sheet = s, s.Said() }

// guide is the guide of the open job; ok is false without a job or its sheet.
func (c *Client) guide() (g guide.Guide, ok bool) {
	if c.log == nil || c.sheet == nil {
		return guide.Guide{}, false
	}
	g = guide.New(c.sheet, c.log.State())
	if o := g.State.Opened; o != nil {
		g.Withdrawn = c.withdrawn(string(o.Sheet))
	}
	return g, true
}

// Act does what a press asks for, and paints. What failed is shown, and returned.
func (c *Client) Act(ctx context.Context, name string, args map[string]string) error {
	switch name {
	case "sync":
		return c.sync(ctx)
	case "join":
		return c.join(ctx, args)
	case "share", "share_list", "share_end":
		return c.share(ctx, name, args)
	case "tick":
		return c.tick(ctx)
	}
	return c.press(ctx, name, actionOf(name), args)
}

func (c *Client) press(ctx context.Context, name string, act action, args map[string]string) error {
	c.mu.Lock()
	defer c.mu.Unlock()
	if act == nil {
		return fault.New(fault.Internal, "This button leads nowhere.", "Reload the app. The record is safe.")
	}
	if !automatic(name) {
		c.message = nil
		c.touch()
	}
	before := c.view
	err := act(c, ctx, args)
	if err != nil {
		c.fail(err)
	}
	if before.Place == "people" && c.view.Place != "people" && c.log != nil {
		c.readAll(ctx)
	}
	if c.view != before {
		c.saveJSON(ctx, metaView, c.view)
	}
	c.paint(ctx)
	return err
}

// Input keeps a half-typed value.
func (c *Client) Input(ctx context.Context, key, value string) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if value == "" {
		delete(c.drafts, key)
	} else {
		c.drafts[key] = value
	}
	c.saveJSON(ctx, metaDrafts, c.drafts)
	if isMethodDraft(key) || key == draftKit+"unit" {
		c.paint(ctx)
	}
}

// dropDrafts forgets half-typed values that were recorded.
func (c *Client) dropDrafts(ctx context.Context, keys ...string) {
	for _, key := range keys {
		delete(c.drafts, key)
	}
	c.saveJSON(ctx, metaDrafts, c.drafts)
}

func (c *Client) fail(err error) {
	f := fault.Of(err)
	c.message = &templates.Message{Text: f.Message, Hint: f.Hint, Stop: f.Kind == fault.Blocked || f.Kind == fault.Storage}
}

// readRefused finds out which entries the shop did not take.
func (c *Client) readRefused(ctx context.Context) {
	if troubled, err := c.cfg.Log.Troubled(ctx); err == nil {
		c.refused = map[event.ID]bool{}
		for _, t := range troubled {
			c.refused[t.ID] = true
		}
	}
}

// refusedHere counts them, in the open job if there is one: an old trouble elsewhere
// must not hide how this one stands.
func (c *Client) refusedHere() int {
	if c.log == nil || len(c.refused) == 0 {
		return len(c.refused)
	}
	n := 0
	for _, e := range c.log.Events() {
		if c.refused[e.ID] {
			n++
		}
	}
	return n
}

func (c *Client) countWaiting(ctx context.Context) {
	if n, err := c.cfg.Log.Waiting(ctx); err == nil {
		c.waiting = n
	}
	c.keep()
}
