package templates

import (
	"cmp"
	"fmt"
	"strings"

	"strutcard/sync/guide"
)

// hexPoints is a fastener's hexagon on a 24 by 24 sheet.
const hexPoints = "12,2 20.7,7 20.7,17 12,22 3.3,17 3.3,7"

// hexLower is the lower half of it.
const hexLower = "3.3,12 20.7,12 20.7,17 12,22 3.3,17"

func num(v float64) string { return strings.TrimSuffix(fmt.Sprintf("%.1f", v), ".0") }

func glyphWords(phase string) string {
	return cmp.Or(guide.Phase(phase).Words(), guide.Untouched.Words())
}
