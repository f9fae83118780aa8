package quantity

import (
	"strconv"
	"strings"

	"strutcard/calc/lang"
)

const (
	minus     = "\u2212"
	notFinite = "not a number"
)

// figure writes v with at most the given decimals, without trailing zeros. A
// field may be filled with it, so what it writes can be read in any language.
func figure(v float64, decimals int) string {
	s := plain(v, decimals)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	s = lang.Number(s)
	if len(s) > 4 && s[len(s)-4] == ',' && s[0] != '0' {
		s += "0" // "1,234" may mean thousands, and is refused when it is read back
	}
	return s
}

// fixed writes v with exactly the given decimals.
func fixed(v float64, decimals int) string { return lang.Number(plain(v, decimals)) }

// plain writes v with a point and the true minus sign; a value that rounds to
// zero has no sign.
func plain(v float64, decimals int) string {
	if !Finite(Ratio(v)) {
		return lang.T(notFinite)
	}
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	digits, negative := strings.CutPrefix(s, "-")
	if negative && strings.Trim(digits, "0.") != "" {
		return minus + digits
	}
	return digits
}
