package drawing

import (
	"fmt"
	"math"
	"slices"

	"hemline/lang/board"
	"hemline/lang/emit/scene"
	"hemline/lang/emit/sheet"
)

// Sizes of a detail: the room for it on the sheet, and how much more of the edge
// and the board is shown than what it is about, mm on the board.
const (
	detailW = 92.0
	detailH = 56.0
	more    = 1.5
	// mostDetails is how many kinds are drawn; the tables have them all.
	mostDetails = 24
)

// details are drawings at a larger scale of each kind of tab, gap and half
// hole, one for those that look alike.
func (a *author) details() []*block {
	type kind struct {
		key    string
		of     subject
		names  []string
		within []string // the gaps that tabs stand in, the connectors that gaps are for
	}
	var kinds []*kind
	for _, s := range a.subjects() {
		// Left and right make no other kind.
		key := s.word + min(alike(a.detail(s, 1, nil, nil)), alike(a.detail(s, -1, nil, nil)))
		i := slices.IndexFunc(kinds, func(k *kind) bool { return k.key == key })
		if i < 0 {
			if len(kinds) == mostDetails {
				a.left = true
				continue
			}
			i, kinds = len(kinds), append(kinds, &kind{key: key, of: s})
		}
		kinds[i].names = append(kinds[i].names, s.name)
		if w := s.within(); w != "" && !slices.Contains(kinds[i].within, w) {
			kinds[i].within = append(kinds[i].within, w)
		}
	}
	var list []*block
	for _, k := range kinds {
		list = append(list, a.detail(k.of, 1, k.names, k.within).block("details"))
	}
	return list
}

// subject is what a detail shows: a tab with the gap that it stands in, a gap
// with its connector, or a row of half holes.
type subject struct {
	word, name string
	edge       *board.Edge
	from, to   float64 // what must be seen, positions on the edge, nm
	tab        *board.Tab
	gap        *board.Gap
	connector  *board.Connector
	row        *board.Castellation
}

// within is the gap that a tab stands in, or the connector that a gap is for.
func (s subject) within() string {
	switch {
	case s.own():
		return ""
	case s.tab != nil && s.gap != nil:
		return s.gap.Name.Text
	case s.gap != nil:
		return s.gap.For.Text
	}
	return ""
}

// own tells whether what is shown opens its gap itself.
func (s subject) own() bool { return s.gap != nil && s.gap.Opened() }

func (a *author) subjects() (list []subject) {
	shownIn := map[*board.Gap]bool{}
	for _, t := range a.b.Tabs() {
		if t.Edge == nil || t.Width.Value <= 0 {
			continue
		}
		s := subject{word: "tab", name: t.Name.Text, edge: t.Edge, from: t.From(), to: t.To(), tab: t}
		for _, g := range a.b.Gaps() {
			if g.Edge == t.Edge && g.From <= t.From()+board.Tolerance && t.To() <= g.To+board.Tolerance {
				s.gap, shownIn[g] = g, true
				s.from, s.to = g.From, g.To
			}
		}
		list = append(list, s)
	}
	for _, g := range a.b.Gaps() {
		if g.Edge == nil || shownIn[g] || g.To-g.From <= board.Tolerance {
			continue
		}
		s := subject{word: "gap", name: g.Name.Text, edge: g.Edge, from: g.From, to: g.To, gap: g}
		if c := g.ForConnector(a.b); c != nil && c.Edge == g.Edge {
			if s.connector = c; g.Opened() {
				s.word = "connector"
			}
			from, to := c.BodyAt(g)
			s.from, s.to = math.Min(s.from, from), math.Max(s.to, to)
		}
		list = append(list, s)
	}
	for _, c := range a.b.Castellations() {
		if c.Edge == nil || len(c.Centres) == 0 || c.Hole.Value <= 0 {
			continue
		}
		half := math.Max(c.Hole.Value, c.LandWidth.Value) / 2
		shown := sample(c)
		list = append(list, subject{word: "half hole", name: c.Name.Text, edge: c.Edge, from: shown[0] - half, to: shown[len(shown)-1] + half, row: c})
	}
	return list
}

// closeup is a detail being drawn: the edge along y = 0, what is outside above.
type closeup struct {
	sketch
	a           *author
	s           subject
	k           float64
	middle      float64 // along the path, where x = 0
	sign        float64 // x against the path's direction
	left, right float64 // of the view, mm on the sheet
	deep        float64 // mm on the board
	scale       sheet.Scale
	plated      []part
	open        []part // mask taken off the face
	leaders     []leader
}

// part is a piece of a plated stretch within the view, mm on the sheet.
type part struct {
	by    *board.Plating
	l, r  float64
	reach float64 // of an opening, nm
}

// x is where a position on the edge is drawn.
func (c *closeup) x(position float64) float64 { return c.along(c.s.edge.Along(position)) }

func (c *closeup) along(d float64) float64 { return c.sign * (d - c.middle) / mm * c.k }

// detail draws one; names are those that it stands for, none for a draft
// without words. It is seen from the top where sign is 1, and mirrored where it
// is -1.
func (a *author) detail(s subject, sign float64, names, within []string) *sketch {
	e := s.edge
	c := &closeup{a: a, s: s, sign: -sign}
	if e.Profile.Cutout {
		c.sign = sign // the board lies to the right of the path: it is seen below
	}
	beyond := more*mm + (s.to-s.from)*0.1
	lo, hi := e.Range(s.from-beyond, s.to+beyond)
	if e.Closed {
		lo, hi = e.Along((s.from+s.to)/2)-(s.to-s.from)/2-beyond, e.Along((s.from+s.to)/2)+(s.to-s.from)/2+beyond
	}
	c.middle = (lo + hi) / 2
	c.find(lo, hi)
	c.depth()
	above := more
	if s.tab != nil {
		above = c.tabLength()
	}
	if s.connector != nil {
		above = scene.BodyOut(s.connector) / mm
	}
	c.scale = largest((hi-lo)/mm, c.deep+above, detailW, detailH)
	if c.scale.Factor() > 20 {
		c.scale, _ = sheet.ScaleNamed("20:1")
	}
	c.k = c.scale.Factor()
	for _, list := range [...][]part{c.plated, c.open} {
		for i := range list {
			l, r := c.along(list[i].l), c.along(list[i].r)
			list[i].l, list[i].r = math.Min(l, r), math.Max(l, r)
		}
	}
	c.left, c.right = -(hi-lo)/2/mm*c.k, (hi-lo)/2/mm*c.k
	c.ground()
	switch s.word {
	case "tab":
		c.tab(s.tab)
	case "gap", "connector":
		c.connector()
	case "half hole":
		c.row(s.row)
	}
	c.edge()
	if s.gap != nil {
		c.across(c.x(s.gap.From), c.x(s.gap.To), 0, 1, figure((s.gap.To-s.gap.From)/mm))
	}
	c.dimensioned()
	c.pointed()
	if names != nil {
		word := s.word
		if len(names) > 1 || s.row != nil && len(s.row.Centres) > 1 {
			word += "s"
		}
		c.caption(fmt.Sprintf("Detail of %s %s, %s", word, enumerated(names), c.scale), c.said(within)...)
	}
	return &c.sketch
}

// find lists what is plated between two places along the path, and where mask is
// taken off over it.
func (c *closeup) find(lo, hi float64) {
	p := c.s.edge.Profile
	l := p.Path.Perimeter()
	add := func(list *[]part, s board.Stretch, reach float64) {
		for _, shift := range [...]float64{-l, 0, l} {
			from, to := math.Max(s.From+shift, lo), math.Min(s.To+shift, hi)
			if to-from > board.Tolerance {
				*list = append(*list, part{s.Plating, from, to, reach})
			}
		}
	}
	var seen []*board.Plating
	c.a.b.Wall(p).PlatedIn(lo, hi, func(s board.Stretch) {
		add(&c.plated, s, 0)
		if slices.Contains(seen, s.Plating) {
			return
		}
		seen = append(seen, s.Plating)
		for _, o := range c.a.bared[s.Plating.Name.Text] {
			if o.Face == board.Top && o.Stretch.Profile == p {
				add(&c.open, o.Stretch, o.Reach)
			}
		}
	})
}

// depth is how much of the board is shown.
func (c *closeup) depth() {
	deepest := 0.0
	see := func(v float64) { deepest = math.Max(deepest, v/mm) }
	for _, p := range c.plated {
		see(p.by.Wrap[board.Top].Value)
		see(c.a.reach(p.by)[board.Top] * mm)
	}
	if t := c.s.tab; t != nil {
		see(math.Abs(t.Inset.Value) + t.Hole.Value)
	}
	if x := c.s.connector; x != nil {
		see(x.BodyReach.Value)
		for _, p := range x.Pins {
			see(p.Length.Value)
		}
		if x.Legs != nil {
			see(x.Legs.Length.Value)
		}
	}
	if r := c.s.row; r != nil {
		see(math.Max(r.LandLength.Value, r.Hole.Value/2))
		see(c.a.opened(r.Name.Text)[board.Top].reach)
	}
	c.deep = deepest + more
}

// ground draws what lies on the face, and where the view ends.
func (c *closeup) ground() {
	for _, p := range c.open {
		c.area(math.Max(p.l, c.left), 0, math.Min(p.r, c.right), -p.reach/mm*c.k, sheet.Light, "detail.opening")
	}
	for _, p := range c.plated {
		if w := p.by.Wrap[board.Top].Value / mm * c.k; w > 0 {
			c.area(p.l, 0, p.r, -w, sheet.Medium, "detail.wrap")
		}
	}
	low := -c.deep * c.k
	c.cutOff(sheet.Point{X: c.left}, sheet.Point{X: c.left, Y: low})
	c.cutOff(sheet.Point{X: c.left, Y: low}, sheet.Point{X: c.right, Y: low})
	c.cutOff(sheet.Point{X: c.right, Y: low}, sheet.Point{X: c.right})
}

// edge draws the profile, less what a tab or half holes take of it, and the
// line of a treated surface beside it where it is plated.
func (c *closeup) edge() {
	type piece struct{ l, r float64 }
	var open []piece
	if t := c.s.tab; t != nil {
		open = append(open, piece{c.x(t.From()), c.x(t.To())})
	}
	if r := c.s.row; r != nil {
		for _, p := range sample(r) {
			half := r.Hole.Value / 2 / mm * c.k
			open = append(open, piece{c.x(p) - half, c.x(p) + half})
		}
	}
	for i := range open {
		open[i] = piece{math.Min(open[i].l, open[i].r), math.Max(open[i].l, open[i].r)}
	}
	slices.SortFunc(open, func(x, y piece) int { return int(math.Copysign(1, x.l-y.l)) })
	at := c.left
	for _, o := range append(open, piece{c.right, c.right}) {
		if o.l-at > 0.01 {
			c.Add(sheet.Strokes(sheet.Thick, sheet.Point{X: at}, sheet.Point{X: o.l}))
		}
		at = o.r
	}
	for _, p := range c.plated {
		c.Add(sheet.Shape{ID: "detail.treated", Line: sheet.ChainThick, Fill: sheet.Clear, Paths: []sheet.Path{sheet.Polyline(false, sheet.Point{X: p.l, Y: apart}, sheet.Point{X: p.r, Y: apart})}})
	}
}

// said are the sentences under a detail's title.
func (c *closeup) said(within []string) []string {
	s := "Top face"
	if round := slices.ContainsFunc((board.Stretch{Profile: c.s.edge.Profile, From: c.s.edge.From, To: c.s.edge.To}).Segments(), isArc); round {
		s += ", the edge drawn straight"
	}
	list := []string{s + "."}
	switch {
	case c.s.tab != nil:
		kind := tabKind(c.s.tab, false)
		if c.s.own() {
			kind += "; in its own gap"
		}
		if len(within) > 0 {
			kind += "; in gap " + enumerated(within)
		}
		list[0] += " " + capital(kind) + "."
	case c.s.row != nil:
		list[0] += " Plated."
	case c.s.connector != nil:
		whose := " For " + enumerated(within)
		if c.s.own() {
			whose = " In its own gap"
		}
		if !c.s.connector.Overhang.Given() {
			whose += "; how far out a connector's body reaches is not stated"
		}
		list[0] += whose + "."
		if c.s.gap.Bridged {
			list = append(list, "The connector's metal closes the gap.")
		}
	}
	return list
}
