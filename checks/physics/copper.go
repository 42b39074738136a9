package physics

import "math"

// Figures of copper.
const (
	// Rho20 is the resistivity of annealed copper at 20 °C, Ω·m: the
	// International Annealed Copper Standard, 58.0 MS/m (IEC 60028).
	Rho20 = 1.7241e-8
	// Alpha20 is its temperature coefficient at 20 °C, 1/K (IEC 60028).
	Alpha20 = 0.00393
	// CopperDensity is in kg/m³ (fact sheets give 8890 to 8960).
	CopperDensity = 8960.0
	// CopperLeast is the lightest that fact sheets give, kg/m³.
	CopperLeast = 8890.0
)

// Resistivity is ρ(T) = ρ20·(1+α20·(T−20)), Ω·m, at T in °C. Linear law of
// IEC 60028; taken as valid from −100 to 200 °C.
func Resistivity(celsius float64) (float64, bool) {
	if !(celsius >= -100 && celsius <= 200) {
		return 0, false
	}
	return Rho20 * (1 + Alpha20*(celsius-20)), true
}

// SkinDepth is δ = √(ρ/(π·f·µ0)), m, in a smooth wall with µr = 1 (not of
// nickel). Sources: textbook; Johnson, Transmission Lines and Networks,
// McGraw-Hill 1963, p. 58, as cited: 6.64/√f cm for copper.
func SkinDepth(f, rho float64) (float64, bool) {
	if !positive(f, rho) {
		return 0, false
	}
	return math.Sqrt(rho / (math.Pi * f * Mu0)), true
}

// Absorption is A = 8.686·t/δ dB, what a closed wall of thickness t absorbs.
// Under 10 dB reflections inside the wall matter too, and the value is no
// bound. Source: MIL-HDBK-419A, vol. 1, ch. 8.
func Absorption(thickness, skinDepth float64) (float64, bool) {
	if !positive(thickness, skinDepth) {
		return 0, false
	}
	return 20 / math.Ln10 * thickness / skinDepth, true
}

// SheetResistance is ρ/t, Ω per square.
func SheetResistance(rho, thickness float64) (float64, bool) {
	if !positive(rho, thickness) {
		return 0, false
	}
	return rho / thickness, true
}

// StripResistance is the resistance, Ω, of a strip of a sheet: sheet·length/width.
// Along a wall the length is the stretch and the width the board's height; from
// face to face the other way round.
func StripResistance(sheet, length, width float64) (float64, bool) {
	if !positive(sheet, length, width) {
		return 0, false
	}
	return sheet * length / width, true
}

// mil2 is a square mil in m².
const mil2 = 25.4e-6 * 25.4e-6

// Where CurrentFor holds: rises in K, currents in A, copper in m.
const (
	RiseLeast, RiseMost     = 10.0, 100.0
	MostOutside, mostInside = 35.0, 17.5
	ThinLeast, ThickMost    = 17.5e-6, 105e-6 // 0.5 to 3 oz
	WidthMost               = 400 * 25.4e-6
)

// CurrentFor is the current, A, that a conductor of a cross section (m²)
// carries for a rise of temperature (K): I = k·ΔT^0.44·A^0.725 with A in
// square mils, k = 0.048 outside and 0.024 inside a board. Valid for rises of
// 10 to 100 K, up to 35 A outside and 17.5 A inside, for copper of 17.5 to 105 µm
// (0.5 to 3 oz) and at most 400 mil (10.16 mm) wide, which is for the caller to hold.
// Source: curve fit to IPC-2221, as a component maker gives it; conservative against
// IPC-2152.
func CurrentFor(section, rise float64, outer bool) (float64, bool) {
	if !positive(section, rise) || rise < RiseLeast || rise > RiseMost {
		return 0, false
	}
	k, most := 0.024, mostInside
	if outer {
		k, most = 0.048, MostOutside
	}
	i := k * math.Pow(rise, 0.44) * math.Pow(section/mil2, 0.725)
	return i, i <= most
}

// CopperMass is the mass, kg, of copper of an area (m²) and thickness (m).
func CopperMass(area, thickness float64) (float64, bool) {
	if !positive(area, thickness) {
		return 0, false
	}
	return area * thickness * CopperDensity, true
}
