package board

import (
	"cmp"
	"maps"
	"slices"
	"sync"

	"hemline/lang/finding"
	"hemline/lang/syntax"
)

// gathered is what the meanings of all statements come to together: lists that
// a keystroke patches where it would take long to make them again.
type gathered struct {
	contents Contents
	faulty   []*decoded // those that have findings or miss a name
	stated   [len(refersTo)]stated
	loose    []loose
	counts   map[string]int // of statements, by keyword
	reads    *reading
	items    int  // in all rows, see MaxAllItems
	dropped  bool // a row was too much
}

// refersTo are the statements that others refer to by name.
var refersTo = [...]string{"plating", "connector", "castellation"}

const (
	platings = iota
	connectors
	castellations
)

// stated are the statements with one keyword, and the names that they give, also
// those without a meaning.
type stated struct {
	by    []*decoded
	names map[string]bool
}

// reading is the set of names that expressions read, made by whoever asks first.
type reading struct {
	once  sync.Once
	names map[string]bool
}

// loose is a reference to something that no statement gives.
type loose struct {
	missing
	relief bool
	order  uint64 // of the statement that refers
}

// gatherAll gathers from every statement.
func (out *Built) gatherAll() {
	g := &out.gathered
	for i := range g.stated {
		g.stated[i].names = map[string]bool{}
	}
	g.counts, g.reads = map[string]int{}, new(reading)
	for _, d := range out.decoded {
		g.contents.add(d.item, out.env.geo)
		g.counts[d.word]++
		if d.isFaulty() {
			g.faulty = append(g.faulty, d)
		}
		if i := slices.Index(refersTo[:], d.word); i >= 0 {
			g.stated[i].by = append(g.stated[i].by, d)
			g.stated[i].names[d.name.Text] = true
		}
	}
	for _, d := range out.decoded {
		g.tie(d)
	}
	g.sortLoose()
}

func (d *decoded) isFaulty() bool { return len(d.findings)+len(d.circles)+len(d.missing) > 0 }

// patch takes over what the version before gathered, and exchanges in it the
// statements that changed. It tells whether it could: not where an expression's
// values or a shape may have changed, which any statement may read.
func (out *Built) patch(prev *Built, front, back int) bool {
	if prev.env != out.env || prev.dropped || prev.decoded == nil {
		return false
	}
	gone := prev.decoded[front : len(prev.decoded)-back]
	before := prev.decoded[:front]
	come := make([]*decoded, len(out.statements)-front-back)
	g := prev.gathered
	for i := range come {
		come[i] = decode(out.env, out.statements[front+i])
		n, _ := come[i].items()
		g.items += n
	}
	for _, d := range gone {
		n, _ := d.items()
		g.items -= n
	}
	if g.items > MaxAllItems {
		return false
	}
	out.decoded = append(make([]*decoded, 0, len(out.statements)), before...)
	out.decoded = append(append(out.decoded, come...), prev.decoded[len(prev.decoded)-back:]...)
	g.contents.exchange(gone, come, before)
	g.count(gone, come)
	g.faulty = exchange(g.faulty, gone, come, before, func(d *decoded) (*decoded, bool) { return d, d.isFaulty() })
	same := true
	for i, word := range refersTo {
		is := func(d *decoded) (*decoded, bool) { return d, d.word == word }
		if slices.ContainsFunc(gone, func(d *decoded) bool { return d.word == word }) || slices.ContainsFunc(come, func(d *decoded) bool { return d.word == word }) {
			same = false
			s := stated{by: exchange(g.stated[i].by, gone, come, before, is), names: map[string]bool{}}
			for _, d := range s.by {
				s.names[d.name.Text] = true
			}
			g.stated[i] = s
		}
	}
	if same {
		g.loose = slices.DeleteFunc(slices.Clone(g.loose), func(l loose) bool {
			return slices.ContainsFunc(gone, func(d *decoded) bool { return d.stmt.Anchor() == l.at.Anchor })
		})
		for _, d := range come {
			g.tie(d)
		}
	} else {
		g.loose = nil
		for _, d := range out.decoded {
			g.tie(d)
		}
	}
	g.sortLoose()
	out.gathered = g
	return true
}

// exchange is a list of the version before with what the statements that are
// gone had in it taken out, and what those that have come have put in its place.
// Statements before the change tell where that is if none is gone.
func exchange[T comparable](old []T, gone, come, before []*decoded, get func(*decoded) (T, bool)) []T {
	pick := func(from []*decoded) (list []T) {
		for _, d := range from {
			if x, ok := get(d); ok {
				list = append(list, x)
			}
		}
		return list
	}
	out, in := pick(gone), pick(come)
	if len(out) == 0 && len(in) == 0 {
		return old
	}
	at := 0
	if len(out) > 0 {
		at = slices.Index(old, out[0])
	} else if len(old) > 0 {
		for _, d := range slices.Backward(before) {
			if x, ok := get(d); ok {
				at = slices.Index(old, x) + 1
				break
			}
		}
	}
	return slices.Concat(old[:at], in, old[at+len(out):])
}

// count counts the statements that are gone out and those that have come in.
func (g *gathered) count(gone, come []*decoded) {
	counts := maps.Clone(g.counts)
	var less, more []string // the names that they read
	for _, d := range gone {
		counts[d.word]--
		for _, r := range d.reads.names {
			less = append(less, r.name)
		}
	}
	for _, d := range come {
		counts[d.word]++
		for _, r := range d.reads.names {
			more = append(more, r.name)
		}
	}
	maps.DeleteFunc(counts, func(_ string, n int) bool { return n == 0 })
	if !maps.Equal(counts, g.counts) {
		g.counts = counts
	}
	slices.Sort(less)
	slices.Sort(more)
	if !slices.Equal(slices.Compact(less), slices.Compact(more)) {
		g.reads = new(reading)
	}
}

func itemOf[T any](d *decoded) (*T, bool) {
	x, ok := d.item.(*T)
	return x, ok
}

// exchange does so for every list of items that may change without the values
// of expressions and the shapes.
func (c *Contents) exchange(gone, come, before []*decoded) {
	c.Platings = exchange(c.Platings, gone, come, before, itemOf[Plating])
	c.Gaps = exchange(c.Gaps, gone, come, before, itemOf[Gap])
	c.Connectors = exchange(c.Connectors, gone, come, before, itemOf[Connector])
	c.Reliefs = exchange(c.Reliefs, gone, come, before, itemOf[Relief])
	c.Tabs = exchange(c.Tabs, gone, come, before, itemOf[Tab])
	c.Castellations = exchange(c.Castellations, gone, come, before, itemOf[Castellation])
	c.Planes = exchange(c.Planes, gone, come, before, itemOf[Plane])
	c.Features = exchange(c.Features, gone, come, before, itemOf[Feature])
	c.Fences = exchange(c.Fences, gone, come, before, itemOf[Fence])
	c.Fabricators = exchange(c.Fabricators, gone, come, before, itemOf[Fabricator])
	c.Acceptances = exchange(c.Acceptances, gone, come, before, itemOf[Acceptance])
	c.Notes = exchange(c.Notes, gone, come, before, itemOf[Note])
}

// assemble makes the board of what was gathered, and the findings.
func (out *Built) assemble(prev *Built) {
	g := &out.gathered
	b := &Board{Contents: g.contents, geometry: out.env.geo, platings: map[string]*Plating{}, handed: prev.Board.handed}
	if b.handed == nil {
		b.handed = new(sync.Map)
	}
	out.Board = b
	b.decoded, b.env, b.counts, b.reads = out.decoded, out.env, g.counts, g.reads
	var missing []missing
	for _, d := range g.faulty {
		out.Findings = append(append(out.Findings, d.findings...), d.circles...)
		missing = append(missing, d.missing...)
	}
	for _, l := range g.loose {
		missing = append(missing, l.missing)
	}
	for _, p := range b.Platings {
		if b.platings[p.Name.Text] == nil {
			b.platings[p.Name.Text] = p
		}
	}
	out.reportMissing(missing)
	if b.Stack != nil && b.Info != nil && b.Info.Thickness.Given() {
		out.Findings = append(out.Findings, finding.Finding{
			Rule: syntax.RuleRepeated, Category: finding.Language, Place: b.Info.Thickness.At,
			Message: "the stack states the board's thickness already; leave this one out",
			Related: []finding.Related{{Place: b.Stack.Keyword, Message: "the stack"}},
		})
	}
	b.buildWalls(prev.Board)
}

// tie notes what a statement refers to that no other gives.
func (g *gathered) tie(d *decoded) {
	note := func(at Name, of names, relief bool) {
		g.loose = append(g.loose, loose{missing{at.At, of, at.Text}, relief, d.stmt.Anchor().Order})
	}
	switch x := d.item.(type) {
	case *Gap:
		if !g.stated[platings].names[x.Of.Text] {
			note(x.Of, platingNames, false)
		}
		if x.For.Given() && !g.stated[connectors].names[x.For.Text] {
			note(x.For, connectorNames, false)
		}
	case *Relief:
		if !g.stated[platings].names[x.Over.Text] && !g.stated[castellations].names[x.Over.Text] {
			note(x.Over, reliefNames, true)
		}
	}
}

// sortLoose puts gaps before reliefs, each in the order of the text: both stand
// in the root text alone.
func (g *gathered) sortLoose() {
	slices.SortStableFunc(g.loose, func(a, b loose) int {
		if a.relief != b.relief {
			if a.relief {
				return 1
			}
			return -1
		}
		return cmp.Compare(a.order, b.order)
	})
}

// add puts an item into its list. Of a second cutout of one name, which the
// geometry does not hold, there is nothing to add.
func (b *Contents) add(item any, geo *geometry) {
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
		b.addShape(x, geo)
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

func (b *Contents) addShape(s *shape, geo *geometry) {
	if s.open != nil {
		b.Open = append(b.Open, s.open)
	}
	switch {
	case s.profile != nil && !geo.has(s.profile):
		// The second of its name, whatever became of the first.
	case s.key == "" && b.OutlineItem == nil:
		b.OutlineItem, b.Outline = &s.Item, s.profile
	case s.key != "" && s.profile != nil:
		b.Cutouts = append(b.Cutouts, &Cutout{Item: s.Item, Profile: s.profile, Kind: s.kind, Width: s.width})
	}
}

// has tells whether a profile is one of the geometry's: a second cutout of a name is not.
func (g *geometry) has(p *Profile) bool {
	return p.Index < len(g.profiles) && g.profiles[p.Index] == p
}
