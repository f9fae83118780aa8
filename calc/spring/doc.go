// Package spring computes what a spring does at the wheel, how fast and how
// long the car swings on it, and what four scales under the wheels say.
//
// # Method
//
// A spring rarely sits straight over the wheel, so it moves less than the wheel
// does and works through a lever. The same lever is written in three ways, all
// of them called motion ratio by somebody: spring travel over wheel travel (0.6),
// wheel travel over spring travel (1.67), and the square of the first (0.36).
// Motion says which is meant. With r = spring travel over wheel travel:
//
//	wheel rate    = spring rate · r²
//	wheel travel  = spring travel / r
//	inclined:     r = (ratio at the mount) · cos(angle between spring and its mount's path)
//	ride rate     = wheel rate · tyre rate / (wheel rate + tyre rate)
//
// The mass on one wheel, without the wheel itself, swings on that rate:
//
//	frequency           f = √(rate / mass) / 2π
//	from the sag x      f = √(g / x) / 2π   x from free length to the load, straight spring
//	critical damping    c = 2 · √(rate · mass)
//	damping ratio       ζ = damping / c
//	damped frequency    f · √(1 − ζ²)
//	decay               δ = ln(first swing / later swing) / cycles,  ζ = δ / √(4π² + δ²)
//
// A spring carrying F is pressed F / rate shorter, whatever the preload: preload
// does not make a spring harder. On a damper of fixed length the preload p only
// takes the shaft that much less far in:
//
//	shaft in = F / rate − p   (nothing while F is below rate · p)
//
// Four scales:
//
//	front share = (front left + front right) / total
//	left share  = (front left + rear left) / total
//	cross       = (front right + rear left) / total
//
// Cross always means the diagonal front right with rear left here. Some people
// mean the other one; its share is given beside it under its own name.
//
// One spring seat raised by D, as it would show at a wheel hanging free, loads
// that corner and the opposite one and unloads the two others:
//
//	P = D / (1/k1 + 1/k2 + 1/k3 + 1/k4)
//
// This is the balance of a stiff flat body on four springs with equal track
// front and rear, and with the anti-roll bars disconnected. The body itself
// rises at that corner by D − P/k, not by D.
//
// # Sign
//
// Directions are asked and answered in words: raise or lower the car. Loads and
// heights of a shift are positive for more load and for up. Lengths by which a
// spring is pressed are positive when it is shorter. Nothing here is mirrored
// from left to right. ISO 8855 has no sign of its own for these figures.
//
// # Range
//
// Sizes that no car has are refused: they are units mixed up. Rates from 0.01
// to 10 000 N/mm, masses from 1 kg to 100 t, frequencies from 0.01 to 100 Hz. A
// spring is taken as straight: its rate is the same all the way. A progressive
// spring has another rate at every height.
//
// # Sources
//
// Swing on a spring, decay and series springs: NCERT Physics XI, example 14.21,
// and textbooks on vibration. Worked car example: an engineering forum. Bands of
// frequency: the published tip "Springs and Dampers, Part One". Usual damping
// ratio: from memory of a handbook on vehicle dynamics. Corner weights: a
// suspension maker's article and a motor sport magazine. Perch: statics, checked
// against a solved system of equations. Energy of a squeezed spring: ½·k·x².
//
// # What is not in it
//
// Anti-roll bars, rubber bushes that add to the rate, friction, dampers that
// differ between bump and rebound, a body that twists, unequal tracks. The
// uncertainty of a corner weight covers the scale's smallest step only: not
// whether the four stand level, whether the car has settled, nor who and what
// was in it. Two sets with different load in the car cannot be compared.
package spring
