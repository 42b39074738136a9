package syntax

import "strings"

// Class is what a token means, by the vocabulary alone.
type Class uint8

// The classes of tokens.
const (
	ClassComment   Class = iota
	ClassStatement       // a statement's keyword
	ClassClause          // a clause's keyword
	ClassItem            // the name of a plating, a gap, a connector, …
	ClassValue           // a let, or what an expression names
	ClassEdge            // an edge or a layer
	ClassNet             // a net or a finish
	ClassWord            // a word with a meaning of its own: a face, all, middle
	ClassRule            // a rule or a limit
	ClassFunction
	ClassNumber
	ClassUnit
	ClassText
	ClassOperator
)

// Classified is a token with its class. States tells that the statement gives
// the name there.
type Classified struct {
	Start, End int32 // bytes from the statement's first, or from the text's for a comment between statements
	Class      Class
	States     bool
}

// Tokens are the statement's tokens that have a class, in order. They depend on
// its text alone and are kept with it.
func (s *Statement) Tokens() []Classified {
	if kept := s.tokens.Load(); kept != nil {
		return *kept
	}
	list := classify(s)
	s.tokens.Store(&list)
	return list
}

func classify(s *Statement) []Classified {
	tokens := Lex(s.text)
	list := make([]Classified, 0, len(tokens)/2+1)
	var spots map[int32]Spot
	if r := Read(s); r != nil {
		spots = make(map[int32]Spot)
		r.Spots(func(spot Spot) bool {
			spots[spot.Place.Start] = spot
			return true
		})
	}
	for _, t := range tokens {
		c := Classified{Start: t.Start, End: t.End}
		kind := t.Kind
		if _, named := spots[t.Start]; named && kind == Keyword {
			kind = Name // a word that stands for an item
		}
		switch kind {
		case Comment:
			c.Class = ClassComment
		case Keyword:
			c.Class = ClassClause
			if t.Start == 0 {
				c.Class = ClassStatement
			}
		case Function:
			c.Class = ClassFunction
		case Number:
			c.Class = ClassNumber
		case Unit:
			c.Class = ClassUnit
		case Equals, Plus, Minus, Star, Slash:
			c.Class = ClassOperator
		case Text, Name:
			spot, ok := spots[t.Start]
			c.Class, c.States = ClassValue, false
			if kind == Text {
				c.Class = ClassText
			}
			if ok {
				c.Class, c.States = spot.class(kind)
			}
		default:
			continue
		}
		list = append(list, c)
	}
	return list
}

// class is that of the name or text under the spot.
func (s *Spot) class(k Kind) (c Class, states bool) {
	if s.Arg == nil {
		return ClassValue, false
	}
	switch s.Arg.Kind {
	case VNew:
		switch s.Clause().Spec.Word {
		case "let":
			return ClassValue, true
		case "copper", "dielectric", "line", "arc", "close":
			return ClassEdge, true
		}
		return ClassItem, true
	case VRef, VItem:
		return ClassItem, false
	case VName:
		return ClassNet, false
	case VEdge, VLayer:
		if s.Text == All {
			return ClassWord, false
		}
		return ClassEdge, false
	case VFace, VWord:
		return ClassWord, false
	case VText:
		if k == Name { // a word in place of a text
			return ClassWord, false
		}
	case VRule, VParameter:
		return ClassRule, false
	case VPosition:
		if s.Text == Middle {
			return ClassWord, false
		}
	}
	if k == Text {
		return ClassText, false
	}
	return ClassValue, false
}

// EachToken calls yield for every token that has a class, in order, those of
// comments between statements included; places count from the text's start.
func (d *Document) EachToken(yield func(Classified)) {
	text := d.file.Text()
	all := d.chunks.some(0, d.chunks.n)
	for i := range all {
		c := &all[i]
		end := len(text)
		if i+1 < len(all) {
			end = int(all[i+1].start)
		}
		if c.stmt == nil {
			comments(text, int(c.start), end, yield)
			continue
		}
		comments(text, int(c.start), int(c.at), yield)
		for _, t := range c.stmt.Tokens() {
			t.Start += c.at
			t.End += c.at
			yield(t)
		}
		comments(text, int(c.at)+len(c.stmt.text), end, yield)
	}
}

// comments finds the comments in a piece of text that holds nothing else but
// blank space and semicolons.
func comments(text string, from, to int, yield func(Classified)) {
	for from < to {
		n := strings.Index(text[from:to], "//")
		if n < 0 {
			return
		}
		from += n
		end := to
		if n := strings.IndexAny(text[from:to], "\r\n"); n >= 0 {
			end = from + n
		}
		yield(Classified{Start: int32(from), End: int32(end), Class: ClassComment})
		from = end
	}
}
