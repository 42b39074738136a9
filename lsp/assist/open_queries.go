package assist

import (
	"strings"

	"hemline/lang"
	"hemline/lang/emit/queries"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// OpenQuery is a question that a shop would ask and nothing in the text answers.
type OpenQuery struct {
	Name, Question string
	Answers        []Action // what would answer it, short of its value
}

// mostAnswers is how many of a query's answers are given: many statements may each lack one.
const mostAnswers = 20

// OpenQueries lists the board's open questions in the order of the list of queries, with
// what would answer each where that can be put in.
func OpenQueries(a *lang.Analysis) (list []OpenQuery) {
	for _, r := range queries.Ask(a.Board()) {
		if r.State != queries.Open {
			continue
		}
		q := OpenQuery{Name: r.Name, Question: r.Question}
		for _, p := range r.Lacking[:min(len(r.Lacking), mostAnswers)] {
			if x := actorOf(a, p); x != nil {
				if edit, ok := x.answer(p, x.reading.Spec.Word); ok {
					q.Answers = append(q.Answers, answering(r, p, edit))
				}
			}
		}
		list = append(list, q)
	}
	return list
}

// actorOf stands on the statement that an answer belongs to; nil where there is none.
func actorOf(a *lang.Analysis, p queries.Part) *actor {
	d := a.Document()
	s, ok := d.Holding(p.At)
	for _, word := range []string{p.In, "board"} {
		if ok {
			break
		}
		for _, x := range d.Statements() {
			if ok = x.Word() == word; ok {
				s = x
				break
			}
		}
	}
	if !ok {
		return nil
	}
	r := syntax.Read(s)
	span, located := d.Locate(s.Whole())
	if r == nil || !located {
		return nil
	}
	return &actor{a: a, at: source.Span{Start: span.Start, End: span.Start}, statement: span, reading: r}
}

// Value is where in what an answer puts in its value is to be.
func (x Action) Value() int {
	text := x.Edits[0].Text
	if i := strings.LastIndex(text, `""`); i >= 0 {
		return i + 1
	}
	return len(strings.TrimRight(text, " }"))
}
