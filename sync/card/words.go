package card

import (
	"sort"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/job"
)

// said is a word with its place in the fold.
type said struct {
	n job.N
	Word
}

func inOrder(all []said) []Word {
	sort.SliceStable(all, func(i, j int) bool { return all[i].n < all[j].n })
	out := make([]Word, len(all))
	for i, s := range all {
		out[i] = s.Word
	}
	return out
}

// review is what reviewers decided and what anybody remarked, in order.
func (b builder) review() []Word {
	var all []said
	for i := range b.state.Decisions {
		all = append(all, said{b.state.Decisions[i].N, b.decision(&b.state.Decisions[i])})
	}
	for _, r := range b.state.Raised {
		all = append(all, said{r.N, Word{At: Time(r.At), By: b.by[r.ID], Name: r.Name, About: b.about(r.Step, r.Fastener, ""), Text: r.Text}})
	}
	for _, c := range b.state.Comments {
		all = append(all, said{c.N, Word{At: Time(c.At), By: c.By, Name: c.Name, About: b.about(c.Step, c.Fastener, ""), Text: c.Text}})
	}
	return inOrder(all)
}

func (b builder) decision(d *job.Decision) Word {
	return Word{At: Time(d.At), By: d.By, Name: d.Name, About: b.about(d.Step, d.Fastener, d.Finding), Kind: string(d.Decision), Text: d.Text}
}

// about names a step or a fastener by the sheet, or else by its id.
func (b builder) about(step event.StepID, fastener event.FastenerID, finding string) string {
	switch {
	case fastener != "" && b.sheet != nil && b.sheet.Fastener(fastener) != nil:
		f := b.sheet.Fastener(fastener)
		return f.Name()
	case fastener != "":
		return string(fastener)
	case step != "" && b.sheet != nil && b.sheet.Step(step) != nil:
		return b.sheet.Step(step).Title
	case step != "":
		return string(step)
	case finding != "":
		return lang.T("a finding")
	}
	return lang.T("the whole job")
}

// notes are the installer's, with what was written when work stopped for longer.
func (b builder) notes() []Word {
	var all []said
	for _, n := range b.state.Notes {
		all = append(all, said{n.N, Word{At: Time(n.At), By: b.writer(n.N), About: b.about(n.Step, "", ""), Text: n.Text}})
	}
	for _, p := range b.state.Pauses {
		if p.Parked {
			all = append(all, said{p.N, Word{At: Time(p.At), By: b.writer(p.N), Text: lang.F("Work stopped for longer. %s", p.Note)}})
		}
		if p.ResumedN > 0 && !p.AsLeft {
			all = append(all, said{p.ResumedN, Word{At: Time(p.ResumedAt), By: b.writer(p.ResumedN), Text: lang.F("Back at work; something was different: %s", p.Different)}})
		}
	}
	if w := b.state.Withdrawal; w != nil {
		all = append(all, said{w.N, Word{At: Time(w.At), By: b.writer(w.N), Text: lang.F("Went on although the sheet was withdrawn: %s", w.Reason)}})
	}
	return inOrder(all)
}

// skipped are the steps that were left out, with the reason, and those whose
// hold somebody released.
func (b builder) skipped() []Word {
	var all []said
	for _, step := range b.sheet.Steps() {
		rec := b.state.Steps[step.ID]
		if rec.SkippedN > 0 && rec.DoneN == 0 {
			all = append(all, said{rec.SkippedN, Word{At: Time(b.events[rec.SkippedN-1].At), By: b.writer(rec.SkippedN), About: step.Title, Text: rec.Reason}})
		}
		if rec.ReleasedN > 0 {
			all = append(all, said{rec.ReleasedN, Word{At: Time(b.events[rec.ReleasedN-1].At), By: b.writer(rec.ReleasedN), About: step.Title,
				Text: lang.F("Hold released by the %s: %s", lang.T(rec.ReleaseBy), rec.Released)}})
		}
	}
	return inOrder(all)
}

// writer is the device whose event stands at a place of the fold, from 1.
func (b builder) writer(n job.N) event.DeviceID { return b.events[n-1].Device }
