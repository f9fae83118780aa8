package web

import (
	"slices"
	"strings"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/sheet"
	"strutcard/templates"
)

// shape is one kind of thing in a sheet: where it stands in the JSON, what its
// fields are, and which lists are inside it. The tables below are the whole of
// the authoring forms; "confirmed" is in none of them, since only a named check
// sets it.
type shape struct {
	key    string // in the JSON of what holds it
	one    string
	many   string
	hint   string
	single bool     // a thing by itself, not one of a list
	self   bool     // fields of the sheet itself
	open   bool     // the first list inside each is shown in the list, too
	label  []string // the fields that name one in a list
	names  bool     // the ids of the sheet stand beside the form
	fields []field
	inside []*shape
}

func one(pairs ...string) []templates.Choice {
	out := []templates.Choice{{Label: "–"}}
	for i := 0; i+1 < len(pairs); i += 2 {
		out = append(out, templates.Choice{Value: pairs[i], Label: pairs[i+1]})
	}
	return out
}

var (
	axles    = one("front", "front", "rear", "rear")
	corners  = one("FL", "front left", "FR", "front right", "RL", "rear left", "RR", "rear right")
	purposes = one(string(event.Before), "as found", string(event.Setting), "while setting", string(event.Final), "at the end")
	moves    = one(string(event.Raise), "raise", string(event.Lower), "lower")
	whens    = one(string(sheet.Before), "before the step's work", string(sheet.After), "when all else is done")
	knobs    = one("bump", "bump", "rebound", "rebound")
	states   = one(string(sheet.Up), "this axle on stands", string(sheet.OnWheels), "this axle on its wheels", string(sheet.AtRide), "all wheels down and settled")
	measured = quantities(event.Quantities()...)
	adjusted = quantities(event.RideHeight, event.Camber, event.Caster, event.Toe)
)

// inSheet says a word of these tables. A single word may mean something else
// elsewhere.
func inSheet(text string) string {
	if words := lang.C(text, "of a fitting sheet"); words != text && !strings.Contains(text, " ") {
		return words
	}
	return lang.T(text)
}

// said is a table of choices in the reader's language.
func said(table []templates.Choice, say func(string) string) []templates.Choice {
	out := slices.Clone(table)
	for i := range out {
		out[i].Label = say(out[i].Label)
	}
	return out
}

func quantities(list ...event.Quantity) []templates.Choice {
	out := one()
	for _, q := range list {
		out = append(out, templates.Choice{Value: string(q), Label: lang.T(q.Words())})
	}
	return out
}

func pictures() []templates.Choice {
	out := one()
	for _, name := range sheet.Pictures {
		out = append(out, templates.Choice{Value: name, Label: strings.ReplaceAll(name, "_", " ")})
	}
	return out
}

var (
	idField      = field{key: "id", label: "Id", kind: asText, hint: "A plain name in letters, digits, _ and -. The record and other steps refer to it."}
	whyField     = field{key: "why", label: "Why, in one line", kind: asLong}
	axleField    = field{key: "axle", label: "Axle", kind: asChoice, options: axles}
	cornerField  = field{key: "corner", label: "Corner", kind: asChoice, options: corners, hint: "Left and right as the driver sees them."}
	carField     = field{key: "car", label: "State of the car", kind: asChoice, options: states}
	sourceField  = field{key: "source", label: "Source: document and page", kind: asText}
	purposeField = field{key: "purpose", label: "Purpose", kind: asChoice, options: purposes}
	whenField    = field{key: "when", label: "When", kind: asChoice, options: whens}
	knobField    = field{key: "knob", label: "Knob", kind: asChoice, options: knobs, hint: "Only where the damper has two."}
	askField     = field{key: "ask", label: "Question, to be answered yes or no", kind: asLong}
	stopField    = field{key: "stop", label: "What to do when the answer is no", kind: asLong}
	mustField    = field{key: "must", label: "Must: no way round", kind: asFlag}
)

// sheetShape is the whole sheet.
var sheetShape = &shape{one: "sheet", inside: []*shape{headShape, vehicleShape, partShape, toolShape, liftShape, fastenerShape, stageShape, targetShape, damperShape, perchShape, orderShape}}

var headShape = &shape{key: "head", one: "Title, version, change note", single: true, self: true, fields: []field{
	{key: "title", label: "Title", kind: asText, hint: "The kit, and the car it is for. Versions of one sheet share it."},
	{key: "version", label: "Version", kind: asText, hint: "Each published version of a title has its own."},
	{key: "note", label: "What this version changed", kind: asLong, hint: "For those who knew the version before."},
}}

var vehicleShape = &shape{key: "vehicle", one: "Vehicle", single: true, fields: []field{
	{key: "name", label: "Vehicle", kind: asText},
	{key: "mass_g", label: "Kerb mass", kind: asMass},
	{key: "front_permille", label: "Share of the mass on the front axle, %", kind: asPercent},
	{key: "wheelbase_um", label: "Wheelbase", kind: asLength},
	{key: "track_um", label: "Track", kind: asLength},
	{key: "driven", label: "Driven wheels", kind: asChoice, options: one("front", "front", "rear", "rear", "all", "all")},
	{key: "parking_brake", label: "The parking brake holds the axle", kind: asChoice, options: axles},
	sourceField,
}, inside: []*shape{{key: "points", one: "point of the body", many: "Points that may carry the car", hint: "From the vehicle maker's manual only.", label: []string{"use", "axle", "place"}, fields: []field{
	{key: "use", label: "For", kind: asChoice, options: one(string(sheet.UseJack), "jack", string(sheet.UseStand), "stand")}, axleField,
	{key: "place", label: "Place", kind: asLong}, {key: "caution", label: "Caution", kind: asLong}}}}}

var partShape = &shape{key: "parts", one: "part", many: "Parts in the box", label: []string{"name", "count"}, fields: []field{
	idField, {key: "name", label: "Name", kind: asText}, {key: "count", label: "How many", kind: asWhole}, cornerField, axleField,
	{key: "mark", label: "How to tell it from its mirror image", kind: asText}}}

var toolShape = &shape{key: "tools", one: "tool", many: "Tools and consumables", label: []string{"name", "kind", "must"}, fields: []field{
	idField, {key: "name", label: "Name", kind: asText},
	{key: "kind", label: "Kind", kind: asChoice, options: one(string(sheet.TorqueWrench), "torque wrench: its range is asked", string(sheet.Stands), "stands: their rating is asked",
		string(sheet.Jack), "jack: its rating is asked", string(sheet.Adapter), "adapter: its length is asked", string(sheet.Gauge), "gauge", string(sheet.Consumable), "consumable")},
	{key: "must", label: "Must: no lift without it", kind: asFlag}, whyField}}

var liftShape = &shape{key: "checks", one: "lift check", many: "Lift checks", hint: "Asked one by one, in this order, before an axle is raised or lowered.", label: []string{"move", "ask", "must"}, fields: []field{
	idField, {key: "move", label: "Before", kind: asChoice, options: moves},
	{key: "axle", label: "Axle", kind: asChoice, options: axles, hint: "None asks at either axle."}, mustField, askField, whyField, stopField,
	{key: "lifts", label: "The car is raised before this is answered", kind: asFlag},
	{key: "hands", label: "Work at the car: a yes within seconds is not taken", kind: asFlag}}}

var fastenerShape = &shape{key: "fasteners", one: "fastener", many: "Fasteners", label: []string{"place", "corner", "count", "thread"}, fields: []field{
	idField, {key: "place", label: "Place", kind: asText}, cornerField, {key: "thread", label: "Thread", kind: asText, hint: "Such as M12x1.5."},
	{key: "count", label: "How many", kind: asWhole},
	{key: "pattern", label: "Order of a group", kind: asChoice, options: one("star", "star")},
	{key: "bushed", label: "Clamps a rubber bush: final at ride height only", kind: asFlag},
	{key: "wheel", label: "Holds a road wheel", kind: asFlag},
	{key: "renew", label: "One-use: a new one each time", kind: asFlag},
	{key: "holds", label: "Clamps the adjuster of", kind: asChoice, options: adjusted},
	{key: "turn", label: "The side that turns", kind: asChoice, options: one("nut", "nut", "bolt", "bolt")},
	{key: "prepare", label: "State of the thread that the torque is for", kind: asText, hint: "Dry, oiled, thread lock: as the source says."},
	{key: "reuse", label: "When it may be used again", kind: asText},
	{key: "recheck_km", label: "Check its torque again after, km", kind: asWhole},
	sourceField,
}, inside: []*shape{passShape}}

var passShape = &shape{key: "passes", one: "pass", many: "Passes", hint: "In the order of work. The last that clamps is the final one.", label: []string{"id", "torque_cnm", "angle_mdeg", "share_permille", "car"}, names: true,
	fields: []field{
		idField,
		{key: "kind", label: "Kind", kind: asChoice, options: one(string(sheet.Snug), "snug: holds without clamping", string(sheet.Partial), "part: a share of the final torque", string(sheet.Final), "final",
			string(sheet.Angle), "angle: turned on after a torque", string(sheet.BackOff), "back off", string(sheet.Recheck), "re-check: must not turn")},
		{key: "torque_cnm", label: "Torque", kind: asTorque, hint: "Empty: the installer must look it up. There is no default."},
		{key: "tol_cnm", label: "Tolerance, plus and minus", kind: asTorque},
		{key: "share_permille", label: "Share of the final torque, %", kind: asPercent},
		{key: "angle_mdeg", label: "Angle", kind: asAngle},
		carField,
		{key: "after", label: "Only after these steps", kind: asLines, hint: "One id a line."},
		whyField, {key: "source", label: "Source, when not that of the fastener", kind: asText}}}

var stageShape = &shape{key: "stages", one: "stage", many: "Steps", hint: "In the order of work, by stage.", label: []string{"title"}, open: true, fields: []field{
	{key: "id", label: "Id", kind: asText}, {key: "title", label: "Title", kind: asText}}, inside: []*shape{stepShape}}

var stepShape = &shape{key: "steps", one: "step", many: "Steps", label: []string{"title"}, names: true, fields: []field{
	idField, {key: "title", label: "Title", kind: asText}, {key: "do", label: "What to do", kind: asLong}, whyField, axleField, cornerField, carField,
	{key: "needs", label: "Only after these steps", kind: asLines, hint: "One id a line."},
	{key: "first", label: "What must be true first", kind: asLines, hint: "One sentence a line."},
	{key: "cautions", label: "Cautions", kind: asLines, hint: "One sentence a line. They are read before the step begins."},
	{key: "tools", label: "Tools", kind: asLines, hint: "One id a line."},
	{key: "loosen", label: "Loosen these fasteners", kind: asLines, hint: "One id a line, in the order of work."},
	{key: "fit", label: "Fit these fasteners by hand", kind: asLines, hint: "One id a line, in the order of work."},
	{key: "passes", label: "Make these passes", kind: asPasses, hint: "A fastener's id and a pass's id on each line, in the order of work."},
	{key: "move", label: "Moves the axle", kind: asChoice, options: moves},
	{key: "adjust", label: "Sets the adjuster of", kind: asChoice, options: adjusted},
	{key: "box", label: "Count the parts", kind: asFlag}, {key: "kit", label: "Check the tools", kind: asFlag},
	{key: "specs", label: "Every torque must be known", kind: asFlag},
	{key: "settle", label: "Roll and bounce: the car is settled after it", kind: asFlag},
	{key: "drive", label: "Drive: needs a clear tally", kind: asFlag},
	{key: "hold", label: "Hold point: work stops until someone competent has looked", kind: asFlag},
	{key: "later", label: "Comes after the job is finished", kind: asFlag},
	{key: "leftovers", label: "Count what is left on the bench", kind: asFlag},
	{key: "picture", label: "Line drawing", kind: asChoice, options: pictures()},
}, inside: []*shape{
	{key: "checks", one: "check", many: "Checks of this step", label: []string{"when", "ask", "must"}, fields: []field{idField, whenField, mustField, askField, whyField, stopField,
		{key: "corner", label: "Shows the fasteners of", kind: asChoice, options: corners}}},
	{key: "photos", one: "photo", many: "Photos", label: []string{"when", "what", "must"}, fields: []field{idField, {key: "what", label: "What it shows", kind: asText}, whenField,
		{key: "must", label: "May be left out only with a reason", kind: asFlag}}},
	{key: "readings", one: "reading", many: "Readings", label: []string{"quantity", "corner", "axle", "purpose"}, fields: []field{{key: "quantity", label: "What is measured", kind: asChoice, options: measured}, cornerField,
		{key: "axle", label: "Axle", kind: asChoice, options: axles, hint: "For what belongs to an axle; then no corner."}, purposeField}},
	{key: "positions", one: "position", many: "Positions of adjusters", label: []string{"adjuster", "corner", "purpose"}, fields: []field{{key: "adjuster", label: "Adjuster of", kind: asChoice, options: adjusted}, cornerField, purposeField}},
	{key: "clicks", one: "count of clicks", many: "Damper clicks", label: []string{"corner", "knob", "purpose"}, fields: []field{cornerField, knobField, purposeField}},
}}

var targetShape = &shape{key: "targets", one: "target", many: "Targets", label: []string{"quantity", "axle", "mdeg", "um"}, fields: []field{
	{key: "quantity", label: "What is measured", kind: asChoice, options: measured}, axleField,
	{key: "mdeg", label: "Angle", kind: asAngle, hint: "Camber: minus when the top leans in. Toe: plus is in. Empty is 0."},
	{key: "tol_mdeg", label: "Tolerance of the angle, plus and minus", kind: asAngle},
	{key: "um", label: "Length", kind: asLength, hint: "For the ride height."}, {key: "tol_um", label: "Tolerance of the length, plus and minus", kind: asLength}, sourceField}}

var damperShape = &shape{key: "dampers", one: "damper setting", many: "Damper settings", label: []string{"axle", "knob", "clicks", "from"}, fields: []field{
	axleField, knobField, {key: "from", label: "Clicks are counted from", kind: asChoice, options: one("full_hard", "full hard", "full_soft", "full soft")},
	{key: "stop_counts", label: "The stop itself counts as", kind: asWhole, hint: "0 or 1."},
	{key: "clicks", label: "Clicks", kind: asWhole}, {key: "total", label: "Clicks from one stop to the other", kind: asWhole}, sourceField}}

var perchShape = &shape{key: "perches", one: "perch setting", many: "Perch settings", label: []string{"axle", "um", "from"}, fields: []field{
	axleField, {key: "from", label: "Measured from, and to", kind: asText}, {key: "um", label: "Length", kind: asLength}, sourceField}}

var orderShape = &shape{key: "order", one: "rule of order", many: "Order of readings", hint: "The first must stand before the second is taken.", label: []string{"first", "then"}, fields: []field{
	{key: "first", label: "First", kind: asChoice, options: measured}, {key: "then", label: "Then", kind: asChoice, options: measured}, whyField}}

// called names one thing in a list.
func (s *shape) called(n node) string {
	var parts []string
	for _, key := range s.label {
		for _, f := range s.fields {
			if f.key != key {
				continue
			}
			switch w := f.words(n[key]); {
			case w == "" || key == "count" && w == "1":
			case key == "count":
				parts = append(parts, lang.F("%s pieces", w))
			default:
				parts = append(parts, w)
			}
		}
	}
	if len(parts) == 0 {
		return lang.T("not filled in yet")
	}
	return strings.Join(parts, " · ")
}
