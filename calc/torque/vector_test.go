package torque_test

import (
	_ "embed"
	"fmt"
	"testing"

	"strutcard/calc/internal/vector"
	"strutcard/calc/quantity"
	"strutcard/calc/torque"
)

//go:embed testdata/torque.json
var vectors []byte

func TestVectors(t *testing.T) {
	vector.Run(t, vectors, map[string]vector.Formula{
		"setting": func(v *vector.Vector) ([]float64, error) {
			lever, a := tool(v)
			got, err := torque.Setting(read(v, "T"), lever, a)
			return show(v, err, got)
		},
		"delivered": func(v *vector.Vector) ([]float64, error) {
			lever, a := tool(v)
			got, err := torque.Delivered(read(v, "M_set"), lever, a)
			return show(v, err, got)
		},
		"usable": func(v *vector.Vector) ([]float64, error) {
			low, high, err := wrench(v).Usable()
			return show(v, err, low, high)
		},
		"fit": func(v *vector.Vector) ([]float64, error) {
			fit, err := wrench(v).Fit(read(v, "setting"))
			return []float64{map[torque.Fit]float64{torque.TooLow: -1, torque.Within: 0, torque.TooHigh: 1}[fit]}, err
		},
		"window": func(v *vector.Vector) ([]float64, error) {
			low, high, err := torque.Window(read(v, "set"), quantity.Ratio(v.Num("e")))
			return show(v, err, low, high)
		},
		"stress area": func(v *vector.Vector) ([]float64, error) {
			return []float64{torque.StressAreaMM2(v.Text("thread"))}, nil
		},
		"preload 8.8":  func(v *vector.Vector) ([]float64, error) { return proof(torque.Preload88(v.Text("thread"))) },
		"preload 12.9": func(v *vector.Vector) ([]float64, error) { return proof(torque.Preload129(v.Text("thread"))) },
		"nut torque": func(v *vector.Vector) ([]float64, error) {
			return show(v, nil, torque.NutTorque(quantity.Ratio(v.Num("K")), quantity.Inches(v.Num("d_in")), quantity.PoundsForce(v.Num("F_lbf"))))
		},
		"chart 8.8": func(v *vector.Vector) ([]float64, error) {
			return show(v, nil, chart(v, torque.Preload88))
		},
		"chart 12.9": func(v *vector.Vector) ([]float64, error) {
			return show(v, nil, chart(v, torque.Preload129))
		},
		"question": func(v *vector.Vector) ([]float64, error) {
			if torque.Question(v.Text("thread"), read(v, "T")) != "" {
				return []float64{1}, nil
			}
			return []float64{0}, nil
		},
	})
}

func chart(v *vector.Vector, preload func(string) quantity.Force) quantity.Torque {
	thread := v.Text("thread")
	return torque.NutTorque(quantity.Ratio(v.Num("K")), torque.Diameter(thread), preload(thread))
}

// proof is the whole of what the preload is 75 % of.
func proof(preload quantity.Force) ([]float64, error) {
	return []float64{preload.Newtons() / 0.75}, nil
}

// read takes a torque in the vector's unit.
func read(v *vector.Vector, name string) quantity.Torque {
	switch quantity.TorqueUnit(v.Unit) {
	case quantity.PoundFoot:
		return quantity.PoundFeet(v.Num(name))
	case quantity.PoundInch:
		return quantity.PoundInches(v.Num(name))
	}
	return quantity.NewtonMetres(v.Num(name))
}

func show(v *vector.Vector, err error, torques ...quantity.Torque) ([]float64, error) {
	var out []float64
	for _, t := range torques {
		switch quantity.TorqueUnit(v.Unit) {
		case quantity.NewtonMetre:
			out = append(out, t.NewtonMetres())
		case quantity.PoundFoot:
			out = append(out, t.PoundFeet())
		case quantity.PoundInch:
			out = append(out, t.PoundInches())
		default:
			if err == nil {
				return nil, fmt.Errorf("no unit %q here", v.Unit)
			}
		}
	}
	return out, err
}

func tool(v *vector.Vector) (quantity.Length, torque.Adapter) {
	length := quantity.Millimetres
	if v.Text("length") == "in" {
		length = quantity.Inches
	}
	return length(v.Num("L")), torque.Adapter{Length: length(v.Num("E")), Angle: quantity.Degrees(v.Num("theta_deg"))}
}

func wrench(v *vector.Vector) torque.Wrench {
	return torque.Wrench{Lowest: read(v, "lowest"), Highest: read(v, "highest")}
}
