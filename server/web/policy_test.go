package web

import (
	"strings"
	"testing"
)

// The example of Content Security Policy Level 3, section 6.7.3.3: the hash of
// alert('Hello, world.');
func TestAppPolicy(t *testing.T) {
	const example = "'sha256-qznLcsROx4GACP2dm0UCKCzCG+HiZ1guq6ZZDob/Tng='"
	got := appPolicy([]byte("<body><script src=\"/boot.js\"></script>\n<script>alert('Hello, world.');</script>"))
	if want := strings.Replace(policy, "script-src 'self'", "script-src 'self' "+example, 1); got != want {
		t.Errorf("the policy is\n%s\nwant\n%s", got, want)
	}
	if got := appPolicy([]byte(`<script src="/boot.js"></script>`)); got != policy {
		t.Errorf("a page without a script of its own has the policy %s", got)
	}
}
