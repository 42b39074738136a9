package assist

import (
	"fmt"
	"slices"
	"strings"

	"hemline/lang/board"
	"hemline/lang/emit/queries"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// queryCard is of a question that a shop would ask: what it is, and how the board stands to it.
func queryCard(b *board.Board, q *queries.Query) string {
	out := fmt.Sprintf("**%s**: %s\n\nanswered by %s\n", q.Name, q.Question, q.By)
	for _, r := range queries.Ask(b) {
		if r.Name != q.Name {
			continue
		}
		out += "\nhere: " + string(r.State) + "\n\n"
		for _, p := range r.Parts {
			out += "- " + p.Text + "\n"
		}
		return out
	}
	return out + "\nhere: not asked\n"
}

// leaveCard lists what is left to the shop.
func leaveCard(b *board.Board, name string, _ *Shown) string {
	if name != "leave" || len(b.Leaves()) == 0 {
		return ""
	}
	out := "**left to the shop**\n\n"
	for _, l := range b.Leaves() {
		for _, q := range l.Queries {
			out += "- " + q.Text + ": " + l.Because.Text + "\n"
		}
	}
	return out
}

// ask offers what would answer the queries that are open: in the statement at
// hand what it lacks, in the board's and in one of its own kind what would stand
// alone.
func (x *actor) ask() {
	word := x.reading.Spec.Word
	keyword, _ := x.a.Document().Locate(x.reading.Keyword)
	if x.at.Start > keyword.End { // on the keyword, where nobody looks for anything else
		return
	}
	for _, r := range queries.Ask(x.a.Board()) {
		for _, p := range r.Lacking {
			if edit, ok := x.answer(p, word); ok && !slices.ContainsFunc(x.list, func(a Action) bool { return a.Edits[0] == edit }) {
				x.list = append(x.list, answering(r, p, edit))
			}
		}
	}
}

// answering is the action that puts in what would answer a query: its title names the clause
// and the statement, and says what is left to type.
func answering(r queries.Result, p queries.Part, edit source.Edit) Action {
	says := shownInsert(edit.Text)
	if !p.Complete {
		typed := "the value"
		switch {
		case strings.Contains(edit.Text, `""`):
			typed = "the text"
		case p.In == "" && p.Behind.Anchor == nil:
			typed = "the rest"
		}
		says = strings.ReplaceAll(p.Text, "`", "") + ", " + typed + " to be typed"
	}
	return Action{Title: fmt.Sprintf("answer %s: write %s", r.Name, says), Edits: []source.Edit{edit}}
}

// shownInsert is an edit's text on one line, without what parts it from its neighbours.
func shownInsert(text string) string {
	return strings.Join(strings.Fields(strings.Trim(text, "; \r\n\t")), " ")
}

// answer is the edit that puts in what a query lacks; ok is false where it
// belongs to another statement.
func (x *actor) answer(p queries.Part, word string) (source.Edit, bool) {
	if p.Insert == "" {
		return source.Edit{}, false
	}
	at, located := x.a.Document().Locate(p.At)
	mine := located && x.statement.Contains(at.Start)
	switch {
	case p.In == "" && (mine || !located && word == "board"):
		return x.after(filled(nil, p.Insert)), true
	case p.Behind.Anchor != nil && mine:
		behind, ok := x.a.Document().Locate(p.Behind)
		return source.Edit{Span: source.Span{Start: behind.End, End: behind.End}, Text: " " + filled(nil, p.Insert)}, ok
	case p.In == word && (mine || !located):
		return x.inside(filled(x.reading.Spec, p.Insert)), true
	case !located && word == "board" && !slices.ContainsFunc(x.a.Document().Statements(), func(s *syntax.Statement) bool { return s.Word() == p.In }):
		return x.after(p.In + " { " + filled(syntax.StatementNamed(p.In), p.Insert) + " }"), true
	}
	return source.Edit{}, false
}

// filled is a clause with an empty text in its place where it takes one: what is
// missing of the others is for the author.
func filled(holder *syntax.Spec, insert string) string {
	spec := syntax.StatementNamed(insert)
	if holder != nil {
		spec = holder.Clause(insert)
	}
	if spec != nil && len(spec.Args) > 0 && spec.Args[0].Kind == syntax.VText {
		return insert + ` ""`
	}
	return insert
}

// inside is the edit that puts a clause into the statement: before its closing
// brace, or at its end.
func (x *actor) inside(clause string) source.Edit {
	f := x.a.Root()
	text := f.Slice(x.statement)
	end := x.statement.Start + len(strings.TrimRight(text, " \t\r\n"))
	if !x.reading.Statement.Head.Braced || !strings.HasSuffix(f.Slice(source.Span{Start: x.statement.Start, End: end}), "}") {
		return source.Edit{Span: source.Span{Start: end, End: end}, Text: " " + clause}
	}
	last := x.statement.Start + len(strings.TrimRight(f.Slice(source.Span{Start: x.statement.Start, End: end - 1}), " \t\r\n"))
	at := source.Span{Start: last, End: last}
	if f.LineOf(x.statement.Start) != f.LineOf(end) {
		return source.Edit{Span: at, Text: x.ending() + x.indent() + "  " + clause}
	}
	if strings.HasSuffix(f.Slice(source.Span{Start: x.statement.Start, End: last}), "{") {
		return source.Edit{Span: at, Text: " " + clause}
	}
	return source.Edit{Span: at, Text: "; " + clause}
}
