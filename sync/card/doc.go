// Package card is the job card as a document: plain data computed from a sheet
// and a record, the code by which anyone can check it, its JSON and its tables
// of comma-separated values, and the check itself. It draws nothing.
//
// # Card
//
// A card is one JSON object (type Card), UTF-8. Its schema is served at
// /schema/job-card/1.json. Times are RFC 3339 in UTC, as the device's own clock
// said: they never order anything and may be wrong. Numbers are whole, in the unit that ends the
// field's name: cnm hundredths of a newton metre, um micrometres, mdeg
// thousandths of a degree, g grams, km kilometres. The value of a reading is in
// the unit named beside it. Left and right are as the driver sees them.
//
// Only "record" is the truth. It holds the lines of the copy as a file (package
// exchange): first {"sheet":…} with the fitting sheet, then every event line of
// the job in the order of the fold, each as a JSON string, so that no tool that
// lays out the file anew can change a byte of a line. Everything else is
// computed from these lines and can be computed again, but for two things that
// no line says: "made", when the card was written, and the names of the devices.
//
// "language" is the language of all words in it that a program made, as BCP 47
// has it: the phases, reasons, findings, cautions and the state. What somebody
// typed stands as it was typed, and the words of closed lists ("ask", "met",
// "used again") are the same in every language. A card without it is in English.
//
// The card as a page (package paper) carries the same JSON in a script element
// of the type application/json, which no browser runs.
//
// # Code
//
// The code stands for the whole record. It is made of this text, each line ended by
// a line feed:
//
//	strutcard 1
//	<sheet: the SHA-256 that the job pins, lower-case hex, or empty>
//	<head: device, a space, the SHA-256 of its last event line>   one line for each, sorted as bytes
//
// A head is an event that no other event of its device names as the one before:
// the last of each device, and one more for each fork or gap. Of the SHA-256 of the
// text, the first 95 bits, as a number, are written in 19 symbols of Crockford's
// base 32 (0 to 9 and the letters without I, L, O, U), highest first, followed by
// his check symbol: the number modulo 37, where 32 to 36 are * ~ $ = U. They
// stand in five groups of four with hyphens between. A reader takes small letters, I
// and L as 1, O as 0, and ignores hyphens and spaces. The check symbol finds any
// one symbol misread and any two neighbours swapped.
//
// A record that grows has another code: a card is checked with the record that it carries.
// 95 bits are enough against finding another record for a code that is on paper;
// somebody who writes both records can find a pair with one code after some 2^47 tries.
//
// # Check
//
//   - every line is in canonical form, and each id stands for one line
//   - all events are of one job, and the sheet is the one that it pins
//   - no device's chain has a gap, a fork or a broken link
//   - in a card, the lines are in the order of the fold
//   - everything printed is what the lines give
//   - the code fits
//
// The words that everything printed is compared with are made in the language
// of the card.
//
// What this cannot show: that the record was true when it was written; who held the phone;
// and, in a copy without a card, that events are missing at a chain's end. The code
// on paper shows the last.
//
// # History
//
// Add a dated line for every change.
//
//   - 2026-11-28: format 1.
//   - 2026-11-29: "language"; a card without it is in English.
package card
