// Package coupon writes the text of a coupon of a board's plated wall: a strip
// of its own with the same stack, wall, wraps and tied layers, with ends of
// plated stretches, and with half holes where the board has some. It is a board
// as any other, to be read, checked, changed and built.
//
// A strip of 25 mm and more, cut by the same plated rout as the boards, is
// common practice, no source.
package coupon

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hemline/lang/board"
	"hemline/lang/emit/wording"
	"hemline/lang/quantity"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Limits are what the shop asks for where the strip has something of its own, nm.
type Limits struct {
	TabWidth   [2]float64 // least and most of a solid tab's
	SnapWidth  [2]float64 // of a perforated one's
	TabGap     float64    // from a tab to where plating starts
	TabCorner  float64    // from a tab to the end of its edge
	TabSpacing float64    // from tab to tab along plated edges
	TabCount   float64
	GapWidth   float64
	Stretch    float64 // the shortest that is plated
	HoleCorner float64 // from a half hole to the end of its edge
}

// Coupon is a strip's text.
type Coupon struct {
	// Name is that of the plating whose wall it has, the first of those alike.
	Name string
	// Of are the platings whose walls are made alike.
	Of   []string
	Text string
}

const (
	mm = quantity.NmPerMillimetre
	// least, nm, is how long the strip is at least.
	least = 25 * mm
	// runIn, nm, is how far from its corners the strip is bare.
	runIn = 3 * mm
	// deep, nm, is how wide the strip is at least.
	deep = 14 * mm
)

// Required tells whether a board's criteria ask for a coupon.
func Required(b *board.Board) bool { return b.CriterionOf("coupon").Is("required") }

// Make writes the coupons of a board's platings, one for those whose walls are
// made alike, in the order of the text.
func Make(b *board.Board, l Limits) []Coupon {
	var list []Coupon
	alike := map[string]int{}
	for _, p := range b.Platings() {
		if !b.Runs(p) {
			continue
		}
		w := &writer{b: b, p: p, l: l}
		key := w.wall("x")
		if i, known := alike[key]; known {
			list[i].Of = append(list[i].Of, p.Name.Text)
			continue
		}
		alike[key] = len(list)
		list = append(list, Coupon{Name: p.Name.Text, Of: []string{p.Name.Text}})
	}
	for i := range list {
		w := &writer{b: b, p: b.PlatingNamed(list[i].Name), l: l, of: list[i].Of}
		list[i].Text = w.text()
	}
	return list
}

type writer struct {
	b   *board.Board
	p   *board.Plating
	l   Limits
	of  []string
	out strings.Builder

	long, wide float64 // of the strip
	gaps       []float64
	tab        *board.Tab // as which the strip's are made; nil for solid ones of the shop's least
	width      float64    // of the tabs
	row        *board.Castellation
	holes      []float64 // on the north edge
	taken      map[string]bool
}

func (w *writer) line(format string, args ...any) { fmt.Fprintf(&w.out, format+"\n", args...) }

// text lays the strip out and writes it.
func (w *writer) text() string {
	w.layOut()
	name := "board"
	if i := w.b.Info(); i != nil && i.Name.Text != "" {
		name = i.Name.Text
	}
	w.taken = map[string]bool{w.p.Name.Text: true}
	if w.row != nil {
		w.taken[w.row.Name.Text] = true
	}
	w.line("hem 1\n")
	w.line("// A coupon of the plated edge of %s, made by hemline: a strip of the same stack, wall,", wording.OneLine(name))
	w.line("// wraps and tied layers. Put it into the panel beside the boards, in the same plated rout.")
	w.line("// Put the end of a plated stretch and the middle of one into the microsection.\n")
	w.boardStatement(name)
	w.stack()
	w.line("outline rectangle %s by %s\n", length(w.long), length(w.wide))
	w.line("%s\n", w.wall(ref(w.p.Name.Text)))
	w.tabs()
	w.castellation()
	w.reliefs()
	w.accepted()
	w.tiedToNothing()
	w.fabricator()
	return syntax.Format(syntax.Parse(source.New("coupon.hem", w.out.String()), nil))
}

// layOut finds how large the strip is and what stands where.
func (w *writer) layOut() {
	w.width = math.Max(w.l.TabWidth[0], math.Min(3*mm, w.l.TabWidth[1]))
	tabs := w.b.Tabs()
	if i := slices.IndexFunc(tabs, w.usable); i >= 0 {
		w.tab, w.width = tabs[i], tabs[i].Width.Value
	}
	inward := 0.0
	if rows := w.b.Castellations(); len(rows) > 0 {
		w.row = rows[0]
		inward = w.row.LandLength.Value
	}
	wrap := math.Max(w.p.Wrap[board.Top].Value, w.p.Wrap[board.Bottom].Value)
	// The tabs at either end stand south of the middle, so that those on the
	// north edge and they hold it on three sides.
	w.wide = up(max(deep, 2*(w.l.TabCorner+w.width/2)+mm, wrap+inward+6*mm))
	w.long = max(least+2*runIn, w.halfHoles())
	gap := w.width + 2*w.margin()
	for n := 0; ; n++ {
		// Each stretch between the gaps is long enough to be plated.
		long := up(max(w.long, 2*runIn+float64(n)*gap+float64(n+1)*max(6*mm, w.l.Stretch)))
		if apart := (long + 2*(w.l.TabCorner+w.width/2)) / float64(n+1); n < 8 && apart > w.l.TabSpacing+board.Tolerance {
			continue
		}
		w.long = long
		for i := range n {
			w.gaps = append(w.gaps, round(long*float64(i+1)/float64(n+1)))
		}
		return
	}
}

// margin is how much of the wall is bare on each side of a tab.
func (w *writer) margin() float64 { return math.Max(w.l.TabGap, (w.l.GapWidth-w.width)/2) }

// usable tells whether the strip may have tabs as one of the board's: none of it
// stands on the wall, as premetallised ones do, and what is agreed of the
// board's width is not agreed of the strip's.
func (w *writer) usable(t *board.Tab) bool {
	most := w.l.TabWidth
	if t.Perforated {
		most = w.l.SnapWidth
	}
	return !t.Premetallised && t.Width.Value >= most[0]-board.Tolerance && t.Width.Value <= most[1]+board.Tolerance
}

// halfHoles places up to three of the board's first row at the west end of the
// north edge, and tells how long the strip is with a tab beside them.
func (w *writer) halfHoles() float64 {
	if w.row == nil {
		return 0
	}
	apart := w.row.Apart()
	n := min(3, len(w.row.Centres))
	half := math.Max(w.row.Hole.Value, w.row.LandWidth.Value) / 2
	start := up(max(w.l.HoleCorner, mm) + half + mm)
	for i := range n {
		w.holes = append(w.holes, start+float64(i)*apart)
	}
	end := w.holes[n-1] + half
	return up(end + 3*mm + w.width + w.l.TabCorner)
}

func up(nm float64) float64 { return math.Ceil(nm/mm) * mm }

func round(nm float64) float64 { return math.Round(nm/1e5) * 1e5 }

func (w *writer) boardStatement(name string) {
	w.line("board %s {", ref(name+"_"+w.p.Name.Text+"_coupon"))
	says := "Coupon of plating " + w.p.Name.Text
	if len(w.of) > 1 {
		says = "Coupon of platings " + strings.Join(w.of, ", ")
	}
	if i := w.b.Info(); i != nil {
		if i.Title.Answers() {
			says += ", " + i.Title.Text
		}
		w.line("  title %s", quoted(says))
		for _, x := range []struct {
			clause string
			name   board.Name
		}{{"revision", i.Revision}, {"material", i.Material}} {
			if x.name.Given() {
				w.line("  %s %s", x.clause, quoted(x.name.Text))
			}
		}
		for _, x := range []struct {
			clause string
			name   board.Name
		}{{"finish", i.Finish}, {"mask", i.Mask}, {"legend", i.Legend}} {
			if x.name.Given() {
				w.line("  %s %s", x.clause, ref(x.name.Text))
			}
		}
		if i.Class.Given() {
			w.line("  class %g", i.Class.Value)
		}
	} else {
		w.line("  title %s", quoted(says))
	}
	if t, ok := w.b.Thickness(); ok && w.b.Stack() == nil {
		w.line("  thickness %s", value(t))
	}
	w.line("}\n")
}

func (w *writer) stack() {
	s := w.b.Stack()
	if s == nil {
		return
	}
	w.line("stack {")
	for _, l := range s.Layers {
		text := fmt.Sprintf("  dielectric %s", ref(l.Name.Text))
		if l.Copper {
			text = fmt.Sprintf("  copper %s", ref(l.Name.Text))
		}
		text += stated(" ", l.Thickness) + stated(" base ", l.Base) + stated(" permittivity ", l.Permittivity) + stated(" loss ", l.Loss)
		if l.Material.Given() {
			text += " material " + quoted(l.Material.Text)
		}
		w.line("%s", text)
	}
	w.line("}\n")
}

// wall is the plating's statement, all along the strip's south edge but for its ends.
func (w *writer) wall(name string) string {
	p := w.p
	var b strings.Builder
	fmt.Fprintf(&b, "plating %s {\n  along south from %s to %s\n", name, length(runIn), length(w.long-runIn))
	if p.Net.Given() {
		fmt.Fprintf(&b, "  net %s\n", ref(p.Net.Text))
	}
	b.WriteString(clause("copper", stated("", p.Copper)+stated(" least ", p.Least)))
	for _, f := range board.Faces {
		b.WriteString(clause("wrap "+f.String(), stated("", p.Wrap[f])))
	}
	b.WriteString(clause("extend", stated("", p.Extend)))
	if joined := w.b.Joined(p); len(joined) > 0 {
		for i, l := range joined {
			joined[i] = ref(l)
		}
		fmt.Fprintf(&b, "  layers %s\n", strings.Join(joined, " "))
	}
	if p.Finish.Given() {
		fmt.Fprintf(&b, "  finish %s", ref(p.Finish.Text))
		for i, v := range p.FinishLayers {
			b.WriteString(map[bool]string{true: " thickness ", false: ", "}[i == 0] + value(v))
		}
		b.WriteString("\n")
	}
	b.WriteString("}")
	return b.String()
}

// name is one that nothing else of the strip has.
func (w *writer) name(want string) string {
	for w.taken[want] {
		want += "_"
	}
	w.taken[want] = true
	return want
}

// tabs hold the strip at either end, in its north edge, and where they would
// else stand too far apart in gaps of the wall.
func (w *writer) tabs() {
	kind := "solid"
	if t := w.tab; t != nil {
		if t.Perforated {
			kind = fmt.Sprintf("perforated hole %s pitch %s", value(t.Hole), value(t.Pitch)) + stated(" inset ", t.Inset)
		}
		kind += stated(" length ", t.Length)
		if r := t.Removal; r.How.Given() {
			kind += " removal " + r.How.Text
			if r.By.Given() {
				kind += " by " + r.By.Text
			}
			kind += stated(" within ", r.Within)
		}
	}
	tab := func(name, edge string, opens string, at ...float64) {
		places := make([]string, len(at))
		for i, v := range at {
			places[i] = length(v)
		}
		w.line("tab %s on %s at %s width %s %s%s", w.name(name), edge, strings.Join(places, ", "), length(w.width), kind, opens)
	}
	side := w.l.TabCorner + w.width/2
	tab("tab_west", "west", "", side)
	tab("tab_east", "east", "", side)
	north := []float64{round(w.long / 2)}
	if more := int(w.l.TabCount) - 2 - len(w.gaps); more > 1 || w.row != nil {
		east := w.long - w.l.TabCorner - w.width/2
		north = []float64{east}
		if w.row == nil {
			north = []float64{side, east}
		}
	}
	tab("tab_north", "north", "", north...)
	if len(w.gaps) > 0 {
		tab("tab_south", "south", " opens margin "+length(w.margin()), w.gaps...)
	}
	w.line("")
}

func (w *writer) castellation() {
	c := w.row
	if c == nil {
		return
	}
	var places []string
	for _, at := range w.holes {
		places = append(places, length(at))
	}
	text := fmt.Sprintf("castellation %s on north at %s hole %s land %s by %s", ref(c.Name.Text), strings.Join(places, ", "), value(c.Hole), value(c.LandWidth), value(c.LandLength))
	if len(c.Layers) > 0 {
		text += " layers"
		for _, l := range c.Layers {
			text += " " + ref(l.Text)
		}
	}
	if n := c.NetOf(0); n.Given() {
		text += " net " + ref(n.Text)
	}
	if c.Finish.Given() {
		text += " finish " + ref(c.Finish.Text)
	}
	if c.Burrs.Given() {
		text += " burrs " + c.Burrs.Text
	}
	w.line("%s\n", text)
}

// tiedToNothing agrees that the strips of the wall join nothing else. A plane
// would carry the current past a missing wall, and would be in no file: a coupon
// has no artwork but its layers' files.
func (w *writer) tiedToNothing() {
	if len(w.b.Joined(w.p)) > 0 {
		w.line("\naccept plane_untied on %s because %s", ref(w.p.Name.Text), quoted("a coupon: the wall's strips join nothing else, so that it can be measured alone"))
	}
}

// reliefs are those over the plating and the half holes, for all of them.
func (w *writer) reliefs() {
	for _, r := range w.b.Reliefs() {
		var over []string
		for _, n := range r.Over {
			if slices.Contains(w.of, n.Text) && !slices.Contains(over, ref(w.p.Name.Text)) {
				over = append(over, ref(w.p.Name.Text))
			} else if w.row != nil && (n.Text == w.row.Name.Text || w.row.Item.Row.Given() && n.Text == w.row.Item.Row.Text) {
				over = append(over, ref(w.row.Name.Text))
			}
		}
		if len(over) > 0 {
			w.line("relief %s over %s on %s%s%s", ref(w.name(r.Name.Text)), strings.Join(over, " "), strings.Join(r.FaceNames(), " "), stated(" reach ", r.Reach), stated(" margin ", r.Margin))
		}
	}
}
