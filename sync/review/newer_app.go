package review

import (
	"fmt"

	"strutcard/sync/guide"
)

// newerApp: the record holds events that this app cannot read.
func newerApp(g guide.Guide) []Finding {
	if g.State.Unknown == 0 {
		return nil
	}
	return []Finding{{Severity: Ask, Text: fmt.Sprintf("%d events need a newer app. What they say is not shown here.", g.State.Unknown),
		Todo: "Update this app, then look again."}}
}
