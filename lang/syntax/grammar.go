package syntax

import (
	"errors"
	"io"
	"sync"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"
)

// A head is a statement or a clause line without its braces:
//
//	Head   = keyword (Value (","? Value)*)? ("=" Expr)? Clause*
//	Clause = keyword (Value (","? Value)*)?
//	Value  = text | Expr
//	Expr   = Term (("+" | "-") Term)*
//	Term   = Factor (("*" | "/") Factor)*
//	Factor = "-"* Atom
//	Atom   = number unit? | function "(" Expr ("," Expr)* ")" | name | "(" Expr ("," Expr)? ")"
//
// How a head is built depends on the kinds of its tokens alone, never on
// their text. So participle reads each sequence of kinds once, and every
// further head of the same kinds shares the result: its shape. A shape speaks
// of tokens by their number in the head; the lexer hands participle that
// number as the token's offset.

// Op is what an expression node does.
type Op uint8

// The operations of expression nodes.
const (
	OpNumber Op = iota // Token is the number, Unit its unit or -1
	OpName             // a name, dotted or not
	OpText             // a text in quotes
	OpNegate           // Args[0]
	OpAdd
	OpSubtract
	OpMultiply
	OpDivide
	OpCall  // Token is the function's name
	OpGroup // ( Args[0] )
	OpPoint // ( Args[0] , Args[1] )
)

// Expr is a node of an expression. Token, Unit, First and Last are token
// numbers in the head the expression stands in.
type Expr struct {
	Op          Op
	Token, Unit int
	First, Last int
	Args        []*Expr
}

// shape is how the tokens of a head hang together.
type shape struct {
	values  []*Expr
	assign  *Expr
	clauses []clauseShape
	// wrong is the number of the token at which reading failed, -1 for none.
	wrong int
}

type clauseShape struct {
	keyword int
	values  []*Expr
}

type gHead struct {
	Keyword gKeyword   `parser:"@@"`
	Values  []*gValue  `parser:"( @@ ( Comma? @@ )* )?"`
	Assign  *gExpr     `parser:"( Equals @@ )?"`
	Clauses []*gClause `parser:"@@*"`
}

type gClause struct {
	Keyword gKeyword  `parser:"@@"`
	Values  []*gValue `parser:"( @@ ( Comma? @@ )* )?"`
}

type gKeyword struct {
	Pos  lexer.Position
	Word string `parser:"@Keyword"`
}

type gValue struct {
	Text *gText `parser:"  @@"`
	Expr *gExpr `parser:"| @@"`
}

type gText struct {
	Pos lexer.Position
	V   string `parser:"@Text"`
}

type gExpr struct {
	First *gTerm   `parser:"@@"`
	Rest  []*gMore `parser:"@@*"`
}

type gMore struct {
	Minus bool   `parser:"( @Minus | Plus )"`
	Term  *gTerm `parser:"@@"`
}

type gTerm struct {
	First *gFactor  `parser:"@@"`
	Rest  []*gTimes `parser:"@@*"`
}

type gTimes struct {
	Divide bool     `parser:"( @Slash | Star )"`
	Factor *gFactor `parser:"@@"`
}

type gFactor struct {
	Signs []gSign `parser:"@@*"`
	Atom  *gAtom  `parser:"@@"`
}

type gSign struct {
	Pos lexer.Position
	V   string `parser:"@Minus"`
}

type gAtom struct {
	Pos    lexer.Position
	Number string   `parser:"(   @Number"`
	Unit   *gUnit   `parser:"    @@?"`
	Call   *gCall   `parser:"  | @@"`
	Name   string   `parser:"  | @Name"`
	Inside []*gExpr `parser:"  | OpenParen @@ ( Comma @@ )?"`
	Close  *gClose  `parser:"    @@ )"`
}

type gUnit struct {
	Pos lexer.Position
	V   string `parser:"@Unit"`
}

type gCall struct {
	Function string   `parser:"@Function OpenParen"`
	Args     []*gExpr `parser:"@@ ( Comma @@ )*"`
	Close    *gClose  `parser:"@@"`
}

type gClose struct {
	Pos lexer.Position
	V   string `parser:"@CloseParen"`
}

// kindLexer gives participle the names of our kinds; the tokens themselves are handed over ready.
type kindLexer struct{}

func (kindLexer) Symbols() map[string]lexer.TokenType {
	return map[string]lexer.TokenType{
		"EOF": lexer.EOF, "Keyword": symbol(Keyword), "Name": symbol(Name), "Function": symbol(Function),
		"Number": symbol(Number), "Unit": symbol(Unit), "Text": symbol(Text), "OpenParen": symbol(OpenParen),
		"CloseParen": symbol(CloseParen), "Comma": symbol(Comma), "Equals": symbol(Equals), "Plus": symbol(Plus),
		"Minus": symbol(Minus), "Star": symbol(Star), "Slash": symbol(Slash),
	}
}

func (kindLexer) Lex(string, io.Reader) (lexer.Lexer, error) {
	return nil, errors.New("heads are lexed before they are parsed")
}

func symbol(k Kind) lexer.TokenType { return lexer.TokenType(-10 - int(k)) }

// kindTokens plays back a head's kinds.
type kindTokens struct {
	kinds []byte
	next  int
}

func (k *kindTokens) Next() (lexer.Token, error) {
	at := lexer.Position{Offset: k.next}
	if k.next == len(k.kinds) {
		return lexer.Token{Type: lexer.EOF, Pos: at}, nil
	}
	k.next++
	kind := Kind(k.kinds[k.next-1])
	return lexer.Token{Type: symbol(kind), Value: kind.String(), Pos: at}, nil
}

var headParser = sync.OnceValue(func() *participle.Parser[gHead] {
	return participle.MustBuild[gHead](participle.Lexer(kindLexer{}))
})

// shapes remembers what participle made of each sequence of kinds. It is
// bounded; a text of nothing but odd heads only makes it forget.
var shapes = struct {
	sync.RWMutex
	known map[string]*shape
}{known: map[string]*shape{}}

const (
	maxShapes = 4096
	// Heads longer than this are seldom two of a kind, and not worth their room.
	maxShapeTokens = 256
)

func shapeOf(kinds []byte) *shape {
	shapes.RLock()
	s := shapes.known[string(kinds)]
	shapes.RUnlock()
	if s != nil {
		return s
	}
	s = parseShape(kinds)
	if len(kinds) > maxShapeTokens {
		return s
	}
	shapes.Lock()
	if len(shapes.known) >= maxShapes {
		clear(shapes.known)
	}
	shapes.known[string(kinds)] = s
	shapes.Unlock()
	return s
}

func parseShape(kinds []byte) *shape {
	peeking, err := lexer.Upgrade(&kindTokens{kinds: kinds})
	if err != nil {
		return &shape{wrong: 0}
	}
	head, err := headParser().ParseFromLexer(peeking)
	if err != nil {
		wrong := 0
		var perr participle.Error
		if errors.As(err, &perr) {
			wrong = perr.Position().Offset
		}
		return &shape{wrong: min(wrong, len(kinds))}
	}
	s := &shape{wrong: -1, values: values(head.Values)}
	if head.Assign != nil {
		s.assign = head.Assign.expr()
	}
	for _, c := range head.Clauses {
		s.clauses = append(s.clauses, clauseShape{c.Keyword.Pos.Offset, values(c.Values)})
	}
	return s
}

func values(list []*gValue) []*Expr {
	out := make([]*Expr, 0, len(list))
	for _, v := range list {
		if v.Text != nil {
			at := v.Text.Pos.Offset
			out = append(out, &Expr{Op: OpText, Token: at, Unit: -1, First: at, Last: at})
			continue
		}
		out = append(out, v.Expr.expr())
	}
	return out
}

func binary(op Op, left, right *Expr) *Expr {
	return &Expr{Op: op, Token: left.Last + 1, Unit: -1, First: left.First, Last: right.Last, Args: []*Expr{left, right}}
}

func (g *gExpr) expr() *Expr {
	e := g.First.expr()
	for _, more := range g.Rest {
		op := OpAdd
		if more.Minus {
			op = OpSubtract
		}
		e = binary(op, e, more.Term.expr())
	}
	return e
}

func (g *gTerm) expr() *Expr {
	e := g.First.expr()
	for _, more := range g.Rest {
		op := OpMultiply
		if more.Divide {
			op = OpDivide
		}
		e = binary(op, e, more.Factor.expr())
	}
	return e
}

func (g *gFactor) expr() *Expr {
	e := g.Atom.expr()
	for i := len(g.Signs) - 1; i >= 0; i-- {
		at := g.Signs[i].Pos.Offset
		e = &Expr{Op: OpNegate, Token: at, Unit: -1, First: at, Last: e.Last, Args: []*Expr{e}}
	}
	return e
}

func (g *gAtom) expr() *Expr {
	at := g.Pos.Offset
	e := &Expr{Op: OpName, Token: at, Unit: -1, First: at, Last: at}
	switch {
	case g.Call != nil:
		e.Op, e.Last = OpCall, g.Call.Close.Pos.Offset
		for _, a := range g.Call.Args {
			e.Args = append(e.Args, a.expr())
		}
	case g.Close != nil:
		e.Op, e.Last = OpGroup, g.Close.Pos.Offset
		for _, a := range g.Inside {
			e.Args = append(e.Args, a.expr())
		}
		if len(e.Args) == 2 {
			e.Op = OpPoint
		}
	case g.Number != "":
		e.Op = OpNumber
		if g.Unit != nil {
			e.Unit = g.Unit.Pos.Offset
			e.Last = e.Unit
		}
	}
	return e
}
