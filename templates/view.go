// Package templates draws every screen: the phone's and the shop's, from the
// same views. A view is plain data with its words ready to show.
package templates

// Strip is the line that is always at the top.
type Strip struct {
	Car      string // where the car is
	Up       bool   // an axle is up: the hazard band
	Loose    string // what is not final, in words; "" when nothing is
	Sync     string // quiet: what waits to sync
	Warning  string // loud: not saved, memory only, second tab
	Job      bool   // a job is open
	Invented bool   // the sheet is a demo: its values are for no real car
}

// Button is something to press.
type Button struct {
	Do      string
	Args    map[string]string
	Label   string
	Primary bool
	Quiet   bool
}

// Bar is the foot of the screen: the three places and the one main action.
type Bar struct {
	Place   string // "work", "measure", "card"; "" outside a job
	Note    string // one line above the action
	Buttons []Button
}

// Message is what the app has to say now.
type Message struct {
	Title string
	Text  string
	Hint  string
	Stop  bool
}

// Home is the start: jobs on this phone and ways to begin.
type Home struct {
	Jobs     []JobRow
	Sheets   []SheetRow
	Offline  string // "works offline" once checked, or what is missing
	Shop     string // the shop this phone belongs to
	Patterns []Choice
	Install  bool
}

// JobRow is one job in a list.
type JobRow struct{ ID, Title, Vehicle, State string }

// SheetRow is one fitting sheet that a job can start from.
type SheetRow struct {
	Hash, Title, Version, From string
	Invented                   bool
}

// Choice is one option of a form.
type Choice struct{ Value, Label string }

// Step is one step on the phone.
type Step struct {
	ID, Stage, Title, Do, Why string
	Progress                  string
	First                     []string
	Cautions                  []string
	Tools                     []string
	Blockers                  []string
	Asks                      []AskRow
	Ask                       *Ask // what comes now
	Status                    string
	StatusWords               string
	Lift                      bool
	Notes                     []string
	Hold                      bool
	Undo                      string // what would be taken back
	Skip                      bool   // may be skipped
	Draft                     map[string]string
}

// AskRow is one line of what the step wants.
type AskRow struct {
	Text   string
	Figure string
	Phase  string // for the fastener glyph; "" for none
	Done   bool
	Now    bool
	Note   string
}

// Ask is the one thing to do now.
type Ask struct {
	Kind     string // "check", "loosen", "fit", "pass", "reading", "part", "tool", "spec", "say"
	Text     string
	Why      string
	Stop     string
	Must     bool
	Part     *PartForm
	Tool     *ToolForm
	Torque   *Torque
	Reading  *ReadingForm
	Override bool // a reason field is shown
}

// PartForm counts one part.
type PartForm struct {
	ID, Name string
	Count    int64
	Again    string // why it is asked once more
}

// ToolForm asks for one tool.
type ToolForm struct {
	ID, Name, Kind, Why string
	Must                bool
	Label, Low, High    string
	Unit                string
}

// Torque is the number to set on the wrench.
type Torque struct {
	Place, Pass, Why   string
	Figure, Unit       string // the number to set, large
	Band               string // tolerance or target, smaller
	Source             string
	Wrench             string
	Count              int64
	Order              []int64 // star order, for groups
	Angle              string
	Turn               string
	Unknown            bool
	Unverified         string
	Fastener, PassID   string
	Form               *SpecForm
	NoWrench, Invented bool
}

// SpecForm asks for a torque with its source.
type SpecForm struct {
	Fastener, Pass, Place string
	Value, Source, Unit   string
	Question              string // what looked implausible
	Units                 []Choice
	Angle                 bool
}

// ReadingForm takes one reading.
type ReadingForm struct {
	Quantity, Corner, Purpose string
	Title, Words              string
	Unit                      string
	Value, Gap, Span, Res     string
	GapAt, Along              string
	Load                      string
	Result                    *Result
	Target                    string
	Before                    string
	Problem                   string // why there is no result yet
}

// Result is a computed reading with its picture.
type Result struct {
	Value       string // "−1.5° ± 0.1°"
	Words       string // "top leans in"
	Verdict     string
	VerdictMark string // "met", "not_met", "too_close", ""
	Line        string // the arithmetic in one line
	Draw        *Triangle
}

// Triangle is the measured right triangle and the wheel, ready to draw; lengths
// in the drawing's own units.
type Triangle struct {
	Gap, Span, Angle string
	TopGap           bool
	Along            string
	Lean             float64 // degrees in the drawing, exaggerated
	Exaggeration     string
	Alt              string
}

// StageRow is one stage in the list of steps.
type StageRow struct {
	Title string
	Steps []StepRow
}

// StepRow is one step in a list.
type StepRow struct {
	ID, Title, Status, Words string
	Here                     bool
}

// Tally is the list of what is not final.
type Tally struct {
	Open     []CornerRows
	Clear    []CornerRows
	NotFinal int
	Drive    string // may the car be driven, in words
}

// CornerRows is one corner's fasteners.
type CornerRows struct {
	Corner string
	Rows   []TallyRow
}

// TallyRow is one fastener.
type TallyRow struct {
	ID, Place, Phase, Words string
	Figure                  string
	Reason                  string
	Mark                    bool    // may be marked now
	Now                     *Button // wheel nuts: what makes them tight from here
}

// Measure is the place for readings.
type Measure struct {
	Groups []ReadingGroup
	Adjust []Choice // quantity:corner, label
	Note   string
	Up     bool
}

// ReadingGroup is one quantity, left and right side by side.
type ReadingGroup struct {
	Title, Quantity, Unit string
	Rows                  []ReadingRow
}

// ReadingRow is one corner over time.
type ReadingRow struct {
	Corner, Words          string
	Before, Setting, Final string
	Stale                  string
	Target                 string
	Verdict, VerdictMark   string
}

// Card is the job's record, for the phone, the mentor and the shop.
type Card struct {
	Title, Vehicle, Version string
	Opened, Finished        string
	Invented                bool
	Sheet                   bool // the sheet is at hand
	State                   string
	Up                      []string // axles that are off their wheels, in words
	Findings                []FindingRow
	Fasteners               []CornerFasteners
	Readings                []ReadingGroup
	Lifts                   []LiftRow
	Parts                   []PartRow
	Tools                   []ToolRow
	Steps                   []StageRow
	Notes                   []string
	Events                  int
	Unknown                 int
	Withdrawn               int
}

// FindingRow is one finding.
type FindingRow struct{ Severity, Text, Todo string }

// CornerFasteners is one corner's part of the card.
type CornerFasteners struct {
	Corner string
	Rows   []FastenerRow
}

// FastenerRow is one fastener on the card.
type FastenerRow struct {
	Place, Thread, Spec, Source string
	Made, Wrench, New           string
	Phase, Words, Reason        string
}

// LiftRow is one lift with its answers.
type LiftRow struct {
	Axle, Raised, Lowered string
	Answers               []AnswerRow
}

// AnswerRow is one check as answered.
type AnswerRow struct{ Ask, Answer, Reason string }

// PartRow is one line of the box.
type PartRow struct {
	Name         string
	Found, Count int64
	Note         string
}

// ToolRow is one tool as listed.
type ToolRow struct{ Name, Have, Detail string }

// Sync is the screen behind the quiet line.
type Sync struct {
	Waiting string
	Last    string
	Shop    string
	Refused []string
	Storage string
	Offline string
	Device  string
	Theme   string
	Torque  string // chosen unit
	Length  string
	Update  bool
	Invite  string
	Joined  bool
	Draft   map[string]string
}
