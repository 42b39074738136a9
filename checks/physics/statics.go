package physics

import "math"

// Figures of the board's laminate, glass-epoxy sheet.
const (
	// LaminateDensity is in kg/m³, typical of data sheets, which give from
	// LaminateLeast to LaminateMost.
	LaminateDensity = 1850.0
	LaminateLeast   = 1800.0
	LaminateMost    = 1900.0
	// BendingLeast, Pa, is the least flexural strength that IPC-4101/21 asks
	// for crosswise (3.2 mm test, from memory), for what must hold.
	BendingLeast = 345e6
	// BendingTypical, Pa, is what typical sheets reach lengthwise (data sheets
	// give 689 and 720 MPa), for what must break.
	BendingTypical = 689e6
	// YoungLengthwise and YoungCrosswise, Pa, are typical of data sheets.
	YoungLengthwise, YoungCrosswise = 24e9, 21e9
	// Gravity is standard gravity, m/s² (ISO 80000-3).
	Gravity = 9.80665
)

// BreakMoment is the moment, N·m, at which a rectangular section b wide and h
// high breaks: σ·b·h²/6. Textbook (section modulus).
func BreakMoment(b, h, strength float64) (float64, bool) {
	if !positive(b, h, strength) {
		return 0, false
	}
	return strength * b * h * h / 6, true
}

// BoardMass is the mass, kg, of bare laminate: area times thickness, copper and
// parts left out.
func BoardMass(area, thickness float64) (float64, bool) {
	if !positive(area, thickness) {
		return 0, false
	}
	return area * thickness * LaminateDensity, true
}

// Spring is one of a stiff board's supports. All give way alike under an upright
// force; each holds back the board's turning too, Turn, m², times as much as it
// does an upright way. For a tab of uniform section and length l, clamped at both
// ends, that is l²/3: 4·E·I/l over 12·E·I/l³ (textbook, beam with clamped ends).
type Spring struct{ X, Y, Turn float64 }

// Reaction is what a support does: it bears a force, N, under 0 where it pulls the
// board down, and a moment, N·m, by which the force seems to act beside it: toward X
// and toward Y.
type Reaction struct{ Force, X, Y float64 }

// OnSprings is what each of a stiff board's supports bears of a weight, N, whose
// centre is at x, y, m. Forces and moments are in balance with the weight whatever
// the springs are. Three supports well apart bear what statics alone says; more
// share by their springs; those on one line hold what hangs beside it by their
// moments alone, as a cantilever is held. Valid for a board that is stiff beside its
// supports, and for small turning. Source: rigid body on linear springs, textbook.
func OnSprings(at []Spring, weight, x, y float64) ([]Reaction, bool) {
	n := float64(len(at))
	if n == 0 || !positive(weight) || !finite(x, y) {
		return nil, false
	}
	var mx, my, xx, xy, yy float64
	for _, s := range at {
		if !positive(s.Turn) || !finite(s.X, s.Y) {
			return nil, false
		}
		mx, my = mx+s.X/n, my+s.Y/n
	}
	for _, s := range at {
		dx, dy := s.X-mx, s.Y-my
		xx, xy, yy = xx+dx*dx+s.Turn, xy+dx*dy, yy+dy*dy+s.Turn
	}
	// The board sinks by weight/n and leans by a and b: (xx xy; xy yy)·(a, b) is the
	// weight's moment about the supports' middle.
	det := xx*yy - xy*xy
	ox, oy := weight*(x-mx), weight*(y-my)
	a, b := (ox*yy-oy*xy)/det, (oy*xx-ox*xy)/det
	if !finite(a, b) {
		return nil, false
	}
	list := make([]Reaction, len(at))
	for i, s := range at {
		list[i] = Reaction{weight/n + a*(s.X-mx) + b*(s.Y-my), s.Turn * a, s.Turn * b}
	}
	return list, true
}

func finite(values ...float64) bool {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}

// Sag is how far, m, a board of mass (kg) spread evenly sags in its middle, held along
// two opposite edges a length apart: 5·W·l³/(384·E·I), I = width·thickness³/12, for a
// modulus of elasticity E in Pa. At room temperature only: above the glass transition E
// drops several fold. Cutouts weaken the board further, copper stiffens it. Textbook
// (uniformly loaded beam).
func Sag(mass, length, width, thickness, modulus float64) (float64, bool) {
	if !positive(mass, length, width, thickness, modulus) {
		return 0, false
	}
	inertia := width * thickness * thickness * thickness / 12
	return 5 * mass * Gravity * length * length * length / (384 * modulus * inertia), true
}
