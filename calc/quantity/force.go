package quantity

// Force in newtons.
type Force float64

func Newtons(v float64) Force        { return Force(v) }
func PoundsForce(v float64) Force    { return Force(v * newtonPerLbf) }
func KilogramsForce(v float64) Force { return Force(v * newtonPerKgf) }

func (f Force) Newtons() float64        { return float64(f) }
func (f Force) PoundsForce() float64    { return float64(f) / newtonPerLbf }
func (f Force) KilogramsForce() float64 { return float64(f) / newtonPerKgf }

func (f Force) String() string { return figure(float64(f), 0) + " N" }
