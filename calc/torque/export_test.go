package torque

import "strutcard/calc/quantity"

// What stands behind Question is not exported, so that nobody takes a torque
// from it; the tests need it to compare with the sources.

var NutTorque = nutTorque

func StressAreaMM2(name string) float64 {
	t, _ := parseThread(name)
	return t.area() * 1e6
}

func Preload88(name string) quantity.Force  { t, _ := parseThread(name); return t.preload(t.proof88()) }
func Preload129(name string) quantity.Force { t, _ := parseThread(name); return t.preload(proof129) }

func Diameter(name string) quantity.Length { t, _ := parseThread(name); return t.diameter }

func Normal(name string) (low, high quantity.Torque) {
	t, _ := parseThread(name)
	return t.normal()
}
