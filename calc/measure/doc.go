// Package measure keeps a measured value together with its uncertainty, and
// says whether a target is met, not met, or too close to tell.
//
// # Uncertainty
//
// A scale that can be read to a mark every a leaves the true value anywhere
// within ±a/2 with equal likelihood: a rectangular distribution, whose standard
// uncertainty is a/√12 (JCGM 100:2008, the GUM, 4.3.7). Contributions that do
// not depend on one another add as the root of the sum of squares, each times
// its sensitivity (5.1.2). The expanded uncertainty is twice the standard one,
// k = 2, about 95 % for a normal distribution (6.3.3).
//
// # Deciding
//
// With a value y, its expanded uncertainty U and a band from low to high, the
// target is Met when the whole interval y ± U lies inside the band (its edges
// belong to it), NotMet when the whole interval lies outside, TooClose
// otherwise. This is the idea of guard bands in JCGM 106:2012: a value near a
// limit is neither accepted nor rejected on the strength of one reading.
//
// The clause numbers and the tables of both documents are cited from memory;
// the factors of the t table are checked against gonum in the tests.
package measure
