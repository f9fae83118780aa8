package review

// Names lists every rule.
func Names() []string {
	var out []string
	for _, r := range rules {
		out = append(out, r.name)
	}
	return out
}
