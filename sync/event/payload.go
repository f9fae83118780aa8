package event

import (
	"bytes"
	"encoding/json"
	"slices"
	"strings"

	"strutcard/sync/fault"
)

// Kind names what happened, in the past tense. The list only grows.
type Kind string

// Payload is what one kind of event says.
type Payload interface {
	Kind() Kind
	// check returns why the payload may not enter a log, or "".
	check() string
}

// spec is how a kind is read: its current version and an empty payload.
type spec struct {
	v     int
	empty func() Payload
}

func of[P any, T interface {
	*P
	Payload
}]() spec {
	return spec{v: 1, empty: func() Payload { return T(new(P)) }}
}

// at is the same kind at a later version: an older app keeps such an event and
// passes it on, but cannot read it.
func (s spec) at(v int) spec { s.v = v; return s }

// kinds is the whole vocabulary. To add a kind: one file, one line here, one
// case in job.apply, one row in the role table of sync/exchange.
var kinds = map[Kind]spec{
	KindJobOpened:        of[JobOpened](),
	KindPartCounted:      of[PartCounted](),
	KindToolListed:       of[ToolListed]().at(2),
	KindSpecGiven:        of[SpecGiven](),
	KindReadingTaken:     of[ReadingTaken]().at(2),
	KindCheckAnswered:    of[CheckAnswered](),
	KindCarRaised:        of[CarRaised](),
	KindCarLowered:       of[CarLowered](),
	KindStepStarted:      of[StepStarted](),
	KindStepDone:         of[StepDone](),
	KindStepSkipped:      of[StepSkipped](),
	KindFastenerLoosened: of[FastenerLoosened](),
	KindFastenerFitted:   of[FastenerFitted](),
	KindPassDone:         of[PassDone]().at(2),
	KindFastenerMarked:   of[FastenerMarked](),
	KindAdjustmentMade:   of[AdjustmentMade]().at(2),
	KindDamperSet:        of[DamperSet]().at(2),
	KindNoteAdded:        of[NoteAdded](),
	KindHoldAsked:        of[HoldAsked](),
	KindHoldReleased:     of[HoldReleased]().at(2),
	KindCorrected:        of[Corrected](),
	KindJobFinished:      of[JobFinished](),
	KindStepChecked:      of[StepChecked](),
	KindStepReopened:     of[StepReopened](),
	KindPhotoTaken:       of[PhotoTaken](),
	KindPhotoLeftOut:     of[PhotoLeftOut](),
	KindPositionNoted:    of[PositionNoted](),
	KindLeftoversCounted: of[LeftoversCounted](),
	KindWorkParked:       of[WorkParked](),
	KindWorkResumed:      of[WorkResumed](),
	KindWithdrawalSeen:   of[WithdrawalSeen](),
	KindCommentAdded:     of[CommentAdded](),
	KindFindingRaised:    of[FindingRaised](),
	KindDecisionMade:     of[DecisionMade](),
}

// Kinds lists every kind this app knows, sorted.
func Kinds() []Kind {
	out := make([]Kind, 0, len(kinds))
	for k := range kinds {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

func versionOf(k Kind) int { return kinds[k].v }

// Known reports whether this app can read the event's payload.
func (e Event) Known() bool {
	s, ok := kinds[e.Kind]
	return ok && e.V <= s.v
}

// Payload returns what the event says, or nil when only a newer app can read
// it; such an event is kept and passed on untouched. Do not change it.
func (e Event) Payload() Payload { return e.payload }

func (e Event) decode() (Payload, error) {
	if !e.Known() {
		return nil, nil
	}
	p := kinds[e.Kind].empty()
	dec := json.NewDecoder(bytes.NewReader(e.data))
	dec.DisallowUnknownFields()
	if err := dec.Decode(p); err != nil {
		return nil, broken(err, fault.T("Its %s data does not fit.", e.Kind))
	}
	if reason := p.check(); reason != "" {
		return nil, broken(nil, reason)
	}
	// A field twice, or in capitals, would mean one thing here and another to the next reader.
	if again, err := json.Marshal(p); err != nil || !bytes.Equal(again, e.data) {
		return nil, broken(err, fault.T("Its data is not in canonical form."))
	}
	return p, nil
}

// Corner is a wheel's place on the car. Left and right are as the driver sees them.
type Corner string

const (
	FL Corner = "FL"
	FR Corner = "FR"
	RL Corner = "RL"
	RR Corner = "RR"
)

// Corners in reading order.
var Corners = []Corner{FL, FR, RL, RR}

// Valid reports whether c is one of the four corners.
func (c Corner) Valid() bool { return slices.Contains(Corners, c) }

// Place returns the corner as a place on the car.
func (c Corner) Place() Place { return Place(c) }

// Axle returns the axle of the corner.
func (c Corner) Axle() Axle {
	if c == FL || c == FR {
		return Front
	}
	return Rear
}

// Words returns the corner as the driver would say it.
func (c Corner) Words() string {
	return map[Corner]string{FL: "front left", FR: "front right", RL: "rear left", RR: "rear right"}[c]
}

// Axle is one end of the car.
type Axle string

const (
	Front Axle = "front"
	Rear  Axle = "rear"
)

// Axles in working order.
var Axles = []Axle{Front, Rear}

// Valid reports whether a is front or rear.
func (a Axle) Valid() bool { return a == Front || a == Rear }

// Corners returns the axle's two corners, left first.
func (a Axle) Corners() []Corner {
	if a == Front {
		return []Corner{FL, FR}
	}
	return []Corner{RL, RR}
}

// Place returns the axle as a place on the car.
func (a Axle) Place() Place { return Place(a) }

// Place is a corner or an axle: what one reading belongs to.
type Place string

// Corner returns the place as a corner, "" for an axle.
func (p Place) Corner() Corner {
	if c := Corner(p); c.Valid() {
		return c
	}
	return ""
}

// Axle returns the place's axle.
func (p Place) Axle() Axle {
	if c := p.Corner(); c != "" {
		return c.Axle()
	}
	return Axle(p)
}

// Valid reports whether p is a corner or an axle.
func (p Place) Valid() bool { return p.Corner() != "" || Axle(p).Valid() }

// Words returns the place as the driver would say it.
func (p Place) Words() string {
	switch {
	case p.Corner() != "":
		return p.Corner().Words()
	case p.Valid():
		return string(p) + " axle"
	}
	return ""
}

// Words lengths, in bytes.
const (
	maxName = 200
	maxText = 4000
)

// name checks a required short text, such as an id or a label.
func name(what, s string) string {
	switch {
	case strings.TrimSpace(s) == "":
		return fault.T("Its %s is missing.", fault.Say(what))
	case len(s) > maxName:
		return fault.T("Its %s is longer than %d bytes.", fault.Say(what), maxName)
	}
	return ""
}

// text checks an optional long text.
func text(what, s string) string {
	if len(s) > maxText {
		return fault.T("Its %s is longer than %d bytes.", fault.Say(what), maxText)
	}
	return ""
}

// among checks a closed choice.
func among[T ~string](what string, got T, want ...T) string {
	if slices.Contains(want, got) {
		return ""
	}
	return fault.T("Its %s is not one of the known values.", fault.Say(what))
}

// within checks an integer's range, ends included. It says the ends as a person
// reads them.
func within(what string, got, low, high int64, in Unit) string {
	if got < low || got > high {
		return fault.T("Its %s is outside %s to %s.", fault.Say(what), in.words(low), in.words(high))
	}
	return ""
}

// first returns the first reason that is not empty.
func first(reasons ...string) string {
	for _, r := range reasons {
		if r != "" {
			return r
		}
	}
	return ""
}
