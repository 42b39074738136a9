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
	"plated": true, "bare stretches beside it": true, "wrap on top": true, "wrap on bottom": true,
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
	list := slices.DeleteFunc(figures.Openings(b, tolerances), func(o figures.Opening) bool { return !o.In(b, p) })
	slices.SortStableFunc(list, func(x, y figures.Opening) int { return cmp.Compare(x.Alone(lambda).Worst, y.Alone(lambda).Worst) })
	const most = 5
	for n, o := range list {
		if n == most {
			fmt.Fprintf(&s, "- and %d openings more\n", len(list)-most)
			break
		}
		by, _, _, _ := o.Maker()
		fmt.Fprintf(&s, "- opening at %s: %s\n", by, sizeOf(b, o, lambda, true))
	}
	if shield, ok := figures.ShieldOf(b, tolerances); ok {
		s.WriteString("- shielding bound of the wall: " + figures.Says(shield) + "\n")
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
	lambda, _ := figures.WavelengthIn(b)
	open := ""
	for _, o := range figures.Openings(b, checks.TolerancesOf(b)) {
		if !of(o) {
			continue
		}
		stays, dimension := "stays open", ", longest dimension "
		if o.Nominal == 0 {
			stays, dimension = "closed as drawn", ", "
		}
		open += fmt.Sprintf("- %s: %s%s%s\n", stays, o.Stretch.Where(), dimension, sizeOf(b, o, lambda, false))
	}
	return open
}

// sizeOf tells an opening's longest dimension as drawn and at worst, each with
// its share of a twentieth of the wavelength, 0 where none is known, and the
// bound that it alone sets; whole says how long that is.
func sizeOf(b *board.Board, o figures.Opening, lambda float64, whole bool) string {
	var alone figures.Bound
	if lambda > 0 {
		alone = o.Alone(lambda)
	}
	of := func(long, dB float64) string {
		if lambda == 0 {
			return mm(long)
		}
		twentieth := ""
		if whole {
			twentieth = " (" + mm(lambda/20) + ")"
		}
		return fmt.Sprintf("%s, %.2g of λ/20%s, alone %s", mm(long), long/(lambda/20), twentieth, figures.AtMost(dB))
	}
	says := of(o.Nominal, alone.Nominal)
	worst := "at worst " + of(o.Worst, alone.Worst) + ", with " + o.Because()
	switch {
	case o.Nominal == 0:
		return worst
	case o.Worst-o.Nominal > board.Tolerance:
		says += "; " + worst
	}
	if dB, ok := o.AsGuide(b); ok && lambda > 0 {
		says += fmt.Sprintf("; as a guide as deep as the wraps, below its cut-off, %.3g dB, not to be added", dB)
	}
	return says
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
