package event

import "strutcard/sync/fault"

// KindJobOpened starts a log: which car, which sheet.
const KindJobOpened Kind = "job_opened"

// JobOpened pins the sheet that the whole job follows.
type JobOpened struct {
	Sheet   SheetHash `json:"sheet"`
	Title   string    `json:"title"`   // the sheet's title, so that a log is readable without it
	Vehicle string    `json:"vehicle"` // as the owner would name this car
}

func (*JobOpened) Kind() Kind { return KindJobOpened }

func (p *JobOpened) check() string {
	if !isHash(string(p.Sheet)) {
		return fault.T("Its sheet is not a hash.")
	}
	return first(name("title", p.Title), name("vehicle", p.Vehicle))
}
