// Package event is the log's vocabulary and the specification of its format.
//
// # Line
//
// A log is a set of lines. A line is the canonical JSON of one event: UTF-8, no
// white space, fields in the order below, "<", ">" and "&" escaped as \u003c,
// \u003e and \u0026 (the habit of Go's encoder, kept for ever).
//
//	{"id":…,"job":…,"device":…,"seq":1,"tick":1,"at":…,"kind":…,"v":1,"prev":"","data":{…}}
//
//	id      UUIDv7, lower case, made at the tap before anything else; unique for ever
//	job     UUIDv7 of the job
//	device  UUIDv7 of the phone, or of the server for what a shop says
//	seq     per job and device, from 1, no gaps
//	tick    Lamport clock: 1 + the highest tick the device has seen in the job
//	at      the device's wall clock, ms since 1970 UTC; for display, never for order
//	kind    what happened, past tense
//	v       version of the payload of that kind
//	prev    SHA-256, lower-case hex, of the same device's previous line in the job; "" at seq 1
//	data    the payload, at most 16 KiB
//
// The hash of an event is the SHA-256 of its line: sha256sum can check a chain.
//
// # Order and meaning
//
// Events are ordered by (tick, device, seq). Any permutation or repetition of a
// log means the same. A kind or version that an app does not know is kept,
// passed on, and shown as "needs a newer app". Nothing is ever changed or
// deleted: "corrected" names an event that no longer counts.
//
// # Numbers
//
// Integers only, in the unit that the field names: um micrometres, mdeg
// thousandths of a degree, cnm hundredths of a newton metre, g grams, pa pascals,
// milli thousandths of a unit named beside it. Floats
// would differ between processors.
//
// # History
//
// Add a dated line for every change; old lines must load for ever (testdata/v1).
//
//   - 2026-11-25: first version, all kinds at v 1.
//   - 2026-11-25: reading_taken at v 2: caster, toe, thrust, floor, weight and
//     pressure, readings of an axle, the raw numbers as "inputs", "takes",
//     "instrument". adjustment_made at v 2: caster, toe, spring, tyre pressure,
//     load, and a counted position. Lines at v 1 read as before.
//   - 2026-11-25: step_checked, step_reopened, photo_taken, photo_left_out,
//     position_noted, leftovers_counted, work_parked, work_resumed,
//     withdrawal_seen. tool_listed, pass_done and damper_set at v 2.
//   - 2026-11-28: comment_added, finding_raised, decision_made. hold_released at v 2
//     names what was looked at.
package event
