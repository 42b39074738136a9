// Package queries lists what a shop would have to ask of a board: which
// questions its text answers and where, which it leaves open and what would
// answer them, which it leaves to the shop.
//
// The questions are those that fabricators publish as seen or expected, from
// the parameters of a complete order for edge plating: a fabricator's column on
// edge plating (trade magazine, March 2022), a fabricator's guide to drawings of
// plated edges, a fabricator's list of engineering queries; common practice.
package queries

import (
	"strings"

	"hemline/lang/board"
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
	Name     string
	Question string
	When     string // to which boards it applies; "" for all
	// By is the statement or clause that answers it; "" where only a note does.
	By string
	// Speaks is what a note says that answers it, or leaves it to the shop; none
	// where the statement that raises the question answers it.
	Speaks board.Topic

	applies func(*board.Board) bool
	// answer is what the text's statements say, and what they lack.
	answer func(*board.Board) (said, lacking []Part)
}

// Part is an answer in a few words and where it stands, or what would answer a
// question and where it would go; nowhere means the end of the text.
type Part struct {
	Text string
	At   source.Place
}

// Result is a question that applies to a board.
type Result struct {
	*Query
	State State
	Parts []Part // answers; for an open question what would answer it
}

// Ask holds a board to every question that applies to it, in the table's order.
func Ask(b *board.Board) []Result {
	var list []Result
	for i := range table {
		if q := &table[i]; q.applies == nil || q.applies(b) {
			list = append(list, q.ask(b))
		}
	}
	return list
}

func (q *Query) ask(b *board.Board) Result {
	var said, lacking []Part
	if q.answer != nil {
		said, lacking = q.answer(b)
		if len(lacking) == 0 && len(said) > 0 {
			return Result{q, Answered, said}
		}
	}
	if r, ok := b.Remark(q.Speaks); ok {
		state := Answered
		if r.Leaves {
			state = Left
		}
		return Result{q, state, append(said, Part{r.Text, r.Note.Text.At})}
	}
	if len(lacking) == 0 {
		lacking = []Part{{Text: q.note()}}
	}
	return Result{q, Open, lacking}
}

// note is the note that would answer a question, or the statement where none does.
func (q *Query) note() string {
	if len(q.Speaks) == 0 {
		return q.By
	}
	var words []string
	for w := range strings.FieldsSeq(q.Speaks[0]) {
		if !strings.HasPrefix(w, "-") {
			words = append(words, w)
		}
	}
	return `note "` + strings.Join(words, " ") + `: …"`
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
