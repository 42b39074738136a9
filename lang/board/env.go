package board

import (
	"slices"
	"strings"

	"hemline/lang/finding"
	"hemline/lang/quantity"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// env is what expressions and names can reach: lets, shapes, the stack and
// the board statement. Its entries are evaluated when they are first asked
// for, in whatever order the text states them; all of them are by the time a
// board is built, and from then on an env is only read.
type env struct {
	statements []*syntax.Statement // that the env is made of, in order
	lets       map[string]*entry
	shapes     map[string]*entry // "" for the outline, else the cutout's name
	order      []*entry
	byStmt     map[*syntax.Statement]*entry
	stackEntry *entry
	infoEntry  *entry
	geo        *geometry
	open       []*entry // under evaluation, outermost first
	before     *env     // the env of the version before, while this one is built
}

// geometry is every profile of the board.
type geometry struct {
	profiles []*Profile
	edges    map[string]*Edge
	broken   bool // a shape could not be read, so an edge may be missing for that reason
}

// entry is one statement that the env is made of.
type entry struct {
	stmt    *syntax.Statement
	reading *syntax.Reading
	name    string
	state   int
	// pending are circles found while the entry was under evaluation.
	pending []finding.Finding
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

var envWords = map[string]bool{"let": true, "outline": true, "cutout": true, "stack": true, "board": true}

// newEnv makes the env of the statements. Nothing changed since before: it is
// before itself.
func newEnv(units []Unit, before *env) *env {
	e := &env{before: before, lets: map[string]*entry{}, shapes: map[string]*entry{}, byStmt: map[*syntax.Statement]*entry{}}
	for _, u := range units {
		for _, s := range u.Statements {
			if word := s.Word(); envWords[word] && (u.Root || brought[word]) {
				e.statements = append(e.statements, s)
			}
		}
	}
	if before != nil && slices.Equal(e.statements, before.statements) {
		return before
	}
	for _, s := range e.statements {
		e.add(s)
	}
	// Shapes first: whether they are still the same decides what else holds.
	e.geometry()
	for _, x := range e.order {
		e.force(x)
	}
	e.before = nil
	return e
}

func (e *env) add(s *syntax.Statement) {
	x := &entry{stmt: s}
	if e.before != nil {
		if old := e.before.byStmt[s]; old != nil {
			x.reading = old.reading
		}
	}
	if x.reading == nil {
		x.reading = syntax.Read(s)
	}
	if len(x.reading.Spec.Args) > 0 {
		x.name = nameOf(&x.reading.Clause, 0).Text
	}
	e.order = append(e.order, x)
	e.byStmt[s] = x
	first := func(m map[string]*entry, key string) {
		if m[key] == nil {
			m[key] = x
		}
	}
	switch s.Word() {
	case "let":
		first(e.lets, x.name)
	case "outline":
		first(e.shapes, "")
	case "cutout":
		first(e.shapes, x.name)
	case "stack":
		if e.stackEntry == nil {
			e.stackEntry = x
		}
	case "board":
		if e.infoEntry == nil {
			e.infoEntry = x
		}
	}
}

// force evaluates an entry, or takes over what the version before made of the
// same statement if all that it read is still the same.
func (e *env) force(x *entry) {
	if x.state != fresh {
		return
	}
	x.state = busy
	e.open = append(e.open, x)
	defer func() {
		e.open = e.open[:len(e.open)-1]
		x.state = done
	}()
	// Shapes are taken over all together or not at all, see geometry.
	if word := x.stmt.Word(); e.before != nil && word != "outline" && word != "cutout" {
		if old := e.before.byStmt[x.stmt]; old != nil && old.holds(e) {
			x.decoded = old.decoded
			return
		}
	}
	x.decoded = decodeEnv(e, x)
	x.findings = append(x.findings, x.pending...)
}

// circle reports that an entry under evaluation is needed for itself.
func (e *env) circle(x *entry) {
	i := slices.Index(e.open, x)
	if i < 0 {
		return
	}
	var names []string
	for _, y := range e.open[i:] {
		names = append(names, y.title())
	}
	names = append(names, x.title())
	shown := names
	if len(shown) > 12 {
		shown = append(slices.Clone(names[:10]), "…", names[len(names)-1])
	}
	x.pending = append(x.pending, finding.Finding{
		Rule: RuleCircle, Category: finding.Language, Place: x.titlePlace(),
		Message: "goes round in a circle: " + strings.Join(shown, " → "),
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
		if x.state == busy {
			e.circle(x)
			return quantity.Quantity{}, circular
		}
		e.force(x)
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
	of, what := name[:dot], name[dot+1:]
	if of == "board" {
		return e.boardValue(what)
	}
	return e.shapeValue(of, what)
}

// boardValue reads board.thickness and the outline's own values.
func (e *env) boardValue(what string) (quantity.Quantity, found) {
	if what != "thickness" {
		return e.profileValue(e.shapes[""], what)
	}
	for _, x := range []*entry{e.stackEntry, e.infoEntry} {
		if x == nil {
			continue
		}
		if x.state == busy {
			e.circle(x)
			return quantity.Quantity{}, circular
		}
		e.force(x)
	}
	b := Board{}
	if e.stackEntry != nil {
		b.Stack, _ = e.stackEntry.item.(*Stack)
	}
	if e.infoEntry != nil {
		b.Info, _ = e.infoEntry.item.(*Info)
	}
	if t, ok := b.Thickness(); ok {
		return t.Quantity, good
	}
	return quantity.Quantity{}, bad
}

// shapeValue reads EDGE.length, CUTOUT.EDGE.length and a cutout's own values.
func (e *env) shapeValue(of, what string) (quantity.Quantity, found) {
	if x := e.shapes[of]; x != nil && of != "" {
		return e.profileValue(x, what)
	}
	key := ""
	if dot := strings.LastIndexByte(of, '.'); dot >= 0 {
		key = of[:dot]
	}
	x := e.shapes[key]
	p, f := e.profile(x)
	if f != good {
		return quantity.Quantity{}, f
	}
	for _, edge := range p.Edges {
		if edge.Name == of && what == "length" {
			return quantity.Nanometres(edge.Length), good
		}
	}
	return quantity.Quantity{}, unknown
}

func (e *env) profile(x *entry) (*Profile, found) {
	if x == nil {
		return nil, unknown
	}
	if x.state == busy {
		e.circle(x)
		return nil, circular
	}
	e.force(x)
	if s, ok := x.item.(*shape); ok && s.profile != nil {
		return s.profile, good
	}
	return nil, bad
}

// Values of shapes that expressions may read.
var shapeValues = []string{"width", "height", "perimeter", "area"}

func (e *env) profileValue(x *entry, what string) (quantity.Quantity, found) {
	if !slices.Contains(shapeValues, what) {
		return quantity.Quantity{}, unknown
	}
	p, f := e.profile(x)
	if f != good {
		return quantity.Quantity{}, f
	}
	box := p.Path.Box()
	switch what {
	case "width":
		return quantity.Nanometres(grid(box.Max.X - box.Min.X)), good
	case "height":
		return quantity.Nanometres(grid(box.Max.Y - box.Min.Y)), good
	case "perimeter":
		return quantity.Nanometres(grid(p.Path.Perimeter())), good
	}
	return quantity.Quantity{Value: p.Path.SignedArea(), Dim: quantity.Area}, good
}

// valueNames lists what an expression may name, for a message.
func (e *env) valueNames() []string {
	names := make([]string, 0, len(e.lets))
	for name := range e.lets {
		names = append(names, name)
	}
	names = append(names, "board.thickness", "board.width", "board.height")
	for _, x := range e.shapes {
		if s, ok := x.item.(*shape); ok && s.profile != nil {
			for _, edge := range s.profile.Edges {
				names = append(names, edge.Name+".length")
			}
		}
	}
	slices.Sort(names)
	return names
}

// geometry gathers the profiles. Where every shape is what it was in the
// version before, it is the same geometry, so that what was computed on it holds.
func (e *env) geometry() *geometry {
	if e.geo != nil {
		return e.geo
	}
	if g := e.sameShapes(); g != nil {
		e.geo = g
		return g
	}
	g := &geometry{edges: map[string]*Edge{}}
	for _, x := range e.order {
		word := x.stmt.Word()
		if word != "outline" && word != "cutout" {
			continue
		}
		e.force(x)
		s, _ := x.item.(*shape)
		if s == nil || s.profile == nil {
			g.broken = true
			continue
		}
		if e.shapes[s.key] != x {
			continue // a second one of the name, reported as such
		}
		g.profiles = append(g.profiles, s.profile)
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
	e.geo = g
	return g
}

// sameShapes is the geometry of the version before, if all its shapes are
// stated by the same statements with the same values. It then also hands the
// entries over.
func (e *env) sameShapes() *geometry {
	if e.before == nil {
		return nil
	}
	isShape := func(x *entry) bool { w := x.stmt.Word(); return w == "outline" || w == "cutout" }
	var now, then []*entry
	for _, x := range e.order {
		if isShape(x) {
			now = append(now, x)
		}
	}
	for _, x := range e.before.order {
		if isShape(x) {
			then = append(then, x)
		}
	}
	if !slices.EqualFunc(now, then, func(a, b *entry) bool { return a.stmt == b.stmt }) {
		return nil
	}
	for _, x := range then {
		if !x.holds(e) {
			return nil
		}
	}
	for i, x := range now {
		x.decoded, x.state = then[i].decoded, done
	}
	return e.before.geo
}
