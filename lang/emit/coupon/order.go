package coupon

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"hemline/lang/board"
	"hemline/lang/quantity"
	"hemline/lang/syntax"
)

// accepted are the tolerances and the criteria of the board, but for those of a
// coupon, which needs none of its own, and of continuity, whose maximum is of the
// board's stretches and not of the strip's.
func (w *writer) accepted() {
	var exact, criteria []string
	for _, c := range syntax.StatementNamed("tolerance").Clauses {
		if v := w.b.ToleranceOf(c.Word); v.Given() {
			exact = append(exact, c.Word+" "+value(v))
		}
	}
	for _, c := range syntax.StatementNamed("criteria").Clauses {
		x := w.b.CriterionOf(c.Word)
		switch {
		case !x.Given(), c.Word == "coupon", c.Word == "continuity":
		case x.Maximum.Given():
			criteria = append(criteria, c.Word+" maximum "+value(x.Maximum))
		case x.Plain:
			criteria = append(criteria, c.Word+" "+x.Text)
		default:
			criteria = append(criteria, c.Word+" "+quoted(x.Text))
		}
	}
	w.statement("tolerance", exact)
	w.statement("criteria", criteria)
}

func (w *writer) statement(head string, clauses []string) {
	if len(clauses) > 0 {
		w.line("\n%s {\n  %s\n}", head, strings.Join(clauses, "\n  "))
	}
}

// words are the signs of a word that stands without quotes wherever words are listed.
const words = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ_"

// fabricator is the shop in use, as it stands for the board.
func (w *writer) fabricator() {
	f := w.b.Fabricator()
	if f == nil {
		return
	}
	var list []string
	for _, x := range []struct {
		clause string
		names  []board.Name
	}{{"offers", f.Offers}, {"finishes", f.Finishes}} {
		var names []string
		for _, n := range x.names {
			if names = append(names, n.Text); strings.Trim(n.Text, words) != "" {
				names[len(names)-1] = ref(n.Text)
			}
		}
		if len(names) > 0 {
			list = append(list, x.clause+" "+strings.Join(slices.Compact(names), " "))
		}
	}
	for _, x := range []struct {
		clause string
		name   board.Name
	}{{"version", f.Version}, {"checked", f.Checked}, {"until", f.Until}} {
		if x.name.Given() {
			list = append(list, x.clause+" "+quoted(x.name.Text))
		}
	}
	for _, l := range f.Limits {
		text := "limit " + ref(l.Parameter.Text) + stated(" minimum ", l.Minimum) + stated(" maximum ", l.Maximum)
		for _, x := range []struct {
			clause string
			name   board.Name
		}{{"because", l.Because}, {"source", l.Source}} {
			if x.name.Given() {
				text += " " + x.clause + " " + quoted(x.name.Text)
			}
		}
		list = append(list, text)
	}
	w.statement("fabricator "+ref(f.Name.Text), list)
}

// ref writes a name so that a statement can give it or refer to it.
func ref(name string) string { return syntax.Refer(name) }

// quoted writes a text in quotes, on one line.
func quoted(s string) string {
	s = strings.Map(func(r rune) rune {
		if r == '\n' || r == '\r' {
			return ' '
		}
		return r
	}, s)
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(s) + `"`
}

// clause is a clause of the plating on a line of its own, "" where it says nothing.
func clause(word, says string) string {
	if says == "" {
		return ""
	}
	return fmt.Sprintf("  %s %s\n", word, says)
}

// stated is a value behind a word, "" where the text states none.
func stated(word string, v board.Value) string {
	if !v.Given() {
		return ""
	}
	return word + value(v)
}

// value writes a quantity so that it reads as the very same one: in its author's
// unit, or else in one that does.
func value(v board.Value) string {
	q := v.Quantity
	if q.Dim == quantity.None && q.Unit == nil {
		return strconv.FormatFloat(q.Value, 'f', -1, 64)
	}
	if q.Dim == quantity.Length && (q.Unit == nil || q.Unit.Name != "um" && q.Unit.Name != "mil") {
		return length(q.Value)
	}
	if q.Unit != nil {
		if text, ok := q.Exact(q.Unit, 9); ok {
			return text
		}
		if q.Dim == quantity.Length {
			return length(q.Value)
		}
		return strconv.FormatFloat(q.In(q.Unit), 'f', -1, 64) + " " + q.Unit.Name
	}
	return q.String()
}

// length writes nanometres as mm, exactly.
func length(nm float64) string {
	if text, ok := quantity.Nanometres(nm).Exact(quantity.Millimetre, 9); ok {
		return text
	}
	return strconv.FormatFloat(nm/quantity.NmPerMillimetre, 'f', -1, 64) + " mm"
}
