package client

import (
	"errors"
	"fmt"
	"strings"

	"strutcard/calc/camber"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/calc/torque"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/guide"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
	"strutcard/templates"
)

// units is what the person reads and types in.
type units struct {
	Torque string `json:"torque"`
	Length string `json:"length"`
}

func (u units) orDefault() units {
	if _, ok := torqueUnitNames[u.Torque]; !ok {
		u.Torque = "N·m"
	}
	if u.Length != "in" {
		u.Length = "mm"
	}
	return u
}

var torqueUnitNames = map[string]quantity.TorqueUnit{
	"N·m": quantity.NewtonMetre, "lbf·ft": quantity.PoundFoot, "lbf·in": quantity.PoundInch, "kgf·m": quantity.KilogramForceMetre,
}

func torqueUnits() []templates.Choice {
	out := []templates.Choice{{Value: "", Label: "Choose the unit that the page gives"}}
	for _, name := range []string{"N·m", "lbf·ft", "lbf·in", "kgf·m"} {
		out = append(out, templates.Choice{Value: name, Label: name})
	}
	return out
}

func (u units) torqueName() string { return u.orDefault().Torque }
func (u units) lengthName() string { return u.orDefault().Length }

// torque reads a torque in the chosen unit.
func (u units) torque(text string) (int64, error) { return torqueIn(text, u.torqueName()) }

func torqueIn(text, unit string) (int64, error) {
	known, ok := torqueUnitNames[unit]
	if !ok {
		return 0, fault.New(fault.Invalid, "The torque has no unit.", "Choose N·m, lbf·ft, lbf·in or kgf·m, as the page says.")
	}
	t, err := quantity.TorqueOf(text, known)
	if err != nil {
		return 0, input(err)
	}
	return t.CNM(), nil
}

// input turns a formula's complaint into a fault.
func input(err error) error {
	var e *quantity.InputError
	if errors.As(err, &e) {
		return fault.New(fault.Invalid, e.What, e.Next)
	}
	return fault.Wrap(err, fault.Invalid, "That value cannot be used.", "Look at it and type it again.")
}

func (u units) torqueFigure(cnm int64) string {
	figure, _, _ := strings.Cut(u.torqueWords(cnm), " ")
	return figure
}

func (u units) torqueWords(cnm int64) string {
	return quantity.FormatTorque(quantity.TorqueFromCNM(cnm), torqueUnitNames[u.torqueName()])
}

func (u units) lengthUnit() quantity.LengthUnit {
	if u.lengthName() == "in" {
		return quantity.Inch
	}
	return quantity.Millimetre
}

func (u units) length(text, what string) (int64, error) {
	if strings.TrimSpace(text) == "" {
		return 0, fault.New(fault.Invalid, what+" is still missing.", "Type it in "+u.lengthName()+".")
	}
	l, err := quantity.LengthOf(text, u.lengthUnit())
	if err != nil {
		return 0, input(err)
	}
	return l.UM(), nil
}

func (u units) lengthWords(um int64) string {
	return quantity.FormatLength(quantity.LengthFromUM(um), u.lengthUnit())
}

func (u units) reading(r *job.Reading) string { return u.taken(&r.ReadingTaken) }

// taken writes a reading with its uncertainty in the chosen unit.
func (u units) taken(r *event.ReadingTaken) string {
	if r.Quantity == event.RideHeight {
		return u.lengthWords(r.ValueUM) + " ± " + u.lengthWords(r.U95UM)
	}
	return guide.Value(r)
}

func (u units) target(t *sheet.Target) string {
	if t.Quantity == event.RideHeight {
		return u.lengthWords(t.UM) + " ± " + u.lengthWords(t.TolUM)
	}
	return guide.TargetWords(t)
}

// resolutionU95 is the expanded uncertainty (k = 2) of one reading of a ruler.
func resolutionU95(um int64) int64 {
	return (2 * measure.Resolution(quantity.LengthFromUM(um))).UM()
}

// question asks about a torque that looks implausible for its thread. Where the
// thread is not known nothing can judge the number, so the person reads it back
// in two units. It is "" when there is nothing to ask.
func question(thread string, cnm int64) string {
	t := quantity.TorqueFromCNM(cnm)
	if torque.Known(thread) {
		return torque.Question(thread, t)
	}
	return fmt.Sprintf("Nothing here can check this number: %s is %s. Read both against the page.",
		quantity.FormatTorque(t, quantity.NewtonMetre), quantity.FormatTorque(t, quantity.PoundFoot))
}

// computeCamber is the level and the ruler.
func (c *Client) computeCamber(r *event.ReadingTaken, args map[string]string) (*event.ReadingTaken, error) {
	var err error
	if r.GapUM, err = c.units.length(args["gap"], "The gap"); err != nil {
		return nil, err
	}
	if r.SpanUM, err = c.units.length(args["span"], "The length from rim edge to rim edge"); err != nil {
		return nil, err
	}
	r.GapAt, r.Along = args["gap_at"], pick(args["along"], "rim")
	end, known := map[string]camber.End{"top": camber.Top, "bottom": camber.Bottom}[r.GapAt]
	if !known {
		if r.GapUM != 0 {
			return nil, fault.New(fault.Invalid, "Is the gap at the top or at the bottom?", "Choose one. The sign follows from it.")
		}
		end = camber.Top
	}
	along := camber.AlongRim
	if r.Along == "level" {
		along = camber.AlongLevel
	}
	got, err := camber.FromGap(camber.Gap{Gap: quantity.LengthFromUM(r.GapUM), Span: quantity.LengthFromUM(r.SpanUM), At: end, Along: along, Resolution: quantity.LengthFromUM(r.ResUM)})
	if err != nil {
		return nil, input(err)
	}
	if ask := camber.Question(got.Value); ask != "" {
		return nil, fault.New(fault.Invalid, ask, "Measure gap and length again; nothing was recorded.")
	}
	r.Method, r.Formula = "level and ruler", camber.Formula
	r.ValueMD, r.U95Mdeg = got.Value.Mdeg(), got.Expanded().Mdeg()
	return r, nil
}

// camberLine is the arithmetic in one line.
func (u units) camberLine(r *event.ReadingTaken) string {
	f := map[string]string{"rim": "asin", "level": "atan"}[r.Along]
	return fmt.Sprintf("%s(%s ÷ %s) = %s, gap at the %s", f, u.lengthWords(r.GapUM), u.lengthWords(r.SpanUM), guide.Degrees(max(r.ValueMD, -r.ValueMD)), r.GapAt)
}

// exaggeration makes a lean of a degree or two visible.
const exaggeration = 5

func (u units) triangle(r *event.ReadingTaken) *templates.Triangle {
	angle := float64(r.ValueMD) / 1000
	return &templates.Triangle{Gap: u.lengthWords(r.GapUM), Span: u.lengthWords(r.SpanUM), Angle: guide.Degrees(r.ValueMD),
		TopGap: r.GapAt == "top", Along: r.Along, Lean: max(-20, min(20, angle*exaggeration)),
		Exaggeration: fmt.Sprintf("Lean drawn %d times as large.", exaggeration),
		Alt:          fmt.Sprintf("The wheel seen from the front with a plumb level against its outer face: gap %s at the %s over %s. %s", u.lengthWords(r.GapUM), r.GapAt, u.lengthWords(r.SpanUM), camberWords(r.ValueMD))}
}
