package guide

import (
	"math"
	"slices"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/calc/torque"
	"strutcard/sync/event"
	"strutcard/sync/job"
	"strutcard/sync/plausible"
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
	spec, ok = g.numbers(f, p)
	if spec.GivenN == 0 && ok {
		own := source(f, p)
		spec.Questioned, spec.Confirmed = plausible.Torque(f, own), own.Confirmed != ""
	}
	return spec, ok
}

// source is the pass whose number another one shares.
func source(f *sheet.Fastener, p *sheet.Pass) *sheet.Pass {
	if p.Kind == sheet.Partial || p.Kind == sheet.Recheck {
		return f.Final()
	}
	return p
}

// numbers is Spec without the question whether a sheet's number is plausible,
// which takes longer to answer than to ask for the number.
func (g Guide) numbers(f *sheet.Fastener, p *sheet.Pass) (spec Spec, ok bool) {
	own := source(f, p)
	spec = Spec{TorqueCNM: own.TorqueCNM, TolCNM: own.TolCNM, AngleMdeg: own.AngleMdeg, Source: f.Source}
	if own.Source != "" {
		spec.Source = own.Source
	}
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

// Counted is how many of a group are done in a pass that goes on; 0 when none,
// or when something undid them.
func (g Guide) Counted(ref sheet.PassRef) int64 {
	rec, made := g.State.Fasteners[ref.Fastener].Passes[ref.Pass]
	if !made || rec.Count >= g.Sheet.Fastener(ref.Fastener).Count || g.spoiled(ref) != "" {
		return 0
	}
	return rec.Count
}

// undone says what makes a recorded pass count no more, or "".
func (g Guide) undone(ref sheet.PassRef) string {
	if why := g.spoiled(ref); why != "" {
		return why
	}
	rec, count := g.State.Fasteners[ref.Fastener].Passes[ref.Pass], g.Sheet.Fastener(ref.Fastener).Count
	if rec.Count < count {
		return lang.F("only %d of %d were done", rec.Count, count)
	}
	return ""
}

// spoiled says what came after a pass, or was wrong with it from the start.
func (g Guide) spoiled(ref sheet.PassRef) string {
	f := g.Sheet.Fastener(ref.Fastener)
	p := f.Pass(ref.Pass)
	rec := g.State.Fasteners[ref.Fastener].Passes[ref.Pass]
	up := rec.FrontUp && f.Corner.Axle() == event.Front || rec.RearUp && f.Corner.Axle() == event.Rear
	spec, _ := g.numbers(f, p)
	switch {
	case p.Car == sheet.AtRide && (rec.FrontUp || rec.RearUp):
		return lang.T("it was made while an axle was up")
	case p.Car == sheet.OnWheels && up:
		return lang.T("it was made while the axle was up")
	case f.Bushed && p.Car == sheet.AtRide && g.State.HeightN > rec.N:
		return lang.T("ride height was changed after it")
	case f.Holds != "" && p.Kind == sheet.Final && g.adjustedAfter(f, rec.N):
		return lang.T("its adjuster was moved after it")
	case g.reopenedAfter(ref, rec.N):
		return lang.T("its step was opened again")
	case spec.GivenN > rec.N:
		return lang.T("its torque was changed after it")
	}
	return ""
}

// reopenedAfter reports whether a step that makes this pass was opened again
// after it was made.
func (g Guide) reopenedAfter(ref sheet.PassRef, n job.N) bool {
	return slices.ContainsFunc(g.Sheet.Makers(ref), func(step *sheet.Step) bool { return g.State.Steps[step.ID].ReopenedN > n })
}

// touched reports whether a fastener was worked on in this job, or stood as found
// until the adjuster that it holds was moved.
func (g Guide) touched(f *sheet.Fastener) bool {
	return g.State.Fasteners[f.ID].Touched() || g.Sheet.Standing(f) && g.adjustedAfter(f, 0)
}

// LeftAlone reports whether a fastener stands as it was found, and no step asks for
// more as long as the adjuster that it holds is not moved.
func (g Guide) LeftAlone(f *sheet.Fastener) bool { return g.Sheet.Standing(f) && !g.touched(f) }

func (g Guide) adjustedAfter(f *sheet.Fastener, n job.N) bool {
	return slices.ContainsFunc(g.State.Adjusted, func(a job.Adjustment) bool {
		return a.Quantity == f.Holds && a.Corner == f.Corner && a.N > n
	})
}

// Wrench chooses a torque wrench that is here, the sheet's or the owner's own,
// and covers the torque without an adapter; "" when none does.
func (g Guide) Wrench(torqueCNM int64) event.ToolID {
	for _, c := range g.usable(Spec{TorqueCNM: torqueCNM}) {
		if c.Adapter == "" {
			return c.Wrench
		}
	}
	return ""
}

// OutOfRange lists the passes whose known torque no wrench here can be set for, with
// an adapter or without. A check of a final torque asks for the same wrench, and snug may
// be made by hand.
func (g Guide) OutOfRange() []sheet.PassRef {
	var out []sheet.PassRef
	wrenches, adapters := g.AtHand(sheet.TorqueWrench), g.AtHand(sheet.Adapter)
	for i := range g.Sheet.Fasteners {
		f := &g.Sheet.Fasteners[i]
		for j := range f.Passes {
			p := &f.Passes[j]
			spec, known := g.Spec(f, p)
			if p.Kind == sheet.Recheck || p.Kind == sheet.Snug || !known || spec.TorqueCNM == 0 {
				continue
			}
			alone := slices.ContainsFunc(wrenches, func(id event.ToolID) bool { return g.covers(id, spec.TorqueCNM) })
			if !alone && (len(adapters) == 0 || len(g.usable(spec)) == 0) {
				out = append(out, sheet.PassRef{Fastener: f.ID, Pass: p.ID})
			}
		}
	}
	return out
}

// covers reports whether a wrench can be set to a torque.
func (g Guide) covers(wrench event.ToolID, torqueCNM int64) bool {
	fit, err := rangeOf(g.State.Tools[wrench]).Fit(quantity.TorqueFromCNM(torqueCNM))
	return err == nil && fit == torque.Within
}

func newtonMetres(cnm int64) string {
	return quantity.FormatTorque(quantity.TorqueFromCNM(cnm), quantity.NewtonMetre)
}
