package fastener

import "strutcard/calc/quantity"

// Normal is not exported outside the tests, so that nobody takes a torque from
// it.
func Normal(name string, c Class) (low, high quantity.Torque) {
	t, _ := Parse(name)
	r, _ := t.normal(c)
	return r.low, r.high
}
