package templates

// FieldPage is what jobs on one version of a sheet show of it.
type FieldPage struct {
	Desk
	Back           Link
	Files          []Link
	Title, Version string
	Invented       bool
	Jobs           int
	Facts          []string // where the jobs stand, and which are counted
	Small          string   // that the numbers are small; "" when they are not
	Parts          []FieldPart
}

// FieldPart is one thing that was counted: drawn, and the same numbers as a table.
type FieldPart struct {
	Title  string
	Words  []string // what is shown, and what is not in it
	Empty  string   // said in place of all, when there is nothing to show
	Plots  []Plot
	Tables []FieldTable
}

// FieldTable is a table; the first cell of a row names it.
type FieldTable struct {
	Name  string
	Words string // what its numbers are
	Head  []string
	Rows  [][]string
}

// Plot is a drawing of rows over one scale.
type Plot struct {
	Title string
	Axis  Axis
	Rows  []PlotRow
}

// Axis is a plot's scale. A log scale gives each factor the same room.
type Axis struct {
	Low, High float64
	Log       bool
	Ticks     []Tick
	Heavy     float64 // the value of the heavy line, when there is one
	HasHeavy  bool
}

// Tick is one line of the scale with its words.
type Tick struct {
	Value float64
	Words string
}

// PlotRow is one row: its name, its numbers in words, and what is drawn.
type PlotRow struct {
	Name  string
	Words string
	Band  *Span // what is inside its tolerance
	Lanes []Lane
	Joins []Span // from the first lane to the second
}

// Span is from one value to another.
type Span struct{ From, To float64 }

// Lane is one line of a row: values one by one, or summed up, or a bar.
type Lane struct {
	Points []float64
	Hollow bool // the points are drawn as rings
	Box    *Box
	Bar    *Span
}

// Box is values summed up.
type Box struct{ Least, Q1, Median, Q3, Most float64 }
