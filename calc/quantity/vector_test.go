package quantity_test

import (
	_ "embed"
	"fmt"
	"math"
	"testing"

	"strutcard/calc/internal/vector"
	"strutcard/calc/quantity"
)

//go:embed testdata/quantity.json
var vectors []byte

func TestVectors(t *testing.T) {
	vector.Run(t, vectors, map[string]vector.Formula{
		"convert": convert,
		"weight": func(v *vector.Vector) ([]float64, error) {
			return one(quantity.Kilograms(v.Num("m_kg")).Weight().Newtons())
		},
		"degrees and minutes": func(v *vector.Vector) ([]float64, error) {
			a, err := quantity.ParseAngle(v.Text("text"))
			return []float64{a.Degrees()}, err
		},
		"whole minutes": func(v *vector.Vector) ([]float64, error) {
			return []float64{math.Round(quantity.Degrees(v.Num("deg")).Minutes())}, nil
		},
		"length": func(v *vector.Vector) ([]float64, error) {
			l, err := quantity.ParseLength(v.Text("text"))
			return []float64{l.Millimetres()}, err
		},
		"torque": func(v *vector.Vector) ([]float64, error) {
			q, err := quantity.ParseTorque(v.Text("text"))
			return []float64{q.NewtonMetres()}, err
		},
	})
}

func one(got float64) ([]float64, error) { return []float64{got}, nil }

func convert(v *vector.Vector) ([]float64, error) {
	x := v.Num("x")
	switch pair := v.Text("from") + " to " + v.Unit; pair {
	case "lbf·ft to N·m":
		return one(quantity.PoundFeet(x).NewtonMetres())
	case "lbf·in to N·m":
		return one(quantity.PoundInches(x).NewtonMetres())
	case "kgf·m to N·m":
		return one(quantity.KilogramForceMetres(x).NewtonMetres())
	case "N·m to lbf·ft":
		return one(quantity.NewtonMetres(x).PoundFeet())
	case "N·m to lbf·in":
		return one(quantity.NewtonMetres(x).PoundInches())
	case "lb to kg":
		return one(quantity.Pounds(x).Kilograms())
	case "short ton to kg":
		return one(quantity.ShortTons(x).Kilograms())
	case "lbf to N":
		return one(quantity.PoundsForce(x).Newtons())
	default:
		return nil, fmt.Errorf("no conversion %s here", pair)
	}
}
