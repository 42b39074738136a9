package syntax

import (
	"fmt"
	"sync/atomic"

	"hemline/lang/source"
)

// Bounds on what one statement may hold, so that no text can exhaust memory
// or the call stack. They lie far above anything a board needs.
const (
	MaxBodyDepth  = 8
	MaxParenDepth = 64
	MaxHeadTokens = 20_000
	// MaxNameLength is in bytes. Messages repeat names: one as long as a file,
	// referred to from everywhere, would make messages without end.
	MaxNameLength = 200
)

// Statement is one statement of a text: immutable, and the same object for
// as long as its own text stays the same, wherever edits above move it.
type Statement struct {
	anchor   source.Anchor
	text     string // from its first token to its last
	Head     *Node
	spec     *Spec  // nil where it begins with no statement's keyword
	like     string // what its item is like
	problems []Problem
	tokens   atomic.Pointer[[]Classified] // once somebody has asked
}

// Node is a statement or a line of its body: a head and perhaps a body.
type Node struct {
	stmt   *Statement
	tokens []Token // of the head; offsets count from the statement's first byte
	shape  *shape  // nil where the head could not be read
	Braced bool
	Body   []*Node
	open   Token // the brace, if Braced
}

// Problem is a fault of a text's form.
type Problem struct {
	Rule    string
	Place   source.Place
	Message string
	// Replace, if not empty, is surely what the text under Place should be.
	Replace string
	// Append, if not empty, is what the statement lacks at its end.
	Append string
}

// Anchor identifies the statement; places in it count from its first byte.
func (s *Statement) Anchor() *source.Anchor { return &s.anchor }

// Text is the statement's text, without the comments around it.
func (s *Statement) Text() string { return s.text }

// Whole is the place of all of the statement.
func (s *Statement) Whole() source.Place {
	return source.Place{Anchor: &s.anchor, End: int32(len(s.text))}
}

// Problems are the faults of the statement's form.
func (s *Statement) Problems() []Problem { return s.problems }

// Spec is what the vocabulary says of the statement, nil where it begins with
// no statement's keyword.
func (s *Statement) Spec() *Spec { return s.spec }

// Word is the statement's keyword, or "" for a line that begins with none.
func (s *Statement) Word() string {
	if s.Head == nil || len(s.Head.tokens) == 0 || s.Head.tokens[0].Kind != Keyword {
		return ""
	}
	return s.Head.text(0)
}

func (n *Node) text(i int) string {
	t := n.tokens[i]
	return n.stmt.text[t.Start:t.End]
}

func (s *Statement) place(t Token) source.Place {
	return source.Place{Anchor: &s.anchor, Start: t.Start, End: t.End}
}

func (n *Node) place(first, last int) source.Place {
	return source.Place{Anchor: &n.stmt.anchor, Start: n.tokens[first].Start, End: n.tokens[last].End}
}

// builder turns a statement's tokens into nodes. Its tokens hold no spaces
// and no comments; newlines and semicolons are there as separators.
type builder struct {
	stmt   *Statement
	in     []Token
	at     int
	packed []Token // the heads' tokens, one after another
	kinds  []byte
}

// build makes a statement of its text and tokens.
func build(path string, order uint64, text string, tokens []Token) *Statement {
	s := &Statement{anchor: source.Anchor{Path: path, Order: order}, text: text}
	b := builder{stmt: s, in: tokens, packed: make([]Token, 0, len(tokens))}
	var names namer
	for i := range tokens {
		tokens[i].Kind = names.kind(at(tokens, i, text), at(tokens, i+1, text))
	}
	s.Head = b.node(0)
	s.spec = statements[s.Word()]
	if b.peek().Kind != End {
		rest := b.peek()
		b.problem(rest, fmt.Sprintf("expected the end of the line, found %s", b.show(rest)))
	}
	return s
}

func (b *builder) peek() Token {
	if b.at < len(b.in) {
		return b.in[b.at]
	}
	end := int32(len(b.stmt.text))
	return Token{End, end, end}
}

func (b *builder) problem(t Token, message string) {
	b.stmt.problems = append(b.stmt.problems, Problem{Rule: RuleSyntax, Place: b.stmt.place(t), Message: message})
}

func (b *builder) show(t Token) string { return showToken(t, b.stmt.text) }

func showToken(t Token, text string) string {
	switch t.Kind {
	case End, Newline:
		return t.Kind.String()
	case Keyword:
		return "the keyword " + text[t.Start:t.End]
	case Bad:
		if text[t.Start] == '"' {
			return "a text whose closing quote is missing"
		}
		return fmt.Sprintf("%q", text[t.Start:t.End])
	}
	shown := text[t.Start:t.End]
	if runes := []rune(shown); len(runes) > 40 {
		shown = string(runes[:40]) + "…"
	}
	return shown
}

// node reads a head and its body.
func (b *builder) node(depth int) *Node {
	n := &Node{stmt: b.stmt}
	first := len(b.packed)
	parens, deepest, lineStart := 0, 0, false
head:
	for ; b.at < len(b.in); b.at++ {
		t := b.in[b.at]
		switch t.Kind {
		case Newline:
			if parens == 0 {
				break head
			}
			lineStart = true
			continue
		case Semicolon, OpenBrace, CloseBrace:
			break head
		case Keyword:
			if parens > 0 && lineStart {
				break head // a keyword begins a line: the parenthesis was left open
			}
		case OpenParen:
			parens++
			deepest = max(deepest, parens)
		case CloseParen:
			parens = max(parens-1, 0)
		}
		lineStart = false
		b.packed = append(b.packed, t)
	}
	n.tokens = b.packed[first:len(b.packed):len(b.packed)]
	b.stmt.findLike(n)
	b.readHead(n, deepest)
	if b.peek().Kind == OpenBrace {
		n.Braced, n.open = true, b.peek()
		b.at++
		b.body(n, depth+1)
	}
	return n
}

func (b *builder) body(n *Node, depth int) {
	if depth > MaxBodyDepth {
		b.problem(n.open, fmt.Sprintf("braces are nested deeper than %d", MaxBodyDepth))
		b.skipBlock()
		return
	}
	for {
		switch t := b.peek(); t.Kind {
		case End:
			b.problem(n.open, "expected } to close this brace before the statement ends")
			return
		case CloseBrace:
			b.at++
			if next := b.peek(); depth > 1 && next.Kind != Newline && next.Kind != Semicolon && next.Kind != CloseBrace && next.Kind != End {
				b.problem(next, fmt.Sprintf("expected the end of the line, found %s", b.show(next)))
				b.skipLine()
			}
			return
		case Newline, Semicolon:
			b.at++
		default:
			before := b.at
			n.Body = append(n.Body, b.node(depth))
			if b.at == before {
				b.at++ // cannot be, but must never hang
			}
		}
	}
}

func (b *builder) skipLine() {
	for b.at < len(b.in) && b.in[b.at].Kind != Newline && b.in[b.at].Kind != Semicolon && b.in[b.at].Kind != CloseBrace {
		b.at++
	}
}

func (b *builder) skipBlock() {
	for depth := 1; b.at < len(b.in) && depth > 0; b.at++ {
		switch b.in[b.at].Kind {
		case OpenBrace:
			depth++
		case CloseBrace:
			depth--
		}
	}
}

// readHead finds the shape of a head's tokens; a head that has none keeps its
// first problem and no more.
func (b *builder) readHead(n *Node, deepest int) {
	switch {
	case len(n.tokens) == 0:
		t := b.peek()
		b.problem(t, fmt.Sprintf("expected a keyword, found %s", b.show(t)))
		if t.Kind == CloseBrace {
			b.at++
		}
		return
	case n.tokens[0].Kind != Keyword:
		return // the vocabulary's reader knows what was likely meant
	case deepest > MaxParenDepth:
		b.problem(n.tokens[0], fmt.Sprintf("parentheses are nested deeper than %d", MaxParenDepth))
		return
	case len(n.tokens) > MaxHeadTokens:
		b.problem(n.tokens[0], fmt.Sprintf("the statement has %d words and signs; at most %d are read", len(n.tokens), MaxHeadTokens))
		return
	}
	b.kinds = b.kinds[:0]
	for _, t := range n.tokens {
		b.kinds = append(b.kinds, byte(t.Kind))
	}
	shape := shapeOf(b.kinds)
	if shape.wrong < 0 {
		n.shape = shape
		return
	}
	found := Token{End, n.tokens[len(n.tokens)-1].End, n.tokens[len(n.tokens)-1].End}
	if shape.wrong < len(n.tokens) {
		found = n.tokens[shape.wrong]
	}
	if at := shape.wrong - 1; found.Kind == OpenParen && at > 0 && n.tokens[at].Kind == Name {
		b.problem(n.tokens[at], fmt.Sprintf("%s is not a function; there are %s", b.show(n.tokens[at]), functionNames()))
		return
	}
	b.problem(found, fmt.Sprintf("expected %s, found %s", expectedAfter(n.tokens, shape.wrong), b.show(found)))
}

// expectedAfter says what may follow the tokens before number i.
func expectedAfter(tokens []Token, i int) string {
	open := 0
	for _, t := range tokens[:i] {
		switch t.Kind {
		case OpenParen:
			open++
		case CloseParen:
			open--
		}
	}
	switch last := tokens[i-1].Kind; last {
	case Plus, Minus, Star, Slash, Equals, Comma, OpenParen:
		return "a value"
	case Function:
		return "("
	default:
		if open > 0 {
			return ") or an operator"
		}
		return "a value, a clause or the end of the statement"
	}
}
