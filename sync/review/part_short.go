package review

import (
	"fmt"

	"strutcard/sync/guide"
)

// partShort: the box did not hold what the sheet lists.
func partShort(g guide.Guide) []Finding {
	var out []Finding
	for _, p := range g.Sheet.Parts {
		got, counted := g.State.Parts[p.ID]
		if counted && got.Found-got.Damaged < p.Count {
			out = append(out, Finding{Severity: Ask,
				Text: fmt.Sprintf("Box: %s, %d good of %d.", p.Name, got.Found-got.Damaged, p.Count),
				Todo: "Get the missing part before the car is driven."})
		}
	}
	return out
}
