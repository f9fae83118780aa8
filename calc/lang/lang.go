package lang

import (
	"fmt"
	"hash/fnv"
	"maps"
	"slices"
	"strconv"
	"strings"
	"sync/atomic"
)

// English needs no catalogue.
const English = "en"

// catalogue is one language. Its keys are hashes of the English texts: a phone
// then need not fetch those a second time.
type catalogue struct {
	tag   string // BCP 47
	texts map[uint32]string
}

var spoken atomic.Pointer[catalogue] // nil: English

// Tag returns the language that is spoken, as BCP 47 has it.
func Tag() string {
	if c := spoken.Load(); c != nil {
		return c.tag
	}
	return English
}

// T says a text.
func T(text string) string {
	if c := spoken.Load(); c != nil {
		return c.in(text)
	}
	return text
}

// F says a text with something put in: a format, as of fmt.Sprintf. With nothing to
// put in, a % is a %.
func F(format string, args ...any) string {
	if len(args) == 0 {
		return T(format)
	}
	return fmt.Sprintf(T(format), args...)
}

// C says a text that means more than one thing, such as "front": what it is said
// of tells which. The catalogue has it as "front (of an axle)".
func C(text, of string) string {
	if c := spoken.Load(); c != nil {
		if other := c.in(text + " (" + of + ")"); other != text+" ("+of+")" {
			return other
		}
	}
	return text
}

// N says one of two texts, for one and for any other number. The number is no
// argument by itself.
func N(n int, one, many string, args ...any) string {
	if n != 1 {
		one = many
	}
	return F(one, args...)
}

// Number writes a number, given with a point, with the language's decimal mark.
func Number(figure string) string {
	if Tag() == English {
		return figure
	}
	return strings.Replace(figure, ".", ",", 1)
}

func (c *catalogue) in(text string) string {
	if other, ok := c.texts[Key(text)]; ok {
		return other
	}
	return text
}

// Key is the number under which a catalogue on a phone has a text.
func Key(text string) uint32 {
	h := fnv.New32a()
	h.Write([]byte(text)) // never fails
	return h.Sum32()
}

// Speak changes the language to that of a catalogue: texts by the keys of their English.
func Speak(tag string, texts map[uint32]string) { spoken.Store(&catalogue{tag: tag, texts: texts}) }

// SpeakEnglish goes back to English.
func SpeakEnglish() { spoken.Store(nil) }

// Small writes a catalogue of English and other texts as a phone fetches it: a line
// for each text, with the key of its English in eight hex digits, in order.
// A line break within a text is written as a backslash and an n.
func Small(texts map[string]string) ([]byte, error) {
	byKey := map[uint32]string{}
	for text, other := range texts {
		if _, twice := byKey[Key(text)]; twice {
			return nil, fmt.Errorf("two English texts have the key of %q: change one", text)
		}
		byKey[Key(text)] = strings.ReplaceAll(other, "\n", newline)
	}
	var out []byte
	for _, key := range slices.Sorted(maps.Keys(byKey)) {
		out = fmt.Appendf(out, "%08x%s\n", key, byKey[key])
	}
	return out, nil
}

const newline = `\n`

// SpeakSmall changes the language to that of a catalogue that Small wrote.
func SpeakSmall(tag, small string) error {
	texts := make(map[uint32]string, strings.Count(small, "\n"))
	for line := range strings.Lines(small) {
		key, err := strconv.ParseUint(line[:min(8, len(line))], 16, 32)
		if err != nil {
			return fmt.Errorf("this is no catalogue: %w", err)
		}
		texts[uint32(key)] = strings.ReplaceAll(strings.TrimSuffix(line[8:], "\n"), newline, "\n")
	}
	Speak(tag, texts)
	return nil
}
