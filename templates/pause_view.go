package templates

// When writes an instant for people, in the reader's zone; "" for none.
func When(ms int64) string { return when(ms) }

// Park is the screen for leaving an unfinished car.
type Park struct {
	Car    []string // where the car is, and since when
	Loose  []CornerRows
	Never  []string
	Leave  []string
	Next   string
	Parked string // since when it is parked; "" before that
	Hazard bool   // a wheel is, or may be, off the ground
	Draft  string
}

// Resume is the first screen after a break: one question at a time.
type Resume struct {
	Last, At string // what was recorded last, and when
	Note     string // what was written when it was parked
	Car      []string
	Loose    []CornerRows
	Hazard   bool
	Ask      string // "push", "moved", "made", "stands"
	Fastener string // that "made" asks about
	Draft    string
}

// Watch is what is set once on a phone: who knows, and the timer that asks.
type Watch struct {
	Number, Who string
	Every       []Choice
	Chosen      string // minutes; "" while it is off
	Off         string // why it is off
	Draft       map[string]string
}

// Alarm asks whether the person is all right, and then says whom to call.
type Alarm struct {
	Loud         bool
	Missed       string // when it should have asked, if the page was not running then
	Who          string
	Number, Dial string
}

// Recheck is what to check again on the road, and the day of the reminder.
type Recheck struct {
	Due []string
	Day string // as a date field writes it
}
