// Package job folds a job's events into its state. It knows no sheet and no
// formula: what the state means for the work is the guide's business.
package job

import (
	"encoding/json"

	"strutcard/sync/event"
)

// N is an event's place in the fold order, from 1. It orders facts; 0 means never.
type N int64

// State is everything a log says. Its JSON is deterministic: two copies of a
// log, in any order and with any repeats, give the same bytes.
type State struct {
	Job        event.JobID                                `json:"job"`
	Opened     *Opened                                    `json:"opened"`
	Parts      map[event.PartID]Part                      `json:"parts"`
	Tools      map[event.ToolID]Tool                      `json:"tools"`
	Specs      map[event.FastenerID]map[event.PassID]Spec `json:"specs"`
	Readings   []Reading                                  `json:"readings"`
	Axles      map[event.Axle]Axle                        `json:"axles"`
	Lifts      []Lift                                     `json:"lifts"`
	Steps      map[event.StepID]Step                      `json:"steps"`
	Here       event.StepID                               `json:"here"` // where the installer last went
	Fasteners  map[event.FastenerID]Fastener              `json:"fasteners"`
	Adjusted   []Adjustment                               `json:"adjusted"`
	Dampers    map[event.Corner]Damper                    `json:"dampers"`         // as last set, where there is one knob
	Knobs      []Damper                                   `json:"knobs,omitempty"` // every other count of clicks: as found, or of one of two knobs
	Positions  []Position                                 `json:"positions,omitempty"`
	Photos     []Photo                                    `json:"photos,omitempty"`
	Notes      []Note                                     `json:"notes"`
	Pauses     []Pause                                    `json:"pauses,omitempty"`
	Withdrawal *Seen                                      `json:"withdrawal_seen,omitempty"`
	Comments   []Comment                                  `json:"comments,omitempty"`
	Raised     []Raised                                   `json:"raised,omitempty"`    // by reviewers
	Decisions  []Decision                                 `json:"decisions,omitempty"` // in order; the last on a finding holds
	Finished   *Finished                                  `json:"finished"`
	LoweredN   N                                          `json:"lowered_n"` // last time an axle came down
	HeightN    N                                          `json:"height_n"`  // last change of ride height
	Unknown    int                                        `json:"unknown"`   // events that need a newer app
	Withdrawn  int                                        `json:"withdrawn"` // events taken back
	Count      N                                          `json:"count"`     // events in all
	Devices    map[event.DeviceID]int                     `json:"devices"`   // events by device
}

// Opened is how the job began.
type Opened struct {
	Sheet   event.SheetHash `json:"sheet"`
	Title   string          `json:"title"`
	Vehicle string          `json:"vehicle"`
	At      int64           `json:"at"`
	By      event.DeviceID  `json:"by"`
}

// Part is the box count of one part.
type Part struct {
	Found   int64  `json:"found"`
	Damaged int64  `json:"damaged"`
	Note    string `json:"note"`
	N       N      `json:"n"`
}

// Tool is a tool at hand, or not.
type Tool struct {
	Have    bool   `json:"have"`
	Label   string `json:"label"`
	LowCNM  int64  `json:"low_cnm"`
	HighCNM int64  `json:"high_cnm"`
	RatingG int64  `json:"rating_g"`
	Checked string `json:"checked"`

	Type      string `json:"kind,omitempty"` // of a tool that the sheet does not list
	Pair      bool   `json:"pair,omitempty"`
	Class     string `json:"class,omitempty"`
	Tolerance int64  `json:"tolerance_permille,omitempty"`
	LengthUM  int64  `json:"length_um,omitempty"`
	Across    bool   `json:"across,omitempty"`
	N         N      `json:"n"`
}

// Spec is a torque that the installer looked up.
type Spec struct {
	TorqueCNM  int64  `json:"torque_cnm"`
	AngleMdeg  int64  `json:"angle_mdeg"`
	Source     string `json:"source"`
	Questioned string `json:"questioned"`
	Confirmed  bool   `json:"confirmed"`
	N          N      `json:"n"`
}

// Reading is one measurement. Stale says, in words, what changed after it; ""
// means that it still holds as far as the log tells.
type Reading struct {
	event.ReadingTaken
	ID    event.ID `json:"id"`
	At    int64    `json:"at"`
	N     N        `json:"n"`
	Stale string   `json:"stale"`
}

// Axle is whether one end of the car is on stands, and the answers given for
// the next move. Each raise and each lower clears them.
type Axle struct {
	Up      bool                                    `json:"up"`
	Answers map[event.Move]map[event.CheckID]Answer `json:"answers"`
}

// Answer is one check's answer.
type Answer struct {
	Answer event.Answer `json:"answer"`
	Reason string       `json:"reason"`
	At     int64        `json:"at"`
	N      N            `json:"n"`
}

// Lift is one period with an axle off its wheels, with the answers that began
// and ended it.
type Lift struct {
	Axle      event.Axle               `json:"axle"`
	RaisedAt  int64                    `json:"raised_at"`
	RaisedN   N                        `json:"raised_n"`
	Raise     map[event.CheckID]Answer `json:"raise"`
	LoweredAt int64                    `json:"lowered_at"`
	LoweredN  N                        `json:"lowered_n"` // 0 while up
	Lower     map[event.CheckID]Answer `json:"lower"`
}

// Step is what became of a step.
type Step struct {
	StartedN  N        `json:"started_n"`
	StartedAt int64    `json:"started_at"`
	DoneN     N        `json:"done_n"`
	DoneAt    int64    `json:"done_at"`
	DoneBy    event.ID `json:"-"` // the event that said so
	SkippedN  N        `json:"skipped_n"`
	Reason    string   `json:"reason"` // why it was skipped
	AskedN    N        `json:"asked_n"`
	ReleasedN N        `json:"released_n"`
	Released  string   `json:"released"` // "mentor" or "installer", and why
	ReleaseBy string   `json:"release_by"`

	Checks     map[event.CheckID]Answer `json:"checks,omitempty"`
	LeftOut    map[event.PhotoID]string `json:"photos_left_out,omitempty"` // why, for each picture
	Leftovers  *Leftovers               `json:"leftovers,omitempty"`
	ReopenedN  N                        `json:"reopened_n,omitempty"`
	ReopenedAs string                   `json:"reopened_as,omitempty"` // why it is done again
}

// Leftovers is what lay on the bench.
type Leftovers struct {
	Count int64  `json:"count"`
	Note  string `json:"note"`
	N     N      `json:"n"`
}

// Fastener is the facts since it was last loosened or fitted.
type Fastener struct {
	LoosenedN N                     `json:"loosened_n"`
	FittedN   N                     `json:"fitted_n"`
	Renewed   bool                  `json:"renewed"`
	LastN     N                     `json:"-"` // when it was last loosened or fitted
	LastAt    int64                 `json:"-"` // that device's clock, ms UTC; for asking about haste only
	MarkedN   N                     `json:"marked_n"`
	Passes    map[event.PassID]Pass `json:"passes"`
}

// Pass is one stage of tightening, and whether an axle was up when it was made.
type Pass struct {
	TorqueCNM int64        `json:"torque_cnm"`
	AngleMdeg int64        `json:"angle_mdeg"`
	SetCNM    int64        `json:"set_cnm"`
	Wrench    event.ToolID `json:"wrench"`
	Count     int64        `json:"count"`
	Adapter   event.ToolID `json:"adapter,omitempty"`
	Hurried   bool         `json:"hurried,omitempty"` // any of them came faster than hands can work
	FrontUp   bool         `json:"front_up"`
	RearUp    bool         `json:"rear_up"`
	At        int64        `json:"at"`
	N         N            `json:"n"`
	Event     event.ID     `json:"event"`
}

// Adjustment is one move of an adjuster.
type Adjustment struct {
	event.AdjustmentMade
	At int64 `json:"at"`
	N  N     `json:"n"`
}

// Damper is a damper's clicks as last set.
type Damper struct {
	event.DamperSet
	At int64 `json:"at"`
	N  N     `json:"n"`
}

// Position is where an adjuster stood or stands.
type Position struct {
	event.PositionNoted
	At int64 `json:"at"`
	N  N     `json:"n"`
}

// Photo is a picture by its content.
type Photo struct {
	event.PhotoTaken
	ID event.ID `json:"id"`
	At int64    `json:"at"`
	N  N        `json:"n"`
}

// Pause is a longer stop: parked, resumed, or only resumed after one that
// nobody announced.
type Pause struct {
	Parked    bool   `json:"parked"`
	Note      string `json:"note"`
	At        int64  `json:"at"`
	N         N      `json:"n"`
	ResumedN  N      `json:"resumed_n"`
	ResumedAt int64  `json:"resumed_at"`
	AsLeft    bool   `json:"as_left"`
	Different string `json:"different"`
}

// Seen is that the installer read why the sheet was withdrawn.
type Seen struct {
	Reason string `json:"reason"`
	At     int64  `json:"at"`
	N      N      `json:"n"`
}

// Note is a remark.
type Note struct {
	Step event.StepID `json:"step"`
	Text string       `json:"text"`
	At   int64        `json:"at"`
	N    N            `json:"n"`
}

// Comment is what a mentor, a reviewer or another installer said.
type Comment struct {
	event.CommentAdded
	By event.DeviceID `json:"by"`
	At int64          `json:"at"`
	N  N              `json:"n"`
}

// Raised is what a reviewer saw and no rule did.
type Raised struct {
	event.FindingRaised
	ID event.ID `json:"id"`
	At int64    `json:"at"`
	N  N        `json:"n"`
}

// Decision is a reviewer's word on a finding or on the whole job.
type Decision struct {
	event.DecisionMade
	ID event.ID       `json:"id"`
	By event.DeviceID `json:"by"`
	At int64          `json:"at"`
	N  N              `json:"n"`
}

// Finished is the installer's word.
type Finished struct {
	Note string `json:"note"`
	At   int64  `json:"at"`
	N    N      `json:"n"`
}

func empty(id event.JobID) *State {
	return &State{Job: id, Parts: map[event.PartID]Part{}, Tools: map[event.ToolID]Tool{},
		Specs: map[event.FastenerID]map[event.PassID]Spec{}, Readings: []Reading{},
		Axles: map[event.Axle]Axle{event.Front: fresh(), event.Rear: fresh()}, Lifts: []Lift{},
		Steps: map[event.StepID]Step{}, Fasteners: map[event.FastenerID]Fastener{}, Adjusted: []Adjustment{},
		Dampers: map[event.Corner]Damper{}, Notes: []Note{}, Devices: map[event.DeviceID]int{}}
}

func fresh() Axle { return Axle{Answers: map[event.Move]map[event.CheckID]Answer{}} }

// Up reports whether any axle is off its wheels.
func (s *State) Up() bool { return s.Axles[event.Front].Up || s.Axles[event.Rear].Up }

// Touched reports whether the fastener was loosened, fitted or tightened in this job.
func (f Fastener) Touched() bool { return f.LoosenedN > 0 || f.FittedN > 0 || len(f.Passes) > 0 }

// JSON returns the state's canonical bytes, for comparing two folds.
func (s *State) JSON() string {
	data, err := json.Marshal(s)
	if err != nil {
		panic("job: a state of strings and integers failed to marshal: " + err.Error())
	}
	return string(data)
}
