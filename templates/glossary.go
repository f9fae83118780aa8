package templates

import (
	"sort"
	"strings"
	"unicode"
	"unicode/utf8"

	"strutcard/calc/lang"
)

// term is one word of the trade or of this app. Its forms are joined by "|": the
// head, then what else it is called on the screens.
type term struct{ forms, text, picture string }

// terms are the words that the screens use without explaining them. What a part is
// and what goes wrong with it: common practice, no source, as far as no drawing of a
// layout says it. Signs are those of calc/camber, calc/caster, calc/toe and
// calc/thrust; the words of this app are those of sync/sheet and sync/guide.
var terms = []term{
	{"adapter", "A piece between torque wrench and fastener. In line with the wrench it makes the lever longer, so the wrench is set lower than what the fastener is to get; square to it, the setting stays as it is.", "adapter"},
	{"anti-roll bar link|bar link|link bolt", "A short rod from the anti-roll bar to the strut or arm of each side. The bar ties both sides together: with one wheel hanging it pushes on the other side's link.", ""},
	{"bump stop", "A block of rubber or foam that ends the suspension's travel softly, often on the damper's rod. A lower car is nearer to it; a car that rides on it is hardly sprung.", "bump_stop"},
	{"bush|bushed", "A pivot with rubber in it. Clamped with the wheel hanging, the rubber stays twisted at ride height and tears: its bolt is made final only with the weight on the wheels.", "wishbone"},
	{"caliper|calipers", "The part of the brake that squeezes the disc. It is heavy: tie it up to the body, and never let it hang by its hose.", ""},
	{"camber", "How far a wheel leans, seen from the front or from behind. Top in, towards the car: negative. Top out: positive. The same on both sides.", "camber"},
	{"caster", "How far the steering axis leans, seen from the side. Positive when its top leans rearward, the same on both sides. It brings the steering back to straight ahead.", "caster"},
	{"castle nut", "A nut with slots for a split pin. When no slot stands over the hole at the lower limit of its torque, tighten on to the next one, never back and never past the upper limit.", "castle"},
	{"chock", "A wedge that touches a tyre on the ground, in front and behind, at both wheels of the axle that stays down. The parking brake holds one axle only, and that may be the one in the air.", "chocks"},
	{"clicks from full hard|clicks|full hard|full soft", "A damper's setting, counted from the stop where its knob is all the way to hard. The fitting sheet says from which stop, and whether the stop itself counts 0 or 1.", ""},
	{"corner", "One wheel with all that holds it: front left, front right, rear left, rear right, always as the driver sees them.", "corner"},
	{"damper|dampers", "It turns the bouncing of the spring into heat. In many layouts it also keeps the axle from dropping: a jack takes the weight before it is undone.", ""},
	{"eccentric|eccentrics", "A bolt with a washer whose hole is off its middle. Turned, it shifts an arm, and with it camber or toe: mark where it stands before you loosen it.", ""},
	{"fastener", "A bolt, a nut, or a group of them at one place. Its hexagon fills as work goes on, from a dashed outline when it is loose to a stripe across when it is final and marked.", "states"},
	{"final|final pass", "Of a fastener: tightened to its whole torque, in the state of the car that the fitting sheet asks for. Do not drive while any fastener is not final.", "states"},
	{"finding", "Something in the record that a reviewer should look at, found by a rule or by a person. It asks; it does not judge.", ""},
	{"fitting sheet|fitting sheets", "The instructions for one car and one set of parts: steps, torques, targets. A job keeps the version that it began with.", ""},
	{"hold point", "Work stops after this step until someone competent has looked and released it.", ""},
	{"hub", "What the wheel is bolted to. Its face must be clean and the wheel flat against it, or the nuts may come loose.", "wheel_nuts"},
	{"job card", "The record of one job to print or to hand on: what was done, what was measured, and what is left open.", ""},
	{"knuckle", "The piece that carries the hub; at a steered wheel it turns with the steering. Free of its strut it tips over: hold it with a strap, never by the brake hose.", "hub_held"},
	{"layout", "How an axle is built, such as with struts or with wishbones. Without a shop the layout gives the steps, and you type the torques from your manual.", ""},
	{"lift", "One time that an axle is off its wheels. Each lift has its own checks, asked one by one, and the next lift starts afresh.", "lower"},
	{"live axle", "A rigid axle from wheel to wheel that drives them. Before a damper is undone a jack holds the axle itself, never a link.", "live_axle"},
	{"pass|passes", "One stage of tightening a fastener, such as snug, final or an angle. They are made in the order shown, each in the state of the car that it asks for.", ""},
	{"reading", "One measurement, with its method, its raw numbers, its uncertainty, and how the car stood.", ""},
	{"ride height", "From the hub's centre straight up to the edge of the arch, with the car settled on its wheels. A change of it changes camber and toe too.", "tape_height"},
	{"run-out", "How far a rim wobbles as the wheel turns. The mean of two readings half a turn of the wheel apart is free of it.", "run_out"},
	{"set-back", "The wheelbase of one side less that of the other: one wheel of an axle stands further back. It does not say which axle stands askew.", "set_back"},
	{"shackle", "The swinging link at the rear end of a leaf spring. Its bolts are made final at ride height only.", "leaf"},
	{"sill", "The edge of the body below the doors. Stands go under it only at the points that the car's maker names; elsewhere it may fold.", "stands"},
	{"snug|snug pass", "Of a fastener: tightened to a stated low torque, or by hand where none is given: it holds without clamping. Not for driving.", "states"},
	{"snug on purpose|final after camber", "Half-tight because a later step needs it so: camber is still to be set there, or a bush must not be clamped yet. It stays in the tally until then.", "states"},
	{"split pin|new pin|nut and pin", "A soft pin through bolt and castle nut, both legs bent, so that the nut cannot turn. It is used once only.", "castle"},
	{"spring perch|perch|perches|lower spring seat", "The seat that the spring stands on. Screwed up or down on its thread it changes ride height; a lock ring then holds it.", "bench"},
	{"stale", "Of a reading: something that it depends on was changed since, such as ride height. Measure again.", ""},
	{"stand|axle stand", "It carries the raised car, at a point that the car's maker names. Nobody is under a car that only a jack holds.", "stands"},
	{"steering arm|steering arms", "The arm of the knuckle that the track rod pushes and pulls. The ball joint between them parts with a separator, not with blows.", ""},
	{"string|strings", "A line stretched straight along the car, beside its wheels. The gaps from it to the rim, in front and behind, give the toe of each wheel.", "strings"},
	{"strut", "Damper and spring as one leg that also holds the wheel upright, from the body down to the knuckle. Unclip the brake hose before it comes away.", "strut"},
	{"stud|studs", "A threaded pin that stays in the hub when its nut comes off. A car with wheel bolts has none: what is said of nuts holds for its bolts.", ""},
	{"subframe|crossmember", "A frame under the body that the suspension arms pivot on. Its own bolts are no part of this work, unless the fitting sheet names them.", ""},
	{"sweep|steered out and in", "Steering a front wheel out and in by a measured angle, about 20° each way, and reading its camber both times. Caster follows from the difference.", "sweep"},
	{"tally", "The list of every fastener touched in this job and how far it is tightened. Do not drive until nothing in it is open.", "states"},
	{"thrust angle|thrust line|thrust", "Which way the rear axle pushes the car: the angle between its line and the centre line, with its side. The front wheels settle to both sides of that line, and the steering wheel may sit crooked.", "thrust"},
	{"toe|total toe", "How far a wheel points inwards or outwards, seen from above. Toe-in is positive. Total toe is that of the left wheel plus that of the right.", "toe"},
	{"top mount", "What holds the top of a strut to the body. The nut on the damper's rod in its middle is never undone while the spring is loaded.", "strut"},
	{"torque plus angle|turned on after a torque", "First a torque, then turned on by an angle from there. Mark the nut before the turn. Such bolts are often used once only: the fitting sheet says which.", "angle"},
	{"track rod|track rods", "The rod from the steering to the knuckle. Turned in its thread it sets the toe; a lock nut then holds it there. At its outer end sits a ball joint.", ""},
	{"twist beam|beam", "Two arms at the rear, joined by a beam that twists. A jack holds it before a damper is undone: the damper is what stops it from dropping.", "beam"},
	{"uncertainty|±|too close to tell", "How far the true value may be from the number, written ±. Where it reaches over a limit, the target is too close to tell.", ""},
	{"wishbone|upper arm|lower arm", "An arm with two pivots at the body and one joint at the knuckle, above or below the hub. Its pivots are bushes: final at ride height only.", "wishbone"},
}

// Glossary lists the words, in the order of the alphabet of the language spoken.
func Glossary() (all []Word) {
	for _, t := range terms {
		all = append(all, t.word())
	}
	inOrder(all)
	return all
}

// WordsIn lists the words that stand in the text of a drawn screen.
func WordsIn(html string) (found []Word) {
	text := strings.ToLower(textOf(html))
	for _, t := range terms {
		for _, form := range strings.Split(lang.T(t.forms), "|") {
			if says(text, strings.ToLower(form)) {
				found = append(found, t.word())
				break
			}
		}
	}
	inOrder(found)
	return found
}

func (t term) word() Word {
	id, _, _ := strings.Cut(t.forms, "|")
	head, _, _ := strings.Cut(lang.T(t.forms), "|")
	return Word{ID: id, Head: head, Text: lang.T(t.text), Picture: t.picture}
}

func inOrder(words []Word) {
	sort.Slice(words, func(i, j int) bool { return sortKey(words[i].Head) < sortKey(words[j].Head) })
}

// sortKey puts ä beside a, as a German dictionary does.
func sortKey(s string) string {
	for _, u := range [...][2]string{{"ä", "a"}, {"ö", "o"}, {"ü", "u"}, {"ß", "ss"}} {
		s = strings.ReplaceAll(s, u[0], u[1])
	}
	return strings.ToLower(s)
}

// textOf is what is written outside the tags.
func textOf(html string) string {
	var b strings.Builder
	for html != "" {
		text, rest, _ := strings.Cut(html, "<")
		b.WriteString(text + " ")
		_, html, _ = strings.Cut(rest, ">")
	}
	return b.String()
}

// endings are those that make another form of the same word, in either language.
var endings = [...]string{"", "s", "es", "e", "n", "en"}

// says tells whether a whole word stands in a text, both in small letters.
func says(text, word string) bool {
	for {
		before, after, ok := strings.Cut(text, word)
		if !ok {
			return false
		}
		if last, _ := utf8.DecodeLastRuneInString(before); !unicode.IsLetter(last) {
			for _, end := range endings {
				rest, ok := strings.CutPrefix(after, end)
				if next, _ := utf8.DecodeRuneInString(rest); ok && !unicode.IsLetter(next) {
					return true
				}
			}
		}
		// What was passed over ends in a letter, or is followed by one: a word
		// that begins right behind it would not be whole.
		text = "x" + after
	}
}
