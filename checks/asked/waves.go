package asked

import (
	"fmt"
	"math"

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
func shielding(b *board.Board, r board.Request, on Grounds) Answer {
	i := b.Info()
	switch {
	case !i.Frequency.Given():
		return notVerified(r, "the board states no frequency that the wall is to shield at")
	case !b.Plated():
		return notVerified(r, nothingPlated)
	}
	want := i.Shielding.Value - roundingOfLevels
	openings := figures.Openings(b, on.Tolerances)
	most, nominal, worst, _ := figures.OpeningBounds(b, openings)
	known := !math.IsInf(most.Worst, 1)
	absorbs, copper := figures.Absorbs(b)
	says := func(dB float64) (string, string) {
		return quantity.Pair(quantity.Of(dB, quantity.Decibel), i.Shielding.Quantity)
	}
	if copper && absorbs >= leastAbsorption && absorbs < want && (!known || absorbs < most.Nominal) {
		got, asked := says(absorbs)
		return short(r, []Shortage{{Items: []string{i.Name.Text},
			Why: fmt.Sprintf("the wall's copper absorbs %s at %s; the board asks for %s", got, i.Frequency, asked)}})
	}
	if most.Worst < want {
		got, asked := says(most.Worst)
		atWorst, by, size := " at worst", worst, "closed as drawn, "+worst.AtWorst(quantity.Nanometres(worst.Worst).String())
		if worst.Nominal > 0 {
			size = worst.Size.String()
		}
		if most.Nominal < want {
			got, asked = says(most.Nominal)
			atWorst, by, size = "", nominal, quantity.Nanometres(nominal.Nominal).String()+" long"
		}
		maker, name, at := by.Maker()
		s := Shortage{Items: []string{name},
			Why: fmt.Sprintf("the wall shields at most %s%s at %s, limited by its opening at %s, %s; the board asks for %s",
				got, atWorst, i.Frequency, maker, size, asked),
			Related: []finding.Related{{Place: at, Message: "the opening that leaks most"}}}
		return short(r, []Shortage{s})
	}
	switch {
	case copper && absorbs < want && absorbs < leastAbsorption:
		got, _ := says(absorbs)
		return notVerified(r, "the wall's copper absorbs %s at %s; under %g dB reflections inside the wall matter too, and the formula is no bound", got, i.Frequency, float64(leastAbsorption))
	case !known:
		return notVerified(r, "no opening of the wall is known, so nothing bounds what it shields")
	}
	got, _ := says(most.Worst)
	got += " at worst"
	if !math.IsInf(most.Nominal, 1) && most.Nominal > most.Worst {
		drawn, _ := says(most.Nominal)
		got = drawn + ", " + got + ","
	} else if most.Nominal == most.Worst {
		got, _ = says(most.Nominal)
	}
	return met(r, "not short: the known openings allow at most %s at %s%s", got, i.Frequency, unplated(openings))
}

// unplated says how much edge beside the walls is not plated at all, which the
// bound leaves out; "" where there is none.
func unplated(openings []figures.Opening) string {
	sum := 0.0
	for _, o := range openings {
		if !o.Made() && o.Nominal > 0 {
			sum += o.Stretch.Length()
		}
	}
	if sum <= board.Tolerance {
		return ""
	}
	return fmt.Sprintf("; %s of edge that no plating runs on is not counted", quantity.Nanometres(sum))
}
