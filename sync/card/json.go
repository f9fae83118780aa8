package card

import (
	"bytes"
	"encoding/json"
	"io"

	"strutcard/sync/fault"
)

// MaxBytes is the largest card that is read.
const MaxBytes = 64 << 20

// Encode writes the card as JSON that is safe inside a page too.
func (c Card) Encode() []byte {
	data, err := json.MarshalIndent(c, "", "\t")
	if err != nil {
		panic("card: a struct of strings and integers failed to marshal: " + err.Error())
	}
	return append(data, '\n')
}

// Decode reads a card. It refuses a field that it does not know: nothing could
// be said about it.
func Decode(data []byte) (Card, error) {
	var c Card
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.DisallowUnknownFields()
	err := dec.Decode(&c)
	if _, after := dec.Token(); err != nil || after != io.EOF {
		return Card{}, fault.Wrap(err, fault.Invalid, "This is not a job card that this program can read. Nothing was checked.",
			"Check that it is the whole file, and that this program is up to date.")
	}
	if c.Format != Format {
		return Card{}, fault.New(fault.Invalid, "This job card has a format that this program does not know. Nothing was checked.", "Use a newer program.")
	}
	return c, nil
}
