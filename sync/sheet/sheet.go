// Package sheet is the fitting sheet: the versioned instructions for one car and
// one set of parts. A published sheet never changes; a job pins one by its hash.
package sheet

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"io"

	"strutcard/sync/event"
	"strutcard/sync/fault"
)

// Format is the version of this document's shape.
const Format = 1

// MaxBytes is the largest sheet that is read.
const MaxBytes = 1 << 20

// Sheet is a whole set of instructions. Numbers are integers in the unit that
// the field names.
type Sheet struct {
	Format    int        `json:"format"`
	Title     string     `json:"title"`
	Version   string     `json:"version"`
	Invented  bool       `json:"invented,omitempty"` // demo: no value is for a real car
	Own       bool       `json:"own,omitempty"`      // made by the installer, without a shop
	Note      string     `json:"note,omitempty"`     // what this version changed, for those who knew the one before
	Vehicle   Vehicle    `json:"vehicle"`
	Parts     []Part     `json:"parts"`
	Tools     []Tool     `json:"tools"`
	Checks    []Check    `json:"checks"`
	Fasteners []Fastener `json:"fasteners"`
	Stages    []Stage    `json:"stages"`
	Targets   []Target   `json:"targets"`
	Dampers   []Damper   `json:"dampers,omitempty"`
	Perches   []Perch    `json:"perches,omitempty"`
	Order     []Order    `json:"order,omitempty"`

	index index
}

// Vehicle is what the sheet knows of the car.
type Vehicle struct {
	Name         string     `json:"name"`
	MassG        int64      `json:"mass_g,omitempty"`         // kerb mass
	FrontShare   int64      `json:"front_permille,omitempty"` // share of the mass on the front axle
	WheelbaseUM  int64      `json:"wheelbase_um,omitempty"`
	TrackUM      int64      `json:"track_um,omitempty"`
	Driven       string     `json:"driven,omitempty"`        // "front", "rear", "all"
	ParkingBrake event.Axle `json:"parking_brake,omitempty"` // the axle it holds
	Points       []Point    `json:"points,omitempty"`
	Source       string     `json:"source,omitempty"` // where these numbers and points stand
}

// Use is what a point of the body is for.
type Use string

const (
	UseJack  Use = "jack"
	UseStand Use = "stand"
)

// Point is a place of the body that may carry the car.
type Point struct {
	Use     Use        `json:"use"`
	Axle    event.Axle `json:"axle"`
	Place   string     `json:"place"`
	Caution string     `json:"caution,omitempty"`
}

// Part is one line of the box.
type Part struct {
	ID    event.PartID `json:"id"`
	Name  string       `json:"name"`
	Count int64        `json:"count"`

	Corner event.Corner `json:"corner,omitempty"` // where it belongs, when it fits only there
	Axle   event.Axle   `json:"axle,omitempty"`
	Mark   string       `json:"mark,omitempty"` // how to tell it from its mirror image
}

// ToolKind tells the tools that need more than "at hand".
type ToolKind string

const (
	Plain        ToolKind = ""
	TorqueWrench ToolKind = "torque_wrench" // its usable range is asked
	Stands       ToolKind = "stands"        // its rating is asked
	Jack         ToolKind = "jack"          // its rating is asked
	Adapter      ToolKind = "adapter"       // its length is asked
	Gauge        ToolKind = "gauge"         // measures
	Consumable   ToolKind = "consumable"    // is used up
)

// Tool is something the job needs, or uses up.
type Tool struct {
	ID   event.ToolID `json:"id"`
	Name string       `json:"name"`
	Kind ToolKind     `json:"kind,omitempty"`
	Must bool         `json:"must,omitempty"` // no lift without it
	Why  string       `json:"why,omitempty"`
}

// Check is one question before raising or lowering.
type Check struct {
	ID   event.CheckID `json:"id"`
	Move event.Move    `json:"move"`
	Axle event.Axle    `json:"axle,omitempty"` // "" asks at either axle
	Must bool          `json:"must,omitempty"` // no way round; otherwise a reason may override
	Ask  string        `json:"ask"`
	Why  string        `json:"why,omitempty"`
	Stop string        `json:"stop,omitempty"` // what to do when the answer is no

	Lifts bool `json:"lifts,omitempty"` // the car leaves its wheels before this is answered
	Hands bool `json:"hands,omitempty"` // it takes work at the car: an answer within seconds is not taken
}

// CarState is the state of the car that an action needs.
type CarState string

const (
	Anywhere CarState = ""
	Up       CarState = "up"          // this axle on stands
	OnWheels CarState = "on_wheels"   // this axle on its wheels
	AtRide   CarState = "ride_height" // all wheels down and settled
)

// PassKind is one stage of tightening.
type PassKind string

const (
	Snug    PassKind = "snug"  // holds without clamping; a torque is optional
	Partial PassKind = "part"  // a share of the final torque
	Final   PassKind = "final" // the torque of the spec
	Angle   PassKind = "angle" // turned on by an angle after a torque
	BackOff PassKind = "back_off"
	Recheck PassKind = "recheck" // the final torque again; must not turn
)

// Pass is one stage of a fastener's spec.
type Pass struct {
	ID        event.PassID   `json:"id"`
	Kind      PassKind       `json:"kind"`
	TorqueCNM int64          `json:"torque_cnm,omitempty"`
	TolCNM    int64          `json:"tol_cnm,omitempty"` // half-width
	Share     int64          `json:"share_permille,omitempty"`
	AngleMdeg int64          `json:"angle_mdeg,omitempty"`
	Car       CarState       `json:"car,omitempty"`
	After     []event.StepID `json:"after,omitempty"` // steps that must be done first
	Why       string         `json:"why,omitempty"`
	Source    string         `json:"source,omitempty"`    // where this number stands, when not where the others do
	Confirmed string         `json:"confirmed,omitempty"` // an implausible number was checked: by whom, against what
}

// Fastener is a bolt, nut or group of them at one place.
type Fastener struct {
	ID      event.FastenerID `json:"id"`
	Place   string           `json:"place"`
	Corner  event.Corner     `json:"corner"`
	Thread  string           `json:"thread,omitempty"`
	Count   int64            `json:"count"`
	Pattern string           `json:"pattern,omitempty"`    // "star" for groups
	Bushed  bool             `json:"bushed,omitempty"`     // clamps a rubber bush: final at ride height only
	Wheel   bool             `json:"wheel,omitempty"`      // holds a road wheel
	Renew   bool             `json:"renew,omitempty"`      // one-use hardware
	Holds   event.Quantity   `json:"holds,omitempty"`      // clamps this adjuster
	Turn    string           `json:"turn,omitempty"`       // "nut" or "bolt": the side that turns
	Prepare string           `json:"prepare,omitempty"`    // the state of the thread that the torque is for: dry, oiled, thread lock
	Reuse   string           `json:"reuse,omitempty"`      // when it may be used again, in words
	Recheck int64            `json:"recheck_km,omitempty"` // its final torque is checked again after this distance
	Source  string           `json:"source,omitempty"`     // where the numbers stand
	Passes  []Pass           `json:"passes"`
}

// Target is what a reading should come to.
type Target struct {
	Quantity event.Quantity `json:"quantity"`
	Axle     event.Axle     `json:"axle"`
	Mdeg     int64          `json:"mdeg,omitempty"`
	TolMdeg  int64          `json:"tol_mdeg,omitempty"`
	UM       int64          `json:"um,omitempty"`
	TolUM    int64          `json:"tol_um,omitempty"`
	Source   string         `json:"source"`

	Confirmed string `json:"confirmed,omitempty"` // an implausible number was checked: by whom, against what
}

// Damper is what the dampers of an axle are set to. Clicks count from a stated
// end stop; StopCounts says whether the stop itself is 0 or 1.
type Damper struct {
	Axle       event.Axle `json:"axle"`
	Knob       string     `json:"knob,omitempty"` // "", or "bump" and "rebound" where there are two
	From       string     `json:"from"`           // "full_hard" or "full_soft"
	StopCounts int64      `json:"stop_counts"`
	Clicks     int64      `json:"clicks"`
	Total      int64      `json:"total,omitempty"` // from one stop to the other, as its maker says
	Source     string     `json:"source"`
}

// Perch is where the spring perches of an axle are set to begin with.
type Perch struct {
	Axle   event.Axle `json:"axle"`
	From   string     `json:"from"` // what the length is measured from and to
	UM     int64      `json:"um"`
	Source string     `json:"source"`
}

// Order says that one reading must stand before another is taken.
type Order struct {
	First event.Quantity `json:"first"`
	Then  event.Quantity `json:"then"`
	Why   string         `json:"why"`
}

// Amount is the target and its tolerance, in the quantity's unit.
func (t *Target) Amount() (value, tolerance int64) {
	if t.Quantity.Unit() == event.UM {
		return t.UM, t.TolUM
	}
	return t.Mdeg, t.TolMdeg
}

// Stage groups steps under a heading.
type Stage struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Steps []Step `json:"steps"`
}

// PassRef names one pass of one fastener.
type PassRef struct {
	Fastener event.FastenerID `json:"fastener"`
	Pass     event.PassID     `json:"pass"`
}

// ReadingAsk is a reading that a step needs.
type ReadingAsk struct {
	Quantity event.Quantity `json:"quantity"`
	Corner   event.Corner   `json:"corner,omitempty"`
	Axle     event.Axle     `json:"axle,omitempty"` // for what belongs to an axle
	Purpose  event.Purpose  `json:"purpose"`
}

// Place is what the reading belongs to.
func (r ReadingAsk) Place() event.Place {
	if r.Axle != "" {
		return r.Axle.Place()
	}
	return r.Corner.Place()
}

// When a question of a step is asked.
type When string

const (
	Before When = "before" // before anything of the step is done
	After  When = "after"  // when all else of the step is done
)

// StepCheck is one question of a step. A must-check has no way round; any other
// may be passed over with a reason.
type StepCheck struct {
	ID     event.CheckID `json:"id"`
	When   When          `json:"when"`
	Must   bool          `json:"must,omitempty"`
	Ask    string        `json:"ask"`
	Why    string        `json:"why,omitempty"`
	Stop   string        `json:"stop,omitempty"`   // what to do when the answer is no
	Corner event.Corner  `json:"corner,omitempty"` // its fasteners are shown beside the question
}

// PhotoAsk is a picture that a step asks for.
type PhotoAsk struct {
	ID   event.PhotoID `json:"id"`
	What string        `json:"what"`
	Must bool          `json:"must,omitempty"` // may be left out only with a reason
	When When          `json:"when"`
}

// ClicksAsk asks for a damper's clicks as found or as set.
type ClicksAsk struct {
	Corner  event.Corner  `json:"corner"`
	Knob    string        `json:"knob,omitempty"`
	Purpose event.Purpose `json:"purpose"`
}

// PositionAsk asks where an adjuster stands, as found or as set.
type PositionAsk struct {
	Adjuster event.Quantity `json:"adjuster"`
	Corner   event.Corner   `json:"corner"`
	Purpose  event.Purpose  `json:"purpose"`
}

// Step is one thing to do.
type Step struct {
	ID       event.StepID       `json:"id"`
	Title    string             `json:"title"`
	Do       string             `json:"do"`
	Why      string             `json:"why,omitempty"`
	Axle     event.Axle         `json:"axle,omitempty"`
	Corner   event.Corner       `json:"corner,omitempty"`
	Car      CarState           `json:"car,omitempty"`
	Needs    []event.StepID     `json:"needs,omitempty"`
	First    []string           `json:"first,omitempty"` // what must be true, in words
	Cautions []string           `json:"cautions,omitempty"`
	Tools    []event.ToolID     `json:"tools,omitempty"`
	Box      bool               `json:"box,omitempty"`    // count the parts
	Kit      bool               `json:"kit,omitempty"`    // check the tools
	Specs    bool               `json:"specs,omitempty"`  // every torque must be known
	Move     event.Move         `json:"move,omitempty"`   // raise or lower the axle
	Settle   bool               `json:"settle,omitempty"` // roll and bounce
	Drive    bool               `json:"drive,omitempty"`  // needs a clear tally
	Hold     bool               `json:"hold,omitempty"`   // work stops until someone competent has looked
	Later    bool               `json:"later,omitempty"`  // done after the job is finished
	Loosen   []event.FastenerID `json:"loosen,omitempty"`
	Fit      []event.FastenerID `json:"fit,omitempty"`
	Passes   []PassRef          `json:"passes,omitempty"`
	Adjust   event.Quantity     `json:"adjust,omitempty"`
	Readings []ReadingAsk       `json:"readings,omitempty"`

	Checks    []StepCheck   `json:"checks,omitempty"`
	Photos    []PhotoAsk    `json:"photos,omitempty"`
	Positions []PositionAsk `json:"positions,omitempty"`
	Clicks    []ClicksAsk   `json:"clicks,omitempty"`
	Leftovers bool          `json:"leftovers,omitempty"` // count what is left on the bench; anything left is a stop
	Picture   string        `json:"picture,omitempty"`   // a line drawing by name
}

// Decode reads and validates a sheet.
func Decode(data []byte) (*Sheet, error) {
	if len(data) > MaxBytes {
		return nil, fault.New(fault.TooLarge, "This fitting sheet is larger than 1 MiB. It was not loaded.", "Ask its author for a smaller one.")
	}
	s := new(Sheet)
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.DisallowUnknownFields()
	if err := dec.Decode(s); err != nil {
		return nil, fault.Wrap(err, fault.Invalid, "This file is not a fitting sheet that this app can read. It was not loaded.",
			"Check that it is the right file, and that the app is up to date.")
	}
	if _, err := dec.Token(); err != io.EOF {
		return nil, fault.New(fault.Invalid, "There is something after the end of this fitting sheet. It was not loaded.", "Fetch the file again.")
	}
	if err := s.Validate(); err != nil {
		return nil, err
	}
	return s, nil
}

// Encode returns the canonical JSON: the bytes that are hashed, kept and sent.
func (s *Sheet) Encode() []byte {
	data, err := json.Marshal(s)
	if err != nil {
		panic("sheet: a struct of strings and integers failed to marshal: " + err.Error())
	}
	return data
}

// Hash returns the SHA-256 of the canonical JSON.
func (s *Sheet) Hash() event.SheetHash {
	sum := sha256.Sum256(s.Encode())
	return event.SheetHash(hex.EncodeToString(sum[:]))
}
