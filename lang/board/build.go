package board

import (
	"cmp"
	"slices"
	"sync"

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
	// Fabricators of the root are those of all files in the order in which they
	// stand, a used file's where it is used; nil where nothing is used.
	Fabricators []*syntax.Statement
}

// Built is a board and what came of building it, kept to build the next
// version of the same text from.
type Built struct {
	Board      *Board
	Findings   []finding.Finding
	env        *env
	statements []*syntax.Statement // that count
	decoded    []*decoded          // what each of them means
	gathered
	root     string
	standing []*syntax.Statement // fabricators, see Unit
	unique   bool                // no name stands twice
}

// Build makes the board that the units state. It takes over from prev, the
// result for an earlier version or nil, the meaning of every statement that is
// still the same and read the same; the result does not depend on prev.
func Build(units []Unit, prev *Built) *Built {
	if prev == nil {
		prev = &Built{Board: &Board{model: new(model)}}
	}
	out := &Built{statements: counting(units)}
	for _, u := range units {
		if u.Root && len(u.Statements) > 0 {
			out.root = u.Statements[0].Anchor().Path
		}
		if u.Root {
			out.standing = u.Fabricators
		}
	}
	front, back := source.Common(prev.statements, out.statements)
	if prev.env != nil && front == len(out.statements) && front == len(prev.statements) && slices.Equal(prev.standing, out.standing) {
		return prev // what changed is between the statements
	}
	changed := out.statements[front : len(out.statements)-back]
	gone := prev.statements[front : len(prev.statements)-back]
	if out.env = prev.env; out.env == nil || slices.ContainsFunc(changed, out.env.changes) || slices.ContainsFunc(gone, out.env.changes) {
		out.env = newEnv(out.statements, prev.env, out.root)
	}
	if !out.patch(prev, front, back) {
		out.decodeAll(prev, front, back)
		out.gatherAll()
	}
	out.assemble(prev)
	out.checkNames(prev)
	return out
}

// counting lists the statements that count: all of the root's, of the used
// files' what `use` brings in.
func counting(units []Unit) []*syntax.Statement {
	if len(units) == 1 && units[0].Root {
		return units[0].Statements
	}
	var list []*syntax.Statement
	for _, u := range units {
		for _, s := range u.Statements {
			if u.Root || carried(s) {
				list = append(list, s)
			}
		}
	}
	return list
}

// decodeAll gives every statement its meaning: those at the front and the
// back that the version before had too keep theirs if it still holds.
func (out *Built) decodeAll(prev *Built, front, back int) {
	out.decoded = make([]*decoded, len(out.statements))
	copy(out.decoded, prev.decoded[:front])
	copy(out.decoded[len(out.decoded)-back:], prev.decoded[len(prev.decoded)-back:])
	sameEnv := prev.env == out.env
	if !sameEnv && prev.env != nil {
		// What the meanings read is looked up in the new env, against the old.
		out.env.before = prev.env
		defer func() { out.env.before = nil }()
	}
	fresh := out.decodeNew()
	for i, s := range out.statements {
		d := out.decoded[i]
		switch {
		case fresh[i] != nil:
			d = fresh[i]
		case d != nil && sameEnv && !d.dropped:
		case makesEnv(s):
			d = &out.env.byStmt[s].decoded
		case d == nil || d.dropped || !d.holds(out.env):
			d = decode(out.env, s)
		}
		out.decoded[i] = d
		n, at := d.items()
		if out.items+n > MaxAllItems {
			d.drop(at)
			out.dropped = true
			continue
		}
		out.items += n
	}
}

// decodeChunk is how many statements are worth a goroutine of their own.
const decodeChunk = 200

// decodeNew gives the statements their meaning that no version before had. What
// they read, the env, is complete, so that they can be read side by side.
func (out *Built) decodeNew() []*decoded {
	fresh := make([]*decoded, len(out.statements))
	var work sync.WaitGroup
	for from := 0; from < len(fresh); from += decodeChunk {
		decodeSome := func() {
			for i := from; i < min(from+decodeChunk, len(fresh)); i++ {
				if s := out.statements[i]; out.decoded[i] == nil && !makesEnv(s) {
					fresh[i] = decode(out.env, s)
				}
			}
		}
		if len(fresh) <= decodeChunk {
			decodeSome()
		} else {
			work.Go(decodeSome)
		}
	}
	work.Wait()
	return fresh
}

// assemble makes the board of what was gathered, and the findings.
func (out *Built) assemble(prev *Built) {
	g := &out.gathered
	m := &model{contents: g.contents, geometry: out.env.geo, platings: map[string]*Plating{},
		decoded: out.decoded, counts: g.counts, names: g.names, env: out.env, root: out.root}
	m.fabricators.items = out.stood(m.fabricators.items)
	m.numberPlanes(prev.Board.model)
	b := &Board{model: m}
	out.Board = b
	var missing []missing
	for _, d := range g.faulty {
		out.Findings = append(append(out.Findings, d.findings...), d.circles...)
		missing = append(missing, d.missing...)
	}
	for _, l := range g.loose {
		missing = append(missing, l.missing)
	}
	for _, p := range b.Platings() {
		if m.platings[p.Name.Text] == nil {
			m.platings[p.Name.Text] = p
		}
	}
	for _, c := range b.Castellations() {
		if m.rows == nil {
			m.rows = map[string]*Castellation{}
		}
		if m.rows[c.Name.Text] == nil {
			m.rows[c.Name.Text] = c
		}
	}
	out.reportMissing(missing)
	if s, i := b.Stack(), b.Info(); s != nil && i != nil && i.Thickness.Given() {
		out.Findings = append(out.Findings, finding.Finding{
			Rule: syntax.RuleRepeated, Category: finding.Language, Place: i.Thickness.At,
			Message: "the stack states the board's thickness already; leave this one out",
			Related: []finding.Related{{Place: s.Keyword, Message: "the stack"}},
		})
	}
	m.openGaps(prev.Board.model)
	var tolerances, criteria []map[string]source.Place
	for _, t := range b.Tolerances() {
		of := map[string]source.Place{}
		for word, v := range t.Of {
			of[word] = v.At
		}
		tolerances = append(tolerances, of)
	}
	for _, t := range b.CriteriaStated() {
		of := map[string]source.Place{}
		for word, v := range t.Of {
			of[word] = v.Clause
		}
		criteria = append(criteria, of)
	}
	out.twice("tolerance", tolerances)
	out.twice("criteria", criteria)
	m.followed = sync.OnceValue(m.allFollowed)
	m.buildWalls(prev.Board.model)
	m.finishWalls(prev.Board.model)
	m.thinFences(prev.Board.model)
}

// stood is a list of fabricators in the order in which they stand.
func (out *Built) stood(list []*Fabricator) []*Fabricator {
	if len(list) < 2 || len(out.standing) == 0 {
		return list
	}
	at := make(map[*source.Anchor]int, len(out.standing))
	for i, s := range out.standing {
		at[s.Anchor()] = i
	}
	place := func(f *Fabricator) int { return at[f.Keyword.Anchor] }
	if slices.IsSortedFunc(list, func(a, b *Fabricator) int { return cmp.Compare(place(a), place(b)) }) {
		return list
	}
	return slices.SortedFunc(slices.Values(list), func(a, b *Fabricator) int { return cmp.Compare(place(a), place(b)) })
}

// carried tells whether `use` brings a statement in.
func carried(s *syntax.Statement) bool {
	k := kindOf(s)
	return k != nil && k.Carried
}
