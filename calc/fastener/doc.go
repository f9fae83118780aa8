// Package fastener knows threads and the strength of bolts, only to question a
// torque that cannot be meant. It never supplies a torque.
//
// # Method
//
// Stress area, proof load and least breaking load:
//
//	A = π/4·(d − 0.938194·P)²   metric
//	A = π/4·(d − 0.974279·P)²   inch, P = 1 inch / threads per inch
//	proof load = A·proof stress     breaking load = A·tensile strength
//
// For metric loads the area is first rounded to three figures, as the standard
// does; the standard then rounds the load as well, once upwards without need
// (M10 class 8.8: 33 700 N beside 58.0·580 = 33 640 N), so that a printed load
// and this one differ by up to 0.6 %.
//
// Torque and the preload F that it gives, in three conventions:
//
//	short form    T = K·d·F
//	geometric K   K = d₂/2d·(tan λ + f/cos 30°)/(1 − f·tan λ/cos 30°) + 0.625·fc,  tan λ = P/(π·d₂)
//	VDI 2230      T = F·(0.16·P + 0.58·d₂·µ_thread + (dw + dh)/4·µ_head)
//	VDI 2230      F = A·ν·Rp/√(1 + 3·(1.5·d₂/d₀·(P/(π·d₂) + 1.155·µ))²)
//
// d₂ = d − 0.649519·P. The 0.625 stands for a bearing face 1.25 times as wide as
// the bolt. dw and dh are the outer diameter of the bearing face and its hole, ν
// the share of the yield strength Rp that is used, d₀ the diameter of A. K runs
// from 0.12 (slippery) to 0.20 (dry); the lists of K disagree, and Factors shows
// them all.
//
// Scatter of the preload, from the tightening factor or together with the
// wrench:
//
//	e = (αA − 1)/(αA + 1)
//	worst case: (1 + tool)·(1 + friction) − 1     likely: √(tool² + friction²)
//
// Thread engagement: full turns times the pitch, compared with one diameter in
// steel and two in aluminium.
//
// A torque is questioned when no bolt of its thread, or of its thread and class,
// would be tightened to it: K·d·F with F = 75 % of the proof load and K from 0.12
// to 0.20. Where no class is known the range begins with class 8.8 (inch: Gr5)
// and ends with class 12.9 (inch: Gr8). The sentence says how many times too
// much or too little, reckoned from the middle of the range and rounded to a
// whole number. The range is not shown to anyone, and no function gives it,
// lest it be used as a torque: the torque comes from the manual or the part's
// maker.
//
// # Range
//
// Metric threads from M5 to M20 with pitches from 0.5 mm to the coarse one; UNC
// and UNF from 1/4 to 3/4 inch. Classes 4.6 to 12.9, and Gr5 and Gr8. Class 8.8
// is stronger above 16 mm, class 9.8 ends there. Class and thread belong to the
// same system. Friction above 0 and below 1.
//
// # Sources
//
// Classes: ISO 898-1:2013, table 3, read in a supplier's full reproduction;
// Gr5 and Gr8: SAE J429, read in suppliers' tables. Loads of the coarse threads:
// ISO 898-1, tables 4 and 5, read in suppliers' reproductions. Areas of fine
// threads from memory; of inch threads read in tables of suppliers and a
// handbook site. Coarse pitches (ISO 261): M6 to M20 read in a supplier's sheet,
// M5 from memory; usual fine pitches, from memory. The limit of 16 mm for class
// 9.8: the ISO tables have no larger load.
//
// Short form: Speck, Mechanical Fastening, p. 85. Geometric K: Shigley, equation
// 8-26 and example 8-3, from memory. VDI 2230-1: equations from memory, which
// reproduce preloads and torques read in a catalogue's tables. K and scatter:
// the lists named in Factors and Scatters, read as quoted by others, the
// textbook's from memory. 75 % of the proof load for a bolt that is used again:
// Shigley, as quoted. One diameter in steel and two in aluminium: fastener notes
// of an owners' site, a rule of the trade.
//
// # What is not in it
//
// Prevailing torque of a locking nut, bolts tightened into yield by angle,
// flanged faces unless their width is given, temperature, and whether a bolt has
// been overtightened before. The limits of size of ISO 965 (threads are cut a
// little under the nominal size), which change the area by a few per cent.
package fastener
