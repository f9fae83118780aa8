package review

// Names lists every rule.
func Names() []string {
	var out []string
	for _, r := range rules {
		out = append(out, r.name)
	}
	return out
}

// Titles counts the names of rules.
func Titles() int { return len(titles) }
