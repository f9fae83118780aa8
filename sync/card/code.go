package card

import (
	"crypto/sha256"
	"fmt"
	"math/big"
	"sort"
	"strings"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/fault"
)

// The alphabet of Crockford's base 32, and the five symbols that only check.
const (
	alphabet = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
	checks   = alphabet + "*~$=U"

	symbols  = 19 // without the check symbol
	symbolAt = 5  // bits each
	group    = 4
)

// CodeOf returns the code of a job's record: it changes when any event is
// added, dropped or altered. See the package comment.
func CodeOf(sheet event.SheetHash, events []event.Event) string {
	var b strings.Builder
	fmt.Fprintf(&b, "strutcard 1\n%s\n", sheet)
	for _, head := range heads(events) {
		b.WriteString(head + "\n")
	}
	sum := sha256.Sum256([]byte(b.String()))
	n := new(big.Int).SetBytes(sum[:])
	return spell(n.Rsh(n, uint(8*len(sum)-symbols*symbolAt)))
}

// heads lists the events that no other event of the same device follows.
func heads(events []event.Event) []string {
	type link struct {
		device event.DeviceID
		prev   event.Hash
	}
	followed := map[link]bool{}
	for _, e := range events {
		followed[link{e.Device, e.Prev}] = true
	}
	var out []string
	for _, e := range event.Sort(events) {
		if h := e.Hash(); !followed[link{e.Device, h}] {
			out = append(out, string(e.Device)+" "+string(h))
		}
	}
	sort.Strings(out)
	return out
}

func spell(n *big.Int) string {
	text := make([]byte, symbols+1)
	text[symbols] = checks[new(big.Int).Mod(n, big.NewInt(int64(len(checks)))).Int64()]
	digit, base := new(big.Int), big.NewInt(int64(len(alphabet)))
	rest := new(big.Int).Set(n)
	for i := symbols - 1; i >= 0; i-- {
		rest.DivMod(rest, base, digit)
		text[i] = alphabet[digit.Int64()]
	}
	var groups []string
	for ; len(text) > 0; text = text[group:] {
		groups = append(groups, string(text[:group]))
	}
	return strings.Join(groups, "-")
}

// misread are the symbols that people take for others.
var misread = strings.NewReplacer("-", "", " ", "", "I", "1", "L", "1", "O", "0")

// ReadCode returns a code as it is printed, from what somebody typed. A symbol
// misread, or two swapped, is an error.
func ReadCode(typed string) (string, error) {
	text := misread.Replace(strings.ToUpper(typed))
	wrong := fault.New(fault.Invalid, lang.F("“%s” is not a code: it was misread or mistyped.", typed), "Read it again from the card, group by group.")
	if len(text) != symbols+1 {
		return "", wrong
	}
	n := new(big.Int)
	for _, c := range text[:symbols] {
		digit := strings.IndexRune(alphabet, c)
		if digit < 0 {
			return "", wrong
		}
		n.Add(n.Lsh(n, symbolAt), big.NewInt(int64(digit)))
	}
	code := spell(n)
	if code[len(code)-1] != text[symbols] {
		return "", wrong
	}
	return code, nil
}
