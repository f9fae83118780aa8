package lift

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// Car is what is known of the car. A fact left at zero is not known.
type Car struct {
	Weights      Weights
	Split        Split
	Wheelbase    quantity.Length
	WheelRadius  quantity.Length                // wheel centre above the ground
	Tape         quantity.Length                // marks of the tape for both
	CentreHeight measure.Value[quantity.Length] // of gravity, above the ground
	Driveline
}

// PairOfStands is a pair under one end. With two different stands, enter the
// lower rating and the narrower foot.
type PairOfStands struct {
	At      Support
	Marking Marking
	Base    Base
}

// Jack is the jack and where it takes the car.
type Jack struct {
	Rated       Rated
	Where       Where
	Front, Rear Support // when it raises that end; not for the middle of a side
}

// Lift is what is to be done, with what, and where.
type Lift struct {
	Raised        Raised
	First         End             // the end that goes up first, when all wheels do
	Raise         quantity.Length // of the wheel centres
	Tape          quantity.Length // marks of the tape for Raise
	Front, Rear   PairOfStands
	Jack          Jack
	Margin        quantity.Ratio // for stands and jack alike: CommonMargin or more
	Along, Across Slope          // of the ground, along and across the car
	Surface       Surface
	HeavyPart     Answer // does the job take off a heavy part, such as a subframe?
	BrakeReleased Answer // does the job release the parking brake at any time?
}

// PairPlan is the outcome for one pair of stands.
type PairPlan struct {
	End      End
	Pair     Range[quantity.Mass] // on both together
	Heavier  Range[quantity.Mass] // on the stand that carries more
	Required quantity.Mass        // rating of each stand: margin times the most
	Rated    Range[quantity.Mass] // of each stand, as marked
	Fit      Fit
	TipShare Range[quantity.Ratio] // of the load on a stand; zero while its foot is not known
	TipForce quantity.Force        // least sideways push that tips the lighter stand, while both carry
}

// JackPlan is the outcome for the jack.
type JackPlan struct {
	Load     Range[quantity.Mass]
	Required quantity.Mass
	Rated    Range[quantity.Mass]
	Fit      Fit
}

// Fact is something to ask for. Bounded means that the plan goes on without it,
// with the whole range of road cars in its place.
type Fact struct {
	Key     Key
	Ask     string
	Bounded bool
}

// Result is the plan. Only Ready means go.
type Result struct {
	Pairs     []PairPlan
	Jack      JackPlan
	OtherEnd  Held                 // does it stay down, or does the car tip over its stands?
	Grounded  Range[quantity.Mass] // on the wheels that stay on the ground; zero when none does
	Chocks    []Chock
	Order     []Step
	Brake     Held // the parking brake, applied
	Gear      Held // a gear left in, or P
	Slope     SlopeVerdict
	Steepest  quantity.Ratio  // the ground, at the steep end of what is known
	Downhill  quantity.Force  // the most that pulls the car down it
	Travel    quantity.Length // the most by which the raised axle comes nearer to the other
	Stops     []Notice        // any of them: do not raise
	Cautions  []Notice
	Missing   []Fact
	Conflicts []Conflict
}

// Ready reports whether nothing stands against the lift: no stop, no fact
// missing that the plan cannot do without, every rating enough, the other end
// down. Chocks and the checks on the spot still come first.
func (r Result) Ready() bool {
	ok := len(r.Stops) == 0 && len(r.Pairs) > 0 && r.Jack.Fit == Enough && r.OtherEnd.Verdict == Holds
	for _, p := range r.Pairs {
		ok = ok && p.Fit == Enough
	}
	for _, f := range r.Missing {
		ok = ok && f.Bounded
	}
	return ok
}

// Plan puts everything together for one lift. Loads are limits, each with every
// uncertain fact at its worst at once. A missing fact widens them to all road
// cars and is listed; it is never assumed. It fails for what is impossible,
// and when the wheels to raise or the margin are not said.
func Plan(c Car, l Lift) (Result, error) {
	if err := l.check(c); err != nil {
		return Result{}, err
	}
	k, err := know(c, l)
	if err != nil {
		return Result{}, err
	}
	r := Result{Order: Order(), Conflicts: []Conflict{brakeConflict()}, Cautions: always()}
	k.stands(&r)
	k.jack(&r)
	if err := k.hold(&r); err != nil {
		return Result{}, err
	}
	k.ground(&r)
	k.notices(&r)
	r.Missing = k.missing
	return r, nil
}

func (l Lift) check(c Car) error {
	if _, ok := raisedWheels[l.Raised]; !ok {
		return noRaised()
	}
	for _, err := range []error{
		checkMargin(l.Margin), c.Driveline.check(),
		one(lang.T("the end that goes up first"), l.First, Front, Rear),
		one(lang.T("the place of the jack"), l.Jack.Where, Centre, Corners, SideSill),
		one(lang.T("the ground"), l.Surface, Concrete, Asphalt, Soft),
		one(lang.T("the heavy part"), l.HeavyPart, Yes, No),
		one(lang.T("the brake that the job releases"), l.BrakeReleased, Yes, No),
	} {
		if err != nil {
			return err
		}
	}
	return nil
}

// stands fills in the pairs and whether the car stays on its wheels.
func (k *known) stands(r *Result) {
	r.OtherEnd = Held{CannotTell, lang.T("One side or one corner alone is not put on stands here.")}
	grounded := exactly(0)
	for _, end := range k.lift.Raised.ends() {
		pair, rest := k.onStands(end, k.at[end])
		heavier := k.heavier(pair)
		stands := k.lift.stands(end)
		p := PairPlan{End: end, Pair: rangeOf[quantity.Mass](pair), Heavier: rangeOf[quantity.Mass](heavier), Rated: rangeOf[quantity.Mass](k.rated[end])}
		p.Required = times(k.lift.Margin, p.Heavier.High)
		p.Fit = fit(k.rated[end], heavier, k.lift.Margin)
		if share, err := TipShare(stands.Base); err == nil {
			p.TipShare = rangeOf[quantity.Ratio](spanOf(share))
			lighter := (1 - k.side().hi) * pair.lo
			p.TipForce = quantity.Mass(lighter).Weight() * quantity.Force(p.TipShare.Low)
		}
		r.Pairs = append(r.Pairs, p)
		stays := k.stays(rest)
		if end == k.lift.Raised.ends()[0] {
			r.OtherEnd = stays
		}
		r.OtherEnd = worst(r.OtherEnd, stays)
		grounded = rest
	}
	if len(r.Pairs) == 1 {
		r.Grounded = rangeOf[quantity.Mass](grounded.clamp(span{0, k.total.hi}))
	}
}

// KeepDown is the least part of the car's weight that the other end has to keep
// for the car not to tip over its stands when somebody leans on it. Common
// practice, no source.
const KeepDown quantity.Ratio = 0.1

func (k *known) stays(rest span) Held {
	keep := float64(KeepDown)
	switch {
	case rest.lo >= keep*k.total.hi:
		return Held{Holds, lang.T("The other end keeps enough of the weight to stay down.")}
	case rest.hi < keep*k.total.lo:
		return Held{DoesNot, lang.T("The stands are so near to the centre of gravity that the other end can come up and the car tips over them.")}
	}
	return Held{CannotTell, lang.T("With what is known the centre of gravity may be at the stands, and the car could tip over them.")}
}

// jack fills in what the jack lifts at its worst moment.
func (k *known) jack(r *Result) {
	load := k.jackLoad()
	r.Jack = JackPlan{Load: rangeOf[quantity.Mass](load), Required: times(k.lift.Margin, quantity.Mass(load.hi)), Rated: rangeOf[quantity.Mass](k.ratedJack), Fit: fit(k.ratedJack, load, k.lift.Margin)}
}

// hold fills in chocks, brake, gear.
func (k *known) hold(r *Result) error {
	var err error
	l := k.lift
	if r.Chocks, err = Chocks(l.Raised, l.First, k.down()); err != nil {
		return err
	}
	r.Gear = throughout(k.car.gear, l.Raised, l.Jack.Where)
	r.Brake = throughout(k.car.brake, l.Raised, l.Jack.Where)
	released := Held{DoesNot, lang.T("The job releases the parking brake, and then it holds nothing.")}
	switch {
	case l.BrakeReleased == Yes:
		r.Brake = released
	case l.BrakeReleased == "" && r.Brake.Verdict != DoesNot:
		r.Brake = Held{CannotTell, lang.T("It is not known whether the job releases the parking brake.")}
	}
	return nil
}

// down is the end that the ground falls to, when it is certain.
func (k *known) down() Way {
	switch {
	case k.along.lo > 0:
		return ToFront
	case k.along.hi < 0:
		return ToRear
	}
	return k.lift.Along.Down
}

// ground fills in the slope.
func (k *known) ground(r *Result) {
	steep := k.steepest()
	r.Steepest = quantity.Ratio(steep)
	r.Slope = JudgeSlope(measure.Value[quantity.Ratio]{Value: r.Steepest})
	r.Downhill = quantity.Mass(k.total.hi).Weight() * quantity.Force(math.Sin(math.Atan(steep)))
	angle := math.Asin(k.raise.hi / k.base.lo)
	r.Travel = quantity.Length(k.base.hi * (1 - math.Cos(angle)))
}
