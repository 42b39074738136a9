package asked

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"hemline/checks/figures"
	"hemline/checks/physics"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/quantity"
)

// class holds the copper on the walls against what the class asks of it.
func class(b *board.Board, r board.Request, _ Grounds) Answer {
	average, thinnest, _ := b.ClassCopper()
	need := quantity.Nanometres(average).As(quantity.Micrometre)
	var shorts []Shortage
	var unknown []string
	walls := plated(b)
	for _, p := range walls {
		switch {
		case !p.Copper.Given():
			unknown = append(unknown, p.Name.Text)
		case p.Copper.Value < average-board.Tolerance:
			got, asked := quantity.Pair(p.Copper.Quantity, need)
			shorts = append(shorts, Shortage{Items: []string{p.Name.Text},
				Why: fmt.Sprintf("copper on the wall of plating %s is %s; the class asks for at least %s on average", p.Name.Text, got, asked)})
		case p.Least.Given() && p.Least.Value < thinnest-board.Tolerance:
			got, asked := quantity.Pair(p.Least.Quantity, quantity.Nanometres(thinnest).As(quantity.Micrometre))
			shorts = append(shorts, Shortage{Items: []string{p.Name.Text},
				Why: fmt.Sprintf("the thinnest copper on the wall of plating %s is %s; the class asks for at least %s", p.Name.Text, got, asked)})
		}
	}
	switch {
	case len(walls) == 0:
		return notVerified(r, nothingPlated)
	case len(shorts) > 0:
		return short(r, shorts)
	case len(unknown) > 0:
		return notVerified(r, "%s", noCopper(unknown))
	}
	if len(b.CriteriaStated()) > 0 {
		for _, clause := range []string{"voids", "adhesion"} {
			if !b.CriterionOf(clause).Answers() {
				return notVerified(r, "copper on every wall is at least %s on average, but the criteria do not state %s", need, clause)
			}
		}
	}
	return met(r, "copper on every wall is at least %s on average", need)
}

// current holds what each wall carries for the rise against what is asked for.
func current(b *board.Board, r board.Request, _ Grounds) Answer {
	i := b.Info()
	walls := plated(b)
	_, thick := b.Thickness()
	switch {
	case !i.Rise.Given():
		return notVerified(r, "the board states no rise of temperature for it")
	case len(walls) == 0:
		return notVerified(r, nothingPlated)
	case !thick:
		return notVerified(r, "the board's thickness is not stated")
	case i.Rise.Value < physics.RiseLeast || i.Rise.Value > physics.RiseMost:
		return notVerified(r, "a rise of %s is outside the formula's range, %g to %g K", i.Rise, physics.RiseLeast, physics.RiseMost)
	}
	var shorts []Shortage
	var unknown, beyond []string
	var least figures.EdgeCurrent
	weakest := ""
	for _, p := range walls {
		c, ok := figures.Current(b, p, i.Rise.Value)
		switch {
		case !ok:
			unknown = append(unknown, p.Name.Text)
			continue
		case c.Beyond != "" && c.Amperes < i.Current.Value:
			// More copper carries no less, so up to the formula's end the answer holds.
			beyond = append(beyond, "for "+c.Beyond+" of plating "+p.Name.Text)
			continue
		case c.Amperes < i.Current.Value:
			got, asked := amperes(c.Amperes, i.Current.Quantity)
			shorts = append(shorts, Shortage{Items: []string{p.Name.Text},
				Why:     fmt.Sprintf("plating %s carries %s for a rise of %s; the board asks for %s", p.Name.Text, got, i.Rise, asked),
				Related: []finding.Related{{Place: p.Copper.At, Message: "the wall's copper"}}})
		}
		if weakest == "" || c.Amperes < least.Amperes {
			least, weakest = c, p.Name.Text
		}
	}
	switch {
	case len(shorts) > 0:
		return short(r, shorts)
	case len(unknown) > 0:
		return notVerified(r, "%s", noCopper(unknown))
	case len(beyond) > 0:
		return notVerified(r, "the formula does not apply %s", strings.Join(beyond, ", nor "))
	}
	got, asked := amperes(least.Amperes, i.Current.Quantity)
	if got == asked {
		got = "just that"
	}
	return met(r, "plating %s carries at least %s for that rise in each of its stretches, through %s, and no other less", weakest, got, least.Sections)
}

// amperes shows a computed current, rounded down, beside one that is asked for: to
// three figures, or to as many as it takes to tell them apart and to show no less than
// is asked for where that is met.
func amperes(carries float64, asked quantity.Quantity) (got, want string) {
	for figures := 3; ; figures++ {
		got, want = rounded(carries, figures).As(asked.Unit).String(), asked.String()
		if got != want && (rounded(carries, figures).Value >= asked.Value) == (carries >= asked.Value) || figures == 9 {
			return got, want
		}
	}
}

// rounded is a current down to so many figures.
func rounded(amperes float64, figures int) quantity.Quantity {
	v, _ := strconv.ParseFloat(strconv.FormatFloat(amperes, 'g', figures, 64), 64)
	if v > amperes {
		step := math.Pow(10, math.Floor(math.Log10(amperes))-float64(figures-1))
		v, _ = strconv.ParseFloat(strconv.FormatFloat(v-step, 'g', figures, 64), 64)
	}
	return quantity.Of(v, quantity.Ampere)
}

// rise is asked for without a current.
func rise(_ *board.Board, r board.Request, _ Grounds) Answer {
	return notVerified(r, "the board states no current that the rise is for")
}

// plated lists the platings that have copper on any profile, in the order of
// the text.
func plated(b *board.Board) []*board.Plating {
	has := map[*board.Plating]bool{}
	for _, p := range b.Profiles() {
		for _, s := range b.Wall(p).Plated {
			has[s.Plating] = true
		}
	}
	var list []*board.Plating
	for _, p := range b.Platings() {
		if has[p] {
			list = append(list, p)
		}
	}
	return list
}

func noCopper(platings []string) string {
	return "copper on the wall of plating " + strings.Join(platings, ", ") + " is not stated"
}
