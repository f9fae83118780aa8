// Package v1 holds logs as version 1 of the format wrote them, with the states
// they add up to. They are frozen for ever: never write them again, never mend
// them. A reader that cannot read them has lost somebody's record. A new kind
// gets a further file.
package v1

import (
	"embed"
	"strings"
)

//go:embed *.jsonl *.json
var files embed.FS

// Logs returns the lines of each frozen log, in the order of the file.
func Logs() map[string][]string {
	entries, err := files.ReadDir(".")
	if err != nil {
		panic(err) // the files are part of the program
	}
	out := map[string][]string{}
	for _, entry := range entries {
		if name, ok := strings.CutSuffix(entry.Name(), ".jsonl"); ok {
			out[name] = strings.Split(strings.TrimSuffix(read(entry.Name()), "\n"), "\n")
		}
	}
	return out
}

// State returns the JSON of the state that the named log folds into.
func State(name string) string { return strings.TrimSpace(read(name + ".state.json")) }

func read(name string) string {
	data, err := files.ReadFile(name)
	if err != nil {
		panic(err) // the files are part of the program
	}
	return string(data)
}
