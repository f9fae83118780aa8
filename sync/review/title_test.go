package review_test

import (
	"testing"

	"strutcard/sync/review"
)

// TestTitles: every rule has a name for people, and no two have the same.
func TestTitles(t *testing.T) {
	of := map[string]string{}
	for _, rule := range review.Names() {
		title := review.Title(rule)
		if title == "" || title == rule || of[title] != "" {
			t.Errorf("rule %s is called %q, as is %q", rule, title, of[title])
		}
		of[title] = rule
	}
	if len(of) != review.Titles() || review.Title("nothing") != "" {
		t.Errorf("%d rules, %d titles: one is of no rule", len(of), review.Titles())
	}
}
