package main

import (
	"fmt"
	"reflect"
	"strings"

	"github.com/invopop/jsonschema"

	"strutcard/sync/card"
)

// cardSchemaFile is the published shape of a job card, written from its Go types.
const cardSchemaFile = "server/web/static/job-card.schema.json"

const aboutCard = "The record of one fitting job as a document. Only “record” is the truth: the fitting sheet and every event line, each as a string, byte for byte. " +
	"Everything else was computed from it, except “made” and the names of devices, and strutcard verify computes it again. " +
	"Times are RFC 3339 in UTC, by the device's own clock. Numbers are whole, in the unit that ends the field's name: " +
	"cnm hundredths of a newton metre, um micrometres, mdeg thousandths of a degree, g grams, km kilometres; a reading names its unit beside it (pa: pascals). " +
	"A closed list of today may grow: take a word that you do not know as it stands. Left and right are as the driver sees them."

// cardSchema is the JSON Schema of a job card. A card tells the record as it is:
// its words are not held to today's closed lists, only its shape and its formats.
func cardSchema() ([]byte, error) {
	r, _, err := reflector([]string{"sync/card", "sync/event"})
	if err != nil {
		return nil, err
	}
	r.Mapper = func(t reflect.Type) *jsonschema.Schema {
		if t.Kind() == reflect.String {
			return nil
		}
		return simple(t, nil)
	}
	root := r.Reflect(card.Card{})
	root.Title, root.Description = "Job card", aboutCard
	format, there := root.Properties.Get("format")
	code, coded := root.Properties.Get("code")
	if !there || !coded {
		return nil, fmt.Errorf("a card has no format or no code")
	}
	format.Const, format.Minimum, format.Maximum = card.Format, "", ""
	code.Pattern = "^" + strings.Repeat(`[0-9A-HJKMNP-TV-Z]{4}-`, 4) + `[0-9A-HJKMNP-TV-Z]{3}[0-9A-HJKMNP-TV-Z*~$=U]$`
	return writeSchema(root)
}
