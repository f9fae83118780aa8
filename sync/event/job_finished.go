package event

// KindJobFinished closes the job.
const KindJobFinished Kind = "job_finished"

// JobFinished is the installer's word that the job is done.
type JobFinished struct {
	Note string `json:"note,omitempty"`
}

func (*JobFinished) Kind() Kind { return KindJobFinished }

func (p *JobFinished) check() string { return text("note", p.Note) }
