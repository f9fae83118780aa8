package torque

import (
	"math"
	"strconv"
	"strings"

	"strutcard/calc/quantity"
)

// coarse are the pitches in millimetres of the coarse metric threads, by
// diameter (ISO 261, from memory; the stress areas agree with ISO 898-1).
var coarse = map[int]float64{5: 0.8, 6: 1, 8: 1.25, 10: 1.5, 12: 1.75, 14: 2, 16: 2, 18: 2.5, 20: 2.5}

const finest = 0.5 // millimetres; finer is not found on a car's suspension

// Bounds of the friction factor K, lubricated to plain dry, and the share of the
// proof load that a reused bolt is tightened to.
const (
	slippery  quantity.Ratio = 0.12
	dry       quantity.Ratio = 0.20
	proofPart quantity.Ratio = 0.75
)

// thread is a metric thread.
type thread struct {
	name     string
	diameter quantity.Length
	pitch    quantity.Length
}

// Known reports whether Question can judge this thread: a metric one from M5 to
// M20, written like "M12" (coarse) or "M12x1.25".
func Known(name string) bool {
	_, ok := parseThread(name)
	return ok
}

func parseThread(name string) (thread, bool) {
	s := strings.ToLower(strings.ReplaceAll(name, " ", ""))
	s, ok := strings.CutPrefix(s, "m")
	if !ok {
		return thread{}, false
	}
	size, fine, hasPitch := strings.Cut(strings.ReplaceAll(s, "×", "x"), "x")
	d, err := strconv.Atoi(size)
	pitch, there := coarse[d]
	if err != nil || !there {
		return thread{}, false
	}
	if hasPitch {
		p, err := strconv.ParseFloat(strings.Replace(fine, ",", ".", 1), 64)
		if err != nil || !(p >= finest && p <= pitch) {
			return thread{}, false
		}
		pitch = p
	}
	return thread{name: "M" + s, diameter: quantity.Millimetres(float64(d)), pitch: quantity.Millimetres(pitch)}, true
}

// area is the nominal stress area in square metres: π/4·(d − 0.938194·P)²
// (ISO 898-1:2013, tables 4 and 5 are this rounded to three figures).
func (t thread) area() float64 {
	d := t.diameter.Metres() - 0.938194*t.pitch.Metres()
	return math.Pi / 4 * d * d
}

// Proof stresses in pascals, ISO 898-1:2013, table 3.
const (
	proof88Small = 580e6 // class 8.8 up to 16 mm
	proof88Large = 600e6 // class 8.8 above
	proof129     = 970e6 // class 12.9
	largestSmall = 16    // millimetres
)

func (t thread) proof88() float64 {
	if t.diameter.Millimetres() > largestSmall+0.5 {
		return proof88Large
	}
	return proof88Small
}

// preload is the part of the proof load that the bolt is tightened to.
func (t thread) preload(proofStress float64) quantity.Force {
	return quantity.Newtons(float64(proofPart) * t.area() * proofStress)
}

// nutTorque is T = K·d·F.
func nutTorque(k quantity.Ratio, d quantity.Length, f quantity.Force) quantity.Torque {
	return quantity.NewtonMetres(float64(k) * d.Metres() * f.Newtons())
}

// normal is the range of torques that common bolts of this thread get.
func (t thread) normal() (low, high quantity.Torque) {
	return nutTorque(slippery, t.diameter, t.preload(t.proof88())), nutTorque(dry, t.diameter, t.preload(proof129))
}
