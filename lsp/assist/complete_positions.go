package assist

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"hemline/checks"
	"hemline/checks/rules"
	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/geom"
	"hemline/lang/quantity"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Positions that keep to the rules are looked for on texts of up to this many statements, by
// so many trials, until so many are found.
const (
	mostStatementsTried = 5000
	mostPositionsTried  = 8
	mostPositions       = 3
)

// positions offers where on its edge a tab or a gap may stand: each is tried, with the
// statement's own clauses and the least that it still lacks, under the rules that speak of it.
func (c *completion) positions() {
	if c.edge == nil || c.ctx.InExpression || c.clause() != "at" || len(c.a.Document().Statements()) > mostStatementsTried {
		return
	}
	if c.o.Limits == nil {
		c.o.Limits = checks.LimitsFor(c.a)
	}
	if own := c.ownUnits(); own["mil"] > own["mm"] {
		c.author, _ = quantity.UnitNamed("mil")
	}
	switch c.ctx.Statement.Word {
	case "tab":
		c.tabPositions()
	case "gap":
		c.gapPositions()
	}
}

// lacking are the clauses that a statement needs for a trial and has not.
func (c *completion) lacking(need func(has func(string) bool) string) string {
	if c.given["like"] {
		return ""
	}
	return need(func(word string) bool { return c.given[word] })
}

func (c *completion) tabPositions() {
	width := quantity.Nanometres(3 * quantity.NmPerMillimetre)
	for _, t := range c.b.Tabs() {
		if t.Width.Given() {
			width = t.Width.Quantity
		}
	}
	most := c.o.Limits.Maximum("tab_width_solid")
	lacks := func(at float64) string {
		return c.lacking(func(has func(string) bool) string { return c.tabLacks(has, width, most, at) })
	}
	others := tabsBut(c.b, c.own)
	var found []float64
	tried := 0
	for _, at := range c.freest(others) {
		if len(found) == mostPositions || tried == mostPositionsTried {
			break
		}
		if slices.ContainsFunc(found, func(x float64) bool { return math.Abs(x-at) < c.edge.Length/8 }) {
			continue
		}
		tried++
		ok, tight := c.keeps(c.written(at)+lacks(at), "tab")
		if !ok {
			continue
		}
		found = append(found, at)
		says := "keeps to the rules of tabs"
		if with := strings.TrimSpace(lacks(at)); with != "" {
			says += " with " + with
		}
		if !tight {
			says += "; the next tab is still too far along the outline"
		}
		c.add(Candidate{Label: c.written(at), Kind: "value", Detail: c.beside(at, others) + says})
	}
}

// freest are positions on the edge, first those that are as far from other tabs as they may be.
func (c *completion) freest(others []*board.Tab) (list []float64) {
	thickness, _ := c.b.Thickness()
	most := c.o.Limits.TabSpacing(thickness, board.Overlap(c.b.Wall(c.edge.Profile), c.edge.From, c.edge.To) > board.Tolerance).Value
	good := func(at float64) float64 {
		_, far := c.nearestTab(at, others)
		if math.IsInf(far, 1) { // a first one: far from the edge's ends
			return min(at, c.edge.Length-at)
		}
		return most - math.Abs(most-far)
	}
	const steps = 40
	for i := 1; i < steps; i++ {
		list = append(list, c.round(c.edge.Length*float64(i)/steps))
	}
	slices.SortStableFunc(list, func(x, y float64) int { return cmp.Compare(math.Round(good(y)), math.Round(good(x))) })
	return list
}

// nearestTab is the tab nearest to a position along the profile, and how far it is; +Inf for none.
func (c *completion) nearestTab(at float64, others []*board.Tab) (nearest *board.Tab, far float64) {
	far = math.Inf(1)
	l := c.edge.Profile.Path.Perimeter()
	for _, t := range others {
		if t.Edge.Profile != c.edge.Profile {
			continue
		}
		d := math.Abs(t.Edge.Along(t.Position) - c.edge.Along(at))
		if d = min(d, l-d); d < far {
			nearest, far = t, d
		}
	}
	return nearest, far
}

// tabLacks are the clauses that a tab at a place needs beside those that it has: as wide as
// others, solid, and with an opening where it stands on a plated edge.
func (c *completion) tabLacks(has func(string) bool, width quantity.Quantity, most checks.Limit, at float64) (s string) {
	perforated := has("perforated")
	if !has("width") {
		if !perforated && width.Value > most.Value {
			width = most.Quantity
		}
		s += " width " + exactly(width)
	}
	if !has("solid") && !perforated {
		s += " solid"
	}
	from, to := c.edge.Range(at-width.Value/2, at+width.Value/2)
	if !has("opens") && !has("premetallised") && board.Overlap(c.b.Wall(c.edge.Profile), from, to) > board.Tolerance {
		s += " opens margin " + exactly(c.o.Limits.Minimum("tab_gap").Quantity)
	}
	return s
}

// tabsBut are the tabs but for the one that is being written.
func tabsBut(b *board.Board, name string) []*board.Tab {
	return slices.DeleteFunc(slices.Clone(b.Tabs()), func(t *board.Tab) bool { return t.Name.Text == name || t.Row.Text == name && t.Row.Given() })
}

// beside says how far the nearest tab is along the outline.
func (c *completion) beside(at float64, others []*board.Tab) string {
	t, far := c.nearestTab(at, others)
	if t == nil {
		return ""
	}
	return fmt.Sprintf("%s from tab %s; ", quantity.Nanometres(far).As(c.author), t.Name.Text)
}

// gapPositions offers the places of connectors and tabs on the edge in whose way the plating is.
func (c *completion) gapPositions() {
	lacks := c.lacking(func(has func(string) bool) string {
		if has("width") || has("from") {
			return ""
		}
		return " width " + exactly(c.o.Limits.Minimum("gap_width").Quantity)
	})
	taken := func(from, to float64) bool {
		return slices.ContainsFunc(c.b.Gaps(), func(g *board.Gap) bool {
			return g.Edge == c.edge && g.Name.Text != c.own && geom.Apart(geom.Interval{From: g.From, To: g.To}, geom.Interval{From: from, To: to}, c.edge.Profile.Path.Perimeter()) <= 0
		})
	}
	offer := func(text, what string) {
		if c.offered(text) {
			return
		}
		if ok, _ := c.keeps(text+lacks, "gap"); ok {
			c.add(Candidate{Label: text, Kind: "value", Detail: what})
		}
	}
	for _, x := range c.b.Connectors() {
		if from, to := x.Span(); x.Edge == c.edge && x.Opens == nil && !taken(from, to) {
			offer(c.asStated(x.Base(), x.Position), "where connector "+x.Name.Text+" is")
		}
	}
	for _, x := range c.b.Tabs() {
		if x.Edge == c.edge && x.Opens == nil && !x.Premetallised && !taken(x.From(), x.To()) {
			offer(c.asStated(x.Base(), x.Position), "where tab "+x.Name.Text+" is")
		}
	}
}

// asStated is an item's position as its statement has it; in the author's unit where that
// has several.
func (c *completion) asStated(i *board.Item, at float64) string {
	if s, ok := c.a.Document().Holding(i.Whole); ok {
		if r := syntax.Read(s); r != nil {
			if x := r.Get("at"); x != nil && len(x.Values) == 1 {
				return x.Values[0].Source()
			}
		}
	}
	return c.written(at)
}

// keeps tries a position: the text with it in place of what is being typed. ok is false where
// the statement would not read, or a rule would find something on its item; clear where tabs
// are not too far apart besides.
func (c *completion) keeps(position, kind string) (ok, clear bool) {
	root := c.a.Root()
	files := c.a.Documents()
	after := lang.Analyze(root.Edit(c.span, position), func(path string) (*source.File, error) {
		for _, d := range files {
			if d.File().Path() == path {
				return d.File(), nil
			}
		}
		return nil, errors.New("it could not be read before")
	}, c.a)
	if itemNamed(after.Board(), kind, c.own) == nil || len(after.Findings()) > len(c.a.Findings()) {
		return false, false
	}
	o := checks.Options{Today: c.o.Today, Limits: c.o.Limits, Later: true, Only: placing(kind)}
	clear = true
	for _, f := range rules.All().Check(after, o).Findings {
		switch {
		case rules.All().Named(f.Rule) == nil || !slices.Contains(f.Items, c.own):
		case f.Rule == "tab_spacing":
			clear = false
		default:
			return false, false
		}
	}
	return true, clear
}

// placing are the rules that a position has to do with; what a tab carries depends on those that
// are still to come.
func placing(kind string) (list []*checks.Rule) {
	for _, r := range rules.All() {
		switch {
		case kind == "tab" && r.Group == checks.GroupTabs && !slices.Contains([]string{"tab_count", "tab_unbalanced", "tab_weak", "tab_stubborn"}, r.Name),
			slices.Contains([]string{"gap_narrow", "gap_conflict", "gap_astray", "gap_idle", "span_short", "hole_web", "item_outside"}, r.Name):
			list = append(list, r)
		}
	}
	return list
}

// round is a position on the author's grid: half millimetres, or 20 mil.
func (c *completion) round(at float64) float64 {
	grid := quantity.NmPerMillimetre / 2
	if c.author != quantity.Millimetre {
		grid = 20 * 25400
	}
	return math.Round(at/float64(grid)) * float64(grid)
}

// written is a position in the author's unit.
func (c *completion) written(at float64) string { return exactly(quantity.Nanometres(at).As(c.author)) }

// exactly is a length as an author writes it.
func exactly(q quantity.Quantity) string {
	unit := q.Unit
	if unit == nil {
		unit = quantity.Millimetre
	}
	if s, ok := q.Exact(unit, 6); ok {
		return s
	}
	return strings.TrimSpace(q.String())
}
