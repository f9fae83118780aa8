package event

import "strutcard/sync/fault"

const (
	KindFindingRaised Kind = "finding_raised"
	KindDecisionMade  Kind = "decision_made"
)

// FindingRaised is something that a reviewer saw and no rule did.
type FindingRaised struct {
	Step     StepID     `json:"step,omitempty"`
	Fastener FastenerID `json:"fastener,omitempty"`
	Severity string     `json:"severity"` // "note", "ask" or "stop"
	Name     string     `json:"name"`
	Text     string     `json:"text"`
	Proof    string     `json:"proof"` // the server's, that it wrote this; see Proven
}

func (*FindingRaised) Kind() Kind { return KindFindingRaised }

func (p *FindingRaised) check() string {
	return first(text("step", string(p.Step)), text("fastener", string(p.Fastener)), among("severity", p.Severity, "note", "ask", "stop"),
		name("name of who speaks", p.Name), text("name of who speaks", p.Name), name("finding", p.Text), text("finding", p.Text), name("proof", p.Proof), text("proof", p.Proof))
}

// Decision is what a reviewer makes of a finding or of the whole job.
type Decision string

const (
	Accept Decision = "accept" // it is settled
	Query  Decision = "ask"    // the installer should answer
	Redo   Decision = "redo"   // the step, or the fastener, is to be done again
	Return Decision = "return" // the whole job goes back to the installer
)

// DecisionMade is a reviewer's word on one finding, or on the whole job. What is
// to be done again is open again for the installer; nothing that was recorded
// is changed.
type DecisionMade struct {
	Finding  string     `json:"finding,omitempty"` // its id; "" for the whole job
	Decision Decision   `json:"decision"`
	Step     StepID     `json:"step,omitempty"`
	Fastener FastenerID `json:"fastener,omitempty"`
	Name     string     `json:"name"`
	Text     string     `json:"text"`
	Proof    string     `json:"proof"` // the server's, that it wrote this; see Proven
}

func (*DecisionMade) Kind() Kind { return KindDecisionMade }

func (p *DecisionMade) check() string {
	words := ""
	if p.Decision != Accept {
		words = name("reason", p.Text)
	}
	whole := p.Finding == "" && p.Step == "" && p.Fastener == ""
	switch {
	case whole && p.Decision != Accept && p.Decision != Return, !whole && p.Decision == Return:
		return fault.T("That cannot be decided about it.")
	case p.Decision == Redo && p.Step == "":
		return fault.T("It does not name the step to be done again.")
	}
	return first(text("finding", p.Finding), among("decision", string(p.Decision), string(Accept), string(Query), string(Redo), string(Return)),
		text("step", string(p.Step)), text("fastener", string(p.Fastener)), name("name of who speaks", p.Name), text("name of who speaks", p.Name),
		words, text("reason", p.Text), name("proof", p.Proof), text("proof", p.Proof))
}

// Proven is a payload that only a shop's server writes. Its proof lets the server
// tell, when a phone brings such an event back, that it wrote it itself.
type Proven interface {
	Payload
	// Claim returns the proof, and the payload without it.
	Claim() (proof string, bare Payload)
	// With returns the payload with a proof.
	With(proof string) Payload
}

// Claim implements Proven.
func (p *FindingRaised) Claim() (string, Payload) { return p.Proof, p.With("") }

// With implements Proven.
func (p *FindingRaised) With(proof string) Payload {
	q := *p
	q.Proof = proof
	return &q
}

// Claim implements Proven.
func (p *DecisionMade) Claim() (string, Payload) { return p.Proof, p.With("") }

// With implements Proven.
func (p *DecisionMade) With(proof string) Payload {
	q := *p
	q.Proof = proof
	return &q
}
