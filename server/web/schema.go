package web

import _ "embed"

// sheetSchema is written by cmd/dev from the Go types of a sheet.
//
//go:embed static/fitting-sheet.schema.json
var sheetSchema []byte

// sheetSchemaPath names the format of the sheets that it describes. Anybody may
// read it: an author's editor has no account.
const sheetSchemaPath = "/schema/fitting-sheet/1.json"

func registerSchemaRoutes(r routes) {
	// Within one format fields can be added, so it is kept for an hour only.
	r.get(sheetSchemaPath, fixed(sheetSchema, "application/schema+json", "public, max-age=3600"))
}
