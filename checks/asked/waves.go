package asked

import (
	"fmt"
	"strconv"
	"strings"

	"hemline/checks/figures"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/quantity"
)

// roundingOfLevels, dB, is what the rounding of float64 may make of a level.
const roundingOfLevels = 1e-9

// shielding holds what the known openings allow at most against what is asked for.
// Nothing says how much the wall holds back at least.
func shielding(b *board.Board, r board.Request, on Grounds) Answer {
	i := b.Info()
	if !i.Frequency.Given() {
		return notVerified(r, "the board states no frequency that the wall is to shield at")
	}
	s, ok := figures.ShieldOf(b, on.Tolerances)
	switch want := i.Shielding.Value - roundingOfLevels; {
	case !ok && b.Plated():
		return notVerified(r, "no edge of the outline is plated")
	case !ok:
		return notVerified(r, nothingPlated)
	case s.Drawn.DB < want && s.Drawn.Told():
		return short(r, []Shortage{shortage(b, s, s.Drawn, false)})
	case s.Worst.DB < want && s.Worst.Told():
		return short(r, []Shortage{shortage(b, s, s.Worst, true)})
	case s.Worst.Sum == 0:
		return notVerified(r, "no opening of the wall is known, so nothing bounds what it shields")
	case !s.Worst.Told() && want > figures.MostTold:
		return notVerified(r, "the known openings allow more than %g dB, where the bound by openings tells nothing", figures.MostTold)
	}
	if absorbs, copper := figures.Absorbs(b); copper && absorbs < i.Shielding.Value {
		return notVerified(r, "the wall's copper absorbs only %s at %s; what it reflects besides is not worked out", level(b, absorbs), i.Frequency)
	}
	return met(r, "not short: the known openings allow at most %s at %s%s", allows(b, s), s.Worst.Frequency(b), cutOut(b))
}

// cutOut says that what cutouts leave open is not counted; "" where none does.
func cutOut(b *board.Board) string {
	for _, c := range b.Cutouts() {
		if c.Profile != nil && !b.Finished(c.Profile).Whole() {
			return "; what cutouts leave open is not counted"
		}
	}
	return ""
}

// level is a level, dB, to three figures, or to as many as tell it from what the board asks for.
func level(b *board.Board, dB float64) string {
	if got := fmt.Sprintf("%.3g dB", dB); got != b.Info().Shielding.String() {
		return got
	}
	got, _ := quantity.Pair(quantity.Of(dB, quantity.Decibel), b.Info().Shielding.Quantity)
	return got
}

// allows is what a shield's openings allow at most, as drawn and at worst.
func allows(b *board.Board, s figures.Shield) string {
	switch {
	case !s.Worst.Told():
		return fmt.Sprintf("more than %g dB", figures.MostTold)
	case s.Drawn.DB == s.Worst.DB:
		return level(b, s.Worst.DB)
	case !s.Drawn.Told():
		return level(b, s.Worst.DB) + " at worst"
	}
	return level(b, s.Drawn.DB) + ", " + level(b, s.Worst.DB) + " at worst,"
}

// shortage says what leaks too much: it is on the longest opening that counts.
func shortage(b *board.Board, s figures.Shield, l figures.Leak, worst bool) Shortage {
	i, atWorst := b.Info(), ""
	if worst {
		atWorst = " at worst"
	}
	longest := s.Longest(l, worst)
	maker, items, place, named := longest.Maker()
	if !named {
		items = []string{i.Name.Text}
	}
	says := Shortage{Items: items}
	if place.Anchor != nil {
		says.Related = append(says.Related, finding.Related{Place: place, Message: "the opening that leaks most"})
	}
	size := quantity.Nanometres(longest.Nominal).String() + " long"
	switch {
	case worst && longest.Nominal == 0:
		size = "closed as drawn, " + longest.AtWorst(quantity.Nanometres(longest.Worst).String())
	case worst:
		size = longest.Size.String()
	}
	by := fmt.Sprintf("its opening at %s, %s", maker, size)
	if longest.Behind != nil {
		by = fmt.Sprintf("the vias of %s behind %s", fences(longest.Behind), maker)
	}
	at, half, allowed := l.Frequency(b), rough(l.Half), rough(figures.AllowedSum(2*l.Half, i.Shielding.Value))
	switch {
	case l.None() && bare(s, l) > 0:
		says.Why = fmt.Sprintf("there is no shield at %s: %s of edge that no plating runs on lies within half a wavelength, %s; the board asks for %s",
			at, rough(bare(s, l)), half, i.Shielding)
	case len(l.Of) > 1:
		says.Why = fmt.Sprintf("the wall shields at most %s%s at %s, limited by %d openings within half a wavelength along the outline, %s, which leak as one of %s if in phase: %s; the board asks for %s, which takes at most %s of openings",
			level(b, l.DB), atWorst, at, len(l.Of), half, rough(l.Sum), names(s, l), i.Shielding, allowed)
		for _, k := range l.Of {
			if _, _, at, ok := s.Openings[k].Maker(); ok && k != s.LongestOf(l, worst) {
				says.Related = append(says.Related, finding.Related{Place: at, Message: "an opening that leaks with it"})
			}
		}
	default:
		says.Why = fmt.Sprintf("the wall shields at most %s%s at %s, limited by %s; the board asks for %s, which takes at most %s of openings",
			level(b, l.DB), atWorst, at, by, i.Shielding, allowed)
	}
	return says
}

// most is how many openings a sentence names.
const most = 4

// names lists the openings that leak together, each once.
func names(s figures.Shield, l figures.Leak) string {
	var list []string
	for n, k := range l.Of {
		if n == most && len(l.Of) > most+1 {
			list = append(list, fmt.Sprintf("and %d more", len(l.Of)-most))
			break
		}
		words, _, _, _ := s.Openings[k].Maker()
		list = append(list, words)
	}
	return strings.Join(list, ", ")
}

// bare is how much of what leaks together no statement opens, nm.
func bare(s figures.Shield, l figures.Leak) (sum float64) {
	for _, k := range l.Of {
		if o := s.Openings[k]; !o.Made() && o.Nominal > 0 && o.Behind == nil {
			sum += o.Stretch.Length()
		}
	}
	return sum
}

// fences names the fences of a row.
func fences(r *figures.Row) string {
	words := "fence "
	if len(r.Fences) > 1 {
		words = "fences "
	}
	for i, f := range r.Fences {
		if i > 0 {
			words += ", "
		}
		words += f.Name.Text
	}
	return words
}

// rough is a computed length, nm, in mm to three figures.
func rough(nm float64) string {
	return strconv.FormatFloat(quantity.InMillimetres(nm), 'g', 3, 64) + " mm"
}
