package event

const (
	KindFastenerLoosened Kind = "fastener_loosened"
	KindFastenerFitted   Kind = "fastener_fitted"
	KindFastenerMarked   Kind = "fastener_marked"
)

// FastenerLoosened opens a fastener: nothing it held is held any more.
type FastenerLoosened struct {
	Fastener FastenerID `json:"fastener"`
}

func (*FastenerLoosened) Kind() Kind { return KindFastenerLoosened }

func (p *FastenerLoosened) check() string { return name("fastener", string(p.Fastener)) }

// FastenerFitted puts a fastener in by hand, finger tight, new or used again.
type FastenerFitted struct {
	Fastener FastenerID `json:"fastener"`
	Renewed  bool       `json:"renewed"`
}

func (*FastenerFitted) Kind() Kind { return KindFastenerFitted }

func (p *FastenerFitted) check() string { return name("fastener", string(p.Fastener)) }

// FastenerMarked says that a paint stripe was drawn after the final pass.
type FastenerMarked struct {
	Fastener FastenerID `json:"fastener"`
}

func (*FastenerMarked) Kind() Kind { return KindFastenerMarked }

func (p *FastenerMarked) check() string { return name("fastener", string(p.Fastener)) }
