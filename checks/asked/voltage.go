package asked

import (
	"slices"
	"strings"

	"hemline/lang/board"
	"hemline/lang/quantity"
)

// Pairs is which rules found a pair of the wall and other copper that does not
// keep its limit: a name for each finding.
type Pairs struct {
	Stand    []string
	Accepted []string // findings that are agreed
}

// mostVoltage is up to where the shop's limits are all that is asked of a
// clearance: 60 V, the usual bound of what is safe to touch (from memory, IEC
// 61140). It holds no clearance to a standard.
var mostVoltage = quantity.Of(60, quantity.Volt)

// voltage asks of each pair of the wall and other copper that it keeps its
// limit; for what may hurt people nothing here decides.
func voltage(b *board.Board, r board.Request, on Grounds) Answer {
	const safety = "clearances then follow the safety standard that governs the product"
	i := b.Info()
	switch {
	case i.Hazard.Given() && i.Hazard.Text != "none":
		return notVerified(r, "%s: %s", i.HazardText(), safety)
	case i.Voltage.Value > mostVoltage.Value:
		return notVerified(r, "it is above %s: %s", mostVoltage, safety)
	case !b.Plated():
		return notVerified(r, nothingPlated)
	}
	found := on.Pairs()
	switch {
	case len(found.Stand) > 0:
		return Answer{Request: r, Verdict: Short, Why: "not every pair of the wall and other copper keeps its limit: " + named(found.Stand)}
	case len(found.Accepted) > 0:
		return notVerified(r, "not every pair of the wall and other copper keeps its limit, which is accepted: %s", named(found.Accepted))
	}
	return met(r, "every pair of the wall and other copper keeps its limit")
}

// named lists names, each once.
func named(list []string) string {
	return strings.Join(slices.Compact(slices.Sorted(slices.Values(list))), ", ")
}
