package syntax

import "hemline/lang/source"

// Spot is what stands at one point of a statement, seen through the vocabulary.
type Spot struct {
	Place source.Place // the word, number with its unit, or text
	Text  string
	Chain []*Clause // the statement first, then the clause it belongs to, innermost last
	// Keyword tells that the spot is the innermost clause's own keyword.
	Keyword bool
	Arg     *Arg   // of a value: what the vocabulary asks for there; nil beyond it
	Index   int    // of a value: its number in the clause
	Value   *Value // of a value: the leaf of its expression that stands there
	Whole   *Value // of a value: all of it
	Given   bool   // the value after a let's equals sign
}

// Clause is the innermost clause.
func (s *Spot) Clause() *Clause { return s.Chain[len(s.Chain)-1] }

// Find tells what stands at an offset of the statement; ok is false for blank
// space, signs, and what could not be read.
func (r *Reading) Find(offset int) (spot Spot, ok bool) {
	return find([]*Clause{&r.Clause}, offset)
}

func holds(p source.Place, offset int) bool { return int(p.Start) <= offset && offset <= int(p.End) }

func find(chain []*Clause, offset int) (Spot, bool) {
	c := chain[len(chain)-1]
	for _, k := range c.Clauses {
		if s, ok := find(append(chain[:len(chain):len(chain)], k), offset); ok {
			return s, true
		}
	}
	if holds(c.Keyword, offset) {
		return Spot{Place: c.Keyword, Text: c.Spec.Word, Chain: chain, Keyword: true}, true
	}
	for i, v := range c.Values {
		if holds(v.Place(), offset) {
			return leafSpot(Spot{Chain: chain, Arg: c.argOf(i), Index: i}, v, offset)
		}
	}
	if c.Assign != nil && holds(c.Assign.Place(), offset) {
		return leafSpot(Spot{Chain: chain, Given: true}, *c.Assign, offset)
	}
	return Spot{}, false
}

// argOf is what the vocabulary asks for as value i; nil beyond what it knows.
func (c *Clause) argOf(i int) *Arg {
	from := 0
	for k := range c.Spec.Args {
		if from >= len(c.Values) {
			break
		}
		if from = c.endOf(k, from); i < from {
			return &c.Spec.Args[k]
		}
	}
	return nil
}

func leafSpot(s Spot, v Value, offset int) (Spot, bool) {
	leaf := v.leaf(offset)
	if leaf == nil {
		return Spot{}, false
	}
	return s.of(v, leaf), true
}

// of completes a spot for a leaf of a value.
func (s Spot) of(whole Value, leaf *Value) Spot {
	s.Whole, s.Value = &whole, leaf
	s.Place = leaf.Place()
	if leaf.Expr.Op == OpCall {
		s.Place = leaf.Node.place(leaf.Expr.Token, leaf.Expr.Token)
	}
	s.Text = leaf.Node.stmt.text[s.Place.Start:s.Place.End]
	return s
}

// leaf is the number, name, text or function's name of an expression at an offset.
func (v Value) leaf(offset int) *Value {
	switch v.Expr.Op {
	case OpNumber, OpName, OpText:
		if holds(v.Place(), offset) {
			return &v
		}
		return nil
	case OpCall:
		if holds(v.Node.place(v.Expr.Token, v.Expr.Token), offset) {
			return &v
		}
	}
	for _, e := range v.Expr.Args {
		if l := v.Of(e).leaf(offset); l != nil {
			return l
		}
	}
	return nil
}

// NamePlace is where a statement gives its name, read from its tokens alone;
// ok is false for one that gives none.
func (s *Statement) NamePlace() (p source.Place, name string, ok bool) {
	spec := statements[s.Word()]
	if spec == nil || len(spec.Args) == 0 || spec.Args[0].Kind != VNew || len(s.Head.tokens) < 2 {
		return p, "", false
	}
	if k := s.Head.tokens[1].Kind; k != Name && k != Text {
		return p, "", false
	}
	return s.place(s.Head.tokens[1]), Unquote(s.Head.text(1)), true
}

// Spots calls yield for every number, name, text and function of the reading's
// values, in the order in which the clauses were read, until it returns false.
func (r *Reading) Spots(yield func(Spot) bool) { spots([]*Clause{&r.Clause}, yield) }

func spots(chain []*Clause, yield func(Spot) bool) bool {
	c := chain[len(chain)-1]
	for i, v := range c.Values {
		s := Spot{Chain: chain, Arg: c.argOf(i), Index: i}
		if !v.leaves(func(leaf Value) bool { return yield(s.of(v, &leaf)) }) {
			return false
		}
	}
	if v := c.Assign; v != nil {
		s := Spot{Chain: chain, Given: true}
		if !v.leaves(func(leaf Value) bool { return yield(s.of(*v, &leaf)) }) {
			return false
		}
	}
	for _, k := range c.Clauses {
		if !spots(append(chain[:len(chain):len(chain)], k), yield) {
			return false
		}
	}
	return true
}

// leaves visits the numbers, names, texts and functions of an expression.
func (v Value) leaves(yield func(Value) bool) bool {
	switch v.Expr.Op {
	case OpNumber, OpName, OpText:
		return yield(v)
	case OpCall:
		if !yield(v) {
			return false
		}
	}
	for _, e := range v.Expr.Args {
		if !v.Of(e).leaves(yield) {
			return false
		}
	}
	return true
}
