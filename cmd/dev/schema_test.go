package main

import (
	"bytes"
	"os"
	"testing"
)

func TestSchemaIsCurrent(t *testing.T) {
	t.Chdir("../..")
	got, err := os.ReadFile(schemaFile)
	if err != nil {
		t.Fatal(err)
	}
	want, err := sheetSchema()
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s is not what the Go types say: run go run ./cmd/dev build", schemaFile)
	}
}

// A list that belongs to no field any more would guard nothing.
func TestErrSchemaListOfNoField(t *testing.T) {
	t.Chdir("../..")
	choices["Damper.colour"] = []any{"red"}
	defer delete(choices, "Damper.colour")
	if _, err := sheetSchema(); err == nil {
		t.Error("a closed list of a field that is not there was accepted")
	}
}
