// Package cavity works out how the flat cavity between two planes resonates:
// shapes in, modes out. It knows nothing of boards. Lengths are in metres,
// frequencies in hertz.
//
// Between planes far closer than half a wavelength the field E stands upright and
// obeys -∆E = k²·E in their plane; E = 0 on electric walls, ∂E/∂n = 0 on open edges,
// f = c·k / (2π·√εr) (Pozar, Microwave Engineering, from memory). Walls conduct
// perfectly, the filling loses nothing and is the same everywhere.
//
// Conventions and limits:
//   - No fringing is added at open edges. A real one acts as if the plane went on, by
//     up to the planes' distance or so: frequencies are high by up to 1.6 % at 1.6 mm on
//     30 by 20 mm (Hammerstad 1975), less on larger or flatter cavities. This is the
//     optimistic side; checks/figures widens the range by it.
//   - A row of vias is a sheet that E drives a current in, by pitch and hole. It holds
//     for holes of up to a third of the pitch, and pitches far under a wavelength; wider
//     holes count as a solid wall on the row's line, which is cautious: a wall of holes
//     lies up to hole²/(1.9·pitch) inside it. The row goes on for half a pitch at a free
//     end. Vias on the very edge do nothing; an electric side says so instead.
//   - Arcs come as chords: 180 a circle are 2e-4 off in k².
//   - Cutouts and slits of any width count, also those narrower than a cell.
//   - A piece of the cavity that no wall or fence holds could take a constant field; that
//     is no mode and left out.
//
// Least and Most hold 19 of 20 first modes of odd boards. Those that they do not hold
// have walls that begin a millimetre or two from a corner that juts in.
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
	// Least and Most are what F may be by the method's error alone.
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
