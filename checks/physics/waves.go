// Package physics holds the formulas behind the figures, each a small pure
// function. Units are SI: metres, hertz, seconds, kilograms, amperes, ohms,
// kelvins; levels are in decibels of field strength.
//
// Each function says where its formula comes from and where it holds. Outside
// of that it returns false, "does not apply", and never a number.
package physics

import "math"

// C is the speed of light in vacuum, m/s (exact, SI).
const C = 299_792_458.0

// Mu0 is the magnetic constant, H/m: 4π·10⁻⁷, which CODATA's value equals to nine digits.
const Mu0 = 4e-7 * math.Pi

// positive tells whether every value is finite and more than 0.
func positive(values ...float64) bool {
	for _, v := range values {
		if !(v > 0) || math.IsInf(v, 1) {
			return false
		}
	}
	return true
}

// Wavelength is λ = c/(f·√εr), m, of a plane wave of frequency f in a
// lossless dielectric of relative permittivity er at that frequency.
// Valid for f > 0, er >= 1. Textbook; a slot in a plated wall lies between air
// and the board, and the board's er is the safe choice.
func Wavelength(f, er float64) (float64, bool) {
	if !positive(f, er) || er < 1 {
		return 0, false
	}
	return C / (f * math.Sqrt(er)), true
}

// OpenEnd is how much longer, m, a flat conductor w wide acts than it is at an open
// end, at a distance h over a wider one with er between:
// 0.412·h·(e+0.3)·(w/h+0.264)/((e−0.258)·(w/h+0.8)), the effective permittivity
// e = (er+1)/2 + (er−1)/2/√(1+12h/w). Two that end together are each half the distance
// over the plane of symmetry. Valid for er >= 1 and h far under a wavelength. Source:
// Hammerstad, Equations for Microstrip Circuit Design, European Microwave Conference
// 1975, as a stored page has it.
func OpenEnd(h, w, er float64) (float64, bool) {
	if !positive(h, w, er) || er < 1 {
		return 0, false
	}
	e := (er+1)/2 + (er-1)/2/math.Sqrt(1+12*h/w)
	return 0.412 * h * (e + 0.3) * (w/h + 0.264) / ((e - 0.258) * (w/h + 0.8)), true
}

// SlotShielding is the bound S = 20·log10(λ/(2·L)) dB on what a wall holds
// back whose openings together are L long, and 0 from half a wavelength on.
// For one opening L is its longest dimension. For several within half a wavelength
// of each other L is their sum: their amplitudes add, all in phase, the worst of this
// model; S = −20·log10 Σ 10^(−Si/20) of each one's Si. Powers, and with them
// 10·log10(n) for n alike, would give more.
// Valid for far field, a thin wall, no resonance: a bound, not a measurement.
// Sources: Vitek, IEEE EMC Symposium 1989, 10.1109/NSEMC.1989.37145; Ott,
// Electromagnetic Compatibility Engineering, Wiley 2009, ch. 6 (from memory).
func SlotShielding(length, lambda float64) (float64, bool) {
	if !positive(length, lambda) {
		return 0, false
	}
	if length >= lambda/2 {
		return 0, true
	}
	return 20 * math.Log10(lambda/(2*length)), true
}

// LongestOpening is the inverse of SlotShielding: the length
// L = λ/(2·10^(S/20)), m, that still leaves S dB. Valid for S >= 0.
func LongestOpening(lambda, shielding float64) (float64, bool) {
	if !positive(lambda) || !(shielding >= 0) || math.IsInf(shielding, 1) {
		return 0, false
	}
	return lambda / (2 * math.Pow(10, shielding/20)), true
}

// DeepOpening is what an opening of the given width and depth holds back
// below its cut-off, A = 8.686·d·√((π/w)² − k²) dB with k = 2πf√er/c.
// It does not apply at or above cut-off, f >= c/(2·w·√er).
// Sources: waveguide theory; 27.2 dB times d/w far below cut-off (Ott).
func DeepOpening(width, depth, f, er float64) (float64, bool) {
	if !positive(width, depth, f, er) || er < 1 {
		return 0, false
	}
	k, kc := 2*math.Pi*f*math.Sqrt(er)/C, math.Pi/width
	if k >= kc {
		return 0, false
	}
	return 20 / math.Ln10 * depth * math.Sqrt(kc*kc-k*k), true
}
