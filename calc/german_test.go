package calc_test

import (
	"testing"

	"strutcard/calc/adjust"
	"strutcard/calc/fastener"
	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/calc/ride"
	"strutcard/calc/tyre"
)

func speakGerman(t *testing.T) {
	t.Helper()
	if err := lang.Use(lang.German); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(lang.SpeakEnglish)
}

// Words that are data are not found by the walk over the sources.
func TestGermanOfTables(t *testing.T) {
	english := tableWords()
	speakGerman(t)
	for i, german := range tableWords() {
		if german == english[i] {
			t.Errorf("got no German for %q", german)
		}
	}
}

func tableWords() []string {
	texts := []string{ride.NoseDown.Words(), ride.NoseUp.Words(), ride.NoTilt.Words(),
		ride.Clear.Words(), ride.OnStop.Words(), ride.Solid.Words(), ride.Unclear.Words(),
		tyre.MuchPressure.Words(), tyre.LittlePressure.Words(), tyre.NoPressureHint.Words(),
		tyre.MuchCamber.Words(), tyre.LittleCamber.Words(), tyre.NoCamberHint.Words(), lang.T(tyre.Limits)}
	for _, d := range ride.PublishedDrops() {
		texts = append(texts, lang.T(d.Source))
	}
	for _, c := range []adjust.Caution{adjust.TwoReadings, adjust.OffLine, adjust.Unsettled, adjust.FromPaper, adjust.FarBeyond, adjust.EndOfRange,
		adjust.RangeUnknown, adjust.Coarser, adjust.Near, adjust.AfterTorque, adjust.ReadToe} {
		texts = append(texts, c.Words())
	}
	texts = append(texts, unitWords(quantity.LengthUnits())...)
	texts = append(texts, unitWords(quantity.AngleUnits())...)
	texts = append(texts, unitWords(quantity.MassUnits())...)
	texts = append(texts, unitWords(quantity.TorqueUnits())...)
	texts = append(texts, unitWords(quantity.PressureUnits())...)
	texts = append(texts, unitWords(quantity.StiffnessUnits())...)
	return append(texts, unitWords(quantity.TemperatureUnits())...)
}

func unitWords[U interface{ Words() string }](units []U) []string {
	var out []string
	for _, u := range units {
		out = append(out, u.Words())
	}
	return out
}

func TestGermanSentence(t *testing.T) {
	speakGerman(t)
	got := fastener.Question("M12", "8.8", quantity.NewtonMetres(940.5))
	want := "940,5 N·m sind mehr, als eine Schraube M12 der Festigkeitsklasse 8.8 üblicherweise bekommt. " +
		"Das ist etwa 14-mal so viel, wie eine solche Schraube üblicherweise bekommt. " +
		"Wenn in der Quelle lbf·in oder kgf·cm steht, ist das etwa zehnmal zu viel. " +
		"Die Zahl, ihre Einheit und das Gewinde noch einmal mit der Quelle vergleichen."
	if got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

// A field is filled with a figure, and must be able to read it back.
func TestGermanFigureIsReadBack(t *testing.T) {
	speakGerman(t)
	for _, u := range quantity.LengthUnits() {
		for _, mm := range []float64{-1234.5, 0.125, 3, 12.345, 25.4, 1234, 2600.5} {
			text := quantity.LengthFigure(quantity.Millimetres(mm), u)
			l, err := quantity.LengthOf(text, u)
			if again := quantity.LengthFigure(l, u); err != nil || again != text {
				t.Errorf("%g mm in %s: got %s, then %s (%v)", mm, u, text, again, err)
			}
		}
	}
}
