package card_test

import (
	"bytes"
	"regexp"
	"slices"
	"strings"
	"testing"

	"strutcard/sync/card"
	"strutcard/sync/event"
	"strutcard/sync/guide/guidetest"
	"strutcard/sync/sheet"
)

// wrong lists what does not hold.
func wrong(r card.Report) (out []string) {
	for _, c := range r.Checks {
		if len(c.Wrong) > 0 {
			out = append(out, c.What)
		}
	}
	return out
}

// sealed is an event after all others of a record, with its chain intact.
func sealed(t *testing.T, events []event.Event, p event.Payload) event.Event {
	t.Helper()
	last := events[len(events)-1]
	e, err := event.ChainOf(last.Job, last.Device, events).Seal(guidetest.NewID[event.ID](), last.Time(), p)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

const (
	whole, oneJob, pinned, chains = "Every line is whole and in canonical form", "All events are of one job", "The fitting sheet is the one that the job follows", "Every chain holds, with no gap and no fork"
	order, code, once             = "The lines are in order, each once", "The code is the one of these lines", "Each thing is said once and by its name"
	head                          = "The head of the card follows from the lines"
)

// TestVerify: an untouched card holds, and so does one that a tool laid out
// anew; whatever is changed on it is found.
func TestVerify(t *testing.T) {
	sh, events := sheet.Demo()[0], finished(t)
	events = append(events, sealed(t, events, &event.PassDone{Fastener: "wheel_nuts_FL", Pass: sh.Fastener("wheel_nuts_FL").Final().ID, TorqueCNM: 11_200, Count: 5, Hurried: true}))
	torque := regexp.MustCompile(`"torque_cnm":(\d)`)
	for _, w := range []struct {
		name, want string // what no longer holds, among others; "" when all does
		change     func(*card.Card)
		file       func([]byte) []byte
	}{
		{name: "untouched"},
		{name: "laid out anew", file: func(b []byte) []byte {
			return bytes.ReplaceAll(bytes.ReplaceAll(b, []byte("\n\t"), []byte("\n")), []byte(`\\u003c`), []byte(`\\u003c`))
		}},
		{name: "one byte of a value", want: chains, change: func(c *card.Card) {
			i := slices.IndexFunc(c.Record[1:], func(l string) bool { return strings.Contains(l, `"pass_done"`) && torque.MatchString(l) }) + 1
			c.Record[i] = torque.ReplaceAllString(c.Record[i], `"torque_cnm":9`)
		}},
		{name: "the last event's value", want: code, change: func(c *card.Card) {
			last := len(c.Record) - 1
			c.Record[last] = regexp.MustCompile(`"at":\d`).ReplaceAllString(c.Record[last], `"at":2`)
		}},
		{name: "not canonical", want: whole, change: func(c *card.Card) { c.Record[9] = strings.Replace(c.Record[9], `"seq":`, `"seq": `, 1) }},
		{name: "an event dropped", want: chains, change: func(c *card.Card) { c.Record = slices.Delete(c.Record, 50, 51) }},
		{name: "the last event dropped", want: code, change: func(c *card.Card) { c.Record = c.Record[:len(c.Record)-1] }},
		{name: "two swapped", want: order, change: func(c *card.Card) { c.Record[50], c.Record[51] = c.Record[51], c.Record[50] }},
		{name: "an event twice", want: order, change: func(c *card.Card) { c.Record = slices.Insert(c.Record, 50, c.Record[50]) }},
		{name: "an event added", want: code, change: func(c *card.Card) {
			c.Record = append(c.Record, sealed(t, events, &event.NoteAdded{Text: "All is well."}).Line())
		}},
		{name: "a fork", want: chains, change: func(c *card.Card) {
			c.Record = append(c.Record, sealed(t, events[:len(events)-1], &event.NoteAdded{Text: "A copied phone."}).Line())
		}},
		{name: "one id for two", want: whole, change: func(c *card.Card) {
			e, err := event.ChainOf(events[0].Job, events[0].Device, events).Seal(events[3].ID, events[0].Time(), &event.NoteAdded{Text: "All is well."})
			if err != nil {
				t.Fatal(err)
			}
			c.Record = append(c.Record, e.Line())
		}},
		{name: "another job's event", want: oneJob, change: func(c *card.Card) { c.Record = append(c.Record, lines(t)[0].Line()) }},
		{name: "another sheet", want: pinned, change: func(c *card.Card) { c.Record[0] = `{"sheet":` + string(sheet.Demo()[1].Encode()) + "}" }},
		{name: "a torque of the sheet", want: pinned, change: func(c *card.Card) { c.Record[0] = strings.Replace(c.Record[0], "11200", "11300", 1) }},
		{name: "a printed torque", want: under("fasteners"), change: func(c *card.Card) { c.Fasteners[2].Passes[0].TorqueCNM++ }},
		{name: "a printed reading", want: under("readings"), change: func(c *card.Card) { c.Readings[3].Value++ }},
		{name: "a finding left out", want: under("findings"), change: func(c *card.Card) { c.Findings = c.Findings[1:] }},
		{name: "a finding made mild", want: under("findings"), change: func(c *card.Card) { c.Findings[0].Severity += " only" }},
		{name: "a caution left out", want: under("cautions"), change: func(c *card.Card) { c.Cautions = nil }},
		{name: "another code", want: code, change: func(c *card.Card) { c.Code = card.CodeOf("", events) }},
		{name: "another car", want: head, change: func(c *card.Card) { c.Vehicle = "another car" }},
		{name: "no deferral", want: head, change: func(c *card.Card) { c.Deferral = "Certified." }},
		{name: "said twice", want: once, file: func(b []byte) []byte {
			return bytes.Replace(b, []byte(`"vehicle":`), []byte(`"vehicle": "another car", "Vehicle":`), 1)
		}},
	} {
		t.Run(w.name, func(t *testing.T) {
			c := of(t, sh, events)
			if w.change != nil {
				w.change(&c)
			}
			data := c.Encode()
			if w.file != nil {
				changed := w.file(data)
				if bytes.Equal(changed, data) {
					t.Fatal("nothing was changed")
				}
				data = changed
			}
			_, r, err := card.VerifyJSON(data)
			if err != nil {
				t.Fatal(err)
			}
			got := wrong(r)
			if w.want == "" && (len(got) > 0 || !r.Holds() || len(r.Checks) < 20) {
				t.Errorf("of an honest card there does not hold: %q (%d checks)", got, len(r.Checks))
			}
			if w.want != "" && (!slices.Contains(got, w.want) || r.Holds()) {
				t.Errorf("found %q, want %q", got, w.want)
			}
		})
	}
}

func under(field string) string {
	return "What stands under “" + field + "” follows from the lines"
}

// TestVerifyWithoutSheet: such a card says less, and that holds.
func TestVerifyWithoutSheet(t *testing.T) {
	events := finished(t)
	c, err := card.Of(events[0].Job, nil, events, card.Beside{})
	if err != nil {
		t.Fatal(err)
	}
	if _, r, err := card.VerifyJSON(c.Encode()); err != nil || !r.Holds() {
		t.Errorf("it does not hold: %q, %v", wrong(r), err)
	}
}

// copied is a record as a file.
func copied(events []event.Event, sheets ...*sheet.Sheet) string {
	var b strings.Builder
	for _, s := range sheets {
		b.WriteString(`{"sheet":` + string(s.Encode()) + "}\n")
	}
	for _, e := range events {
		b.WriteString(e.Line() + "\n")
	}
	return b.String()
}

// TestVerifyCopy: a copy as a file is a set of lines: it holds in any order and
// with repeats. What was changed is found by the chain, or by the code on paper.
func TestVerifyCopy(t *testing.T) {
	events := finished(t)
	file := copied(events, sheet.Demo()...) // also one that this job does not follow
	all := strings.SplitAfter(file, "\n")
	printed := card.CodeOf(sheet.Demo()[0].Hash(), events)
	for _, w := range []struct{ name, file, want string }{
		{"untouched", file, ""},
		{"by mail", strings.ReplaceAll(file, "\n", "\r\n"), ""},
		{"two swapped and one twice", strings.Join(append(append(slices.Clone(all[:50]), all[51], all[50], all[51]), all[52:]...), ""), ""},
		{"one byte of a value", regexp.MustCompile(`("pass":"[a-z]+","torque_cnm":)\d`).ReplaceAllString(file, "${1}9"), chains},
		{"a torque of the sheet", strings.Replace(file, "11200", "11300", 1), pinned},
		{"an event dropped", strings.Join(append(slices.Clone(all[:50]), all[51:]...), ""), chains},
		{"the last event dropped", strings.Join(all[:len(all)-2], ""), "The code that you gave is the one of these lines"},
		{"cut short", file[:len(file)-20], whole},
		{"no event", "nothing\n", whole},
	} {
		t.Run(w.name, func(t *testing.T) {
			reports := card.VerifyCopy([]byte(w.file))
			if len(reports) != 1 {
				t.Fatalf("%d reports, want 1", len(reports))
			}
			r := reports[0]
			r.Against(printed)
			if got := wrong(r); w.want == "" && len(got) > 0 || w.want != "" && !slices.Contains(got, w.want) {
				t.Errorf("found %q, want %q", got, w.want)
			}
		})
	}
	if both := card.VerifyCopy([]byte(file + copied(lines(t)[2:3]))); len(both) != 2 || !both[0].Holds() || !both[1].Holds() || both[0].Code == both[1].Code {
		t.Errorf("a copy with two jobs: %+v", both)
	}
}

func TestErrDecode(t *testing.T) {
	good := string(of(t, sheet.Demo()[0], finished(t)).Encode())
	for name, text := range map[string]string{"empty": "", "not JSON": "hello", "two": good + good, "cut": good[:len(good)/2],
		"newer": strings.Replace(good, `"format": 1`, `"format": 2`, 1), "unknown field": strings.Replace(good, `"code"`, `"seal": 1, "code"`, 1)} {
		if _, err := card.Decode([]byte(text)); err == nil {
			t.Errorf("%s: taken for a card", name)
		}
	}
}
