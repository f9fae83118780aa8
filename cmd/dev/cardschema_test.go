package main

import (
	"bytes"
	"os"
	"testing"
)

func TestCardSchemaIsCurrent(t *testing.T) {
	t.Chdir("../..")
	got, err := os.ReadFile(cardSchemaFile)
	if err != nil {
		t.Fatal(err)
	}
	want, err := cardSchema()
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s is not what the Go types say: run go run ./cmd/dev build", cardSchemaFile)
	}
}
