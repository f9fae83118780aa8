package camber

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// Formula names this calculation in the record. It changes when a result does.
const Formula = "camber-gap/1"

// End is the end of the level where the gap shows. The zero End says nothing.
type End string

const (
	Top    End = "top"
	Bottom End = "bottom"
)

// Along is the direction in which the span was measured.
type Along string

const (
	AlongRim   Along = "rim"   // on the wheel, between the two places on the rim
	AlongLevel Along = "level" // on the level, from the touching end to the gap
)

// Gap is what was measured. At may be empty only when the gap is zero.
type Gap struct {
	Gap, Span  quantity.Length
	At         End
	Along      Along
	Resolution quantity.Length // between two marks of the ruler that read the gap
	// SpanResolution is that of the tape that read the span; zero when it was
	// the same ruler.
	SpanResolution quantity.Length
}

// largest is where a camber stops being believable for a road car. It is the
// limit of the record too. Common practice, no source.
const largest = 15 // degrees

// FromGap computes the camber, negative when the top leans in, with its
// standard uncertainty from the marks of the ruler:
//
//	along the rim:    ∂/∂gap = 1/√(span²−gap²)    ∂/∂span = −gap/(span·√(span²−gap²))
//	along the level:  ∂/∂gap = span/(span²+gap²)  ∂/∂span = −gap/(span²+gap²)
//
// It fails when a number is missing or impossible, or the end is not said.
func FromGap(g Gap) (measure.Value[quantity.Angle], error) {
	if err := g.check(); err != nil {
		return measure.Value[quantity.Angle]{}, err
	}
	gap, span := g.Gap.Metres(), g.Span.Metres()
	var lean, perGap float64
	if g.Along == AlongRim {
		lean, perGap = math.Asin(gap/span), 1/math.Sqrt((span-gap)*(span+gap))
	} else {
		lean, perGap = math.Atan(gap/span), span/(span*span+gap*gap)
	}
	perSpan := perGap * gap / span
	spanResolution := g.SpanResolution
	if spanResolution == 0 {
		spanResolution = g.Resolution
	}
	out := measure.Value[quantity.Angle]{Value: quantity.Radians(lean), Standard: measure.Combine(
		measure.Contribution[quantity.Angle](measure.Sensitivity(perGap), measure.Resolution(g.Resolution)),
		measure.Contribution[quantity.Angle](measure.Sensitivity(perSpan), measure.Resolution(spanResolution)),
	)}
	if g.At == Top && gap > 0 {
		out.Value = -out.Value
	}
	return out, nil
}

func (g Gap) check() error {
	for _, l := range []quantity.Length{g.Gap, g.Span, g.Resolution, g.SpanResolution} {
		if !quantity.Finite(l) {
			return quantity.Inputf("Enter the gap, the span and the ruler's marks again.", "One of the lengths is not a number.")
		}
	}
	switch {
	case g.Span <= 0:
		return quantity.Inputf("Measure on the rim between the two places that the level faces.", "The span is missing or not above zero.")
	case g.Gap < 0:
		return quantity.Inputf("Enter the gap as a size, and say whether it is at the top or at the bottom.", "The gap is below zero.")
	case g.Gap >= g.Span:
		return quantity.Inputf("Check that both are in the same unit and in the right field.", "The gap is not smaller than the span.")
	case g.Along != AlongRim && g.Along != AlongLevel:
		return quantity.Inputf("Choose along the rim, or along the level.", "It is not said how the span was measured.")
	case g.At != Top && g.At != Bottom && (g.At != "" || g.Gap > 0):
		return quantity.Inputf("Choose top or bottom: the sign follows from it.", "It is not said where the gap is.")
	case g.Resolution <= 0 || g.SpanResolution < 0:
		return quantity.Inputf("Enter the distance between two marks, such as 1 mm or 0.5 mm.", "The ruler's smallest mark is missing or not above zero.")
	case g.Resolution >= g.Span || g.SpanResolution >= g.Span:
		return quantity.Inputf("Check the unit of the ruler's marks.", "The ruler's marks are further apart than the span is long.")
	}
	return nil
}

// Question is a sentence to put to the person when a camber is not believable,
// or "" when there is nothing to ask.
func Question(camber quantity.Angle) string {
	switch {
	case !quantity.Finite(camber):
		return lang.T("The camber is not a number. Measure again.")
	case math.Abs(float64(camber.Mdeg())) > largest*1000:
		return lang.F("A camber of %s is far beyond what a road car is set to. Check that gap and span are in the same unit and in the right field.", quantity.FormatAngle(camber, quantity.Degree))
	}
	return ""
}

// GapFor is the inverse of FromGap: the gap that a target camber shows over a
// span, and at which end. A target of zero shows none, and the End is empty. It
// fails for a span that is not above zero and for a target that Question asks about.
func GapFor(target quantity.Angle, span quantity.Length, along Along) (quantity.Length, End, error) {
	switch {
	case !quantity.Finite(span) || span <= 0:
		return 0, "", quantity.Inputf("Measure on the rim between the two places that the level faces.", "The span is missing or not above zero.")
	case along != AlongRim && along != AlongLevel:
		return 0, "", quantity.Inputf("Choose along the rim, or along the level.", "It is not said how the span is measured.")
	case Question(target) != "":
		return 0, "", quantity.Inputf("Check the target and its unit: minutes are not degrees.", "The target camber is not believable for a road car.")
	case target == 0:
		return 0, "", nil
	}
	lean := math.Abs(target.Radians())
	share := math.Sin(lean)
	if along == AlongLevel {
		share = math.Tan(lean)
	}
	if target < 0 {
		return span * quantity.Length(share), Top, nil
	}
	return span * quantity.Length(share), Bottom, nil
}
