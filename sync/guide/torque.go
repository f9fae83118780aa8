package guide

import (
	"fmt"
	"math"
	"slices"

	"strutcard/calc/quantity"
	"strutcard/sync/event"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
)

// Spec is the torque that holds for one pass, and where it stands.
type Spec struct {
	TorqueCNM  int64
	TolCNM     int64
	AngleMdeg  int64
	Source     string
	Questioned string // what looked implausible
	Confirmed  bool
	GivenN     job.N // when the installer gave it; 0 from the sheet
}

// Unverified reports whether a question about the value is still open.
func (s Spec) Unverified() bool { return s.Questioned != "" && !s.Confirmed }

// Spec returns what one pass asks for. ok is false when it is not known: there
// is never a default. A snug pass may have no torque: it is made by hand.
func (g Guide) Spec(f *sheet.Fastener, p *sheet.Pass) (spec Spec, ok bool) {
	own := p
	if p.Kind == sheet.Partial || p.Kind == sheet.Recheck {
		own = f.Final()
	}
	spec = Spec{TorqueCNM: own.TorqueCNM, TolCNM: own.TolCNM, AngleMdeg: own.AngleMdeg, Source: f.Source}
	if given, there := g.State.Specs[f.ID][own.ID]; there {
		spec = Spec{TorqueCNM: given.TorqueCNM, AngleMdeg: given.AngleMdeg, Source: given.Source,
			Questioned: given.Questioned, Confirmed: given.Confirmed, GivenN: given.N}
	}
	if p.Kind == sheet.Partial {
		spec.TorqueCNM, spec.TolCNM = int64(math.Round(float64(spec.TorqueCNM*p.Share)/1000)), 0
	}
	switch p.Kind {
	case sheet.Snug, sheet.BackOff:
		return spec, true
	case sheet.Angle:
		return spec, spec.AngleMdeg > 0
	}
	return spec, spec.TorqueCNM > 0
}

// PassHolds reports whether a pass was made and nothing later undid it.
func (g Guide) PassHolds(ref sheet.PassRef) bool {
	_, made := g.State.Fasteners[ref.Fastener].Passes[ref.Pass]
	return made && g.undone(ref) == ""
}

// undone says what makes a recorded pass count no more, or "".
func (g Guide) undone(ref sheet.PassRef) string {
	f := g.Sheet.Fastener(ref.Fastener)
	p := f.Pass(ref.Pass)
	rec := g.State.Fasteners[ref.Fastener].Passes[ref.Pass]
	up := rec.FrontUp && f.Corner.Axle() == event.Front || rec.RearUp && f.Corner.Axle() == event.Rear
	spec, _ := g.Spec(f, p)
	switch {
	case p.Car == sheet.AtRide && (rec.FrontUp || rec.RearUp):
		return "it was made while an axle was up"
	case p.Car == sheet.OnWheels && up:
		return "it was made while the axle was up"
	case f.Bushed && p.Car == sheet.AtRide && g.State.HeightN > rec.N:
		return "ride height was changed after it"
	case f.Holds != "" && p.Kind == sheet.Final && g.adjustedAfter(f, rec.N):
		return "its adjuster was moved after it"
	case spec.GivenN > rec.N:
		return "its torque was changed after it"
	case rec.Count < f.Count:
		return fmt.Sprintf("only %d of %d were done", rec.Count, f.Count)
	}
	return ""
}

func (g Guide) adjustedAfter(f *sheet.Fastener, n job.N) bool {
	return slices.ContainsFunc(g.State.Adjusted, func(a job.Adjustment) bool {
		return a.Quantity == f.Holds && a.Corner == f.Corner && a.N > n
	})
}

// Wrench chooses a torque wrench that is here and covers the torque; "" when
// none does. Of several it takes the one whose range reaches least far above.
func (g Guide) Wrench(torqueCNM int64) event.ToolID {
	var best event.ToolID
	var bestHigh int64
	for _, t := range g.Sheet.Tools {
		got := g.State.Tools[t.ID]
		if t.Kind != sheet.TorqueWrench || !got.Have || torqueCNM < got.LowCNM || torqueCNM > got.HighCNM {
			continue
		}
		if best == "" || got.HighCNM < bestHigh {
			best, bestHigh = t.ID, got.HighCNM
		}
	}
	return best
}

// OutOfRange lists the fasteners whose known final torque no wrench here covers.
func (g Guide) OutOfRange() []*sheet.Fastener {
	var out []*sheet.Fastener
	for i := range g.Sheet.Fasteners {
		f := &g.Sheet.Fasteners[i]
		if spec, ok := g.Spec(f, f.Final()); ok && g.Wrench(spec.TorqueCNM) == "" {
			out = append(out, f)
		}
	}
	return out
}

func newtonMetres(cnm int64) string {
	return quantity.FormatTorque(quantity.TorqueFromCNM(cnm), quantity.NewtonMetre)
}
