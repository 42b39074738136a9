package physics

// Figures of the board's laminate, glass-epoxy sheet.
const (
	// LaminateDensity is in kg/m³; typical of data sheets.
	LaminateDensity = 1850.0
	// BendingLeast, Pa, is the least flexural strength that IPC-4101/21 asks
	// for crosswise (3.2 mm test, from memory), for what must hold.
	BendingLeast = 345e6
	// BendingTypical, Pa, is what typical sheets reach lengthwise (data sheets
	// give 689 and 720 MPa), for what must break.
	BendingTypical = 689e6
	// TensileCrosswise, Pa, is typical of data sheets.
	TensileCrosswise = 270e6
	// YoungLengthwise, Pa, is typical of data sheets.
	YoungLengthwise = 24e9
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

// PullForce is the force, N, that tears a section: σ·b·h.
func PullForce(b, h, strength float64) (float64, bool) {
	if !positive(b, h, strength) {
		return 0, false
	}
	return strength * b * h, true
}

// SagCantilever is how far, m, a board of length l and thickness t held at
// one end sags at the other under its own weight: 1.5·ρ·g·l⁴/(E·t²). Room
// temperature only; above the glass transition E drops several fold. Textbook
// (uniformly loaded beam, w·l⁴/(8·E·I)).
func SagCantilever(l, t float64) (float64, bool) {
	if !positive(l, t) {
		return 0, false
	}
	return 1.5 * LaminateDensity * Gravity * l * l * l * l / (YoungLengthwise * t * t), true
}

// SagSupported is the same in the middle of a board held at both ends:
// 5·w·l⁴/(384·E·I). Textbook.
func SagSupported(l, t float64) (float64, bool) {
	if !positive(l, t) {
		return 0, false
	}
	return 5.0 / 32 * LaminateDensity * Gravity * l * l * l * l / (YoungLengthwise * t * t), true
}

// BoardMass is the mass, kg, of a bare board: area times thickness, copper and
// parts left out.
func BoardMass(area, thickness float64) (float64, bool) {
	if !positive(area, thickness) {
		return 0, false
	}
	return area * thickness * LaminateDensity, true
}
