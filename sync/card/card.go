package card

import (
	"cmp"

	"strutcard/calc/lang"
	"strutcard/sync/event"
)

// Format is the version of a card's shape.
const Format = 1

// Deferral stands on every card.
const Deferral = "This card guides; it does not certify. The vehicle maker's manual, the part maker's instructions, local rules and licensed practice come first."

// Card is the record of a job for people and programs. Only Record is the truth;
// the rest was computed from it. See the package comment.
type Card struct {
	Format   int         `json:"format"`
	Language string      `json:"language,omitempty"` // of the words that are not the record's: BCP 47; none is English
	Code     string      `json:"code"`               // stands for the record: anyone can compute it again
	Job      event.JobID `json:"job"`
	Vehicle  string      `json:"vehicle"` // as the installer called it
	Invented bool        `json:"invented,omitempty"`
	State    string      `json:"state"`
	Opened   string      `json:"opened"`
	Finished string      `json:"finished,omitempty"`
	Closing  string      `json:"closing,omitempty"` // the installer's words at the end
	Made     string      `json:"made,omitempty"`    // when this card was written; no line says so
	Sheet    Sheet       `json:"sheet"`
	Devices  []Device    `json:"devices"`
	Counts   Counts      `json:"counts"`
	Deferral string      `json:"deferral"`
	Cautions []string    `json:"cautions"`

	Findings  []Finding   `json:"findings"`
	Review    []Word      `json:"review"` // decisions and comments, in order
	Fasteners []Fastener  `json:"fasteners"`
	Readings  []Reading   `json:"readings"`
	Clicks    []Clicks    `json:"clicks"`
	Positions []Position  `json:"positions"`
	Parts     []Part      `json:"parts"`
	Tools     []Tool      `json:"tools"`
	Lifts     []Lift      `json:"lifts"`
	Skipped   []Word      `json:"skipped"`
	Leftovers []Leftovers `json:"leftovers"`
	Rechecks  []Recheck   `json:"rechecks"`
	Notes     []Word      `json:"notes"`

	Record []string `json:"record"` // the lines: the sheet, then the events in order
}

// Spoken is the language of the card.
func (c Card) Spoken() string { return cmp.Or(c.Language, lang.English) }

// Sheet is the fitting sheet that the job follows.
type Sheet struct {
	Title   string          `json:"title"` // names the kit
	Version string          `json:"version,omitempty"`
	Vehicle string          `json:"vehicle,omitempty"` // what it is written for
	Hash    event.SheetHash `json:"hash"`
	Here    bool            `json:"here"` // it is in the record; without it nothing could be judged
	Own     bool            `json:"own,omitempty"`
}

// Device is a phone, or a shop's server, that wrote part of the record.
type Device struct {
	Device event.DeviceID `json:"device"`
	Name   string         `json:"name"` // as the shop calls it; no line says so
	Events int            `json:"events"`
	Last   string         `json:"last"`
}

// Counts are of events.
type Counts struct {
	All       int `json:"all"`
	Withdrawn int `json:"taken_back"`
	Unknown   int `json:"unknown"` // need a newer program
}

// Finding is what a rule saw in the record.
type Finding struct {
	ID       string           `json:"id"`
	Rule     string           `json:"rule"`
	Severity string           `json:"severity"` // "note", "ask" or "stop"
	Text     string           `json:"text"`
	Todo     string           `json:"todo,omitempty"` // what the installer does about it
	Look     string           `json:"look,omitempty"` // what a reviewer looks at
	Step     event.StepID     `json:"step,omitempty"`
	Fastener event.FastenerID `json:"fastener,omitempty"`
	Evidence []event.ID       `json:"evidence,omitempty"` // the events that it rests on
	Decision *Word            `json:"decision,omitempty"` // a reviewer's last word on it
}

// Word is what somebody said.
type Word struct {
	At    string         `json:"at"`
	By    event.DeviceID `json:"by"`
	Name  string         `json:"name,omitempty"`  // of who speaks
	About string         `json:"about,omitempty"` // what it is about
	Kind  string         `json:"kind,omitempty"`  // what a reviewer decided: "accept", "ask", "redo" or "return"
	Text  string         `json:"text"`
}

// Fastener is one fastener, or a group of them, with what was asked and made.
type Fastener struct {
	ID         event.FastenerID `json:"id"`
	Place      string           `json:"place"`
	Corner     event.Corner     `json:"corner"`
	Thread     string           `json:"thread,omitempty"`
	Count      int64            `json:"count"`
	Hardware   string           `json:"hardware,omitempty"` // "new" or "used again"
	TorqueCNM  int64            `json:"torque_cnm,omitempty"`
	TolCNM     int64            `json:"tol_cnm,omitempty"` // half-width
	AngleMdeg  int64            `json:"angle_mdeg,omitempty"`
	Source     string           `json:"source,omitempty"`     // of the torque
	Questioned string           `json:"questioned,omitempty"` // what looked implausible
	Phase      string           `json:"phase"`
	Clear      bool             `json:"clear"`
	Reason     string           `json:"reason,omitempty"` // why it is not
	Passes     []Pass           `json:"passes"`           // as they were made
}

// Pass is one stage of tightening as it was made.
type Pass struct {
	Pass      event.PassID   `json:"pass"`
	Kind      string         `json:"kind"`
	TorqueCNM int64          `json:"torque_cnm,omitempty"`
	AngleMdeg int64          `json:"angle_mdeg,omitempty"`
	SetCNM    int64          `json:"set_cnm,omitempty"` // on the wrench's scale
	Wrench    string         `json:"wrench,omitempty"`
	Adapter   string         `json:"adapter,omitempty"`
	Count     int64          `json:"count"`
	Hurried   bool           `json:"hurried,omitempty"` // came faster than hands can work
	Holds     bool           `json:"holds"`             // nothing later undid it
	At        string         `json:"at"`
	By        event.DeviceID `json:"by"`
}

// Reading is one measurement.
type Reading struct {
	Quantity   event.Quantity `json:"quantity"`
	Place      event.Place    `json:"place"`
	Purpose    event.Purpose  `json:"purpose"`
	Value      int64          `json:"value"`
	U95        int64          `json:"u95,omitempty"` // expanded uncertainty, k = 2; 0 is not known
	Unit       event.Unit     `json:"unit"`
	Target     *Target        `json:"target,omitempty"`
	Verdict    string         `json:"verdict,omitempty"` // "met", "not_met" or "too_close"
	Stale      string         `json:"stale,omitempty"`   // what changed after it
	Method     string         `json:"method"`
	Formula    string         `json:"formula,omitempty"`
	Instrument string         `json:"instrument,omitempty"`
	Load       string         `json:"load,omitempty"` // in the car
	Typed      []event.Input  `json:"typed,omitempty"`
	Takes      []int64        `json:"takes,omitempty"` // that were averaged, in the unit of the value
	At         string         `json:"at"`
	By         event.DeviceID `json:"by"`
}

// Target is what a reading should come to, in the unit of the reading.
type Target struct {
	Value  int64  `json:"value"`
	Tol    int64  `json:"tol"` // half-width
	Source string `json:"source,omitempty"`
}

// Clicks are a damper's, from an end stop.
type Clicks struct {
	Corner    event.Corner  `json:"corner"`
	Knob      string        `json:"knob,omitempty"`
	Purpose   event.Purpose `json:"purpose"` // "before": as found; "setting": as set
	Clicks    int64         `json:"clicks"`
	From      string        `json:"from"`
	StopCount int64         `json:"stop_counts"`      // how the stop itself is counted
	Total     int64         `json:"total,omitempty"`  // from stop to stop
	Sheet     *int64        `json:"asked,omitempty"`  // clicks that the sheet asks for
	Source    string        `json:"source,omitempty"` // of what is asked
}

// Position is where an adjuster stood or stands.
type Position struct {
	Adjuster event.Quantity `json:"adjuster"`
	Corner   event.Corner   `json:"corner"`
	Purpose  event.Purpose  `json:"purpose"` // "before": as found; "setting": as set
	Text     string         `json:"text"`
	LengthUM int64          `json:"length_um,omitempty"`
}

// Part is one line of the box.
type Part struct {
	ID      event.PartID `json:"id"`
	Name    string       `json:"name"`
	Count   int64        `json:"count"`
	Found   int64        `json:"found"`
	Damaged int64        `json:"damaged,omitempty"`
	Note    string       `json:"note,omitempty"`
}

// Tool is what was at hand to tighten, carry and measure with.
type Tool struct {
	ID      event.ToolID `json:"id"`
	Name    string       `json:"name"`
	LowCNM  int64        `json:"low_cnm,omitempty"`
	HighCNM int64        `json:"high_cnm,omitempty"`
	RatingG int64        `json:"rating_g,omitempty"`
	Checked string       `json:"checked,omitempty"`
}

// Lift is one period with an axle off its wheels.
type Lift struct {
	Axle    event.Axle  `json:"axle"`
	Raised  string      `json:"raised"`
	Lowered string      `json:"lowered,omitempty"` // "" while up
	Yes     int         `json:"yes"`               // checks answered with yes
	Other   []CheckSaid `json:"other,omitempty"`   // every other answer
}

// CheckSaid is a check that was not answered with yes.
type CheckSaid struct {
	Ask    string       `json:"ask"`
	Answer event.Answer `json:"answer"`
	Reason string       `json:"reason,omitempty"`
}

// Leftovers is what lay on the bench at the end.
type Leftovers struct {
	Step  event.StepID `json:"step"`
	Count int64        `json:"count"`
	Note  string       `json:"note,omitempty"`
}

// Recheck is what is looked at again after a distance on the road.
type Recheck struct {
	KM   int64  `json:"km"` // 0: the sheet gives no distance
	What string `json:"what"`
	Done string `json:"done,omitempty"` // when the step for it was done
}
