package assist

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"hemline/checks"
	"hemline/checks/figures"
	"hemline/checks/report"
	"hemline/lang/board"
	"hemline/lang/emit/wording"
)

// bounding finds currents and levels, which are bounds.
var bounding = regexp.MustCompile(`\d (A|mA|dB)\b`)

// cautioned adds the caution to a card that tells a current or a level.
func cautioned(card string) string {
	if !bounding.MatchString(card) {
		return card
	}
	return card + "\n" + wording.Caution + "\n"
}

// openingsLine counts the openings of a plating, of the board's.
func openingsLine(b *board.Board, list []figures.Opening, p *board.Plating) string {
	n, longest, worst := 0, 0.0, 0.0
	for _, o := range list {
		if o.In(b, p) {
			worst = math.Max(worst, o.Worst)
			if o.Nominal > 0 {
				n++
				longest = math.Max(longest, o.Nominal)
			}
		}
	}
	atWorst := ""
	if worst-longest > board.Tolerance {
		atWorst = ", at worst " + mm(worst)
	}
	if n == 0 {
		return "no openings" + atWorst
	}
	return fmt.Sprintf("%s, the longest %s%s", wording.Plural(n, "opening"), mm(longest), atWorst)
}

// shownAbove are figures that the card's first lines tell already.
var shownAbove = map[string]bool{
	"plated": true, "share of the outline": true, "bare stretches beside it": true, "wrap on top": true, "wrap on bottom": true,
}

// leaks lists a plating's openings against a twentieth of the wavelength, the
// worst first, and the bound that they set.
func leaks(b *board.Board, p *board.Plating) string {
	lambda, ok := figures.WavelengthIn(b)
	if !ok {
		return ""
	}
	var s strings.Builder
	tolerances := checks.TolerancesOf(b)
	list := figures.Openings(b, tolerances)
	holds := figures.Holds(list, lambda)
	order := make([]int, 0, len(list))
	for i, o := range list {
		if o.In(b, p) {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(holds[i].Worst, holds[j].Worst) })
	const most = 5
	for n, i := range order {
		if n == most {
			fmt.Fprintf(&s, "- and %d openings more\n", len(order)-most)
			break
		}
		o := list[i]
		by, _, _ := o.Maker()
		fmt.Fprintf(&s, "- opening at %s: %s\n", by, sizeOf(o, lambda, holds[i], true))
	}
	if dB, ok := figures.Shielding(b, tolerances); ok {
		s.WriteString("- shielding bound of the wall: ")
		if !math.IsInf(dB.Nominal, 1) {
			s.WriteString(report.Level(dB.Nominal))
		}
		switch {
		case math.IsInf(dB.Nominal, 1):
			s.WriteString("at worst " + report.Level(dB.Worst))
		case report.Level(dB.Worst) != report.Level(dB.Nominal):
			s.WriteString(", at worst " + report.Level(dB.Worst))
		}
		s.WriteByte('\n')
	}
	return s.String()
}

func gapCard(b *board.Board, g *board.Gap) string {
	var s strings.Builder
	fmt.Fprintf(&s, "**gap %s** of plating %s on %s: %s long\n\n", g.Name.Text, g.Of.Text, g.Edge.Name, mm(g.To-g.From))
	fmt.Fprintf(&s, "- from %s, at %s\n- to %s, at %s\n", mm(g.From), board.Coordinates(g.Edge.Point(g.From)), mm(g.To), board.Coordinates(g.Edge.Point(g.To)))
	if g.For.Given() {
		kind := "connector"
		if g.ForTab(b) != nil {
			kind = "tab"
		}
		fmt.Fprintf(&s, "- for %s %s\n", kind, g.For.Text)
	}
	open := leak(b, func(o figures.Opening) bool { return o.Gap == g })
	if open == "" {
		open = "- nothing stays open\n"
	}
	return cautioned(s.String() + open)
}

// leak tells what stays open at some openings and the bound that it sets.
func leak(b *board.Board, of func(figures.Opening) bool) string {
	lambda, known := figures.WavelengthIn(b)
	list := figures.Openings(b, checks.TolerancesOf(b))
	holds := make([]figures.Bound, len(list))
	if known {
		holds = figures.Holds(list, lambda)
	}
	open := ""
	for i, o := range list {
		if !of(o) {
			continue
		}
		stays, dimension := "stays open", ", longest dimension "
		if o.Nominal == 0 {
			stays, dimension = "closed as drawn", ", "
		}
		open += fmt.Sprintf("- %s: %s%s%s\n", stays, o.Stretch.Where(), dimension, sizeOf(o, lambda, holds[i], false))
	}
	return open
}

// sizeOf tells an opening's longest dimension as drawn and at worst, each with
// its share of a twentieth of the wavelength, 0 where none is known, and the
// bound that it sets; whole says how long that is.
func sizeOf(o figures.Opening, lambda float64, holds figures.Bound, whole bool) string {
	of := func(long, dB float64) string {
		if lambda == 0 {
			return mm(long)
		}
		twentieth := ""
		if whole {
			twentieth = " (" + mm(lambda/20) + ")"
		}
		return fmt.Sprintf("%s, %.2g of λ/20%s, holds %s", mm(long), long/(lambda/20), twentieth, report.Level(dB))
	}
	worst := "at worst " + of(o.Worst, holds.Worst) + ", with " + o.Because()
	switch {
	case o.Nominal == 0:
		return worst
	case o.Worst-o.Nominal > board.Tolerance:
		return of(o.Nominal, holds.Nominal) + "; " + worst
	}
	return of(o.Nominal, holds.Nominal)
}

// openedLines tell of the gaps that a tab or a connector opens, and what stays open of each.
func openedLines(b *board.Board, of func(*board.Gap) bool) string {
	var s strings.Builder
	for _, g := range b.Gaps() {
		if !of(g) {
			continue
		}
		fmt.Fprintf(&s, "- opens plating %s from %s to %s, %s long\n", g.Of.Text, mm(g.From), mm(g.To), mm(g.To-g.From))
		s.WriteString(leak(b, func(o figures.Opening) bool { return o.Gap == g }))
	}
	return s.String()
}
