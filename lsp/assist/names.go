package assist

import (
	"strings"

	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Kinds of names that are no item's: an item's kind is its keyword.
const (
	kindEdge  = "edge"
	kindLayer = "layer"
	kindNet   = "net"
)

// Name is what a word in a text stands for: two words with the same Name speak
// of the same thing. An edge of a cutout has the cutout's name before its own.
type Name struct {
	Kind string // edge, layer, net, finish, rule, limit, or an item's keyword
	Text string
}

// Mention is a word that stands for a Name.
type Mention struct {
	Name
	File   *source.File
	Span   source.Span // of the name, with its quotes; of a dotted word the part that stands for it
	States bool        // the statement gives the name here
	// Member is what follows the name of a row in one of its members', as ".1", and Word that
	// whole, with its quotes; "" elsewhere.
	Member string
	Word   source.Span
}

// Own is the name without that of the cutout it belongs to.
func (n Name) Own() string {
	if n.Kind == kindEdge {
		return n.Text[strings.LastIndexByte(n.Text, '.')+1:]
	}
	return n.Text
}

// mention is a Mention before it is located.
type mention struct {
	Name
	place  source.Place
	states bool
	member string // as Mention.Member
	word   source.Place
}

// located is a mention in a version of its text.
func (m mention) located(a *lang.Analysis, file *source.File, span source.Span) Mention {
	x := Mention{Name: m.Name, File: file, Span: span, States: m.states, Member: m.member}
	if m.member != "" {
		_, x.Word, _ = a.Locate(m.word)
	}
	return x
}

// ofMember is the mention of a row in a member's name, t.1 or in quotes "t 1.1".
func ofMember(n Name, at source.Place, name string) mention {
	m := mention{Name: n, place: at, member: name[len(n.Text):], word: at}
	if int(at.End-at.Start) != len(name) { // in quotes
		m.place.Start++
		m.place.End = at.End - 1 - int32(len(m.member))
		return m
	}
	m.place.End = at.Start + int32(len(n.Text))
	return m
}

// NameAt tells what the word at an offset of the root text stands for, and
// where its name lies; ok is false where no name stands.
func NameAt(a *lang.Analysis, offset int) (Mention, bool) {
	spot, _, ok := at(a, offset)
	if !ok || spot.Value == nil {
		return Mention{}, false
	}
	for _, m := range mentions(a.Board(), &spot) {
		if _, span, ok := a.Locate(m.place); ok && span.Contains(offset) {
			return m.located(a, a.Root(), span), true
		}
	}
	return Mention{}, false
}

// Mentions lists every place in the text and the files it uses that stands for
// a name, in order of the files and then of the text.
func Mentions(a *lang.Analysis, n Name) []Mention {
	var list []Mention
	for _, d := range a.Documents() {
		list = append(list, mentionsIn(a, d, n)...)
	}
	return list
}

func mentionsIn(a *lang.Analysis, d *syntax.Document, n Name) []Mention {
	last := n.Text[strings.LastIndexByte(n.Text, '.')+1:]
	escaped := strings.Trim(syntax.Quote(last), `"`)
	var list []Mention
	for _, s := range d.Statements() {
		if text := s.Text(); !strings.Contains(text, last) && !strings.Contains(text, escaped) {
			continue
		}
		r := syntax.Read(s)
		if r == nil {
			continue
		}
		r.Spots(func(spot syntax.Spot) bool {
			for _, m := range mentions(a.Board(), &spot) {
				if m.Name != n {
					continue
				}
				if span, ok := d.Locate(m.place); ok {
					list = append(list, m.located(a, d.File(), span))
				}
			}
			return true
		})
	}
	return list
}

// mentions tells what a word stands for. A dotted word may stand for two
// things: a cutout and an edge of it.
func mentions(b *board.Board, s *syntax.Spot) []mention {
	if s.Value == nil {
		return nil
	}
	name, isName := s.Value.Word()
	if !isName {
		return nil
	}
	one := func(kind string) []mention { return []mention{{Name: Name{kind, name}, place: s.Place}} }
	if s.Arg == nil {
		return expressionMentions(b, s, name)
	}
	word := s.Clause().Spec.Word
	switch s.Arg.Kind {
	case syntax.VNew:
		return newMention(s, name)
	case syntax.VRef:
		if m := memberMention(b, s, name); m != nil {
			return m
		}
		for _, kind := range s.Arg.Words {
			if itemNamed(b, kind, name) != nil {
				return one(kind)
			}
		}
		return one(s.Arg.Words[0])
	case syntax.VEdge:
		if name == syntax.All {
			return nil
		}
		return edgeMentions(b, s.Place, name)
	case syntax.VLayer:
		if name == syntax.All {
			return nil
		}
		if l := layerNamed(b, name); l != nil && l.Name.Text != name {
			return nil // top or bottom, which stand for a layer of another name
		}
		return one(kindLayer)
	case syntax.VName:
		return one(word) // a net, a finish
	case syntax.VItem:
		return itemMentions(b, s.Place, name)
	case syntax.VRule:
		return one("rule")
	case syntax.VParameter:
		return one("limit")
	case syntax.VExpr, syntax.VQuantity, syntax.VPosition, syntax.VPoint:
		return expressionMentions(b, s, name)
	}
	return nil
}

// itemMentions is of an item of any kind, or of the row before a member's number.
func itemMentions(b *board.Board, at source.Place, name string) []mention {
	k := accepted(b, name)
	if row, ok := rowOf(name); ok && k != nil && k.Find(b, name).Row.Given() && plainlyQuoted(at, name) {
		if k.Word == "plane" {
			return []mention{ofMember(Name{kindLayer, row}, at, name)}
		}
		return []mention{ofMember(Name{k.Word, row}, at, name)}
	}
	if k != nil {
		if k.Word == "plane" {
			return []mention{{Name: Name{kindLayer, name}, place: at}} // whose name it goes by
		}
		return []mention{{Name: Name{k.Word, name}, place: at}}
	}
	if row, ok := rowOf(name); ok && int(at.End-at.Start) == len(name) { // in quotes it is one word
		at.End = at.Start + int32(len(row))
		return itemMentions(b, at, row)
	}
	return nil
}

// memberMention is of the row whose member a reference names, as t.1.
func memberMention(b *board.Board, s *syntax.Spot, name string) []mention {
	row, ok := rowOf(name)
	if !ok || !plainlyQuoted(s.Place, name) {
		return nil
	}
	for _, kind := range s.Arg.Words {
		if i := itemNamed(b, kind, name); i != nil && i.Row.Given() {
			return []mention{ofMember(Name{kind, row}, s.Place, name)}
		}
	}
	return nil
}

// plainlyQuoted tells whether a name stands as it is, or between quotes without a backslash
// in it, so that a part of it lies where it would be expected.
func plainlyQuoted(at source.Place, name string) bool {
	n := int(at.End - at.Start)
	return n == len(name) || n == len(name)+2
}

// accepted is the kind of the item that a name in an acceptance stands for; nil
// where there is none.
func accepted(b *board.Board, name string) *board.Kind {
	for _, k := range acceptable() {
		if k.Find(b, name) != nil {
			return k
		}
	}
	return nil
}

// rowOf is the row that a member's name, as t.1, begins with.
func rowOf(name string) (string, bool) {
	dot := strings.LastIndexByte(name, '.')
	if dot < 0 || !board.StandsFor(name[:dot], name) {
		return "", false
	}
	return name[:dot], true
}

// newMention is of a name where it is given.
func newMention(s *syntax.Spot, name string) []mention {
	kind := s.Clause().Spec.Word
	switch kind {
	case "copper", "dielectric":
		kind = kindLayer
	case "line", "arc", "close":
		kind = kindEdge
		if head := s.Chain[0]; head.Spec.Word == "cutout" && len(head.Values) > 0 {
			cutout, _ := head.Values[0].Word()
			name = cutout + "." + name
		}
	}
	return []mention{{Name: Name{kind, name}, place: s.Place, states: true}}
}

// edgeMentions is of an edge's name, and of the cutout's before the dot.
func edgeMentions(b *board.Board, at source.Place, name string) []mention {
	dot := strings.LastIndexByte(name, '.')
	if dot < 0 || int(at.End-at.Start) != len(name) { // in quotes it is one word
		return []mention{{Name: Name{kindEdge, name}, place: at}}
	}
	cutout, edge := at, at
	cutout.End = at.Start + int32(dot)
	edge.Start = cutout.End + 1
	of := name[:dot]
	if row, ok := rowOf(of); ok { // s.2.rim is an edge of the row s
		cutout.End = at.Start + int32(len(row))
		of, name = row, row+name[dot:]
	}
	return []mention{{Name: Name{"cutout", of}, place: cutout}, {Name: Name{kindEdge, name}, place: edge}}
}

// expressionMentions is of a name in an expression: a let, or the values of a
// shape or an edge.
func expressionMentions(b *board.Board, s *syntax.Spot, name string) []mention {
	if s.Value.Expr.Op != syntax.OpName || s.Arg != nil && s.Arg.Kind == syntax.VPosition && name == syntax.Middle {
		return nil
	}
	dot := strings.LastIndexByte(name, '.')
	if dot < 0 {
		return []mention{{Name: Name{"let", name}, place: s.Place}}
	}
	of, at := name[:dot], s.Place
	at.End = at.Start + int32(dot)
	switch {
	case of == "board":
		return nil
	case itemNamed(b, "cutout", of) != nil:
		if row, ok := rowOf(of); ok {
			of, at.End = row, at.Start+int32(len(row))
		}
		return []mention{{Name: Name{"cutout", of}, place: at}}
	}
	return edgeMentions(b, at, of)
}

// statedAt is where a name is given; ok is false for one that is given
// nowhere, as a rectangle's edges and nets are not.
func statedAt(b *board.Board, n Name) (source.Place, bool) {
	switch n.Kind {
	case kindEdge:
		if e := b.EdgesNamed(n.Text); len(e) > 0 {
			return e[0].At, true
		}
	case kindLayer:
		if l := layerNamed(b, n.Text); l != nil {
			return l.Name.At, true
		}
	default:
		if i := itemNamed(b, n.Kind, n.Text); i != nil {
			return i.Name.At, true
		}
	}
	return source.Place{}, false
}
