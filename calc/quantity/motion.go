package quantity

// Frequency in hertz.
type Frequency float64

func Hertz(v float64) Frequency { return Frequency(v) }

func (f Frequency) Hertz() float64 { return float64(f) }

func (f Frequency) String() string { return fixed(float64(f), 2) + " Hz" }

// Damping in newton seconds per metre: a damper's force over its speed.
type Damping float64

func NewtonSecondsPerMetre(v float64) Damping { return Damping(v) }

func (d Damping) NewtonSecondsPerMetre() float64 { return float64(d) }

func (d Damping) String() string { return fixed(float64(d), 0) + " N·s/m" }

// Acceleration in metres per second squared, as a phone's sensor gives it.
type Acceleration float64

func MetresPerSecondSquared(v float64) Acceleration { return Acceleration(v) }

func (a Acceleration) MetresPerSecondSquared() float64 { return float64(a) }

func (a Acceleration) String() string { return fixed(float64(a), 2) + " m/s²" }
