package event

import "strutcard/sync/fault"

// KindSpecGiven records a torque that the sheet did not have.
const KindSpecGiven Kind = "spec_given"

// maxTorqueCNM is 2,000 N·m: far above any suspension fastener, below any 100x slip.
const maxTorqueCNM = 200_000

// SpecGiven fills in one pass of one fastener, with where the number stands.
// Giving it again replaces it; a pass made to the old value reopens.
type SpecGiven struct {
	Fastener   FastenerID `json:"fastener"`
	Pass       PassID     `json:"pass"`
	TorqueCNM  int64      `json:"torque_cnm"`
	AngleMdeg  int64      `json:"angle_mdeg,omitempty"` // for an angle pass
	Source     string     `json:"source"`               // document and page
	Questioned string     `json:"questioned,omitempty"` // what looked implausible, in words
	Confirmed  bool       `json:"confirmed,omitempty"`  // the person kept it after the question
}

func (*SpecGiven) Kind() Kind { return KindSpecGiven }

func (p *SpecGiven) check() string {
	if p.TorqueCNM == 0 && p.AngleMdeg == 0 {
		return fault.T("It carries neither a torque nor an angle.")
	}
	return first(name("fastener", string(p.Fastener)), name("pass", string(p.Pass)), name("source", p.Source),
		within("torque", p.TorqueCNM, 0, maxTorqueCNM, cnm), within("angle", p.AngleMdeg, 0, 720_000, Mdeg), text("question", p.Questioned))
}
