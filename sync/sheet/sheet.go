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
	Vehicle   Vehicle    `json:"vehicle"`
	Parts     []Part     `json:"parts"`
	Tools     []Tool     `json:"tools"`
	Checks    []Check    `json:"checks"`
	Fasteners []Fastener `json:"fasteners"`
	Stages    []Stage    `json:"stages"`
	Targets   []Target   `json:"targets"`

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
	JackPoints   string     `json:"jack_points,omitempty"`
	StandPoints  string     `json:"stand_points,omitempty"`
}

// Part is one line of the box.
type Part struct {
	ID    event.PartID `json:"id"`
	Name  string       `json:"name"`
	Count int64        `json:"count"`
}

// ToolKind tells the tools that need more than "at hand".
type ToolKind string

const (
	Plain        ToolKind = ""
	TorqueWrench ToolKind = "torque_wrench" // its usable range is asked
	Stands       ToolKind = "stands"        // its rating is asked
	Jack         ToolKind = "jack"          // its rating is asked
)

// Tool is something the job needs.
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
}

// Fastener is a bolt, nut or group of them at one place.
type Fastener struct {
	ID      event.FastenerID `json:"id"`
	Place   string           `json:"place"`
	Corner  event.Corner     `json:"corner"`
	Thread  string           `json:"thread,omitempty"`
	Count   int64            `json:"count"`
	Pattern string           `json:"pattern,omitempty"` // "star" for groups
	Bushed  bool             `json:"bushed,omitempty"`  // clamps a rubber bush: final at ride height only
	Wheel   bool             `json:"wheel,omitempty"`   // holds a road wheel
	Renew   bool             `json:"renew,omitempty"`   // one-use hardware
	Holds   event.Quantity   `json:"holds,omitempty"`   // clamps this adjuster
	Turn    string           `json:"turn,omitempty"`    // "nut" or "bolt": the side that turns
	Source  string           `json:"source,omitempty"`  // where the numbers stand
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
	After    bool               `json:"later,omitempty"`  // done after the job is finished
	Loosen   []event.FastenerID `json:"loosen,omitempty"`
	Fit      []event.FastenerID `json:"fit,omitempty"`
	Passes   []PassRef          `json:"passes,omitempty"`
	Adjust   event.Quantity     `json:"adjust,omitempty"`
	Readings []ReadingAsk       `json:"readings,omitempty"`
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
