package queries

import (
	"hemline/lang/board"
	"hemline/lang/emit/wording"
	"hemline/lang/quantity"
	"hemline/lang/source"
)

type answering func(*board.Board) (said, lacking []Part)

// named is what the text says in a clause, or that it lacks it.
func named(b *board.Board, n board.Name, clause string) (said, lacking []Part) {
	if n.Answers() {
		return []Part{{n.Text, n.At}}, nil
	}
	return nil, []Part{inBoard(b, clause)}
}

func material(b *board.Board) (said, lacking []Part) {
	if b.Info() == nil {
		return nil, []Part{inBoard(b, "material")}
	}
	return named(b, b.Info().Material, "material")
}

func halfFinish(b *board.Board) (said, lacking []Part) {
	if b.Info() == nil {
		return nil, []Part{inBoard(b, "finish")}
	}
	return named(b, b.Info().Finish, "finish")
}

// exact are the tolerances in force of some clauses.
func exact(clauses ...string) answering {
	return func(b *board.Board) (said, lacking []Part) {
		for _, c := range clauses {
			v := b.ToleranceOf(c)
			if !v.Given() {
				lacking = append(lacking, Part{"`" + c + "` in `tolerance`", source.Place{}})
				continue
			}
			said = append(said, Part{c + ": " + amount(v) + " either way", v.At})
		}
		return said, lacking
	}
}

func amount(v board.Value) string {
	if v.Quantity.Dim == quantity.Length {
		return wording.Millimetres(v.Value) + " mm"
	}
	return v.Quantity.String()
}

// accepted is the criterion in force of a clause.
func accepted(clause string) answering {
	return func(b *board.Board) (said, lacking []Part) {
		c := b.CriterionOf(clause)
		switch {
		case !c.Answers():
			return nil, []Part{{"`" + clause + "` in `criteria`", source.Place{}}}
		case c.Maximum.Given():
			return []Part{{"at most " + amount(c.Maximum), c.Clause}}, nil
		}
		return []Part{{c.Text, c.Clause}}, nil
	}
}

// shapes are the tolerances of the outline and, where there are any, of cutouts.
func shapes(b *board.Board) (said, lacking []Part) {
	if cut(b) {
		return exact("outline", "cutouts")(b)
	}
	return exact("outline")(b)
}
