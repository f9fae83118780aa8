package quantity

import (
	"strconv"
	"strings"
)

const (
	minus     = "\u2212"
	notFinite = "not a number"
)

// figure writes v with at most the given decimals, without trailing zeros.
func figure(v float64, decimals int) string {
	s := fixed(v, decimals)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// fixed writes v with exactly the given decimals, a point, and the true minus
// sign; a value that rounds to zero has no sign.
func fixed(v float64, decimals int) string {
	if !Finite(Ratio(v)) {
		return notFinite
	}
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	digits, negative := strings.CutPrefix(s, "-")
	if negative && strings.Trim(digits, "0.") != "" {
		return minus + digits
	}
	return digits
}
