package method

import (
	"math"
	"slices"
	"sort"
	"strings"

	"strutcard/calc/lang"
	"strutcard/calc/lift"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// planned is a plan with what it was made of.
type planned struct {
	*In
	car lift.Car
	job lift.Lift
	lift.Result
}

func (p planned) result() Result {
	return Result{Figure: p.figure(), Words: p.verdict(), Line: p.line(), Rows: p.rows(), Stop: p.stops(), Warn: p.warnings(), Picture: p.picture()}
}

// worst is the pair of which most is asked. Both are marked alike here.
func (p planned) worst() lift.PairPlan {
	worst := p.Pairs[0]
	for _, pair := range p.Pairs {
		if pair.Required > worst.Required {
			worst = pair
		}
	}
	return worst
}

func (p planned) figure() string {
	switch {
	case len(p.Pairs) == 0:
		return lang.T("No pair of stands fits this")
	case p.misses("mass"):
		return lang.T("Load on a stand not known")
	}
	return lang.F("Up to %s on one stand", p.massMost(p.worst().Heavier.High))
}

// verdict puts the whole lift first, then what stands and jack are worth.
func (p planned) verdict() string {
	fits := []lift.Fit{p.Jack.Fit}
	said := " " + lang.F("The jack: %s.", fitWords(p.Jack.Fit))
	for _, pair := range slices.Backward(p.Pairs) {
		fits = append(fits, pair.Fit)
		_, stands, _ := standWords(pair.End)
		said = " " + capital(stands) + ": " + fitWords(pair.Fit) + "." + said
	}
	switch {
	case p.Ready():
		return lang.T("Enough for this lift. Chocks and the checks at the car still come first.") + said
	case slices.Contains(fits, lift.NotEnough):
		return lang.T("Not enough: do not raise the car with these.") + said
	case len(p.Stops) > 0:
		return lang.T("Do not raise the car: below it says why.") + said
	}
	return lang.T("Cannot tell: do not raise the car yet.") + said
}

// fitWords is the verdict in a word or two.
func fitWords(f lift.Fit) string {
	if f == lift.NotTelling {
		return lang.T("cannot tell")
	}
	return f.Words()
}

// standWords are the stands of one end: both of them, the same with the article,
// and each.
func standWords(end lift.End) (both, the, each string) {
	if end == lift.Front {
		return lang.T("front stands"), lang.T("the front stands"), lang.T("each front stand")
	}
	return lang.T("rear stands"), lang.T("the rear stands"), lang.T("each rear stand")
}

func (p planned) line() string {
	margin, what, of, asked := decimal(float64(p.job.Margin), 1), lang.T("the jack"), p.Jack.Load.High, p.Jack.Required
	marked := p.marked(p.Jack.Rated, p.job.Jack.Rated)
	if len(p.Pairs) > 0 {
		pair := p.worst()
		_, _, what = standWords(pair.End)
		of, asked = pair.Heavier.High, pair.Required
		marked = p.marked(pair.Rated, p.job.Front.Marking.Rated)
	}
	if p.misses("mass") {
		return lang.F("%s × its load is asked of %s, marked %s. The load needs the mass of the car.", margin, what, marked)
	}
	return lang.F("%s × %s = %s asked of %s, marked %s", margin, p.massMost(of), p.massMost(asked), what, marked)
}

// marked is what a number on a tool can mean.
func (p planned) marked(r lift.Range[quantity.Mass], as lift.Rated) string {
	if as.Figure == 0 || as.Unit == "" {
		return lang.T("not known")
	}
	return p.massRange(r, math.Floor)
}

func (p planned) misses(key lift.Key) bool {
	return slices.ContainsFunc(p.Missing, func(f lift.Fact) bool { return f.Key == key })
}

// massMost is a load, rounded up.
func (in *In) massMost(m quantity.Mass) string {
	return in.massWhole(m, math.Ceil) + " " + string(in.Units.Mass)
}

// massLeast is a rating, rounded down.
func (in *In) massLeast(m quantity.Mass) string {
	return in.massWhole(m, math.Floor) + " " + string(in.Units.Mass)
}

// massRange is a range of masses. Loads end rounded up, ratings rounded down.
func (in *In) massRange(r lift.Range[quantity.Mass], end func(float64) float64) string {
	low, high := in.massWhole(r.Low, math.Floor), in.massWhole(r.High, end)
	if low == high {
		return low + " " + string(in.Units.Mass)
	}
	return lang.F("%s to %s %s", low, high, string(in.Units.Mass))
}

// massWhole is a mass in whole kilograms or pounds.
func (in *In) massWhole(m quantity.Mass, round func(float64) float64) string {
	v := m.Kilograms()
	if in.Units.Mass == quantity.Pound {
		v = m.Pounds()
	}
	const slip = 1e-6 // what a sum of kilograms may be off by
	if nearest := math.Round(v); math.Abs(v-nearest) < slip {
		v = nearest
	}
	return decimal(round(v), 0)
}

func (p planned) rows() []Row {
	var out []Row
	if !p.misses("mass") {
		out = p.loads()
	}
	out = append(out,
		Row{lang.T("The other end"), p.OtherEnd.Reason},
		Row{lang.T("Parking brake, applied"), capital(p.Brake.Verdict.Words()) + ". " + p.Brake.Reason},
		Row{lang.T("A gear, or P"), capital(p.Gear.Verdict.Words()) + ". " + p.Gear.Reason},
		Row{lang.T("Chocks, in this order"), capital(chockWords(p.Chocks))},
		Row{lang.T("Ground"), p.groundWords()},
		Row{lang.T("Order"), orderWords(p.Order)})
	label := lang.T("Sources disagree")
	for _, c := range p.Conflicts {
		var sayings []string
		for _, s := range c.Sayings {
			sayings = append(sayings, s.Says+" ("+s.Source+")")
		}
		out = append(out, Row{label + ": " + c.Matter, strings.Join(append(sayings, c.Decision), " ")})
		label = lang.T("Also disputed")
	}
	return out
}

// loads are the rows of what each thing carries, and what it has to be rated for.
func (p planned) loads() []Row {
	var out []Row
	asked := func(required quantity.Mass) string {
		return lang.F("%s: %s times the most, common practice", p.massMost(required), decimal(float64(p.job.Margin), 1))
	}
	if axles, err := lift.AxleLoads(p.car.Weights); err == nil {
		within := func(v measure.Value[quantity.Mass]) string { return p.Units.MassWithin(v.Value, v.Expanded()) }
		out = append(out, Row{lang.T("Axle loads taken"), lang.F("front %s, rear %s", within(axles.Front), within(axles.Rear))})
	}
	for _, pair := range p.Pairs {
		stands, _, _ := standWords(pair.End)
		stands = capital(stands)
		out = append(out,
			Row{lang.F("%s, the heavier one", stands), p.massRange(pair.Heavier, math.Ceil)},
			Row{lang.F("%s, asked of each", stands), asked(pair.Required)},
			Row{lang.F("%s, each marked", stands), p.marked(pair.Rated, p.job.Front.Marking.Rated) + ": " + pair.Fit.Words()})
		if pair.TipForce > 0 {
			out = append(out, Row{lang.F("%s, a push that tips one", stands), p.push(pair.TipForce)})
		}
	}
	out = append(out,
		Row{lang.T("Jack lifts"), p.massRange(p.Jack.Load, math.Ceil)},
		Row{lang.T("Jack, asked"), asked(p.Jack.Required)},
		Row{lang.T("Jack, marked"), p.marked(p.Jack.Rated, p.job.Jack.Rated) + ": " + p.Jack.Fit.Words()})
	if p.Grounded.High > 0 {
		out = append(out, Row{lang.T("Wheels that stay down"), p.massRange(p.Grounded, math.Ceil)})
	}
	if p.job.Raise > 0 && p.car.Wheelbase > 0 {
		out = append(out, Row{lang.T("While it goes up, one axle or the jack rolls by up to"), p.Units.FormatLength(p.Travel)})
	}
	return out
}

// push is a force, and the mass that weighs as much.
func (in *In) push(f quantity.Force) string {
	return lang.F("%s, as %s %s weigh", f.String(), in.massWhole(quantity.Kilograms(f.KilogramsForce()), math.Round), string(in.Units.Mass))
}

func (p planned) groundWords() string {
	switch along, across := p.misses("slope_along"), p.misses("slope_across"); {
	case along && across:
		return lang.F("not measured: %s", lang.T(slopeWords[lift.SlopeStop]))
	case along:
		return lang.F("not measured along the car: %s", lang.T(slopeWords[lift.SlopeStop]))
	case across:
		return lang.F("not measured across the car: %s", lang.T(slopeWords[lift.SlopeStop]))
	}
	return lang.F("falls by at most %s: %s", p.Steepest.String(), lang.T(slopeWords[p.Slope]))
}

var slopeWords = map[lift.SlopeVerdict]string{lift.SlopeFine: "level enough", lift.SlopeAsk: "look for a more level place first", lift.SlopeStop: "no lifting here"}

func orderWords(steps []lift.Step) string {
	words := map[lift.Step]string{lift.StepChock: lang.T("chocks"), lift.StepBrake: lang.T("parking brake"), lift.StepRaise: lang.T("jack"), lift.StepSupport: lang.T("stands at once")}
	var out []string
	for _, s := range steps {
		out = append(out, words[s])
	}
	return capital(strings.Join(out, ", "))
}

// chockWords lists the chocks in their order, those at the same face together.
func chockWords(chocks []lift.Chock) string {
	var out []string
	for len(chocks) > 0 {
		n := 1
		for n < len(chocks) && chocks[n].Face == chocks[0].Face {
			n++
		}
		var wheels []string
		for _, c := range chocks[:n] {
			wheels = append(wheels, c.Wheel.Words())
		}
		at := strings.Join(wheels, " "+lang.T("and")+" ")
		if chocks[0].Face == lift.Ahead {
			out = append(out, lang.N(n, "in front of the %s wheel", "in front of the %s wheels", at))
		} else {
			out = append(out, lang.N(n, "behind the %s wheel", "behind the %s wheels", at))
		}
		chocks = chocks[n:]
	}
	return strings.Join(out, ", "+lang.T("then")+" ")
}

// dangers is the order of the cautions, what kills first.
var dangers = []lift.Key{lift.KeyJackOnly, lift.KeyAllUp, lift.KeyOnlyChocks, lift.KeyHeavyPart, lift.KeyBrakeReleased, lift.KeySlope, lift.KeyAsphalt,
	lift.KeyAtOnce, lift.KeyBrakeAlone, lift.KeyShake, lift.KeyMakeshift, lift.KeyPairs, lift.KeyLevel, lift.KeyPull, lift.KeySamePoints, lift.KeyArms,
	lift.KeyJackRated, lift.KeyInspect, lift.KeyTold, lift.KeyPapers, lift.KeySplit, lift.KeyCentreHeight}

// stops are what forbids the lift as planned.
func (p planned) stops() []string {
	var out []string
	for _, n := range p.Stops {
		out = append(out, lang.F("Stop: %s", noticeWords(n)))
	}
	return out
}

// warnings are the cautions in the order of their danger, and what is not known.
func (p planned) warnings() []string {
	var out []string
	cautions := slices.Clone(p.Cautions)
	sort.SliceStable(cautions, func(i, j int) bool {
		return slices.Index(dangers, cautions[i].Key) < slices.Index(dangers, cautions[j].Key)
	})
	for _, n := range cautions {
		out = append(out, noticeWords(n))
	}
	var bounded []string
	for _, f := range p.Missing {
		if f.Bounded {
			bounded = append(bounded, f.Ask)
		} else {
			out = append(out, lang.F("Still needed: %s", f.Ask))
		}
	}
	if len(bounded) > 0 {
		out = append(out, lang.F("Counted at its worst until it is known: %s", strings.Join(bounded, " ")))
	}
	return append(out, lang.T("It does not cover a jacking point that is not sound, a floor that gives way, or what comes off the car. The vehicle's manual says where and how to lift."))
}

func noticeWords(n lift.Notice) string {
	if n.Provenance == lift.CommonPractice {
		return n.Text + " " + lang.T("Common practice.")
	}
	return n.Text
}
