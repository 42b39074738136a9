// Package queries lists what a shop would have to ask of a board: which
// questions its text answers and where, which it leaves open and what would
// answer them, which it leaves to the shop. Statements alone answer; nothing is
// worked out from a note.
//
// The questions are those that fabricators publish as seen or expected, from
// the parameters of a complete order for edge plating: a fabricator's column on
// edge plating (trade magazine, March 2022), a fabricator's guide to drawings of
// plated edges, a fabricator's list of engineering queries; common practice.
package queries

import (
	"slices"
	"strings"

	"hemline/checks/figures"
	"hemline/lang/board"
	"hemline/lang/emit/wording"
	"hemline/lang/source"
)

// State tells how a text stands to a question.
type State string

// The states.
const (
	Open     State = "open"
	Left     State = "left to the shop"
	Answered State = "answered"
)

// States lists them in the order in which they are shown.
var States = [...]State{Open, Left, Answered}

// Query is one question of the table.
type Query struct {
	Name     string // words joined by underscores, as `leave` takes it
	Question string
	When     string // to which boards it applies; "" for all
	// By is the statement or clause that answers it.
	By string
	// Whole tells that it is asked of the board as a whole, so that it is left to the
	// shop for all of it or not at all.
	Whole bool

	applies func(*board.Board) bool
	// slow is answer where that takes planes' sheets, tens of milliseconds, too long for a
	// keystroke: nothing is said of a leave of it.
	slow func(*board.Board, *figures.Store) (said, lacking []Part)
	// answer is what the text's statements say, and what they lack.
	answer func(*board.Board) (said, lacking []Part)
}

// Part is an answer in a few words and where it stands, or what would answer a
// question and where it would go; nowhere means the end of the text.
type Part struct {
	Text string
	At   source.Place
	// Edges are those that it is about; none for the board as a whole.
	Edges []string

	// Insert is what an editor puts in for an answer that lacks, short of its
	// value: a clause of the statement at At, or of one of the keyword In; without
	// either a statement; what goes on behind a place of the text where Behind is one.
	Insert string
	In     string
	Behind source.Place
	// Complete tells that Insert says all: no value is left for its author to type.
	Complete bool

	name string // of the one of many alike that it is about
}

// Result is a question that applies to a board.
type Result struct {
	*Query
	State State
	Parts []Part // answers; for an open question what would answer it
	// Lacking is what would answer an open question, one by one.
	Lacking []Part
	left    []*board.Leave
}

// Reasons says why a question is left to the shop, and where.
func (r Result) Reasons() string {
	var list []string
	for _, l := range r.left {
		list = append(list, l.Because.Text+along(l))
	}
	return strings.Join(list, "; ")
}

// Texts are the answers, or what would answer an open question, on one line of
// plain text.
func (r Result) Texts() string {
	list := make([]string, len(r.Parts))
	for i, p := range r.Parts {
		list[i] = strings.ReplaceAll(wording.OneLine(p.Text), "`", "")
	}
	return strings.Join(list, "; ")
}

// Ask holds a board to every question that applies to it, in the table's order.
func Ask(b *board.Board) []Result { return AskWith(b, nil) }

// AskWith is Ask with what has been worked out already, or will be asked for again.
func AskWith(b *board.Board, store *figures.Store) []Result {
	var list []Result
	for i := range table {
		if q := &table[i]; q.applies == nil || q.applies(b) {
			list = append(list, q.ask(b, store))
		}
	}
	return list
}

func (q *Query) ask(b *board.Board, store *figures.Store) Result {
	var said, lacking []Part
	if q.slow != nil {
		said, lacking = q.slow(b, store)
	} else {
		said, lacking = q.answer(b)
	}
	var left []*board.Leave
	whole, edges := false, map[string]bool{}
	for _, l := range b.Leaves() {
		if !l.Names(q.Name) || q.Whole && len(l.Along) > 0 {
			continue
		}
		if _, idle := answers(said, lacking, l); idle {
			continue
		}
		left = append(left, l)
		whole = whole || len(l.Along) == 0
		for _, e := range l.Edges() {
			edges[e] = true
		}
	}
	// What a part is about may be left by several statements together.
	open := slices.DeleteFunc(slices.Clone(lacking), func(p Part) bool {
		return len(left) > 0 && (whole || !slices.ContainsFunc(p.Edges, func(e string) bool { return !edges[e] }))
	})
	switch {
	case len(open) > 0:
		return Result{q, Open, together(open), open, nil}
	case len(left) > 0:
		for _, l := range left {
			said = append(said, Part{Text: l.Because.Text + along(l), At: l.Because.At})
		}
		return Result{q, Left, said, nil, left}
	}
	return Result{q, Answered, said, nil, nil}
}

func along(l *board.Leave) string {
	if len(l.Along) == 0 {
		return ""
	}
	return ", along " + strings.Join(l.Edges(), " ")
}

// concerns tells whether a part is about something that a statement leaves.
func concerns(p Part, l *board.Leave) bool {
	return len(l.Along) == 0 || len(p.Edges) == 0 || slices.ContainsFunc(p.Edges, func(e string) bool { return slices.Contains(l.Edges(), e) })
}

// answers is what says already all that a statement would leave to the shop; ok
// is false where something of it is not said.
func answers(said, lacking []Part, l *board.Leave) (by Part, ok bool) {
	if slices.ContainsFunc(lacking, func(p Part) bool { return concerns(p, l) }) {
		return Part{}, false
	}
	i := slices.IndexFunc(said, func(p Part) bool { return concerns(p, l) })
	if i < 0 {
		return Part{}, false
	}
	return said[i], true
}

// Idle is a query that a statement leaves to the shop for nothing.
type Idle struct {
	Leave *board.Leave
	Query board.Name // as the statement names it
	By    Part       // what answers it
	Whole bool       // it is asked of the whole board, and left for some edges
}

// Idles lists what a board leaves to the shop and says all the same, and what it
// leaves for some edges that is asked of the whole board.
func Idles(b *board.Board) []Idle {
	var list []Idle
	type answer struct{ said, lacking []Part }
	kept := map[string]answer{}
	for _, l := range b.Leaves() {
		for _, name := range l.Queries {
			q := Named(name.Text)
			if q != nil && q.Whole && len(l.Along) > 0 {
				list = append(list, Idle{Leave: l, Query: name, Whole: true})
				continue
			}
			if q == nil || q.applies != nil && !q.applies(b) || q.slow != nil {
				continue
			}
			a, ok := kept[q.Name]
			if !ok {
				a.said, a.lacking = q.answer(b)
				kept[q.Name] = a
			}
			if by, ok := answers(a.said, a.lacking, l); ok {
				list = append(list, Idle{Leave: l, Query: name, By: by})
			}
		}
	}
	return list
}

// together makes one part of those that differ in the item alone, with the
// number of the others.
func together(parts []Part) []Part {
	var list []Part
	for i, p := range parts {
		alike := func(o Part) bool { return p.name != "" && o.name != "" && o.Insert == p.Insert }
		if slices.ContainsFunc(parts[:i], alike) {
			continue
		}
		more := 0
		for _, o := range parts[i+1:] {
			if alike(o) {
				more++
			}
		}
		if more > 0 {
			p.Text += " and " + wording.Plural(more, "other")
		}
		list = append(list, p)
	}
	return list
}

// Named finds a question by its name, or nil.
func Named(name string) *Query {
	if i := slices.IndexFunc(table, func(q Query) bool { return q.Name == name }); i >= 0 {
		return &table[i]
	}
	return nil
}

// Table lists every question. It is shared; it must not be changed.
func Table() []Query { return table }

// Count counts the results in a state.
func Count(list []Result, s State) int {
	n := 0
	for _, r := range list {
		if r.State == s {
			n++
		}
	}
	return n
}
