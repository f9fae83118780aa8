package review

import "strutcard/sync/guide"

// notFinal: the job was called finished, and yet something is not final.
func notFinal(g guide.Guide) []Finding {
	if g.State.Finished == nil {
		return nil
	}
	var out []Finding
	for _, item := range g.NotFinal() {
		out = append(out, Finding{Severity: Stop, Fastener: item.Fastener.ID,
			Text: place(item.Fastener) + ": " + item.Reason,
			Todo: "Do not drive. Make it final, in the state of the car that it needs."})
	}
	return out
}
