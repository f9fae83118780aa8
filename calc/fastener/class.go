package fastener

import (
	"math"
	"strconv"
	"strings"

	"strutcard/calc/quantity"
)

// Class is the strength that is stamped on the head of a bolt: "8.8" of
// ISO 898-1, or "Gr5" of SAE J429, shown as three radial lines.
type Class string

const (
	Unstated Class = "" // the class is not known
	Grade5   Class = "Gr5"
	Grade8   Class = "Gr8"
)

// Strength is what a class promises at least.
type Strength struct {
	Tensile, Yield, Proof quantity.Pressure
}

func megapascals(tensile, yield, proof float64) Strength {
	return Strength{quantity.Megapascals(tensile), quantity.Megapascals(yield), quantity.Megapascals(proof)}
}

func kilopounds(tensile, yield, proof float64) Strength {
	return Strength{quantity.PoundsPerSquareInch(1000 * tensile), quantity.PoundsPerSquareInch(1000 * yield), quantity.PoundsPerSquareInch(1000 * proof)}
}

// classes are the minima of ISO 898-1:2013, table 3, and SAE J429 (1/4 to 1 in).
var classes = map[Class]Strength{
	"4.6": megapascals(400, 240, 225), "4.8": megapascals(420, 340, 310),
	"5.6": megapascals(500, 300, 280), "5.8": megapascals(520, 420, 380),
	"6.8": megapascals(600, 480, 440), "8.8": megapascals(800, 640, 580),
	"9.8": megapascals(900, 720, 650), "10.9": megapascals(1040, 940, 830), "12.9": megapascals(1220, 1100, 970),
	Grade5: kilopounds(120, 92, 85), Grade8: kilopounds(150, 130, 120),
}

// Above this diameter class 8.8 is stronger and class 9.8 is not made.
const split = 16 // millimetres

var large88 = megapascals(830, 660, 600)

// Classes lists what a person can choose from, metric first, the weakest first.
func Classes() []Class {
	return []Class{"4.6", "4.8", "5.6", "5.8", "6.8", "8.8", "9.8", "10.9", "12.9", Grade5, Grade8}
}

// ParseClass reads "8.8", "8,8", "Gr 5" or "grade 5". Nothing at all is Unstated.
func ParseClass(text string) (Class, error) {
	s := strings.ReplaceAll(strings.ToLower(strings.ReplaceAll(text, " ", "")), ",", ".")
	if s == "" {
		return Unstated, nil
	}
	for _, prefix := range []string{"grade", "gr.", "gr"} {
		if number, ok := strings.CutPrefix(s, prefix); ok {
			s = "Gr" + number
			break
		}
	}
	if _, ok := classes[Class(s)]; !ok {
		return Unstated, quantity.Inputf("Read it off the head of the bolt: 4.6 to 12.9 on a metric one, three lines for Gr5 and six for Gr8 on an inch one. Leave it open when there is no mark.", "The strength class is not one that is known here.")
	}
	return Class(s), nil
}

func (c Class) inch() bool { return c == Grade5 || c == Grade8 }

// Strength is that of a bolt of this class and thread: the least values, not the
// nominal ones.
func (c Class) Strength(t Thread) (Strength, error) {
	if err := t.check(); err != nil {
		return Strength{}, err
	}
	large := t.diameter.Millimetres() > split+0.5
	s, ok := classes[c]
	switch {
	case !ok:
		return Strength{}, quantity.Inputf("Read it off the head of the bolt, such as 8.8.", "The strength class is missing or not one that is known here.")
	case c.inch() != t.inch:
		return Strength{}, quantity.Inputf("Metric bolts have numbers like 8.8, inch bolts have lines for their grade. Look at thread and head once more.", "The strength class %s does not belong to the thread %s.", c, t.name)
	case c == "8.8" && large:
		return large88, nil
	case c == "9.8" && large:
		return Strength{}, quantity.Inputf("Read the mark on the head once more.", "Class 9.8 is not made above 16 mm.")
	}
	return s, nil
}

// Nominal decodes a metric class a.b: tensile strength 100·a, yield 10·a·b, in
// megapascals. These are names, not minima: what counts is Strength, which for
// 10.9 and 12.9 is more.
func (c Class) Nominal() (tensile, yield quantity.Pressure, err error) {
	if _, ok := classes[c]; !ok || c.inch() {
		return 0, 0, quantity.Inputf("Only metric classes such as 10.9 are read this way.", "The strength class cannot be decoded.")
	}
	first, second, _ := strings.Cut(string(c), ".")
	a, _ := strconv.Atoi(first) // the table holds nothing but numbers
	b, _ := strconv.Atoi(second)
	return quantity.Megapascals(float64(100 * a)), quantity.Megapascals(float64(10 * a * b)), nil
}

// ProofLoad is the pull that a bolt bears without staying longer.
func ProofLoad(t Thread, c Class) (quantity.Force, error) {
	s, err := c.Strength(t)
	return t.load(s.Proof), err
}

// UltimateLoad is the least pull at which it may break.
func UltimateLoad(t Thread, c Class) (quantity.Force, error) {
	s, err := c.Strength(t)
	return t.load(s.Tensile), err
}

// load rounds the area of a metric thread to three figures, as ISO 898-1 does
// before it multiplies.
func (t Thread) load(p quantity.Pressure) quantity.Force {
	a := t.StressArea()
	if !t.inch && a > 0 {
		step := math.Pow(10, math.Floor(math.Log10(a.SquareMillimetres()))-2)
		a = quantity.SquareMillimetres(math.Round(a.SquareMillimetres()/step) * step)
	}
	return quantity.Newtons(float64(a) * float64(p))
}
