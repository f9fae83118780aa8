package vector

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
)

// integersFile holds what each vector gives in whole millionths of its unit, as
// this code gave it when the file was last written on a host. A formula that
// changes a result, or a processor that computes another, shows here. Write it
// anew, on purpose, with STRUTCARD_INTEGERS=write go test ./calc/...
const (
	integersFile = "testdata/integers.txt"
	writeAnew    = "STRUTCARD_INTEGERS"
)

func checkIntegers(t *testing.T, vectors []*Vector) {
	t.Helper()
	got := integers(vectors)
	if os.Getenv(writeAnew) == "write" {
		if err := os.WriteFile(integersFile, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(integersFile)
	if err != nil {
		t.Fatalf("no integers to compare with; write them once with %s=write go test ./calc/…: %v", writeAnew, err)
	}
	if diff := differ(got, string(want)); diff != "" {
		t.Errorf("the integers differ from those written down; if a formula was changed on purpose, write them anew:\n%s", diff)
	}
}

func integers(vectors []*Vector) string {
	var b strings.Builder
	for _, v := range vectors {
		b.WriteString(v.ID)
		for _, g := range v.got {
			fmt.Fprintf(&b, " %.0f", math.Round(g*1e6))
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// differ names the first line that is not the same.
func differ(got, want string) string {
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range max(len(g), len(w)) {
		var a, b string
		if i < len(g) {
			a = g[i]
		}
		if i < len(w) {
			b = w[i]
		}
		if a != b {
			return fmt.Sprintf("got  %s\nwant %s", a, b)
		}
	}
	return ""
}
