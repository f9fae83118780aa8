package plausible

import (
	"fmt"
	"strings"

	"strutcard/calc/fastener"
	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/calc/torque"
	"strutcard/sync/event"
	"strutcard/sync/sheet"
)

// thinnest is the least diameter of a wheel stud. Common practice, no source.
const thinnest quantity.Length = 0.0099

// Distances after which a final torque is checked again: TOR-26 quotes 25 to
// 640 km. Rounded outwards.
const leastRecheck, mostRecheck = 10, 1000

// fastened is every doubt about one fastener and its passes.
func fastened(s *sheet.Sheet, at int) []Doubt {
	f := &s.Fasteners[at]
	where, path := f.Name(), fmt.Sprintf("fasteners/%d", at)
	var out []Doubt
	asked := false
	for i := range f.Passes {
		p := &f.Passes[i]
		d := Doubt{Where: where, At: fmt.Sprintf("%s/passes/%d", path, i), Fastener: f.ID, Pass: p.ID, Text: Torque(f, p), Confirmed: p.Confirmed}
		if d.Text == "" {
			d.Text = sides(s, f, p)
		}
		asked = asked || d.Text != ""
		if d.Text == "" {
			d.Text, d.Unchecked = ReadBack(f, p), true
		}
		out = add(out, d)
	}
	whole := Doubt{Where: where, At: path, Fastener: f.ID}
	for i := range f.Passes {
		if p := &f.Passes[i]; p == f.Final() {
			whole.At, whole.Confirmed = fmt.Sprintf("%s/passes/%d", path, i), p.Confirmed
		}
	}
	texts := []string{thread(f), again(f)}
	if !asked { // a pass that is out of order was asked about above
		texts = append(texts, sequence(f))
	}
	for _, whole.Text = range texts {
		out = add(out, whole)
	}
	return out
}

// thread asks about a pitch that is hardly ever used, and about a wheel held by
// less than it should be.
func thread(f *sheet.Fastener) string {
	t, err := fastener.Parse(f.Thread)
	if err != nil {
		return ""
	}
	if f.Wheel && t.Diameter() < thinnest {
		return lang.F("A thread of %s is too thin for a road wheel of a car. Is it the thread of another fastener? Compare it with the source.", t.Name())
	}
	return fastener.QuestionThread(t)
}

func again(f *sheet.Fastener) string {
	if f.Recheck == 0 || f.Recheck >= leastRecheck && f.Recheck <= mostRecheck {
		return ""
	}
	return lang.F("A re-check after %s km is unusual. Is the distance in kilometres? Compare it with the source.", quantity.Count(float64(f.Recheck)).String())
}

// sequence asks about passes that do not follow from one another. While a number
// is missing nothing can be said.
func sequence(f *sheet.Fastener) string {
	var passes []torque.Pass
	for i := range f.Passes {
		p := &f.Passes[i]
		step := torque.Pass{Torque: torqueOf(p), Angle: quantity.AngleFromMdeg(p.AngleMdeg)}
		switch p.Kind {
		case sheet.Snug:
			step.Kind = torque.Snug
		case sheet.Partial:
			final := f.Final()
			if final == nil {
				return ""
			}
			step.Kind, step.Torque = torque.Part, torqueOf(final)*quantity.Torque(p.Share)/1000
		case sheet.Final:
			step.Kind = torque.Final
		case sheet.Angle:
			step.Kind = torque.AngleOn
		case sheet.BackOff:
			step.Kind, step.Angle = torque.BackOff, -max(step.Angle, -step.Angle)
		default: // a re-check is made on another day
			continue
		}
		if byHand := p.Kind == sheet.Snug; step.Torque == 0 && step.Angle == 0 && !byHand {
			return ""
		}
		passes = append(passes, step)
	}
	if err := torque.CheckPasses(passes); err != nil && len(passes) > 0 {
		return err.Error()
	}
	return ""
}

// opposite is the corner across the axle.
var opposite = map[event.Corner]event.Corner{event.FL: event.FR, event.FR: event.FL, event.RL: event.RR, event.RR: event.RL}

// sides asks about a right-hand pass whose number is not that of the same
// fastener on the left: most suspensions are alike on both sides. Common
// practice, no source.
func sides(s *sheet.Sheet, f *sheet.Fastener, p *sheet.Pass) string {
	if f.Corner != event.FR && f.Corner != event.RR {
		return ""
	}
	for i := range s.Fasteners {
		g := &s.Fasteners[i]
		if g.Corner != opposite[f.Corner] || stem(g) != stem(f) {
			continue
		}
		q := g.Pass(p.ID)
		switch {
		case q == nil || q.Kind != p.Kind:
		case q.TorqueCNM != 0 && p.TorqueCNM != 0 && q.TorqueCNM != p.TorqueCNM:
			return lang.F("It is %s here and %s on the left. Are both sides really different? Compare both with the source.", newtonMetres(torqueOf(p)), newtonMetres(torqueOf(q)))
		case q.AngleMdeg != 0 && p.AngleMdeg != 0 && q.AngleMdeg != p.AngleMdeg:
			return lang.T("The angle here is not that on the left. Are both sides really different? Compare both with the source.")
		}
	}
	return ""
}

// stem is a fastener's name without its corner.
func stem(f *sheet.Fastener) string { return strings.TrimSuffix(string(f.ID), "_"+string(f.Corner)) }
