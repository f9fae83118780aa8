// Package lang says the app's words in the reader's language.
//
// English is written where it is said: lang.T("Lower the car first."). Every
// other language is one catalogue file, such as de.json, that gives for each
// English text the text in that language. A text with %s or %d is a format;
// where the other language has another order it numbers them: %[2]s, %[1]s. A
// text that a catalogue lacks is said in English: that is a fault that the tests
// find (cmd/dev.TestWords), never a blank.
//
// One process speaks one language: a phone that of its owner, a server that of
// its shop. Words are made deep in the rules, beside the facts that they speak
// of; a language that every rule, formula and error carried along would be in
// each signature of this program for the sake of its last line. So this is the
// one piece of state that is global here. It changes only words: no number, no
// verdict and no line of a record depends on it.
//
// Words that are data (a table of calculators, the steps of a layout) stand in
// English in their tables and are looked up where they are shown.
package lang
