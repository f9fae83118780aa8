package method

import (
	"fmt"
	"slices"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/calc/toe"
	"strutcard/sync/event"
)

// How the share of the run-out is found.
const (
	byWobble   = "wobble"
	byHalfTurn = "half_turn"
)

// toeRunout is how much of a toe is only a rim that wobbles.
var toeRunout = Method{
	ID: "toe_runout", Group: Toe, Title: "Share of rim wobble",
	Words: "Read how far a rim edge wobbles over one turn, with a dial or a ruler held still. Or read the toe twice, the car rolled half a turn of the wheels between. A wheel turned in the air needs the car on stands, never on the jack alone.",
	Fields: slices.Concat(
		[]Field{{Name: "known", Label: "What was read", Kind: Choice, Options: []Option{{byWobble, "the wobble of one rim"}, {byHalfTurn, "the total toe, twice"}}},
			{Name: "runout", Label: "Wobble, lowest to highest over one turn", Kind: Length, When: "known=" + byWobble},
			{Name: "diameter", Label: "Diameter at which it was read", Kind: Length, Keep: true, When: "known=" + byWobble}},
		toeFields("first", "First total", Field{Hint: "Without a sign.", When: "known=" + byHalfTurn}),
		toeFields("second", "Total half a turn later", Field{When: "known=" + byHalfTurn}),
		[]Field{{Name: "within", Label: "Each of them is sure to ±", Hint: "The ± beside the reading.", Kind: Angle, When: "known=" + byHalfTurn}}),
	Work: func(in *In) (Result, error) {
		known, runout, diameter := in.Choice("known"), in.Length("runout"), in.Length("diameter")
		first, second, within := in.typedToe("first"), in.typedToe("second"), in.Angle("within")
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		if known == byHalfTurn {
			return in.halfTurn(first, second, within)
		}
		share, err := toe.RunoutShare(runout, diameter)
		if err != nil {
			return Result{}, err
		}
		both, err := toe.FromAngle(share, toe.In, toe.PerWheel)
		if err != nil {
			return Result{}, err
		}
		f := in.Units.FormatAngle
		p := in.trianglePicture(runout, in.Units.FormatLength(diameter), share)
		p.Alt = lang.F("A wheel from above: a wobble of %s over %s, which is %s.", in.Units.FormatLength(runout), in.Units.FormatLength(diameter), f(share))
		return Result{Figure: lang.F("up to %s per wheel", f(share)), Words: lang.T("As much as this a toe read on a standing wheel can be wrong, IN or OUT, by how the rim happens to stand. The same marks half a turn apart cancel it."),
			Line:    fmt.Sprintf("asin(%s ÷ %s) = %s", in.Units.FormatLength(runout), in.Units.FormatLength(diameter), f(share)),
			Rows:    []Row{{lang.T("Total, when both rims wobble as much"), lang.F("up to %s", f(both.Total))}},
			Warn:    []string{lang.T("Manuals allow about 0.7 mm on alloy rims and 1.0 mm on steel rims; one gives 2.0 mm as the limit for use. Yours decides.")},
			Picture: p}, nil
	},
}

func (in *In) halfTurn(first, second typedToe, u95 quantity.Angle) (Result, error) {
	a, err := first.total(u95)
	if err != nil {
		return Result{}, err
	}
	b, err := second.total(u95)
	if err != nil {
		return Result{}, err
	}
	mean, share, err := toe.HalfTurn(a, b)
	if err != nil {
		return Result{}, err
	}
	f := in.Units.FormatAngle
	return Result{Figure: lang.F("%s total, without the wobble", in.worded(event.TotalToe, mean.Total)), Words: lang.F("The mean of both is the toe. Half of what they differ by is the share of the wobble: %s of the total.", f(share.Total)),
		Line: lang.F("halfway between %s and %s = %s", in.toe(a.Total.Value), in.toe(b.Total.Value), in.toe(mean.Total.Value)),
		Rows: []Row{{lang.T("Share of the wobble, total"), f(share.Total)}, {lang.T("Per wheel, if both have the same"), in.worded(event.Toe, mean.Half)}}, Ask: toe.Question(mean)}, nil
}

// total is a typed toe as that of both wheels.
func (t typedToe) total(u95 quantity.Angle) (toe.Both, error) {
	v, err := t.sure(u95)
	if err != nil {
		return toe.Both{}, err
	}
	return toe.FromTotal(v, toe.RunoutMissing)
}
