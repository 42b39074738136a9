package board

import (
	"slices"
	"strings"
	"sync"

	"hemline/lang/finding"
	"hemline/lang/geom"
	"hemline/lang/quantity"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// env is what expressions and names can reach: lets, shapes, the stack and
// the board statement, each evaluated after what it reads, in whatever order
// the text states them. Once made, an env is only read.
type env struct {
	lets       map[string]*entry
	shapes     map[string]*entry // "" for the outline, else the cutout's name
	order      []*entry
	byStmt     map[*syntax.Statement]*entry
	stackEntry *entry
	infoEntry  *entry
	geo        *geometry
	values     func() *syntax.Known // what expressions may name
	models     map[string]*pattern  // what others may be like
	followed   map[string]bool      // the names that others are like
	before     *env                 // the env of the version before, while this one is built
}

// geometry is every profile of the board.
type geometry struct {
	once     sync.Once
	index    *geom.Index // of the profiles' boxes, made by whoever asks first
	onceArea sync.Once
	outline  *geom.Shapes // these two too
	cut      *geom.Shapes
	profiles []*Profile
	edges    map[string]*Edge
	rows     map[string][]*Edge   // the members' edges of a row of cutouts, by the name that they have in common
	names    func() *syntax.Known // of the edges
	broken   bool                 // a shape could not be read, so an edge may be missing for that reason
}

// entry is one statement that the env is made of.
type entry struct {
	stmt    *syntax.Statement
	reading *syntax.Reading
	name    string
	key     string   // of a shape: "" for the outline, else the cutout's name
	needs   []string // the names that its expressions read, in order
	state   int
	taken   bool // its meaning is that of the version before
	decoded
}

const (
	fresh = iota
	busy
	done
)

// found tells what became of a name.
type found int

const (
	good found = iota
	bad        // known, but its own fault keeps it from having a value
	unknown
	circular
)

// makesEnv tells whether an env is made of a statement.
func makesEnv(s *syntax.Statement) bool {
	k := kindOf(s)
	return k != nil && k.enter != nil
}

// changes tells whether another env is due where a statement comes or goes.
func (e *env) changes(s *syntax.Statement) bool { return makesEnv(s) || e.changesModels(s) }

// newEnv makes the env of the statements among these that make one.
func newEnv(statements []*syntax.Statement, before *env, root string) *env {
	e := &env{before: before, shapes: map[string]*entry{}}
	room := 0
	if before != nil {
		room = len(before.order) + 1
	}
	e.order, e.lets, e.byStmt = make([]*entry, 0, room), make(map[string]*entry, room), make(map[*syntax.Statement]*entry, room)
	e.values = sync.OnceValue(e.valueNames)
	for _, s := range statements {
		if makesEnv(s) {
			e.add(s)
		}
	}
	for _, x := range e.order {
		e.settle(x)
	}
	e.geometry()
	e.modelsOf(statements, root)
	e.before = nil
	return e
}

func (e *env) add(s *syntax.Statement) {
	x := &entry{stmt: s}
	if e.before != nil {
		if old := e.before.byStmt[s]; old != nil {
			x.reading, x.needs = old.reading, old.needs
		}
	}
	if x.reading == nil {
		x.reading = syntax.Read(s)
		x.needs = x.reading.Names()
	}
	if len(x.reading.Spec.Args) > 0 {
		x.name = nameOf(&x.reading.Clause, 0).Text
	}
	e.order = append(e.order, x)
	e.byStmt[s] = x
	kindOf(s).enter(e, x)
}

// Of several statements of one name, or of a kind that stands once, the first counts.

func (e *env) enterLet(x *entry) {
	if e.lets[x.name] == nil {
		e.lets[x.name] = x
	}
}

func (e *env) enterShape(x *entry, key string) {
	if x.key = key; e.shapes[key] == nil {
		e.shapes[key] = x
	}
}

func (e *env) enterStack(x *entry) {
	if e.stackEntry == nil {
		e.stackEntry = x
	}
}

func (e *env) enterInfo(x *entry) {
	if e.infoEntry == nil {
		e.infoEntry = x
	}
}

// step is an entry under evaluation and what of the entries that it reads is
// still to be looked at.
type step struct {
	entry *entry
	left  []*entry
}

// settle evaluates an entry after everything that it reads. It holds the way
// it went in a list instead of calling itself: a chain of lets may be as long
// as a text. In which order entries are evaluated, and so where a circle is
// reported, depends on the text alone and not on what was known before.
func (e *env) settle(x *entry) {
	if x.state != fresh {
		return
	}
	x.state = busy
	way := []step{{x, e.sources(x)}}
	for len(way) > 0 {
		last := &way[len(way)-1]
		if len(last.left) == 0 {
			e.evaluate(last.entry)
			way = way[:len(way)-1]
			continue
		}
		next := last.left[0]
		last.left = last.left[1:]
		switch next.state {
		case fresh:
			next.state = busy
			way = append(way, step{next, e.sources(next)})
		case busy:
			circle(way, next)
		}
	}
}

// sources are the entries that the values come from which an entry reads.
func (e *env) sources(x *entry) []*entry {
	var list []*entry
	for _, name := range x.needs {
		if let := e.lets[name]; let != nil {
			list = append(list, let)
			continue
		}
		dot := strings.LastIndexByte(name, '.')
		if dot < 0 {
			continue
		}
		if name == "board.thickness" {
			for _, y := range [...]*entry{e.stackEntry, e.infoEntry} {
				if y != nil {
					list = append(list, y)
				}
			}
			continue
		}
		if y := e.shapeOf(name[:dot]); y != nil {
			list = append(list, y)
		}
	}
	return list
}

// evaluate gives an entry its meaning, or takes over what the version before
// made of the same statement if all that it read is still the same.
func (e *env) evaluate(x *entry) {
	circles := x.circles
	if old := e.takeOver(x); old != nil {
		x.decoded, x.taken = *old, true
	} else {
		x.decoded = decodeReading(e, x.stmt, x.reading)
		x.circles = circles
		if item, ok := x.item.(item); ok && len(circles) > 0 {
			item.Base().Faulty = true
		}
	}
	x.state = done
}

func (e *env) takeOver(x *entry) *decoded {
	if e.before == nil || len(x.circles) > 0 {
		return nil
	}
	old := e.before.byStmt[x.stmt]
	if old == nil || len(old.circles) > 0 || !old.holds(e) {
		return nil
	}
	return &old.decoded
}

// circle reports that an entry under evaluation is needed for itself.
func circle(way []step, x *entry) {
	i := slices.IndexFunc(way, func(s step) bool { return s.entry == x })
	var names []string
	for _, s := range way[i:] {
		names = append(names, s.entry.title())
	}
	names = append(names, x.title())
	if n := len(names); n > 12 {
		names = append(slices.Clone(names[:10]), "…", names[n-1])
	}
	x.circles = append(x.circles, finding.Finding{
		Rule: RuleCircle, Category: finding.Language, Place: x.titlePlace(),
		Message: "goes round in a circle: " + strings.Join(names, " → "),
	})
}

func (x *entry) title() string {
	if x.name != "" {
		return x.name
	}
	return x.stmt.Word()
}

func (x *entry) titlePlace() source.Place {
	if n := nameOf(&x.reading.Clause, 0); n.Given() {
		return n.At
	}
	return x.reading.Keyword
}

// value looks up a name in an expression.
func (e *env) value(name string) (quantity.Quantity, found) {
	if x := e.lets[name]; x != nil {
		if x.state != done {
			return quantity.Quantity{}, circular
		}
		l, _ := x.item.(*Let)
		if l == nil || !l.OK {
			return quantity.Quantity{}, bad
		}
		return l.Value, good
	}
	dot := strings.LastIndexByte(name, '.')
	if dot < 0 {
		return quantity.Quantity{}, unknown
	}
	if name == "board.thickness" {
		return e.thickness()
	}
	return e.shapeValue(name[:dot], name[dot+1:])
}

// thickness reads board.thickness.
func (e *env) thickness() (quantity.Quantity, found) {
	for _, x := range [...]*entry{e.stackEntry, e.infoEntry} {
		if x != nil && x.state != done {
			return quantity.Quantity{}, circular
		}
	}
	var info *Info
	if e.infoEntry != nil {
		info, _ = e.infoEntry.item.(*Info)
	}
	if t, ok := thickness(e.stack(), info); ok {
		return t.Quantity, good
	}
	return quantity.Quantity{}, bad
}

// valueNames is what an expression may name, for a message.
func (e *env) valueNames() *syntax.Known {
	names := make([]string, 0, len(e.lets)+len(e.geo.edges)+1)
	for name := range e.lets {
		names = append(names, name)
	}
	names = append(names, "board.thickness")
	for key := range e.shapes {
		if key == "" {
			key = "board"
		}
		for _, value := range shapeValues {
			names = append(names, key+"."+value)
		}
	}
	for _, edge := range e.geo.edges {
		names = append(names, edge.Name+".length")
	}
	slices.Sort(names)
	return syntax.NewKnown(names)
}

func isShape(x *entry) bool { return kindOf(x.stmt).reads&readsShapes != 0 }

// geometry gathers the profiles. Where every shape is what it was in the
// version before, it is the same geometry, so that what was computed on it
// holds. Else every shape is made anew: a profile knows its place among the
// others, and one that another version holds must not change.
func (e *env) geometry() {
	if e.sameShapes() {
		e.geo = e.before.geo
		return
	}
	g := &geometry{edges: map[string]*Edge{}, rows: map[string][]*Edge{}}
	for _, x := range e.order {
		if !isShape(x) {
			continue
		}
		if x.taken {
			x.decoded, x.taken = decodeReading(e, x.stmt, x.reading), false
		}
		shapes := x.shapes()
		if len(shapes) < x.states() {
			g.broken = true
		}
		for _, s := range shapes {
			switch {
			case s.Profile == nil:
				g.broken = true
			case e.shapes[x.key] == x: // else a second one of the name, reported as such
				g.profiles = append(g.profiles, s.Profile)
				if s.Row.Given() {
					g.enterRow(s)
				}
			}
		}
	}
	// The outline first, wherever it is stated.
	slices.SortStableFunc(g.profiles, func(a, b *Profile) int {
		switch {
		case a.Cutout == b.Cutout:
			return 0
		case a.Cutout:
			return 1
		}
		return -1
	})
	for i, p := range g.profiles {
		p.Index = i
		for _, edge := range p.Edges {
			if g.edges[edge.Name] == nil {
				g.edges[edge.Name] = edge
			}
		}
	}
	g.names = sync.OnceValue(g.edgeNames)
	e.geo = g
}

func (g *geometry) edgeNames() *syntax.Known {
	names := make([]string, 0, len(g.edges))
	for _, p := range g.profiles {
		for _, e := range p.Edges {
			names = append(names, e.Name)
		}
	}
	for row := range g.rows {
		names = append(names, row)
	}
	return syntax.NewKnown(names)
}

// enterRow enters the edges of a member of a row under the name that they share
// with the other members'.
func (g *geometry) enterRow(s *shape) {
	for _, e := range s.Profile.Edges {
		name := s.Row.Text + "." + e.own()
		g.rows[name] = append(g.rows[name], e)
	}
}

// own is an edge's name without that of its cutout.
func (e *Edge) own() string { return e.Name[strings.LastIndexByte(e.Name, '.')+1:] }

// sameShapes tells whether all shapes are stated by the same statements as in
// the version before, with the same values.
func (e *env) sameShapes() bool {
	if e.before == nil {
		return false
	}
	shapes := func(order []*entry) (list []*entry) {
		for _, x := range order {
			if isShape(x) {
				list = append(list, x)
			}
		}
		return list
	}
	return slices.EqualFunc(shapes(e.order), shapes(e.before.order), func(now, then *entry) bool {
		return now.taken && now.stmt == then.stmt
	})
}
