package board

import (
	"fmt"
	"strings"

	"hemline/lang/finding"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Unit is the statements of one file that a board is made of.
type Unit struct {
	Statements []*syntax.Statement
	// Root is the file that was asked for; of the others only the statements
	// that `use` brings in count.
	Root bool
}

// brought are the statements that `use` brings in.
var brought = map[string]bool{"let": true, "stack": true, "fabricator": true}

// Built is a board and what came of building it, kept to build the next
// version of the same text from.
type Built struct {
	Board    *Board
	Findings []finding.Finding
	env      *env
	decoded  []*decoded
	// duplicates are the findings on names that stand twice, and unique that
	// there is none.
	unique bool
}

// Build makes the board that the units state. It takes over from prev, the
// result for an earlier version or nil, the meaning of every statement that is
// still the same and read the same; the result does not depend on prev.
func Build(units []Unit, prev *Built) *Built {
	out := &Built{}
	var before *env
	if prev != nil {
		before = prev.env
	}
	out.env = newEnv(units, before)
	out.decodeAll(units, prev)
	out.assemble()
	out.checkNames(prev)
	return out
}

// decodeAll lines the statements up with those of the version before: equal
// from the front, equal from the back, new between.
func (out *Built) decodeAll(units []Unit, prev *Built) {
	n := 0
	for _, u := range units {
		n += len(u.Statements)
	}
	statements := make([]*syntax.Statement, 0, n)
	for _, u := range units {
		for _, s := range u.Statements {
			if u.Root || brought[s.Word()] {
				statements = append(statements, s)
			}
		}
	}
	out.decoded = make([]*decoded, len(statements))
	var old []*decoded
	if prev != nil {
		old = prev.decoded
	}
	front := 0
	for front < len(statements) && front < len(old) && old[front].stmt == statements[front] {
		out.decoded[front] = old[front]
		front++
	}
	back := 0
	for back < len(statements)-front && back < len(old)-front && old[len(old)-1-back].stmt == statements[len(statements)-1-back] {
		out.decoded[len(statements)-1-back] = old[len(old)-1-back]
		back++
	}
	sameEnv := prev != nil && prev.env == out.env
	if !sameEnv && prev != nil {
		// What the meanings read is looked up in the new env, against the old.
		out.env.before = prev.env
		defer func() { out.env.before = nil }()
	}
	for i, s := range statements {
		if x := out.env.byStmt[s]; x != nil && envWords[s.Word()] {
			out.decoded[i] = &x.decoded
			continue
		}
		if d := out.decoded[i]; d != nil && (sameEnv || d.holds(out.env)) {
			continue
		}
		d := decode(out.env, s)
		out.decoded[i] = &d
	}
}

// assemble gathers the items into a board and ties the names between them.
func (out *Built) assemble() {
	b := &Board{geometry: out.env.geo, platings: map[string]*Plating{}}
	out.Board = b
	known := map[string]bool{} // platings that are named, with or without a meaning
	for _, d := range out.decoded {
		if d.word == "plating" {
			known[d.name.Text] = true
		}
		out.Findings = append(append(out.Findings, d.findings...), d.circles...)
		b.add(d.item)
	}
	for _, p := range b.Platings {
		if b.platings[p.Name.Text] == nil {
			b.platings[p.Name.Text] = p
		}
	}
	out.tie(known)
	b.buildWalls()
}

func (b *Board) add(item any) {
	switch x := item.(type) {
	case *Gap:
		b.Gaps = append(b.Gaps, x)
	case *Feature:
		b.Features = append(b.Features, x)
	case *Let:
		b.Lets = append(b.Lets, x)
	case *Info:
		if b.Info == nil {
			b.Info = x
		}
	case *Stack:
		if b.Stack == nil {
			b.Stack = x
		}
	case *shape:
		b.addShape(x)
	case *Plating:
		b.Platings = append(b.Platings, x)
	case *Connector:
		b.Connectors = append(b.Connectors, x)
	case *Relief:
		b.Reliefs = append(b.Reliefs, x)
	case *Tab:
		b.Tabs = append(b.Tabs, x)
	case *Castellation:
		b.Castellations = append(b.Castellations, x)
	case *Plane:
		b.Planes = append(b.Planes, x)
	case *Fence:
		b.Fences = append(b.Fences, x)
	case *Fabricator:
		b.Fabricators = append(b.Fabricators, x)
	case *Acceptance:
		b.Acceptances = append(b.Acceptances, x)
	case *Note:
		b.Notes = append(b.Notes, x)
	}
}

func (b *Board) addShape(s *shape) {
	if s.open != nil {
		b.Open = append(b.Open, s.open)
	}
	switch {
	case s.key == "" && b.OutlineItem == nil:
		b.OutlineItem, b.Outline = &s.Item, s.profile
	case s.key != "" && s.profile != nil && b.geometry.has(s.profile):
		b.Cutouts = append(b.Cutouts, &Cutout{Item: s.Item, Profile: s.profile, Kind: s.kind, Width: s.width})
	}
}

// has tells whether a profile is one of the geometry's: a second cutout of a name is not.
func (g *geometry) has(p *Profile) bool {
	return p.Index < len(g.profiles) && g.profiles[p.Index] == p
}

// tie reports names that refer to nothing.
func (out *Built) tie(platings map[string]bool) {
	b := out.Board
	m := &meaning{env: out.env}
	names := out.names()
	for _, g := range b.Gaps {
		if !platings[g.Of.Text] {
			m.unknown(g.Of.At, "plating", g.Of.Text, names.of("plating"))
		}
		if g.For.Given() && !names.has("connector", g.For.Text) {
			m.unknown(g.For.At, "connector", g.For.Text, names.of("connector"))
		}
	}
	for _, r := range b.Reliefs {
		if !platings[r.Over.Text] && !names.has("castellation", r.Over.Text) {
			m.unknown(r.Over.At, "plating or castellation", r.Over.Text, names.of("plating", "castellation"))
		}
	}
	if b.Stack != nil && b.Info != nil && b.Info.Thickness.Given() {
		f := m.report(syntax.RuleRepeated, b.Info.Thickness.At, "the stack states the board's thickness already; leave this one out")
		f.Related = []finding.Related{{Place: b.Stack.Keyword, Message: "the stack"}}
	}
	b.decoded, b.env = out.decoded, out.env
	out.Findings = append(out.Findings, m.findings...)
}

// nameLists are the names that statements give, by keyword, with a meaning or
// without. They are gathered when they are first asked for: most texts refer
// to nothing that is missing.
type nameLists struct {
	decoded []*decoded
	given   map[[2]string]bool // keyword and name
	known   map[string]*syntax.Known
}

func (out *Built) names() *nameLists {
	return &nameLists{decoded: out.decoded, known: map[string]*syntax.Known{}}
}

func (n *nameLists) has(word, name string) bool {
	if n.given == nil {
		n.given = map[[2]string]bool{}
		for _, d := range n.decoded {
			if d.word == "connector" || d.word == "castellation" {
				n.given[[2]string{d.word, d.name.Text}] = true
			}
		}
	}
	return n.given[[2]string{word, name}]
}

func (n *nameLists) of(words ...string) *syntax.Known {
	key := strings.Join(words, " ")
	if n.known[key] == nil {
		var list []string
		for _, word := range words {
			for _, d := range n.decoded {
				if d.word == word && d.name.Given() {
					list = append(list, d.name.Text)
				}
			}
		}
		n.known[key] = syntax.NewKnown(list)
	}
	return n.known[key]
}

// space is the list of names within which a name may stand only once.
func space(word string) string {
	if word == "castellation" {
		return "plating" // relief names either
	}
	return word
}

// single are the statements that may stand only once.
var single = map[string]bool{"hem": true, "board": true, "stack": true, "outline": true}

// checkNames reports names and statements that stand twice. Where the version
// before had none, and the statements that changed still give the same names,
// there is nothing to look for.
func (out *Built) checkNames(prev *Built) {
	if prev != nil && prev.unique && sameNames(prev.decoded, out.decoded) {
		out.unique = true
		return
	}
	type key struct{ space, name string }
	first := make(map[key]*decoded, len(out.decoded))
	out.unique = true
	for _, d := range out.decoded {
		if d.name.Text == "" && !single[d.word] {
			continue
		}
		k := key{space(d.word), d.name.Text}
		if single[d.word] {
			k.name = ""
		}
		other := first[k]
		if other == nil {
			first[k] = d
			continue
		}
		out.unique = false
		out.Findings = append(out.Findings, duplicate(d, other))
	}
}

func duplicate(d, other *decoded) finding.Finding {
	f := finding.Finding{Rule: RuleDuplicate, Category: finding.Language, Place: d.name.At}
	at := other.name.At
	if single[d.word] {
		f.Place = keywordOf(d)
		at = keywordOf(other)
		f.Message = "there is a " + d.word + " already; a file states one"
		if d.word == "outline" {
			f.Message = "there is an outline already; a file states one"
		}
	} else {
		f.Message = fmt.Sprintf("there is a %s named %s already", other.word, syntax.Quote(d.name.Text))
	}
	f.Related = []finding.Related{{Place: at, Message: "the first one"}}
	return f
}

func keywordOf(d *decoded) source.Place {
	p := d.stmt.Whole()
	p.End = int32(len(d.word))
	return p
}

func sameNames(old, now []*decoded) bool {
	if len(old) != len(now) {
		return false
	}
	for i, d := range now {
		if d != old[i] && (d.word != old[i].word || d.name.Text != old[i].name.Text) {
			return false
		}
	}
	return true
}
