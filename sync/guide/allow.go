package guide

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/sheet"
)

// Allow reports why an event may not be recorded now, or nil. The fold would
// take it all the same: the gate stands before the person, not before the log.
func (g Guide) Allow(p event.Payload) error {
	switch p := p.(type) {
	case *event.CheckAnswered:
		return g.allowAnswer(p)
	case *event.CarRaised:
		return g.allowRaise(p.Axle)
	case *event.CarLowered:
		return g.allowLower(p.Axle)
	case *event.FastenerLoosened:
		return g.allowWork(p.Fastener, loosen, func(s *sheet.Step) bool { return slices.Contains(s.Loosen, p.Fastener) })
	case *event.FastenerFitted:
		return g.allowWork(p.Fastener, fit, func(s *sheet.Step) bool { return slices.Contains(s.Fit, p.Fastener) })
	case *event.PassDone:
		return g.allowPass(p)
	case *event.FastenerMarked:
		return g.allowMark(p.Fastener)
	case *event.SpecGiven:
		return g.allowSpec(p)
	case *event.ReadingTaken:
		return g.allowReading(p)
	case *event.StepStarted:
		return g.allowStep(p.Step)
	case *event.StepChecked:
		return g.allowQuestion(p)
	case *event.StepReopened:
		return g.allowReopen(p)
	case *event.PhotoLeftOut:
		return g.allowLeaveOut(p)
	case *event.LeftoversCounted:
		return g.allowStep(p.Step)
	case *event.WithdrawalSeen:
		return g.allowOverWithdrawal()
	case *event.StepDone:
		return g.allowDone(p.Step)
	case *event.StepSkipped:
		return g.allowSkip(p.Step)
	case *event.HoldAsked:
		return g.allowStep(p.Step)
	case *event.HoldReleased:
		return g.allowRelease(p)
	case *event.JobFinished:
		return g.allowFinish()
	}
	return nil
}

func refuse(message, hint string) error { return fault.New(fault.Blocked, message, hint) }

func refuseAll(what string, blockers []Blocker, hint string) error {
	texts := make([]string, 0, len(blockers))
	for _, b := range blockers {
		texts = append(texts, b.Text)
	}
	const shown = 3
	if len(texts) > shown {
		texts = append(texts[:shown], lang.F("And %d more.", len(blockers)-shown))
	}
	return refuse(what+" "+strings.Join(texts, " "), hint)
}

// allowAnswer keeps must-checks without a way round and the order of asking.
func (g Guide) allowAnswer(p *event.CheckAnswered) error {
	checks := g.Sheet.ChecksFor(p.Axle, p.Move)
	i := slices.IndexFunc(checks, func(c sheet.Check) bool { return c.ID == p.Check })
	if i < 0 {
		return refuse(lang.T("This sheet has no such check."), lang.T("Go back to the step and answer the check that it shows."))
	}
	if checks[i].Must && p.Answer == event.Override {
		return refuse(lang.T("This check has no way round."), lang.T("Stop, make it safe, and ask someone competent."))
	}
	for _, before := range checks[:i] {
		if !g.Answered(p.Axle, before) {
			return refuse(lang.F("Another check comes first: %s", before.Ask), lang.T("Answer the checks one by one, in order."))
		}
	}
	if up := g.State.Axles[p.Axle].Up; up == (p.Move == event.Raise) {
		return refuse(already(p.Axle, up), lang.T("Go to the step that comes next."))
	}
	return g.stepOpen(func(s *sheet.Step) bool { return s.Axle == p.Axle && s.Move == p.Move }, lang.T("No step of this sheet asks to answer these checks."))
}

// already says that an axle is where it is to go.
func already(axle event.Axle, up bool) string {
	if up {
		return lang.F("The %s is already up.", AxleWords(axle))
	}
	return lang.F("The %s is already down.", AxleWords(axle))
}

func (g Guide) allowRaise(axle event.Axle) error {
	for _, other := range event.Axles {
		if other != axle && g.State.Axles[other].Up {
			return refuse(lang.F("The %s is still up. This sheet lifts one axle at a time.", AxleWords(other)), lang.T("Lower it first."))
		}
	}
	if g.State.Axles[axle].Up {
		return refuse(already(axle, true), lang.T("Go on with the work, or lower it."))
	}
	if loose := g.wheelsNotFinal(axle); len(loose) > 0 {
		return refuseAll(lang.T("Do not lift: the car would stand on wheels that are not tight."), loose, lang.T("Leave it on the ground and make those wheel nuts final first."))
	}
	return g.allowMove(axle, event.Raise)
}

// wheelsNotFinal lists the wheel nuts of the axle that stays down which are not
// yet at their final torque. A last round still to come does not count.
func (g Guide) wheelsNotFinal(raised event.Axle) []Blocker {
	var out []Blocker
	for _, item := range g.NotFinal() {
		f := item.Fastener
		if f.Wheel && f.Corner.Axle() != raised && !g.PassHolds(sheet.PassRef{Fastener: f.ID, Pass: f.Final().ID}) {
			out = append(out, Blocker{Text: lang.F("%s are %s.", g.place(f.ID), item.Phase.Words()), Fastener: f.ID})
		}
	}
	return out
}

func (g Guide) allowLower(axle event.Axle) error {
	if !g.State.Axles[axle].Up {
		if g.Lifting() == axle {
			return nil // the attempt to raise it is given up
		}
		return refuse(already(axle, false), lang.T("Go to the step that comes next."))
	}
	if loose := g.looseAt(axle); len(loose) > 0 {
		return refuseAll(lang.T("Do not lower yet."), loose, lang.T("Leave it on the stands. Make each at least snug first."))
	}
	return g.allowMove(axle, event.Lower)
}

// looseAt lists what is not even snug at an axle, and the step that puts it back.
func (g Guide) looseAt(axle event.Axle) []Blocker {
	var out []Blocker
	for _, item := range g.NotFinal() {
		f := item.Fastener
		if f.Corner.Axle() == axle && (item.Phase == Loose || item.Phase == Finger) {
			out = append(out, Blocker{Text: fmt.Sprintf(lang.C("%s is %s.", "of a fastener"), g.place(f.ID), item.Phase.Words()), Step: g.fittedBy(f.ID), Fastener: f.ID})
		}
	}
	return out
}

// fittedBy is the step that fits a fastener.
func (g Guide) fittedBy(id event.FastenerID) event.StepID {
	for _, step := range g.Sheet.Steps() {
		if slices.Contains(step.Fit, id) {
			return step.ID
		}
	}
	return ""
}

func (g Guide) allowMove(axle event.Axle, move event.Move) error {
	if stopped, _ := g.Stopped(axle, move); stopped != nil {
		return refuse(lang.F("Answered with no: %s", stopped.Ask), lang.F("%s Then answer every check again.", stopped.Stop))
	}
	for _, c := range g.Sheet.ChecksFor(axle, move) {
		if !g.Answered(axle, c) {
			hint := c.Stop
			if hint == "" {
				hint = lang.T("Answer it first.")
			}
			return refuse(lang.F("Not answered with yes: %s", c.Ask), hint)
		}
	}
	return g.stepOpen(func(s *sheet.Step) bool { return s.Axle == axle && s.Move == move }, noMove(axle, move))
}

func noMove(axle event.Axle, move event.Move) string {
	if move == event.Raise {
		return lang.F("No step of this sheet asks to raise the %s.", EndWords(axle))
	}
	return lang.F("No step of this sheet asks to lower the %s.", EndWords(axle))
}

// stepOpen wants one step that the action belongs to and that is not blocked; none
// says that there is no such step.
func (g Guide) stepOpen(belongs func(*sheet.Step) bool, none string) error {
	var blockers []Blocker
	for _, step := range g.Sheet.Steps() {
		if !belongs(step) {
			continue
		}
		status, why := g.Status(step)
		if status != Blocked {
			why = g.unmet(step)
		}
		if status == Skipped && len(why) > 0 {
			why = []Blocker{{Text: lang.F("“%s” was skipped. Open it again first.", step.Title), Step: step.ID}}
		}
		if len(why) == 0 {
			return nil
		}
		blockers = append(blockers, why...)
	}
	if len(blockers) == 0 {
		return refuse(none, lang.T("Go back to the list of steps."))
	}
	return refuseAll(lang.T("Not now."), blockers, lang.T("Clear that first. Nothing was recorded."))
}

// loosen and fit are what hands do to a fastener without a torque.
const (
	loosen = "loosen"
	fit    = "fit"
)

func (g Guide) allowWork(id event.FastenerID, verb string, belongs func(*sheet.Step) bool) error {
	f := g.Sheet.Fastener(id)
	if f == nil {
		return refuse(lang.T("This sheet has no such fastener."), lang.T("Go back to the step."))
	}
	if f.Wheel && verb == fit && g.State.Fasteners[id].LoosenedN > 0 {
		return nil // its nuts may always be run up again where the wheel stands
	}
	for _, step := range g.Sheet.Steps() {
		if belongs(step) {
			if reason := g.carReason(step.Car, f.Corner.Axle()); reason != "" {
				return refuse(reason, lang.T("Nothing was recorded."))
			}
		}
	}
	none := lang.T("No step of this sheet asks to loosen it.")
	if verb == fit {
		none = lang.T("No step of this sheet asks to fit it.")
	}
	if err := g.stepOpen(belongs, none); err != nil {
		return err
	}
	if loose := g.wheelsNotFinal(f.Corner.Axle()); f.Wheel && verb == loosen && len(loose) > 0 {
		return refuseAll(lang.T("Not while the other wheels are not tight."), loose, lang.T("Make those wheel nuts final first."))
	}
	return nil
}

// allowPass is the heart of the tally: the right order, the right state of the
// car, and a torque that somebody stands for.
func (g Guide) allowPass(p *event.PassDone) error {
	f := g.Sheet.Fastener(p.Fastener)
	if f == nil || f.Pass(p.Pass) == nil {
		return refuse(lang.T("This sheet has no such pass."), lang.T("Go back to the step."))
	}
	pass := f.Pass(p.Pass)
	item := g.Item(f)
	if g.State.Fasteners[f.ID].FittedN == 0 && !g.Sheet.Standing(f) {
		return refuse(lang.F("%s is not recorded as fitted.", f.Place), lang.T("Fit it and say whether it is new, then tighten it."))
	}
	if item.Next != nil && item.Next.ID != p.Pass && !g.PassHolds(sheet.PassRef{Fastener: f.ID, Pass: p.Pass}) {
		return refuse(lang.F("Another pass comes first: %s.", passWords(item.Next)), lang.T("Make the passes in order."))
	}
	for _, id := range pass.After {
		if step := g.Sheet.Step(id); !g.passed(step) {
			return refuse(lang.F("Leave it snug. %s comes after “%s”.", capital(passWords(pass)), step.Title), lang.T("It stays in the tally until then."))
		}
	}
	if open := g.unmetForPass(sheet.PassRef{Fastener: f.ID, Pass: p.Pass}); len(open) > 0 && !f.Wheel {
		return refuseAll(lang.T("Not yet."), open, lang.T("Answer at the step, then tighten. Nothing was recorded."))
	}
	if reason := g.carReason(pass.Car, f.Corner.Axle()); reason != "" {
		hint := lang.T("Nothing was recorded.")
		if f.Bushed && pass.Kind == sheet.Final {
			hint = lang.T("A bush clamped with the wheel hanging stays twisted. It stays in the tally until the weight is on the wheels.")
		}
		return refuse(reason, hint)
	}
	return g.allowTorque(f, pass, p)
}

func (g Guide) allowTorque(f *sheet.Fastener, pass *sheet.Pass, p *event.PassDone) error {
	spec, known := g.Spec(f, pass)
	if !known {
		return refuse(lang.T("The torque of this fastener is not known. Look it up."), lang.T("Enter it with its source: the maker's manual and page. There is no default."))
	}
	if spec.Unverified() && pass.Kind != sheet.Snug {
		return refuse(lang.F("The torque of this fastener is questioned: %s", spec.Questioned), lang.T("Check the source, then confirm or correct the value."))
	}
	if p.TorqueCNM != spec.TorqueCNM || p.AngleMdeg != spec.AngleMdeg {
		return refuse(lang.T("The torque on the screen is not the one that holds now."), lang.T("Look at the new value and tighten again."))
	}
	if p.Count > f.Count {
		return refuse(lang.F("There are only %d of them.", f.Count), lang.T("Count again."))
	}
	return nil
}

func (g Guide) allowMark(id event.FastenerID) error {
	f := g.Sheet.Fastener(id)
	if f == nil || !g.Item(f).Clear {
		return refuse(lang.T("Only a final fastener is marked."), lang.T("Make its passes first."))
	}
	return nil
}

func (g Guide) allowSpec(p *event.SpecGiven) error {
	f := g.Sheet.Fastener(p.Fastener)
	if f == nil || f.Pass(p.Pass) == nil {
		return refuse(lang.T("This sheet has no such pass."), lang.T("Go back to the list of torques."))
	}
	pass := f.Pass(p.Pass)
	if spec, _ := g.Spec(f, pass); (pass.TorqueCNM > 0 || pass.AngleMdeg > 0) && !spec.Unverified() && spec.GivenN == 0 {
		return refuse(lang.T("The sheet already gives this torque, and a published sheet never changes."), lang.T("If you think it is wrong, stop and ask its author."))
	}
	return nil
}

func (g Guide) allowReading(p *event.ReadingTaken) error {
	if p.Purpose == event.Before && g.State.HeightN+g.State.LoweredN > 0 {
		return refuse(lang.T("The car is no longer as it was found."), lang.T("Record this as a setting or a final reading."))
	}
	if p.Quantity == event.TyrePressure || p.Quantity == event.FloorSlope {
		return nil
	}
	if g.State.Up() {
		return refuse(lang.T("An axle is up. A reading taken now says nothing about the car on the road."), lang.T("Lower the car, settle it, then measure."))
	}
	if axle := g.Lifting(); axle != "" {
		return refuse(lang.F("The %s is being raised. A reading taken now says nothing about the car on the road.", EndWords(axle)), lang.T("Lower it onto its wheels and say so at the step that raises it, or finish raising it."))
	}
	return nil
}

func (g Guide) allowStep(id event.StepID) error {
	if g.Sheet.Step(id) == nil {
		return refuse(lang.T("This sheet has no such step."), lang.T("Go back to the list of steps."))
	}
	return nil
}

func (g Guide) allowDone(id event.StepID) error {
	if err := g.allowStep(id); err != nil {
		return err
	}
	step := g.Sheet.Step(id)
	if g.behind(step) == Done && !step.Repeats() {
		return refuse(lang.T("This step is done already."), lang.T("Go on. To do it once more, open it again with a reason."))
	}
	if blockers := g.blockers(step); len(blockers) > 0 && !step.Settle {
		return refuseAll(lang.T("Not now."), blockers, lang.T("Clear that first. Nothing was recorded."))
	}
	if step.Settle && g.State.Up() {
		return refuse(lang.T("An axle is up: the car cannot be rolled."), lang.T("Lower it first."))
	}
	var left []Blocker
	for _, ask := range g.Todo(step) {
		if ask != (Ask{Text: ask.Text}) || !step.Repeats() {
			left = append(left, Blocker{Text: ask.Text + "."})
		}
	}
	if len(left) > 0 {
		return refuseAll(lang.T("This step is not finished."), left, lang.T("Do what is left, or skip the step with a reason."))
	}
	return nil
}

func (g Guide) allowSkip(id event.StepID) error {
	if err := g.allowStep(id); err != nil {
		return err
	}
	step := g.Sheet.Step(id)
	if step.Move != "" || step.Drive || step.Hold || step.Settle || g.holdsWheel(step) {
		return refuse(lang.T("This step cannot be skipped."), lang.T("Stop here if it cannot be done, and ask someone competent."))
	}
	for _, id := range step.Fit {
		if rec := g.State.Fasteners[id]; rec.LoosenedN > 0 && rec.FittedN == 0 {
			return refuse(lang.F("This step cannot be skipped: it puts back what was taken apart. %s is loose.", g.place(id)), lang.T("Fit it, or stop here and ask someone competent."))
		}
	}
	for i := range step.Checks {
		if c := &step.Checks[i]; c.Must && !g.Accepted(step, c) {
			return refuse(lang.F("This step cannot be skipped before this is answered with yes: %s", c.Ask), lang.T("There is no way round it. Stop here if it is not so, and ask someone competent."))
		}
	}
	return nil
}

// holdsWheel reports whether the step fits or tightens road wheels.
func (g Guide) holdsWheel(step *sheet.Step) bool {
	return slices.ContainsFunc(step.Passes, func(ref sheet.PassRef) bool { return g.Sheet.Fastener(ref.Fastener).Wheel })
}

func (g Guide) allowFinish() error {
	if blockers := g.FinishBlockers(); len(blockers) > 0 {
		return refuseAll(lang.T("The job is not finished."), blockers, lang.T("Do not drive. Open the tally to see each one."))
	}
	return nil
}

// AllowCorrection reports why an event may not be taken back, or nil.
func (g Guide) AllowCorrection(e event.Event) error {
	switch e.Kind {
	case event.KindCarRaised, event.KindCarLowered:
		return refuse(lang.T("Raising and lowering cannot be taken back: the car is where it is."), lang.T("If it is wrong, go through the checks of the other move."))
	case event.KindJobOpened:
		return refuse(lang.T("The start of a job cannot be taken back."), lang.T("Start another job instead."))
	}
	return nil
}

// capital raises the first letter.
func capital(s string) string {
	_, size := utf8.DecodeRuneInString(s)
	return strings.ToUpper(s[:size]) + s[size:]
}
