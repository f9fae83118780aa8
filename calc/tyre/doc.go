// Package tyre computes how the pressure of a tyre changes with its warmth, and
// what three temperatures across the tread may hint at.
//
// # Method
//
// Air shut in a tyre of unchanging size (Gay-Lussac's law), pressures counted
// from nothing and temperatures in kelvins:
//
//	p2 = p1 · T2 / T1
//
// A gauge shows the pressure above the air around it, the ambient pressure pa,
// which has to be said: 1.013 bar is usual at the sea, about 0.8 bar at 2000 m.
//
//	p2 = (p1 + pa) · T2 / T1 − pa
//
// Three temperatures of one tread, inner side, middle and outer side, taken at
// once after driving:
//
//	spread            = hottest − coldest
//	centre over edges = middle − (inner + outer) / 2
//	inner over outer  = inner − outer
//
// Centre over edges positive hints at too much pressure, negative at too little.
// Inner over outer positive hints at much negative camber, negative at little.
// They are hints. On the road the car maker's pressure decides, cold.
//
// # Sign
//
// Inner and outer are asked in words: inner is the side towards the car, so left
// and right are not mirrored by a sign. Positive as said above. ISO 8855 has no
// sign for any of this.
//
// # Range
//
// Gauge pressures from 0.5 to 6 bar, absolute ones from 1 to 7.2 bar, ambient
// from 0.5 to 1.1 bar, temperatures from −50 to 150 °C, for the tread to 200 °C.
// Anything else is refused: a unit mixed up, or gauge taken for absolute.
//
// # Sources
//
// Gay-Lussac's law: textbooks on physics. Temperatures: a race team's published
// tip, which wants no more than 20 °F (11 K) between the hottest and the coldest
// place. Ambient pressure by height: standard atmosphere, from memory.
//
// # What is not in it
//
// A tyre grows a little when warm, and moist air does not follow the law
// exactly; both are left out. The air in the tyre is not as warm as the tread.
// The hint comes from race tyres on a track: on a road car, a straight motorway
// or a wet road tells nothing, and toe, driving and road crown show in it too.
// The uncertainty covers reading the instruments only.
package tyre
