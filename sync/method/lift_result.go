package method

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

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
	return Result{Figure: p.figure(), Words: p.verdict(), Line: p.line(), Rows: p.rows(), Warn: p.warnings(), Picture: p.picture()}
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
		return "No pair of stands fits this"
	case p.misses("mass"):
		return "Load on a stand not known"
	}
	return "Up to " + p.massMost(p.worst().Heavier.High) + " on one stand"
}

// verdict puts the whole lift first, then what stands and jack are worth.
func (p planned) verdict() string {
	fits := []lift.Fit{p.Jack.Fit}
	said := " The jack: " + fitWords(p.Jack.Fit) + "."
	for _, pair := range slices.Backward(p.Pairs) {
		fits = append(fits, pair.Fit)
		said = fmt.Sprintf(" The %s stands: %s.", pair.End, fitWords(pair.Fit)) + said
	}
	switch {
	case p.Ready():
		return "Enough for this lift. Chocks and the checks at the car still come first." + said
	case slices.Contains(fits, lift.NotEnough):
		return "Not enough: do not raise the car with these." + said
	case len(p.Stops) > 0:
		return "Do not raise the car: below it says why." + said
	}
	return "Cannot tell: do not raise the car yet." + said
}

// fitWords is the verdict in a word or two.
func fitWords(f lift.Fit) string {
	words, _, _ := strings.Cut(f.Words(), ":")
	return words
}

func (p planned) line() string {
	margin, what, of, asked := decimal(float64(p.job.Margin), 1), "the jack", p.Jack.Load.High, p.Jack.Required
	marked := p.marked(p.Jack.Rated, p.job.Jack.Rated)
	if len(p.Pairs) > 0 {
		pair := p.worst()
		what, of, asked = "each "+string(pair.End)+" stand", pair.Heavier.High, pair.Required
		marked = p.marked(pair.Rated, p.job.Front.Marking.Rated)
	}
	if p.misses("mass") {
		return fmt.Sprintf("%s × its load is asked of %s, marked %s. The load needs the mass of the car.", margin, what, marked)
	}
	return fmt.Sprintf("%s × %s = %s asked of %s, marked %s", margin, p.massMost(of), p.massMost(asked), what, marked)
}

// marked is what a number on a tool can mean.
func (p planned) marked(r lift.Range[quantity.Mass], as lift.Rated) string {
	if as.Figure == 0 || as.Unit == "" {
		return "not known"
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

// massRange is a range of masses. Loads end rounded up, ratings rounded down.
func (in *In) massRange(r lift.Range[quantity.Mass], end func(float64) float64) string {
	low, high := in.massWhole(r.Low, math.Floor), in.massWhole(r.High, end)
	if low == high {
		return low + " " + string(in.Units.Mass)
	}
	return low + " to " + high + " " + string(in.Units.Mass)
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
		Row{"The other end", p.OtherEnd.Reason},
		Row{"Parking brake, applied", capital(p.Brake.Verdict.Words()) + ". " + p.Brake.Reason},
		Row{"A gear, or P", capital(p.Gear.Verdict.Words()) + ". " + p.Gear.Reason},
		Row{"Chocks, in this order", capital(chockWords(p.Chocks))},
		Row{"Ground", p.groundWords()},
		Row{"Order", orderWords(p.Order)})
	label := "Sources disagree: "
	for _, c := range p.Conflicts {
		var sayings []string
		for _, s := range c.Sayings {
			sayings = append(sayings, s.Says+" ("+s.Source+")")
		}
		out = append(out, Row{label + c.Matter, strings.Join(append(sayings, c.Decision), " ")})
		label = "Also disputed: "
	}
	return out
}

// loads are the rows of what each thing carries, and what it has to be rated for.
func (p planned) loads() []Row {
	var out []Row
	asked := func(required quantity.Mass) string {
		return fmt.Sprintf("%s: %s times the most, common practice", p.massMost(required), decimal(float64(p.job.Margin), 1))
	}
	if axles, err := lift.AxleLoads(p.car.Weights); err == nil {
		within := func(v measure.Value[quantity.Mass]) string { return p.Units.MassWithin(v.Value, v.Expanded()) }
		out = append(out, Row{"Axle loads taken", "front " + within(axles.Front) + ", rear " + within(axles.Rear)})
	}
	for _, pair := range p.Pairs {
		stands := capital(string(pair.End)) + " stands"
		out = append(out,
			Row{stands + ", the heavier one", p.massRange(pair.Heavier, math.Ceil)},
			Row{stands + ", asked of each", asked(pair.Required)},
			Row{stands + ", each marked", p.marked(pair.Rated, p.job.Front.Marking.Rated) + ": " + pair.Fit.Words()})
		if pair.TipForce > 0 {
			out = append(out, Row{stands + ", a push that tips one", p.push(pair.TipForce)})
		}
	}
	out = append(out,
		Row{"Jack lifts", p.massRange(p.Jack.Load, math.Ceil)},
		Row{"Jack, asked", asked(p.Jack.Required)},
		Row{"Jack, marked", p.marked(p.Jack.Rated, p.job.Jack.Rated) + ": " + p.Jack.Fit.Words()})
	if p.Grounded.High > 0 {
		out = append(out, Row{"Wheels that stay down", p.massRange(p.Grounded, math.Ceil)})
	}
	if p.job.Raise > 0 && p.car.Wheelbase > 0 {
		out = append(out, Row{"While it goes up, one axle or the jack rolls by up to", p.Units.FormatLength(p.Travel)})
	}
	return out
}

// push is a force, and the mass that weighs as much.
func (in *In) push(f quantity.Force) string {
	return f.String() + ", as " + in.massWhole(quantity.Kilograms(f.KilogramsForce()), math.Round) + " " + string(in.Units.Mass) + " weigh"
}

func (p planned) groundWords() string {
	switch along, across := p.misses("slope_along"), p.misses("slope_across"); {
	case along && across:
		return "not measured: " + slopeWords[lift.SlopeStop]
	case along:
		return "not measured along the car: " + slopeWords[lift.SlopeStop]
	case across:
		return "not measured across the car: " + slopeWords[lift.SlopeStop]
	}
	return "falls by at most " + p.Steepest.String() + ": " + slopeWords[p.Slope]
}

var slopeWords = map[lift.SlopeVerdict]string{lift.SlopeFine: "level enough", lift.SlopeAsk: "look for a more level place first", lift.SlopeStop: "no lifting here"}

func orderWords(steps []lift.Step) string {
	words := map[lift.Step]string{lift.StepChock: "chocks", lift.StepBrake: "parking brake", lift.StepRaise: "jack", lift.StepSupport: "stands at once"}
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
		words := chocks[0].Words()
		for _, c := range chocks[1:n] {
			words = strings.TrimSuffix(words, " wheel") + " and " + c.Wheel.Words() + " wheel"
		}
		if n > 1 {
			words += "s"
		}
		out, chocks = append(out, words), chocks[n:]
	}
	return strings.Join(out, ", then ")
}

// dangers is the order of the cautions, what kills first.
var dangers = []lift.Key{lift.KeyJackOnly, lift.KeyAllUp, lift.KeyOnlyChocks, lift.KeyHeavyPart, lift.KeyBrakeReleased, lift.KeySlope, lift.KeyAsphalt,
	lift.KeyAtOnce, lift.KeyBrakeAlone, lift.KeyShake, lift.KeyMakeshift, lift.KeyPairs, lift.KeyLevel, lift.KeyPull, lift.KeySamePoints, lift.KeyArms,
	lift.KeyJackRated, lift.KeyInspect, lift.KeyTold, lift.KeyPapers, lift.KeySplit, lift.KeyCentreHeight}

// warnings are the stops, the cautions in the order of their danger, and what is
// not known.
func (p planned) warnings() []string {
	var out []string
	for _, n := range p.Stops {
		out = append(out, "Stop: "+noticeWords(n))
	}
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
			out = append(out, "Still needed: "+f.Ask)
		}
	}
	if len(bounded) > 0 {
		out = append(out, "Counted at its worst until it is known: "+strings.Join(bounded, " "))
	}
	return append(out, "It does not cover a jacking point that is not sound, a floor that gives way, or what comes off the car. The vehicle's manual says where and how to lift.")
}

func noticeWords(n lift.Notice) string {
	if n.Provenance == lift.CommonPractice {
		return n.Text + " Common practice."
	}
	return n.Text
}
