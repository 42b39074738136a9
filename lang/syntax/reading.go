package syntax

import (
	"fmt"
	"slices"
	"strings"

	"hemline/lang/source"
)

// Names of the findings about a text's form.
const (
	RuleSyntax         = "syntax"
	RuleUnknownKeyword = "unknown_keyword"
	RuleMissingClause  = "missing_clause"
	RuleRepeated       = "repeated_clause"
	RuleWrongValue     = "wrong_value"
)

// Value is one value of a clause, not yet evaluated.
type Value struct {
	Node *Node
	Expr *Expr
	via  source.Place // of one taken over from a model: the follower's `like`
}

// Place is where the value stands; of one that is taken over, the clause that
// takes it.
func (v Value) Place() source.Place {
	if v.via.Anchor != nil {
		return v.via
	}
	return v.Node.place(v.Expr.First, v.Expr.Last)
}

// Source is the value as it is written.
func (v Value) Source() string {
	p := v.Node.place(v.Expr.First, v.Expr.Last)
	return v.Node.stmt.text[p.Start:p.End]
}

// Word is the value as a name: of a plain or dotted word, or of a text in quotes.
func (v Value) Word() (string, bool) {
	if v.Expr.Op != OpName && v.Expr.Op != OpText {
		return "", false
	}
	return Unquote(v.Node.text(v.Expr.Token)), true
}

// Text is what a value in quotes says.
func (v Value) Text() (string, bool) {
	if v.Expr.Op != OpText {
		return "", false
	}
	return Unquote(v.Node.text(v.Expr.Token)), true
}

// Plain is the value as a word without quotes, "" where it is none.
func (v Value) Plain() string {
	if v.Expr.Op != OpName {
		return ""
	}
	return v.Node.text(v.Expr.Token)
}

// Of is a part of the value's expression as a value of its own.
func (v Value) Of(e *Expr) Value { return Value{v.Node, e, v.via} }

// Token is the text of the token that an expression node is about; Unit that
// of its unit, or "".
func (v Value) Token() string { return v.Node.text(v.Expr.Token) }

// Unit is the unit's spelling of a number, "" where it has none.
func (v Value) Unit() string {
	if v.Expr.Unit < 0 {
		return ""
	}
	return v.Node.text(v.Expr.Unit)
}

// Clause is a clause as it was read: its place in the vocabulary, its values
// in the order of the spec's Args, and the clauses that belong to it.
type Clause struct {
	Spec    *Spec
	Keyword source.Place
	Values  []Value
	Assign  *Value
	Clauses []*Clause
	Broken  bool // its values are not what the vocabulary asks for
	end     int32
	given   uint32 // a bit for each of Spec.Clauses that stands and was read
}

// Place covers the clause with all that belongs to it.
func (c *Clause) Place() source.Place {
	p := c.Keyword
	p.End = max(p.End, c.end)
	return p
}

// Get is the first clause with a keyword, or nil. A broken one counts as absent,
// and of no clause at all there is none.
func (c *Clause) Get(word string) *Clause {
	if c == nil {
		return nil
	}
	for _, k := range c.Clauses {
		if k.Spec.Word == word && !k.Broken {
			return k
		}
	}
	return nil
}

// All lists the clauses with a keyword.
func (c *Clause) All(word string) []*Clause {
	var list []*Clause
	for _, k := range c.Clauses {
		if k.Spec.Word == word && !k.Broken {
			list = append(list, k)
		}
	}
	return list
}

// Reading is a statement as the vocabulary reads it.
type Reading struct {
	Clause
	Statement *Statement
	Problems  []Problem
	// Whole tells that nothing was wrong; a reading that is not whole is still
	// good for the names it gives and the clauses that were read.
	Whole bool
}

// Read reads a statement by the vocabulary. It returns nil for one that
// begins with no known keyword; the problems are in the reading or, for
// nil, what Unknown says.
func Read(s *Statement) *Reading {
	spec := s.spec
	if spec == nil {
		return nil
	}
	r := &Reading{Statement: s}
	r.Spec, r.Keyword = spec, s.Head.place(0, 0)
	x := reader{r: r}
	if s.Head.shape == nil {
		x.keepName(s.Head)
	}
	x.node(s.Head, []*Clause{&r.Clause}, &r.Clause)
	if len(s.problems) == 0 && !x.old && !x.kindless { // what is missing may be in what could not be read
		x.complete(&r.Clause)
	}
	r.Whole = len(r.Problems) == 0 && len(s.problems) == 0
	return r
}

// Names lists the names that expressions of the statement read, in order.
func (r *Reading) Names() []string {
	var list []string
	var inExpr func(n *Node, e *Expr)
	inExpr = func(n *Node, e *Expr) {
		if e.Op == OpName {
			list = append(list, n.text(e.Token))
		}
		for _, a := range e.Args {
			inExpr(n, a)
		}
	}
	var inClause func(c *Clause)
	inClause = func(c *Clause) {
		for i, v := range c.Values {
			// Of the clause's own words only its expressions are looked up.
			if k := c.argOf(i).Kind; k == VQuantity || k == VExpr || k == VPosition || k == VPoint {
				inExpr(v.Node, v.Expr)
			}
		}
		if c.Assign != nil {
			inExpr(c.Assign.Node, c.Assign.Expr)
		}
		for _, k := range c.Clauses {
			inClause(k)
		}
	}
	inClause(&r.Clause)
	return list
}

// Unknown is the problem of a statement that begins with no statement's keyword.
func Unknown(s *Statement) Problem {
	n := s.Head
	if len(n.tokens) == 0 {
		return Problem{}
	}
	first := n.tokens[0]
	p := Problem{Rule: RuleUnknownKeyword, Place: s.place(first)}
	word := strings.TrimPrefix(showToken(first, s.text), "the keyword ")
	switch {
	case first.Kind == Keyword:
		p.Message = fmt.Sprintf("%s is a clause of %s; it cannot stand alone", word, strings.Join(holders(word), " or "))
	case first.Kind == Name:
		p.Message = fmt.Sprintf("expected a statement such as board, outline or plating, found %s", word)
		known := make([]string, len(vocabulary))
		for i, s := range vocabulary {
			known[i] = s.Word
		}
		if near, ok := likelyWord("", word, known); ok {
			p.Message = fmt.Sprintf("%s is not a statement; did you mean %s?", word, near)
			p.Replace = near
		}
	default:
		p.Rule = RuleSyntax
		p.Message = fmt.Sprintf("expected a statement, found %s", word)
	}
	return p
}

// holders names the statements that take a clause.
func holders(word string) []string {
	var list []string
	var takes func(s *Spec) bool
	takes = func(s *Spec) bool {
		for _, c := range s.Clauses {
			if c.Word == word || takes(c) {
				return true
			}
		}
		return false
	}
	for _, s := range vocabulary {
		if s.Word != typical && takes(s) {
			list = append(list, s.Word)
		}
	}
	return list
}

// reader reads one statement; old tells that a word of it is one of earlier texts.
type reader struct {
	r   *Reading
	old bool
	// kindless tells that a typical is of no kind, so that its clauses are none's.
	kindless bool
	// composed tells that what a model states is there, so that what is missing is.
	composed bool
}

func (x *reader) problem(rule string, at source.Place, format string, args ...any) {
	x.r.Problems = append(x.r.Problems, Problem{Rule: rule, Place: at, Message: fmt.Sprintf(format, args...)})
}

// keepName lets a statement whose head is broken still give its name, so
// that those who refer to it are not reported as well.
func (x *reader) keepName(head *Node) {
	c := &x.r.Clause
	c.Broken, c.end = true, c.Keyword.End
	if len(c.Spec.Args) > 0 && c.Spec.Args[0].Kind == VNew && len(head.tokens) > 1 && head.tokens[1].Kind == Name && len(head.text(1)) <= MaxNameLength {
		c.Values = []Value{{Node: head, Expr: &Expr{Op: OpName, Token: 1, Unit: -1, First: 1, Last: 1}}}
	}
}

// node reads a head and its body. open are the clauses that a keyword may
// belong to, the outermost (the statement) first; those that are open after it
// are returned: in a body, a clause of the clause on the line before may stand
// on a line of its own. holder is the clause or statement whose body it is in.
func (x *reader) node(n *Node, open []*Clause, holder *Clause) []*Clause {
	if n.shape == nil {
		x.foreign(n, holder)
	} else {
		first := n.shape.clauses
		if n == x.r.Statement.Head {
			x.values(open[0], n, n.shape.values)
			open[0].Assign = x.assign(open[0], n)
		} else {
			first = append([]clauseShape{{0, n.shape.values}}, first...)
			if n.shape.assign != nil {
				x.problem(RuleWrongValue, n.place(n.shape.assign.First, n.shape.assign.Last), "only let takes a value after =")
			}
		}
		for _, cs := range first {
			open = x.clause(n, cs, open)
		}
	}
	inner := open
	for _, line := range n.Body {
		inner = x.node(line, inner[:len(inner):len(inner)], open[len(open)-1])
	}
	return open
}

func (x *reader) assign(c *Clause, n *Node) *Value {
	e := n.shape.assign
	switch {
	case e == nil && c.Spec.Assign:
		x.problem(RuleMissingClause, n.place(0, len(n.tokens)-1), "expected = and a value")
	case e != nil && !c.Spec.Assign:
		x.problem(RuleWrongValue, n.place(e.First, e.Last), "%s takes no =; only let does", c.Spec.Word)
	case e != nil:
		return &Value{Node: n, Expr: e}
	}
	return nil
}

// foreign reports a body line that begins with no keyword. Heads that do but
// could not be read have their problem already.
func (x *reader) foreign(n *Node, holder *Clause) {
	if len(n.tokens) == 0 || n.tokens[0].Kind == Keyword {
		return
	}
	shown := showToken(n.tokens[0], n.stmt.text)
	if n.tokens[0].Kind == Bad {
		x.problem(RuleSyntax, n.place(0, 0), "expected a clause of %s, found %s", holder.Spec.Word, shown)
		return
	}
	x.unknownClause(n.place(0, 0), shown, holder)
}

func (x *reader) unknownClause(at source.Place, word string, holder *Clause) {
	if x.kindless {
		return
	}
	known := make([]string, len(holder.Spec.Clauses))
	for i, c := range holder.Spec.Clauses {
		known[i] = c.Word
	}
	p := Problem{Rule: RuleUnknownKeyword, Place: at}
	if now := renamed[word]; slices.Contains(known, now) {
		x.renamed(at, word, now)
		return
	}
	near, ok := likelyWord(holder.Spec.Word, word, known)
	if k := holder.Spec.Clause(near); k != nil && holder.refuses(k) {
		ok = false // it stands there already
	}
	switch {
	case ok:
		p.Message = fmt.Sprintf("%s is not a clause of %s; did you mean %s?", word, holder.Spec.Word, near)
		p.Replace, x.old = near, true
	case len(known) == 0:
		p.Message = fmt.Sprintf("%s takes no clauses, found %s", holder.Spec.Word, word)
	default:
		p.Message = fmt.Sprintf("%s is not a clause of %s, which takes %s", word, holder.Spec.Word, strings.Join(known, ", "))
	}
	x.r.Problems = append(x.r.Problems, p)
}

// clause reads one clause and returns the clauses that are open after it. It
// belongs to the innermost open clause that takes its keyword.
func (x *reader) clause(n *Node, cs clauseShape, open []*Clause) []*Clause {
	word := n.text(cs.keyword)
	if top := open[len(open)-1]; top.Spec.Word == noClause && top.Spec.Clause(word) == nil && cs.keyword > 0 && n.text(cs.keyword-1) == noClause {
		return open // `no at`: that it cannot be left out is said of no
	}
	for i := len(open) - 1; i >= 0; i-- {
		spec := open[i].Spec.Clause(word)
		if spec == nil {
			continue
		}
		holder := open[i]
		if holder.refuses(spec) && slices.ContainsFunc(open[:i], func(o *Clause) bool { k := o.Spec.Clause(word); return k != nil && !o.refuses(k) }) {
			continue // an outer one's
		}
		c := &Clause{Spec: spec, Keyword: n.place(cs.keyword, cs.keyword)}
		bit := uint32(1) << slices.Index(holder.Spec.Clauses, spec)
		if !spec.Repeat && holder.given&bit != 0 {
			x.problem(RuleRepeated, c.Keyword, "%s is stated twice in this %s", word, holder.Spec.Word)
			c.Broken = true
		}
		x.values(c, n, cs.values)
		if !c.Broken {
			holder.given |= bit
		}
		for _, h := range open[:i+1] {
			h.end = max(h.end, c.end)
		}
		holder.Clauses = append(holder.Clauses, c)
		return append(open[:i+1:i+1], c)
	}
	x.unknownClause(n.place(cs.keyword, cs.keyword), word, open[0])
	return open
}

// refuses tells whether a clause has been given already what may stand in it
// once, or what may not stand together with it.
func (c *Clause) refuses(k *Spec) bool {
	if !k.Repeat && c.given&(1<<slices.Index(c.Spec.Clauses, k)) != 0 {
		return true
	}
	for _, group := range c.Spec.OneOf {
		if slices.Contains(group, k.Word) && c.countOf(group) > 0 {
			return true
		}
	}
	return false
}

// Stands tells whether there is a clause with a keyword, broken or not.
func (c *Clause) Stands(word string) bool {
	for _, k := range c.Clauses {
		if k.Spec.Word == word {
			return true
		}
	}
	return false
}

func (c *Clause) countOf(group []string) int {
	n := 0
	for _, word := range group {
		if c.Stands(word) {
			n++
		}
	}
	return n
}

func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + strings.TrimSuffix(s[1:], ".")
}
