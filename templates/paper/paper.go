// Package paper draws the job card for people without this program: as a page to
// print, and as one file that opens anywhere. The phone does not link it.
package paper

import (
	"bytes"
	"context"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"fmt"

	"strutcard/sync/card"
	"strutcard/sync/fault"
)

// Style is the style sheet of the page.
//
//go:embed paper.css
var Style string

// The data block of a file: no browser runs a script of this type. The card's
// JSON has every "<" escaped, so nothing in it can end the block.
const (
	blockBegin = `<script type="application/json" id="card">`
	blockEnd   = `</script>`
)

// policy lets a file load nothing and run nothing; its own style has this hash.
func policy() string {
	sum := sha256.Sum256([]byte(Style))
	return fmt.Sprintf("default-src 'none'; style-src 'sha256-%s'; base-uri 'none'; form-action 'none'", base64.StdEncoding.EncodeToString(sum[:]))
}

// Whole is the card as one HTML file, with the record in it. The same card gives
// the same bytes.
func Whole(c card.Card) ([]byte, error) {
	var b bytes.Buffer
	err := file(c).Render(context.Background(), &b)
	return b.Bytes(), err
}

// Data returns the JSON that a file carries.
func Data(file []byte) ([]byte, error) {
	_, rest, begins := bytes.Cut(file, []byte(blockBegin))
	data, _, ends := bytes.Cut(rest, []byte(blockEnd))
	if !begins || !ends {
		return nil, fault.New(fault.Invalid, "This page carries no job card. Nothing was checked.", "Take the file that was saved from the job's page, whole.")
	}
	return data, nil
}
