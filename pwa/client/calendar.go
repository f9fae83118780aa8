package client

import (
	"strings"
	"time"
	"unicode/utf8"
)

// appointment is one entry of a calendar, on a day at nine by the clock of
// wherever the phone is then.
type appointment struct {
	uid     string // the same for the same thing: saving again replaces it
	made    time.Time
	day     time.Time
	summary string
	text    string
}

// calendar writes an iCalendar file (RFC 5545): lines end with CR LF and are
// folded at 75 octets, text is escaped, the time is a floating one.
func calendar(a appointment) string {
	day := a.day.Format("20060102")
	var b strings.Builder
	for _, line := range []string{
		"BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//strutcard//reminder 1//EN",
		"BEGIN:VEVENT",
		"UID:" + a.uid,
		"DTSTAMP:" + a.made.UTC().Format("20060102T150405Z"),
		"DTSTART:" + day + "T090000",
		"DTEND:" + day + "T093000",
		"SUMMARY:" + escapeText(a.summary),
		"DESCRIPTION:" + escapeText(a.text),
		"TRANSP:TRANSPARENT",
		"BEGIN:VALARM", "ACTION:DISPLAY", "DESCRIPTION:" + escapeText(a.summary), "TRIGGER:PT0S", "END:VALARM",
		"END:VEVENT", "END:VCALENDAR",
	} {
		b.WriteString(fold(line))
	}
	return b.String()
}

// escapeText writes a TEXT value (RFC 5545, 3.3.11). Control characters other
// than line ends are not allowed in one and are left out.
func escapeText(s string) string {
	s = strings.NewReplacer("\r\n", `\n`, "\n", `\n`, "\r", `\n`, `\`, `\\`, ";", `\;`, ",", `\,`).Replace(s)
	return strings.Map(func(r rune) rune {
		if r < ' ' && r != '\t' || r == 0x7f {
			return -1
		}
		return r
	}, s)
}

// fold ends a line, broken into pieces of at most 75 octets without their line
// end; each piece after the first begins with a space (RFC 5545, 3.1). A
// character is never split.
func fold(line string) string {
	const most = 75
	var b strings.Builder
	room := most
	for _, r := range line {
		size := utf8.RuneLen(r)
		if size > room {
			b.WriteString("\r\n ")
			room = most - 1
		}
		b.WriteRune(r)
		room -= size
	}
	b.WriteString("\r\n")
	return b.String()
}
