package server

import (
	"sync"
	"time"

	"strutcard/server/shop"
	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/job"
	"strutcard/sync/review"
	"strutcard/sync/sheet"
)

// projection names the rules behind the queue's rows and what they are found by.
// Change it with them: the queue is then rebuilt at the next start.
const projection = "3"

// projector computes the queue's rows.
type projector struct {
	mu     sync.Mutex
	sheets map[event.SheetHash]*sheet.Sheet // decoded; a hash never changes its meaning
}

// maxDecoded bounds the sheets kept decoded.
const maxDecoded = 100

func newProjector() *projector {
	return &projector{sheets: map[event.SheetHash]*sheet.Sheet{}}
}

// summary is a sqlite.Project: what the phone would show of this job, in numbers, and
// what people typed in it.
func (p *projector) summary(id event.JobID, events []event.Event, bodyOf func(event.SheetHash) []byte) shop.Summary {
	state := job.Fold(id, events)
	row := shop.Summary{Row: shop.Row{Job: id, Up: state.Up(), Finished: state.Finished != nil, Decision: state.Standing(), NotFinal: -1},
		Findings: map[string]int{}, Text: typed(events)}
	var sh *sheet.Sheet
	if o := state.Opened; o != nil {
		row.Sheet, row.Title, row.Vehicle, row.Opened = o.Sheet, o.Title, o.Vehicle, time.UnixMilli(o.At)
		sh = p.sheet(o.Sheet, bodyOf)
	}
	if sh != nil {
		row.NotFinal = len(guide.New(sh, state).NotFinal())
	}
	for _, f := range review.Findings(sh, state, events) {
		if state.Accepted(f.ID) {
			continue
		}
		row.Findings[f.Rule]++
		switch f.Severity {
		case review.Stop:
			row.Stops++
		case review.Ask:
			row.Asks++
		default:
			row.Notes++
		}
	}
	return row
}

// sheet returns a decoded sheet, or nil while the shop does not have it.
func (p *projector) sheet(hash event.SheetHash, bodyOf func(event.SheetHash) []byte) *sheet.Sheet {
	p.mu.Lock()
	defer p.mu.Unlock()
	if sh := p.sheets[hash]; sh != nil {
		return sh
	}
	body := bodyOf(hash)
	if body == nil {
		return nil
	}
	sh, err := sheet.Decode(body)
	if err != nil {
		return nil // it was valid when it came in; a job must be stored even so
	}
	if len(p.sheets) >= maxDecoded {
		clear(p.sheets)
	}
	p.sheets[hash] = sh
	return sh
}
