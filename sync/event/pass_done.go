package event

// KindPassDone records one stage of tightening.
const KindPassDone Kind = "pass_done"

// PassDone keeps the torque that was asked, the value set on the wrench, and
// which wrench, as they were at that moment. A group is counted up one by one:
// the last count is how many are done. Version 2 brought adapter and hurried.
type PassDone struct {
	Fastener  FastenerID `json:"fastener"`
	Pass      PassID     `json:"pass"`
	TorqueCNM int64      `json:"torque_cnm,omitempty"`
	AngleMdeg int64      `json:"angle_mdeg,omitempty"`
	SetCNM    int64      `json:"set_cnm,omitempty"` // the wrench's scale; differs from the torque with an adapter
	Wrench    ToolID     `json:"wrench,omitempty"`
	Count     int64      `json:"count"` // how many of the group are done
	Adapter   ToolID     `json:"adapter,omitempty"`
	Hurried   bool       `json:"hurried,omitempty"` // came faster than hands can work, was asked about and kept
}

func (*PassDone) Kind() Kind { return KindPassDone }

func (p *PassDone) check() string {
	return first(name("fastener", string(p.Fastener)), name("pass", string(p.Pass)),
		within("torque", p.TorqueCNM, 0, maxTorqueCNM, cnm), within("angle", p.AngleMdeg, 0, 720_000, Mdeg),
		within("wrench setting", p.SetCNM, 0, maxTorqueCNM, cnm), within("count", p.Count, 1, 100, count), text("wrench", string(p.Wrench)), text("adapter", string(p.Adapter)))
}
