// Package templates draws every screen: the phone's and the shop's, from the
// same views. A view is plain data with its words ready to show.
package templates

import (
	"strutcard/sync/method"
	"strutcard/sync/units"
)

// Strip is the line that is always at the top.
type Strip struct {
	Car      string // where the car is
	Up       bool   // an axle is up: the hazard band
	Loose    string // what is not final, in words; "" when nothing is
	Sync     string // quiet: what waits to sync
	Said     string // what others wrote and nobody has read; "" for nothing
	Warning  string // loud: not saved, memory only, second tab
	Stop     string // loud: what a reviewer saw that must not go on; no warning hides it
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
	Lost    *Lost // nil: nothing was cleared
	Jobs    []JobRow
	Sheets  []SheetRow
	Offline string // "works offline" once checked, or what is missing
	Ready   *Ready
	Own     []OwnRow
	OwnLost bool // some of the own sheets could not be read
	First   bool // nothing was done on this phone yet
	Apart   bool // the app stands alone and holds nothing: the record may be in the browser
	Install *Install
}

// Install says how the app comes to the home screen; nil when it is there, or when
// nobody wants to hear of it.
type Install struct {
	How  string // "prompt": by a press; "share": by the browser's share button
	Jobs bool   // there is a record that an app kept apart from its browser would lack
	Ask  bool   // it may be put off
}

// JobRow is one job in a list.
type JobRow struct{ ID, Title, Vehicle, State string }

// SheetRow is one fitting sheet that a job can start from.
type SheetRow struct {
	Hash, Title, Version, From string
	Invented                   bool
	Torques                    string // how many are known
}

// Choice is one option of a form.
type Choice struct{ Value, Label string }

// Step is one step on the phone.
type Step struct {
	Others                    bool   // who looks on is one tap away: not in a sheet's preview
	Said                      []Said // by others, about this step
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
	Plan                      []string // what can be said of the stands and the chocks before a lift
	Notes                     []string
	Photos                    []PhotoRow
	OwnPhoto                  *PhotoForm // nil when none can be added
	Ready                     *Ready     // nil where it is not asked
	Prepare                   *Prepare   // what the sheet asks of the tools
	Hold                      bool
	Guest                     bool // whoever holds this phone may release it by name
	HoldPhoto                 *PhotoForm
	Picture                   string   // a line drawing by name
	Reminders                 []string // what holds all the time while an axle is up
	Parts                     []string // what goes on here, with its mark
	Points                    []string // where jack and stands go
	Withdrawn                 string   // the sheet was withdrawn, in words
	GoOn                      bool     // and nobody has agreed to go on
	Reopen                    bool     // may be done again
	Begin                     string   // what the press that begins stands for; "" once it has begun
	Undo                      string   // what would be taken back
	Skip                      bool     // may be skipped
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
	Reading  *MethodForm
	Photo    *PhotoForm
	Position *PositionForm
	Clicks   *ClicksForm
	Corner   []AskRow // the fasteners to look at
	Over     string   // what passes it over
	Override bool     // a reason field is shown
}

// PositionForm asks where an adjuster stands.
type PositionForm struct {
	Adjuster, Corner, Purpose string
	Where, From, Target, Unit string
	AsFound, Length           bool
}

// ClicksForm asks for a damper's clicks.
type ClicksForm struct {
	Corner, Knob, Purpose string
	Where, Rule, Target   string
	From, Stop            string
	AsFound               bool
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
	Again               string // why it is asked once more
	Must                bool
	Fields              ToolFields
	Keeps               bool     // of a kind that the owner's register keeps
	Offers              []Choice // from the register: id and words
	Listed              bool     // it is on the list already
}

// Torque is the number to set on the wrench.
type Torque struct {
	Place, Pass, Why   string
	Figure, Unit       string   // the torque of the pass
	Set                string   // the number to set, large; "" where it is the torque
	Said               []string // what wrench and adapter make of it
	Ways               []TorqueWay
	Cannot             []string // why the other wrenches are not among them
	Band               string   // tolerance or target, smaller
	Source             string
	Wrench             string
	Count, Done        int64   // of a group, and how many of it are done
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

// MethodGroup is one heading in the list of calculators.
type MethodGroup struct {
	Title   string
	Methods []MethodRow
}

// MethodRow is one calculator in the list.
type MethodRow struct{ ID, Title, Gives string }

// MethodForm asks for raw numbers and shows what they come to.
type MethodForm struct {
	Method, Title, Way, Words string
	Quantity, Place, Purpose  string // of the reading; Purpose is "" where nothing is kept
	Where                     string // the place in words
	Fields                    []MethodField
	Problem                   string   // why there is no result yet
	Missing                   []Choice // what is still to be answered: name and label
	Result                    *Result
	Takes                     string // the readings so far and their mean
	Kept                      bool   // takes are kept that can be forgotten
	Beside                    []BesideRow
	BesideNote                string // why some of them must not be compared
	Target                    string
	Load, LoadDraft, LoadNote string
	Level                     bool     // the calibration shown may be kept
	Mover                     string   // the calculator that says how far to move
	Ways                      []Choice // other methods for the same quantity
}

// MethodField is one question of a form.
type MethodField struct {
	Name, Label, Hint, Kind string
	Unit, Mode              string
	Value, Draft            string
	Options                 []Choice
	Optional, Filled        bool
	Typed                   bool // typed by the person, where the record fills in too
}

// BesideRow is one place of an axle: left and right next to each other.
type BesideRow struct {
	Words, Before, Now          string
	Verdict, VerdictMark, Stale string
	Here                        bool
}

// Result is what a method made of the answers.
type Result struct {
	Value       string // "−1.50° ± 0.10°"
	Words       string // "top leans in"
	Verdict     string
	VerdictMark string // "met", "not_met", "too_close", ""
	Line        string // the arithmetic in one line
	Rows        []method.Row
	Stops       []string // above all else
	Warn        []string
	More        []string // behind one tap
	Ask         string
	Refused     bool // the record takes no such value: it cannot be confirmed
	Draw        *method.Picture
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
	Groups  []ReadingGroup
	More    []ReadingRow // what has no reading and no target yet
	Adjust  []Choice     // quantity:corner, label
	Counted []Choice     // units of a counted position
	Changed []method.Row // what was changed so far, the newest first
	Note    string
	Up      bool
	Draft   map[string]string
}

// ReadingGroup is one quantity, left and right side by side.
type ReadingGroup struct {
	Title, Quantity, Unit string
	Rows                  []ReadingRow
}

// ReadingRow is one corner or axle over time.
type ReadingRow struct {
	Quantity, Place, Words string
	Before, Setting, Final string
	Stale                  string
	Target                 string
	Note                   string // why it must not be compared
	Verdict, VerdictMark   string
}

// Card is the job's record, for the phone, the mentor and the shop.
type Card struct {
	Title, Vehicle, Version string
	Opened, Finished        string
	Invented                bool
	Sheet                   bool // the sheet is at hand
	State                   string
	Decided                 string   // the shop's last word, on the phone; ""
	Up                      []string // axles that are off their wheels, in words
	Findings                []FindingRow
	Fasteners               []CornerFasteners
	Readings                []ReadingGroup
	Taken                   []TakenRow
	Settings                []SettingRow
	Pauses                  []string
	Photos                  Photos
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
type FindingRow struct {
	Severity, Text, Todo string
	Decided              string // by a reviewer, in words; "" while open
}

// SettingRow is where an adjuster or a damper stood as found, and stands as set.
type SettingRow struct{ What, Found, Set, Rule string }

// TakenRow is one reading with its raw numbers.
type TakenRow struct{ What, How string }

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
	Install *Install
	Senses  []Sense
	Waiting string
	Last    string
	Shop    string
	Refused []string
	Storage string
	Offline string
	Device  string
	Theme   string
	Units   []units.Setting
	Update  bool
	Invite  string
	Joined  bool
	Shut    bool   // the shop does not let this phone in any more
	Open    bool   // a job is
	Alone   string // warns that entries are nowhere else for long; "" while they are not
	Draft   map[string]string

	Photos       string // how far they have come; "" when there is nothing to say
	PhotoTrouble string // why one does not come, or none does
}

// Lost is what became of a record that the browser cleared.
type Lost struct {
	Missing string // what no shop had; "" when all had been sent
	Shop    string
	Joined  bool
	Back    bool // the shop's copy is here again
}

// Words are the glossary: every word, and before them those of one screen.
type Words struct {
	Here []Word // of the screen that it was opened from
	All  []Word
}

// Word is one of its entries, with the name of its drawing, if it has one.
type Word struct{ ID, Head, Text, Picture string }
