package web

import _ "embed"

// authorScript checks a draft while a person types.
//
//go:embed static/author.js
var authorScript []byte
