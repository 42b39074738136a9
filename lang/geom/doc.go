// Package geom is plane geometry of straight lines and exact circular arcs.
//
// Lengths and coordinates are float64 numbers of nanometres (whole nanometres
// up to 2^53 are exact), areas square nanometres, y points up, angles are
// radians counterclockwise. Arcs stay arcs throughout; only Loop.Flatten
// replaces them by chords.
//
// There is no tolerance of the package's own: where two things that differ by
// rounding must count as one, the function takes tol, a length in nanometres.
// What is rounded is rounded to about 1e-15 of the largest coordinate.
//
// No input makes a function panic. Something without extent (a line from a
// point to itself, an arc of radius zero) has length zero and the zero vector
// for a direction. A coordinate that is NaN, infinite or beyond 1e100 is not
// finite: a segment with one has length zero, is at an infinite distance from
// everything and meets nothing, and a loop with such a segment has no area.
package geom
