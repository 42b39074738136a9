package syntax

import "slices"

// A word that is a clause's keyword somewhere is a name where one is due: right
// after a keyword that must have one, whatever word it is; and in lists, in
// expressions and where it may be left out, if no clause that is open has a
// clause of that word.

// due is the place in a line that a word stands at.
type due struct {
	open   []*Spec // the clauses that are open, the statement first
	values int     // of the innermost one, so far
	parens int
	last   Kind // of the token before, in the line
}

// token is a token's kind and text.
type token struct {
	kind Kind
	word string
}

// named tells whether a keyword counts as a name there; next is what stands behind it.
func (d *due) named(word string, next token) bool {
	if len(d.open) == 0 || d.last == Newline {
		return false // the line begins with it
	}
	spec := d.open[len(d.open)-1]
	_, clause := holderOf(d.open, word)
	// A value goes on after an operator; after = there is an expression.
	if operator(d.last) || d.parens > 0 || d.last == Equals {
		return clause == nil
	}
	if len(spec.Args) == 0 {
		return false
	}
	a := &spec.Args[min(d.values, len(spec.Args)-1)]
	first := d.values < len(spec.Args)
	switch {
	case !first && !a.Many:
		return false
	case slices.Contains(a.Words, word):
		return clause == nil || first && !a.Optional && !valued(clause, next)
	case !a.Kind.names():
		// A word in place of a quantity, or meant as one of the words.
		return clause == nil && (first && a.Kind.computed() || d.last == Comma || spec.takesKeywords())
	case first && !a.Optional:
		return clause == nil || !valued(clause, next)
	}
	return clause == nil
}

// valued tells whether a clause's keyword has its first value behind it, or one
// that takes none a clause of its own, so that it is the clause, and the name
// before it is what is missing.
func valued(clause *Spec, next token) bool {
	switch next.kind {
	case Name, Text, Number, Function, OpenParen, Minus:
		return len(clause.Args) > 0
	case Keyword:
		return len(clause.Args) == 0 && clause.Clause(next.word) != nil
	case OpenBrace:
		return len(clause.Args) == 0 && len(clause.Clauses) > 0
	}
	return false
}

// names tells whether values of the kind are names that a text gives or refers to.
func (k ValueKind) names() bool {
	switch k {
	case VNew, VName, VItem, VRef, VEdge, VLayer:
		return true
	}
	return false
}

// computed tells whether values of the kind are expressions.
func (k ValueKind) computed() bool {
	switch k {
	case VQuantity, VExpr, VPosition, VPoint:
		return true
	}
	return false
}

// namer follows the tokens of a statement, its braces too, and tells which of its
// keywords are names.
type namer struct {
	due
	outer [][]*Spec // what each open brace belongs to
}

// kind is what a token counts as; next is what stands behind it.
func (x *namer) kind(t, next token) Kind {
	k := t.kind
	switch k {
	case Newline, Semicolon:
		if x.parens == 0 || k == Semicolon {
			x.parens, x.last = 0, Newline
		}
		return k
	case OpenBrace:
		x.outer = append(x.outer, x.open)
		x.parens, x.last = 0, Newline
		return k
	case CloseBrace:
		if n := len(x.outer); n > 0 {
			x.open, x.outer = x.outer[n-1], x.outer[:n-1]
		}
		x.parens, x.last = 0, Newline
		return k
	case OpenParen:
		x.parens++
	case CloseParen:
		if x.parens = max(x.parens-1, 0); x.parens == 0 {
			x.value()
		}
	case Keyword:
		if x.named(t.word, next) {
			k = Name
			x.value()
			break
		}
		x.keyword(t.word)
	case Name, Text, Number:
		x.value()
	}
	x.last = k
	return k
}

// value counts one more value, unless it goes on with the one before it.
func (x *namer) value() {
	if x.parens == 0 && !operator(x.last) {
		x.values++
	}
}

func (x *namer) keyword(word string) {
	x.values = 0
	if len(x.open) == 0 {
		if s := statements[word]; s != nil && x.last == End {
			x.open = []*Spec{s}
		}
		return
	}
	if i, clause := holderOf(x.open, word); clause != nil {
		x.open = append(x.open[:i+1:i+1], clause)
	}
}

// at is a token of a list, an end past its last; blank space does not count.
func at(tokens []Token, i int, text string) token {
	for ; i < len(tokens); i++ {
		if t := tokens[i]; t.Kind != Space && t.Kind != Comment {
			return token{t.Kind, text[t.Start:t.End]}
		}
	}
	return token{kind: End}
}
