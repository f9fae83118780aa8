// Package method is the ways to find something out with a ruler, a level, a
// tape, a phone or a scale: what each asks, what it makes of the answers, what
// it draws, and the reading that may be kept. The formulas stand in calc; a
// method joins one to a form. Phone and server share it.
package method

import (
	"slices"
	"sort"

	"strutcard/sync/event"
)

// Method is one way to find something out.
type Method struct {
	ID    string         // crosses into the record; never changes its meaning
	Group Group          // where it stands in the list
	Title string         // what it is, in three words
	Words string         // what to do, in the order to do it
	Sets  event.Quantity // what it gives a reading of; "" when there is nothing to keep
	// Fields are asked in this order.
	Fields []Field
	// Fill offers values that the record already holds. It may be nil.
	Fill func(Record) map[string]string
	// Work computes. It reads every field through In, which notes what is missing.
	Work func(*In) (Result, error)
}

// Group is a heading in the list of methods, in the order of work.
type Group string

const (
	Equipment Group = "Before the lift"
	Torque    Group = "Torque and threads"
	Ride      Group = "Ride height and springs"
	Floor     Group = "Floor and instruments"
	Camber    Group = "Camber and caster"
	Toe       Group = "Toe and thrust"
	Adjusting Group = "How far to move"
	Tyres     Group = "Tyres"
)

// Groups in the order of work.
var Groups = []Group{Equipment, Torque, Ride, Floor, Camber, Toe, Adjusting, Tyres}

// all is every method; each file adds its own in an init-free list.
func all() []Method {
	return slices.Concat(liftMethods, torqueMethods, rideMethods, floorMethods, camberMethods, tiltMethods, casterMethods, toeMethods, thrustMethods, adjustMethods, springMethods, tyreMethods)
}

// All lists every method by group, in the order of work.
func All() []Method {
	out := all()
	sort.SliceStable(out, func(i, j int) bool { return slices.Index(Groups, out[i].Group) < slices.Index(Groups, out[j].Group) })
	return out
}

// Find returns the method with that id, or nil.
func Find(id string) *Method {
	for _, m := range all() {
		if m.ID == id {
			return &m
		}
	}
	return nil
}

// For lists the methods that give a reading of q, the usual one first.
func For(q event.Quantity) []Method {
	return slices.DeleteFunc(all(), func(m Method) bool { return m.Sets != q || q == "" })
}

// Kind is what a field takes.
type Kind string

const (
	Length      Kind = "length"
	Angle       Kind = "angle"
	Mass        Kind = "mass"
	TorqueValue Kind = "torque"
	Pressure    Kind = "pressure"
	Stiffness   Kind = "stiffness"
	Temperature Kind = "temperature"
	Percent     Kind = "percent"
	Count       Kind = "count"   // a plain number
	Text        Kind = "text"    // words
	Choice      Kind = "choice"  // one of Options
	Samples     Kind = "samples" // read from the phone's motion sensor
)

// Field is one question of a form. Labels are short and plain; where a sign
// would be needed, a Choice asks for a place or a side in words instead.
type Field struct {
	Name     string
	Label    string
	Hint     string // one line under the field
	Kind     Kind
	Options  []Option // of a Choice
	Optional bool     // Work copes without it
	Keep     bool     // stays for the next reading in the same job: a span, a ruler's mark
	// Instrument is true of a mark or step that belongs to the tape or the gauge,
	// not to the car: it stays from one job to the next.
	Instrument bool
	// When hides the field unless another one has this answer: "floor=left".
	// Several answers are parted by "|".
	When string
}

// Option is one answer of a Choice.
type Option struct{ Value, Label string }

// Result is what a method makes of the answers.
type Result struct {
	Figure  string   // the number with its uncertainty, large
	Words   string   // what it means, in a sentence
	Line    string   // the arithmetic, in one line, in the units typed
	Rows    []Row    // further results
	Stop    []string // what forbids it; each a whole sentence
	Warn    []string // what limits it; each a whole sentence
	Ask     string   // a question about an implausible value: not kept until it is answered by typing anew
	Picture *Picture
	Reading *Reading    // what may be kept; nil when there is nothing
	Level   *PhoneLevel // a calibration of this phone that may be kept
}

// Row is a further result.
type Row struct{ Label, Value string }

// Reading is a computed value in the unit of the record, ready to be kept.
type Reading struct {
	Value, U95 int64
	Formula    string // name and version, from calc
	Instrument string // in words, with its resolution
}
