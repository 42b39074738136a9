package asked

import (
	"fmt"

	"hemline/checks/figures"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/quantity"
)

// leastAbsorption, dB, is what a wall must absorb for that to be a bound: under
// it reflections inside the wall matter too (MIL-HDBK-419A, vol. 1, ch. 8).
const leastAbsorption = 10

// roundingOfLevels, dB, is what the rounding of float64 may make of a level.
const roundingOfLevels = 1e-9

// shielding holds what the known openings and the copper allow at most against
// what is asked for. Nothing says how much the wall holds back at least.
func shielding(b *board.Board, r board.Request, _ func() Pairs) Answer {
	i := b.Info()
	switch {
	case !i.Frequency.Given():
		return notVerified(r, "the board states no frequency that the wall is to shield at")
	case !b.Plated():
		return notVerified(r, nothingPlated)
	}
	want := i.Shielding.Value - roundingOfLevels
	openings := figures.Openings(b)
	most, worst, known := figures.OpeningBound(b, openings)
	absorbs, copper := figures.Absorbs(b)
	says := func(dB float64) (string, string) {
		return quantity.Pair(quantity.Of(dB, quantity.Decibel), i.Shielding.Quantity)
	}
	if copper && absorbs >= leastAbsorption && absorbs < want && (!known || absorbs < most) {
		got, asked := says(absorbs)
		return short(r, []Shortage{{Items: []string{i.Name.Text},
			Why: fmt.Sprintf("the wall's copper absorbs %s at %s; the board asks for %s", got, i.Frequency, asked)}})
	}
	if known && most < want {
		got, asked := says(most)
		by, name, at := worst.Maker()
		return short(r, []Shortage{{Items: []string{name},
			Why: fmt.Sprintf("the wall shields at most %s at %s, limited by its opening at %s, %s long; the board asks for %s",
				got, i.Frequency, by, quantity.Nanometres(worst.Longest), asked),
			Related: []finding.Related{{Place: at, Message: "the opening that leaks most"}}}})
	}
	switch {
	case copper && absorbs < want && absorbs < leastAbsorption:
		got, _ := says(absorbs)
		return notVerified(r, "the wall's copper absorbs %s at %s; under %g dB reflections inside the wall matter too, and the formula is no bound", got, i.Frequency, float64(leastAbsorption))
	case !known:
		return notVerified(r, "no opening of the wall is known, so nothing bounds what it shields")
	}
	got, _ := says(most)
	return met(r, "not short: the known openings allow at most %s at %s%s", got, i.Frequency, unplated(openings))
}

// unplated says how much edge beside the walls is not plated at all, which the
// bound leaves out; "" where there is none.
func unplated(openings []figures.Opening) string {
	sum := 0.0
	for _, o := range openings {
		if !o.Made() {
			sum += o.Stretch.Length()
		}
	}
	if sum <= board.Tolerance {
		return ""
	}
	return fmt.Sprintf("; %s of edge that no plating runs on is not counted", quantity.Nanometres(sum))
}
