package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// pitfalls is how many there are in the table of DEVELOPERS.md.
const pitfalls = 103

var (
	pitfallRow = regexp.MustCompile(`(?m)^\| (\d+) \| (.+) \| (.+) \|$`)
	likeTest   = regexp.MustCompile("`([^`]*(?:Test|Fuzz)[^`]*)`")
	namedTest  = regexp.MustCompile(`^([a-z0-9/]+)\.((?:Test|Fuzz)\w+)(?:/(\w+))?$`)
)

// TestPitfalls reads the table of pitfalls: every number stands there once, every
// test that it names exists, and a row without a test says why.
func TestPitfalls(t *testing.T) {
	text, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	_, table, _ := strings.Cut(string(text), "\n## Pitfalls\n")
	table, _, _ = strings.Cut(table, "\n## ")
	seen := map[int]bool{}
	for _, row := range pitfallRow.FindAllStringSubmatch(table, -1) {
		number, err := strconv.Atoi(row[1])
		if err != nil || number < 1 || number > pitfalls || seen[number] {
			t.Errorf("pitfall %s stands there twice, or there is none of that number", row[1])
		}
		seen[number] = true
		named := likeTest.FindAllStringSubmatch(row[3], -1)
		for _, name := range named {
			if !hasTest(t, name[1]) {
				t.Errorf("pitfall %d: there is no %s", number, name[1])
			}
		}
		if len(named) == 0 && !strings.Contains(row[3], "does not apply") && !strings.Contains(row[3], "not tried, because") {
			t.Errorf("pitfall %d names no test, and does not say why: %s", number, row[3])
		}
		if strings.Contains(row[3], "(open") {
			t.Errorf("pitfall %d is still open: %s", number, row[3])
		}
	}
	for number := 1; number <= pitfalls; number++ {
		if !seen[number] {
			t.Errorf("pitfall %d is missing in the table of DEVELOPERS.md", number)
		}
	}
}

// hasTest looks for a test, and for the part of it that is named, in the files of
// its package.
func hasTest(t *testing.T, name string) bool {
	t.Helper()
	part := namedTest.FindStringSubmatch(name)
	if part == nil {
		return false
	}
	files, err := filepath.Glob(filepath.Join("../..", part[1], "*_test.go"))
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if strings.Contains(string(text), "\nfunc "+part[2]+"(") {
			return part[3] == "" || strings.Contains(string(text), `"`+part[3]+`"`)
		}
	}
	return false
}
