package client

import (
	"fmt"
	"strings"
	"time"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/sheet"
)

// Texts of ours that a press writes. In the record, and in a sheet that is hashed,
// they are English in every language; they are said where they are shown.
const (
	defaultLoad = "as it stands, nobody in the car"
	confirmedBy = "by the installer, against " // + a source
)

// loadWords shows what is in the car: our words said, anybody else's as they are.
func loadWords(load string) string {
	if load == defaultLoad {
		return lang.T(defaultLoad)
	}
	return load
}

// loadTyped is what loadWords showed, as it is recorded.
func loadTyped(load string) string {
	if load = strings.TrimSpace(load); load == lang.T(defaultLoad) {
		return defaultLoad
	}
	return load
}

func confirmedWords(said string) string {
	if source, ok := strings.CutPrefix(said, confirmedBy); ok {
		return lang.F("by the installer, against %s", source)
	}
	return said
}

// versionName names a version of an own sheet: it is hashed.
func versionName(n int) string { return fmt.Sprint(sheet.OwnVersion, n) }

// clockWords say when something was, or will be, by the clock of this phone.
func clockWords(t time.Time) string { return t.Local().Format(lang.T("2 Jan, 15:04")) }

// axleWords say where something is: "front".
func axleWords(axle event.Axle) string {
	switch axle {
	case event.Front:
		return lang.C("front", "as a place")
	case event.Rear:
		return lang.C("rear", "as a place")
	}
	return string(axle)
}

func raisedWords(axle event.Axle) string {
	if axle == event.Front {
		return lang.T("Front being raised")
	}
	return lang.T("Rear being raised")
}

func knobWords(knob string) string {
	switch knob {
	case "bump":
		return lang.C("bump", "a damper's knob")
	case "rebound":
		return lang.C("rebound", "a damper's knob")
	}
	return knob
}

// turnWords name the side that turns; without one it is the bolt.
func turnWords(turn string) string {
	if turn == "nut" {
		return lang.C("Nut", "that is turned")
	}
	return lang.C("Bolt", "that is turned")
}

// withoutStop leaves out the word that a stop stands under already.
func withoutStop(text string) string { return strings.TrimPrefix(text, lang.T("Stop.")+" ") }
