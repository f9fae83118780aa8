package templates

// Kit is the owner's own tools, kept on this phone outside any job.
type Kit struct {
	Groups []KitGroup
	Kinds  []Choice // what can be added
	Form   *KitForm // open; nil when none is
	Lost   bool     // some of what was kept could not be read
	Job    bool     // a job is open: there is a way back to it
	Draft  map[string]string
}

// KitGroup is the tools of one kind.
type KitGroup struct {
	Title string
	Rows  []KitRow
}

// KitRow is one tool of the owner's.
type KitRow struct{ ID, Label, Words string }

// KitForm adds a tool, or changes one.
type KitForm struct {
	ID, Kind, Title string // ID is "" for a new one
	Fields          ToolFields
}

// ToolFields are what is asked of a tool of one kind.
type ToolFields struct {
	Kind    string
	Typed   map[string]string // as it is kept or recorded
	Drafts  string            // the beginning of their names among what is half typed
	Draft   map[string]string
	Unit    string   // of torque, beside the fields
	Units   []Choice // to choose it from; none in a job
	Length  string   // the unit of lengths
	Classes []Choice
}

func (f ToolFields) value(name string) string { return pick(f.Draft[f.Drafts+name], f.Typed[name]) }

// Prepare is what a sheet asks of the tools, said before the car goes up.
type Prepare struct {
	Sections []PrepareSection
	Listed   []PrepareTool // what this job has on its list, to correct
	Own      []PrepareTool // the owner's wrenches and adapters, to list
	Again    *ToolForm     // a listed tool that is being corrected
	Draft    map[string]string
}

// PrepareSection is one heading of it.
type PrepareSection struct {
	Title string
	Lines []string
	Stop  bool
}

// PrepareTool is one tool and what can be done about it.
type PrepareTool struct{ Label, Words, Do, Tool, Item, Press string }

// TorqueList is every fastener of a sheet with its torque, by corner.
type TorqueList struct {
	Title    string
	Invented bool
	Sections []PrepareSection
	Corners  []TorqueCorner
}

// TorqueCorner is one corner's part of the list.
type TorqueCorner struct {
	Corner string
	Rows   []TorqueRow
}

// TorqueRow is one fastener. Mark says what is wrong with its torque, or "".
type TorqueRow struct {
	Place, Source, Mark string
	Passes              []TorquePass
}

// TorquePass is one stage of it: what it asks for and what to set for that.
type TorquePass struct{ Words, Set string }

// TorqueWay is a wrench, with an adapter or without, that can be chosen.
type TorqueWay struct {
	Wrench, Adapter, Label string
	Here                   bool
}
