package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"hemline/checks/asked"
	"hemline/lang/board"
)

// First is a figure that gives first: one with little to spare of what is asked
// of it, the opening that leaks most, or the weakest of a kind.
type First struct {
	Of     string `json:"of"` // the kind and name of the item
	Figure Figure `json:"figure"`
	Among  int    `json:"among,omitempty"` // how many have the figure, where it is the weakest of them
	Alike  int    `json:"alike,omitempty"` // how many of those have the same value
}

// mostMargins is how many margins are told of, the smallest.
const mostMargins = 4

// asks tells what a board asks of a figure of its own, to reach it: in the figure's unit.
var asks = map[string]struct {
	clause string
	of     func(*board.Info) float64
}{
	"shielding of the wall": {"shielding", func(i *board.Info) float64 { return i.Shielding.Value }},
}

// weakest are the figures of which the least of a kind is told.
var weakest = []struct{ kind, figure string }{
	{"tab", "holds at least"},
	{"plating", "current along the wall for 10 K"},
}

// hold puts the board's figures against what is asked of them, where that could be verified.
func hold(list []Figure, answers []asked.Answer, i *board.Info) {
	for k, f := range list {
		ask, ok := asks[f.Name]
		if !ok || f.Margin != nil {
			continue
		}
		if a, asks := asked.Of(answers, ask.clause); asks && a.Verdict != asked.NotVerified {
			list[k] = f.toReach(ask.of(i))
		}
	}
}

// first lists what gives first: the smallest margins, the opening that leaks most,
// the weakest of each kind.
func (r *Report) first() []First {
	list := []First{}
	for _, i := range append([]Item{r.Board}, r.Items...) {
		for _, f := range i.Figures {
			if f.Margin != nil {
				list = append(list, First{Of: i.full(), Figure: f})
			}
		}
	}
	slices.SortStableFunc(list, func(a, b First) int { return cmp.Compare(a.Figure.Margin.Spare, b.Figure.Margin.Spare) })
	list = list[:min(len(list), mostMargins)]
	if f := r.worstOpening(); f.Among > 0 {
		list = append(list, f)
	}
	for _, w := range weakest {
		if f := r.weakestOf(w.kind, w.figure); f.Figure.Value != nil && f.Figure.Margin == nil {
			list = append(list, f)
		}
	}
	return list
}

// worstOpening is the opening that leaks most; a bare edge too where shielding is asked
// for and could be verified.
func (r *Report) worstOpening() (of First) {
	var worst Opening
	walled := slices.ContainsFunc(r.Asked, func(a Asked) bool { return a.Clause == "shielding" && a.Verdict != asked.NotVerified.String() })
	for _, o := range r.Openings {
		if o.plain() && !walled {
			continue
		}
		if of.Among++; of.Among == 1 {
			worst = o
			of.Of, of.Figure = "opening: "+o.name(), o.length()
		}
		if o.reads() == worst.reads() {
			of.Alike++
		}
	}
	return of
}

// weakestOf is the item of a kind with the least of a figure; no figure where none has it.
func (r *Report) weakestOf(kind, name string) (of First) {
	for _, i := range r.Items {
		k := slices.IndexFunc(i.Figures, func(f Figure) bool { return f.Name == name && f.Value != nil })
		if i.Kind != kind || k < 0 {
			continue
		}
		f := i.Figures[k]
		switch of.Among++; {
		case of.Figure.Value != nil && f.Show() == of.Figure.Show():
			of.Alike++
		case of.Figure.Value == nil || *f.Value < *of.Figure.Value:
			of.Of, of.Figure, of.Alike = i.full(), f, 1
		}
	}
	return of
}

func (i Item) full() string {
	if i.Kind == "board" {
		return i.Kind
	}
	return i.Kind + " " + i.Name
}

// why says against what a figure gives first.
func (f First) why() string {
	if m := f.Figure.Margin; m != nil {
		unit := f.Figure.Unit
		limit := "at least "
		if m.AtMost {
			limit = "at most "
		}
		s := limit + digits(m.Asked, unit) + " " + unit + " asked for: " + digits(math.Abs(m.Worst-m.Asked), unit) + " " + unit
		if m.Spare < 0 {
			return s + " short"
		}
		return s + " to spare"
	}
	switch {
	case f.Among == 1:
		return "the only one"
	case f.Among == f.Alike:
		return fmt.Sprintf("all %d alike", f.Among)
	case f.Alike > 1:
		return fmt.Sprintf("the weakest of %d, with %d alike", f.Among, f.Alike-1)
	}
	return fmt.Sprintf("the weakest of %d", f.Among)
}
