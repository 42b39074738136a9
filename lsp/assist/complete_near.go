package assist

import (
	"slices"

	"hemline/lang/board"
	"hemline/lang/syntax"
)

// statementsNear are how many statements on either side of the cursor are looked through for
// what is near.
const statementsNear = 100

// around calls visit with the statements round the cursor, and how many lie between.
func (c *completion) around(visit func(s *syntax.Statement, far int)) {
	list := c.a.Document().Statements()
	at := indexAt(c.a.Document(), c.offset)
	for i := max(0, at-statementsNear); i < min(len(list), at+statementsNear); i++ {
		far := at - i
		if far < 0 {
			far = -far
		}
		visit(list[i], far)
	}
}

// nearestFirst puts the names from a place of the list on in the order in which they are
// near: what stands on the edge that the statement is on, then what is spoken of nearest in
// the text. What is equally near keeps its order.
func (c *completion) nearestFirst(from int) {
	if len(c.out)-from < 2 {
		return
	}
	far := map[string]int{}
	c.around(func(s *syntax.Statement, n int) {
		text := s.Text()
		for _, t := range syntax.Lex(text) {
			switch t.Kind {
			case syntax.Name, syntax.Text, syntax.Keyword:
				name := syntax.Unquote(text[t.Start:t.End])
				if known, had := far[name]; !had || n < known {
					far[name] = n
				}
			}
		}
	})
	rank := func(x Candidate) int {
		n, ok := far[x.Label]
		if !ok {
			n = statementsNear
		}
		if c.edge != nil && edgeOf(c.b, x.Kind, x.Label) == c.edge {
			n -= 2 * statementsNear
		}
		return n
	}
	slices.SortStableFunc(c.out[from:], func(x, y Candidate) int { return rank(x) - rank(y) })
}

// edgeOf is the edge that an item stands on; nil for none.
func edgeOf(b *board.Board, word, name string) *board.Edge {
	switch word {
	case "connector":
		if x, ok := find(b.Connectors(), name); ok {
			return x.Edge
		}
	case "tab":
		if x, ok := find(b.Tabs(), name); ok {
			return x.Edge
		}
	case "gap":
		if x, ok := find(b.Gaps(), name); ok {
			return x.Edge
		}
	case "castellation":
		if x, ok := find(b.Castellations(), name); ok {
			return x.Edge
		}
	}
	return nil
}
