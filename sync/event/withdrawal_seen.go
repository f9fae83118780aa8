package event

// KindWithdrawalSeen says that the installer read why the sheet was withdrawn
// and goes on all the same.
const KindWithdrawalSeen Kind = "withdrawal_seen"

// WithdrawalSeen carries what was agreed, and with whom; it becomes a finding.
type WithdrawalSeen struct {
	Reason string `json:"reason"`
}

func (*WithdrawalSeen) Kind() Kind { return KindWithdrawalSeen }

func (p *WithdrawalSeen) check() string {
	return first(name("reason", p.Reason), text("reason", p.Reason))
}
