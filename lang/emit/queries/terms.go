package queries

import (
	"fmt"
	"strings"

	"hemline/lang/board"
	"hemline/lang/emit/wording"
	"hemline/lang/quantity"
)

type answering func(*board.Board) (said, lacking []Part)

// ofBoard is what the board's statement says in a clause, or that it lacks it.
func ofBoard(clause string, of func(*board.Info) board.Name) answering {
	return func(b *board.Board) (said, lacking []Part) {
		if b.Info() != nil {
			if x := texted(of(b.Info())); x.Text != "" {
				return []Part{x}, nil
			}
		}
		return nil, []Part{inBoard(b, clause)}
	}
}

// laminates are the board's, and those of dielectrics that state their own.
func laminates(b *board.Board) (said, lacking []Part) {
	said, lacking = ofBoard("material", func(i *board.Info) board.Name { return i.Material })(b)
	all := true
	for _, l := range b.Stack().Layered() {
		if l.Copper {
			continue
		}
		x := texted(l.Material)
		if all = all && x.Text != ""; x.Text != "" {
			x.Text = l.Name.Text + ": " + x.Text
			said = append(said, x)
		}
	}
	if all && len(said) > 0 {
		return said, nil
	}
	return said, lacking
}

func delivery(b *board.Board) (said, lacking []Part) {
	d := b.Delivery()
	switch {
	case d == nil:
		return nil, []Part{{Text: "`delivery`", Insert: "delivery"}}
	case d.Single:
		return []Part{{Text: "singly", At: d.Keyword}}, nil
	}
	var files []string
	for _, p := range d.Panels {
		if !p.Answers() {
			return nil, []Part{{Text: "a file's name after `panel` in `delivery`", At: p.At}}
		}
		files = append(files, p.Text)
	}
	return []Part{{Text: "in panels: " + strings.Join(files, ", "), At: d.Keyword}}, nil
}

func markings(b *board.Board) (said, lacking []Part) {
	for _, x := range b.Markings() {
		switch {
		case x.Text.Is("none"):
			said = append(said, Part{Text: "none", At: x.Keyword})
		case !x.Text.Answers():
			lacking = append(lacking, Part{Text: "what the mark is, in `marking`", At: x.Keyword})
		case !x.Placed():
			lacking = append(lacking, Part{Text: fmt.Sprintf("`on` and `at` in marking %q", x.Text.Text), At: x.Keyword, Insert: "on", In: "marking"})
		default:
			said = append(said, Part{Text: fmt.Sprintf("%s: on %s at (%s)", x.Text.Text, x.Face, wording.Pair(x.Centre)), At: x.Keyword})
		}
	}
	if len(said)+len(lacking) == 0 {
		lacking = []Part{{Text: "`marking`", Insert: "marking"}}
	}
	return said, lacking
}

// exact are the tolerances in force of some clauses.
func exact(clauses ...string) answering {
	return func(b *board.Board) (said, lacking []Part) {
		for _, c := range clauses {
			v := b.ToleranceOf(c)
			if !v.Given() {
				lacking = append(lacking, Part{Text: "`" + c + "` in `tolerance`", Insert: c, In: "tolerance"})
				continue
			}
			said = append(said, Part{Text: c + ": " + amount(v) + " either way", At: v.At})
		}
		return said, lacking
	}
}

func amount(v board.Value) string {
	if v.Quantity.Dim == quantity.Length {
		return wording.Millimetres(v.Value) + " mm"
	}
	if v.Quantity.Dim == quantity.None {
		return v.Quantity.As(quantity.Percent).String()
	}
	return v.Quantity.String()
}

// accepted is the criterion in force of a clause.
func accepted(clause string) answering {
	return func(b *board.Board) (said, lacking []Part) {
		c := b.CriterionOf(clause)
		switch {
		case !c.Answers():
			return nil, []Part{{Text: "`" + clause + "` in `criteria`", Insert: clause, In: "criteria"}}
		case c.Maximum.Given():
			return []Part{{Text: "at most " + amount(c.Maximum), At: c.Clause}}, nil
		}
		return []Part{{Text: c.Text, At: c.Clause}}, nil
	}
}

// shapes are the tolerances of the outline and, where there are any, of cutouts.
func shapes(b *board.Board) (said, lacking []Part) {
	if cut(b) {
		return exact("outline", "cutouts")(b)
	}
	return exact("outline")(b)
}
