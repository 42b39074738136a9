package figures

import (
	"math"

	"hemline/checks/physics"
	"hemline/lang/board"
	"hemline/lang/quantity"
)

// assumedPermittivity is taken where the stack states none: typical of FR-4.
const assumedPermittivity = 4.3

// Permittivity is the greatest relative permittivity of the stack's
// dielectrics, which makes the shortest wavelength; stated is false where the
// text gives none and a typical value is taken.
func Permittivity(b *board.Board) (er float64, stated bool) {
	for _, l := range b.Stack().Layered() {
		er = math.Max(er, l.Permittivity.Value)
	}
	if er == 0 {
		return assumedPermittivity, false
	}
	return er, true
}

// WavelengthIn is the wavelength in the board at its highest frequency, nm; ok
// is false where the board states no frequency.
func WavelengthIn(b *board.Board) (float64, bool) {
	if b.Info() == nil || !b.Info().Frequency.Given() {
		return 0, false
	}
	er, _ := Permittivity(b)
	lambda, ok := physics.Wavelength(b.Info().Frequency.Value, er)
	return quantity.OfMetres(lambda), ok
}

// Absorbs is what the thinnest stated wall copper absorbs at the board's
// frequency, dB.
func Absorbs(b *board.Board) (float64, bool) {
	if b.Info() == nil || !b.Info().Frequency.Given() {
		return 0, false
	}
	depth, ok := physics.SkinDepth(b.Info().Frequency.Value, physics.Rho20)
	if !ok {
		return 0, false
	}
	least := math.Inf(1)
	for _, p := range b.Platings() {
		if p.Copper.Given() {
			if a, ok := physics.Absorption(quantity.InMetres(p.Copper.Value), depth); ok {
				least = math.Min(least, a)
			}
		}
	}
	return least, !math.IsInf(least, 1)
}
