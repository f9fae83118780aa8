package quantity

import (
	"strconv"
	"strings"
	"unicode"

	"strutcard/calc/lang"
)

const longestNumber = 15 // characters; all digits of it survive in a float64

// typed is a number as it stands in the text, and what follows it.
type typed struct {
	all      string // the whole text, for messages
	negative bool
	digits   string // digits with at most one separator
	rest     string // what follows, trimmed
}

// split takes the leading number off the text and refuses what cannot be one
// number with one unit.
func split(text string) (typed, error) {
	t, err := lead(text)
	if err != nil {
		return t, err
	}
	if strings.IndexFunc(t.rest, unicode.IsNumber) >= 0 || strings.ContainsAny(t.rest, "±") {
		return t, secondNumber(t)
	}
	return t, nil
}

// lead is split without the look at what follows.
func lead(text string) (typed, error) {
	t := typed{all: strings.TrimSpace(text)}
	if t.all == "" {
		return t, &InputError{lang.T("Nothing was entered."), lang.T("Type the number.")}
	}
	s := t.all
	for _, sign := range []string{"-", minus, "–"} {
		if after, ok := strings.CutPrefix(s, sign); ok {
			t.negative, s = true, strings.TrimSpace(after)
			break
		}
	}
	if !t.negative {
		s = strings.TrimPrefix(s, "+")
	}
	n := strings.IndexFunc(s, func(r rune) bool { return !strings.ContainsRune("0123456789.,", r) })
	if n < 0 {
		n = len(s)
	}
	t.digits, t.rest = s[:n], strings.TrimSpace(s[n:])
	return t, t.checkDigits()
}

func (t typed) checkDigits() error {
	separators := strings.Count(t.digits, ".") + strings.Count(t.digits, ",")
	switch {
	case len(t.digits) == separators:
		return Inputf("Type the number first, in plain digits.", "%s does not start with a number.", quote(t.all))
	case strings.Contains(t.digits, ".."):
		return rangeOf(t)
	case separators > 1:
		return Inputf("Write it without thousands separators, with one point or comma for the decimals.", "%s has more than one point or comma.", quote(t.all))
	case strings.HasSuffix(t.digits, ".") || strings.HasSuffix(t.digits, ","):
		return Inputf("Type the decimals, or take the point or comma away.", "%s ends in the middle of a number.", quote(t.all))
	case len(t.digits) > longestNumber:
		return Inputf("Check it and type fewer digits.", "%s has too many digits.", quote(t.all))
	}
	return nil
}

// secondNumber says what a second number in the text may be.
func secondNumber(t typed) error {
	other := func(r rune) bool { return unicode.IsNumber(r) && !unicode.IsDigit(r) }
	switch {
	case strings.ContainsAny(t.rest, "-–—"+minus+"±…~") || strings.Contains(t.rest, "..") || strings.Contains(t.rest, "+") || strings.Contains(t.rest, "to"):
		return rangeOf(t)
	case strings.HasPrefix(t.rest, "/") || strings.IndexFunc(t.rest, other) >= 0:
		return Inputf("Type it with decimals: 1/2 is 0.5.", "%s has a fraction in it.", quote(t.all))
	case unicode.IsDigit(rune(t.rest[0])):
		return Inputf("Look at the source again. If marks were lost, put them back; if it is one number, write it without a space.", "%s is two numbers with only a space between.", quote(t.all))
	}
	return Inputf("Type one number and one unit.", "%s has more than one number in it.", quote(t.all))
}

func rangeOf(t typed) error {
	return Inputf("Type the one value to aim for, and note the range with its source.", "%s is a range or a value with a tolerance, not one number.", quote(t.all))
}

// value turns the digits into a float. bigUnit says that whole thousands of
// the unit would be absurd, so that a point with three decimals is just that.
func (t typed) value(bigUnit bool) (float64, error) {
	whole, decimals, _ := strings.Cut(strings.Replace(t.digits, ",", ".", 1), ".")
	comma := strings.Contains(t.digits, ",")
	grouped := len(decimals) == 3 && len(whole) >= 1 && len(whole) <= 3 && whole[0] != '0'
	if grouped && (comma || !bigUnit) {
		large, small := whole+decimals, lang.Number(whole+"."+decimals)
		return 0, Inputf(lang.F("Write %s for the large number, or %s0 for the small one.", large, small), "%s can mean %s or %s.", quote(t.all), large, small)
	}
	v, err := strconv.ParseFloat(whole+"."+decimals+"0", 64)
	if err != nil {
		return 0, Inputf("Type it again in plain digits.", "%s is not a number.", quote(t.all))
	}
	if t.negative && v != 0 {
		v = -v
	}
	return v, nil
}

// bare reads text that must be a number alone, its unit being chosen beside it.
func bare(text string, bigUnit bool) (float64, typed, error) {
	t, err := split(text)
	if err != nil {
		return 0, t, err
	}
	if t.rest != "" {
		return 0, t, Inputf("Type only the number, and choose the unit beside the field.", "%s has more than a number in it.", quote(t.all))
	}
	v, err := t.value(bigUnit)
	return v, t, err
}

// notNegative refuses a minus sign where there is no such thing; subject begins
// the sentence.
func (t typed) notNegative(subject string) error {
	if !t.negative {
		return nil
	}
	return Inputf("Type it without the minus sign.", "%s cannot be below zero, and %s has a minus sign.", subject, quote(t.all))
}

// unit finds the unit that follows the number.
func unit[U ~string](t typed, names map[string]U, choice string) (U, error) {
	key := unitKey(t.rest)
	if u, ok := names[key]; ok && t.rest != "" {
		return u, nil
	}
	if t.rest == "" {
		return "", Inputf(lang.F("Add the unit that the source gives: %s.", choice), "%s has no unit.", quote(t.all))
	}
	return "", Inputf(lang.F("Use one of these: %s.", choice), "%s is not a unit that can be used here.", quote(t.rest))
}

// unitKey drops what people write between the parts of a unit.
func unitKey(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || strings.ContainsRune("·.-‐‑⋅•∙*×", r) {
			return -1
		}
		return unicode.ToLower(r)
	}, s)
}
