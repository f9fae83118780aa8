// Package methodtest is forms filled in, and what they must come to: for the
// tests of the methods here, and of their screens in a browser.
package methodtest

import (
	"bytes"
	"embed"
	"encoding/json"
	"fmt"

	"strutcard/sync/event"
	"strutcard/sync/method"
	"strutcard/sync/units"
)

// Example is one form filled in. The numbers are those of the source named
// beside them; an unknown key fails.
type Example struct {
	Method     string             `json:"method"`
	Typed      map[string]string  `json:"typed"`
	Units      units.Set          `json:"units,omitzero"`
	At         event.Place        `json:"at,omitempty"`
	Figure     string             `json:"figure"`            // the large number
	Says       []string           `json:"says,omitempty"`    // parts of all that is shown
	Reading    int64              `json:"reading,omitempty"` // in the record's unit
	Refused    string             `json:"refused,omitempty"` // part of the error, instead of a figure
	Asks       string             `json:"asks,omitempty"`    // part of the question
	Level      *method.PhoneLevel `json:"level,omitempty"`
	NowMS      int64              `json:"now_ms,omitempty"`
	Source     string             `json:"source"`
	Provenance string             `json:"provenance"` // READ, LIB, MEMORY, COMMON-PRACTICE
}

// Record is what the example may look up.
func (x Example) Record() method.Record {
	return method.Record{Units: x.Units, At: x.At, Level: x.Level, NowMS: x.NowMS}
}

//go:embed testdata/*.json
var files embed.FS

// Examples reads them all, by method.
func Examples() ([]Example, error) {
	entries, err := files.ReadDir("testdata")
	if err != nil {
		return nil, err
	}
	var all []Example
	for _, e := range entries {
		data, err := files.ReadFile("testdata/" + e.Name())
		if err != nil {
			return nil, err
		}
		dec := json.NewDecoder(bytes.NewReader(data))
		dec.DisallowUnknownFields()
		var some []Example
		if err := dec.Decode(&some); err != nil {
			return nil, fmt.Errorf("%s: %w", e.Name(), err)
		}
		all = append(all, some...)
	}
	return all, nil
}

// Plain finds an example that computes in metric units, without a job and
// without a calibrated phone.
func Plain(all []Example, id string) (Example, bool) {
	for _, x := range all {
		if x.Method == id && x.Refused == "" && x.At == "" && x.Level == nil && x.NowMS == 0 && x.Units == (units.Set{}) {
			return x, true
		}
	}
	return Example{}, false
}
