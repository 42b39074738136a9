// Package cavity works out how the flat cavity between two planes resonates:
// shapes in, modes out. It knows nothing of boards. Lengths are in metres,
// frequencies in hertz.
package cavity

import "hemline/lang/geom"

// Shape is a flat cavity, far lower than half a wavelength.
type Shape struct {
	// Rings bound it: the outer ones run counterclockwise, those of holes clockwise.
	Rings []Ring
	// Fences are rows of vias inside it that join its two planes.
	Fences []Fence
	// Permittivity is the relative one of what fills it.
	Permittivity float64
}

// Ring is a closed row of straight sides.
type Ring []Side

// Side runs from At to where the next one starts.
type Side struct {
	At geom.Point
	// Electric tells that both planes are joined along it; else it is open, a
	// magnetic wall.
	Electric bool
}

// Fence is a row of vias along a path.
type Fence struct {
	Path  []geom.Point // its first and last point are the same where it closes
	Pitch float64      // from via to via, m
	Hole  float64      // diameter, m
}

// Want is what is asked of a cavity.
type Want struct {
	Modes    int     // how many, the lowest first
	Below    float64 // none at or above this frequency, Hz; 0 for any
	Accuracy float64 // relative, of the first mode, as 0.005
}

// Mode is a resonance.
type Mode struct {
	F float64 // Hz
	// Least and Most are what F may be by the method's error.
	Least, Most float64
	Field       Field
}

// Field is the voltage between the planes at a mode, its greatest size being 1,
// on a square grid: Columns by Rows nodes, Step apart, the first at Min, row by
// row; NaN where there is no cavity.
type Field struct {
	Min           geom.Point
	Step          float64
	Columns, Rows int
	At            []float64
}
