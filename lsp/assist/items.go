package assist

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"hemline/checks"
	"hemline/checks/figures"
	"hemline/checks/report"
	"hemline/lang/board"
	"hemline/lang/emit/wording"
	"hemline/lang/quantity"
	"hemline/lang/syntax"
)

// itemNamed finds an item's common part by its keyword and name; nil if there is none.
func itemNamed(b *board.Board, word, name string) *board.Item {
	if k := board.KindNamed(word); k != nil {
		return k.Find(b, name)
	}
	return nil
}

// acceptable lists the kinds of items that an acceptance may be on: what is on
// the board before the board itself, values and shops.
func acceptable() []*board.Kind {
	var on, rest []*board.Kind
	for _, k := range board.Kinds() {
		switch {
		case k.Accepts && (k.Once || k.Carried):
			rest = append(rest, k)
		case k.Accepts:
			on = append(on, k)
		}
	}
	return append(on, rest...)
}

func find[T interface{ Base() *board.Item }](list []T, name string) (found T, ok bool) {
	i := slices.IndexFunc(list, func(x T) bool { return x.Base().Name.Text == name })
	if i < 0 {
		return found, false
	}
	return list[i], true
}

// Shown keeps what cards of one version of a text take long to work out: an
// editor asks for them again with every move of the mouse. The zero value is
// ready; several goroutines may use one.
type Shown struct {
	// Outcome is what came of checking that version; nil where nobody has.
	Outcome func() checks.Outcome

	platings sync.Map // of functions that give a card, by *board.Plating

	weighed sync.Once
	margins []checks.Margin
}

func (s *Shown) outcome() (out checks.Outcome) {
	if s != nil && s.Outcome != nil {
		out = s.Outcome()
	}
	return out
}

func (s *Shown) plating(p *board.Plating, work func() string) string {
	card, _ := s.platings.LoadOrStore(p, sync.OnceValue(work))
	return card.(func() string)()
}

// cards are what is known of an item with a name, by the keyword of its kind. A
// test holds that each kind is here, or in cardless with the reason.
var cards = map[string]func(b *board.Board, name string, kept *Shown) string{
	"let":          card((*board.Board).Lets, func(_ *board.Board, l *board.Let) string { return letCard(l) }),
	"board":        boardCard,
	"cutout":       card((*board.Board).Cutouts, func(b *board.Board, c *board.Cutout) string { return profileCard(b, c.Profile) }),
	"hole":         card((*board.Board).Holes, func(_ *board.Board, h *board.Hole) string { return holeCard(h) }),
	"plating":      platingCard,
	"gap":          card((*board.Board).StatedGaps, gapCard),
	"connector":    card((*board.Board).Connectors, connectorCard),
	"relief":       card((*board.Board).Reliefs, func(_ *board.Board, r *board.Relief) string { return reliefCard(r) }),
	"tab":          card((*board.Board).Tabs, tabCard),
	"castellation": card((*board.Board).Castellations, castellationCard),
	"plane":        planeCard,
	"feature":      card((*board.Board).Features, func(_ *board.Board, f *board.Feature) string { return featureCard(f) }),
	"fence":        card((*board.Board).Fences, fenceCard),
	"part": card((*board.Board).Parts, func(_ *board.Board, p *board.Part) string {
		return fmt.Sprintf("**part %s**: %s at %s", p.Name.Text, p.Mass.Quantity, board.Coordinates(p.Centre))
	}),
	"typical":    card((*board.Board).Typicals, typicalCard),
	"tolerance":  termsCard("tolerance", func(b *board.Board, c *syntax.Spec) string { return stated(b.ToleranceOf(c.Word)) }),
	"criteria":   termsCard("criteria", func(b *board.Board, c *syntax.Spec) string { return criterion(b.CriterionOf(c.Word)) }),
	"leave":      leaveCard,
	"fabricator": card((*board.Board).Fabricators, fabricatorCard),
}

// cardless are the kinds whose statements give no name of their own to hover over.
var cardless = map[string]string{
	"hem": "a number", "use": "a path", "stack": "its layers have cards", "outline": "its edges have cards",
	"delivery": "says all itself", "marking": "says all itself", "accept": "its rule has a card, and what it is on", "note": "a text",
}

// card makes the entry of a kind from its list and what is said of one item.
func card[T interface{ Base() *board.Item }](list func(*board.Board) []T, say func(*board.Board, T) string) func(*board.Board, string, *Shown) string {
	return func(b *board.Board, name string, _ *Shown) string {
		all := list(b)
		if x, ok := find(all, name); ok {
			return say(b, x)
		}
		members := slices.DeleteFunc(slices.Clone(all), func(x T) bool { return !x.Base().Row.Given() || x.Base().Row.Text != name })
		var cards []string
		for _, x := range members[:min(len(members), rowShown)] {
			cards = append(cards, strings.TrimSpace(say(b, x)))
		}
		if n := len(members) - rowShown; n > 0 {
			cards = append(cards, fmt.Sprintf("And %d more.", n))
		}
		return strings.Join(cards, "\n\n")
	}
}

// rowShown is how many members of a row its card tells of.
const rowShown = 3

// itemCard is what is known of a named item; "" if there is none.
func itemCard(b *board.Board, word, name string, kept *Shown) string {
	if say := cards[word]; say != nil {
		return say(b, name, kept)
	}
	return ""
}

func fenceCard(b *board.Board, f *board.Fence) string {
	land := ""
	if f.Land.Given() {
		land = fmt.Sprintf(", land ⌀%s", f.Land.Quantity)
	}
	if f.Clearance.Given() {
		land += fmt.Sprintf(", clearance %s", f.Clearance.Quantity)
	}
	if f.Added {
		land += ", not in the artwork yet"
	}
	return fmt.Sprintf("**fence %s**: hole %s%s, %s inside the profile\n\n", f.Name.Text, f.Hole.Quantity, land, f.Inset.Quantity) + figureLines(report.FenceItem(b, f, checks.TolerancesOf(b)))
}

func typicalCard(b *board.Board, t *board.Typical) string {
	s := fmt.Sprintf("**typical %s %s**: %s", t.Kind, t.Name.Text, strings.Join(t.Says, "; "))
	if t.Likes.Given() {
		s += "; the rest like " + t.Likes.Text
	}
	names := make([]string, 0, 10)
	followers := b.Followers(t.Name.Text)
	for _, f := range followers[:min(len(followers), cap(names))] {
		names = append(names, f.Text)
	}
	switch n := len(followers) - len(names); {
	case len(followers) == 0:
		return s + "\n\nNothing is like it."
	case n > 0:
		return s + fmt.Sprintf("\n\nTaken over by %s and %d more.", strings.Join(names, ", "), n)
	}
	return s + "\n\nTaken over by " + strings.Join(names, ", ") + "."
}

func holeCard(h *board.Hole) string {
	s := fmt.Sprintf("**hole %s**: ⌀%s, %s, centre %s", h.Name.Text, h.Diameter.Quantity, h.Wall(), board.Coordinates(h.Centre))
	if h.Land.Given() {
		s += fmt.Sprintf(", land ⌀%s on both faces", h.Land.Quantity)
	}
	return s
}

func featureCard(f *board.Feature) string {
	return fmt.Sprintf("**feature %s** on %s, centre %s, area %s", f.Name.Text, f.Layer.Text, board.Coordinates(f.Centre), area(f.Shape.SignedArea()))
}

func reliefCard(r *board.Relief) string {
	reach := "as far as the copper, and the margin more"
	if r.Reach.Given() {
		reach = "to " + r.Reach.String() + " from the profile"
	}
	return fmt.Sprintf("**relief %s** over %s%s: mask off %s", r.Name.Text, r.OverNames(), r.Where(), reach)
}

func mm(nm float64) string { return quantity.Nanometres(nm).String() }

func area(nm2 float64) string {
	return report.Area(math.Abs(quantity.InSquareMillimetres(nm2)))
}

func platingCard(b *board.Board, name string, kept *Shown) string {
	p := b.PlatingNamed(name)
	if p == nil {
		return ""
	}
	return kept.plating(p, func() string { return newPlatingCard(b, p) })
}

func newPlatingCard(b *board.Board, p *board.Plating) string {
	var s strings.Builder
	fmt.Fprintf(&s, "**plating %s**, %s\n\n", p.Name.Text, p.Net.AsNet())
	fmt.Fprintf(&s, "- plated: %s%s\n", mm(b.PlatedLength(p)), report.PlatedOf(b, p))
	fmt.Fprintf(&s, "- %s\n", openingsLine(b, figures.Openings(b, checks.TolerancesOf(b)), p))
	for _, f := range board.Faces {
		if p.Wrap[f].Given() {
			fmt.Fprintf(&s, "- wrap on %s: %s, %s of copper\n", f, p.Wrap[f].Quantity, area(b.WrapArea(p, f)))
		} else {
			fmt.Fprintf(&s, "- wrap on %s: none\n", f)
		}
	}
	for _, f := range report.PlatingItem(b, p, figures.Conduct(b)).Figures {
		if !shownAbove[f.Name] && !strings.HasPrefix(f.Name, report.SharesBegin) {
			fmt.Fprintf(&s, "- %s\n", f.Line())
		}
	}
	s.WriteString(leaks(b, p))
	var joins []string
	for _, l := range b.CopperLayers() {
		if b.Joins(p, l) {
			joins = append(joins, l)
		}
	}
	if len(joins) > 0 {
		fmt.Fprintf(&s, "- joins: %s\n", strings.Join(joins, ", "))
	}
	return cautioned(s.String())
}

func connectorCard(b *board.Board, c *board.Connector) string {
	var s strings.Builder
	fmt.Fprintf(&s, "**connector %s** on %s at %s, %s\n\n", c.Name.Text, c.Edge.Name, mm(c.Position), board.Coordinates(c.Edge.Point(c.Position)))
	from, to := c.Span()
	fmt.Fprintf(&s, "- body %s, from %s to %s along the edge\n", c.Body.Quantity, mm(from), mm(to))
	if c.BodyReach.Given() {
		fmt.Fprintf(&s, "- body stands %s over the board\n", c.BodyReach.Quantity)
	}
	if c.Overhang.Given() {
		fmt.Fprintf(&s, "- body stands %s out past the profile\n", c.Overhang.Quantity)
	}
	for _, p := range c.Pins {
		fmt.Fprintf(&s, "- pin on %s: %s wide, %s long\n", p.Face, p.Width.Quantity, p.Length.Quantity)
	}
	if l := c.Legs; l != nil {
		for i := range c.LegsAt() {
			on, net := "", "nothing is plated there"
			if s, width := b.Footing(c, i); width > 0 {
				on, net = "on plating "+s.Plating.Name.Text, s.Plating.Net.AsNet()
			}
			fmt.Fprintf(&s, "- leg %d: %s wide, %s long, %s %s\n", i+1, l.Width.Quantity, l.Length.Quantity, on, net)
		}
	}
	if c.Mass.Given() {
		fmt.Fprintf(&s, "- mass %s\n", c.Mass.Quantity)
	}
	open := openedLines(b, func(g *board.Gap) bool { return g.Connector == c })
	if open == "" {
		return s.String()
	}
	return cautioned(s.String() + open)
}

func tabCard(b *board.Board, t *board.Tab) string {
	var s strings.Builder
	fmt.Fprintf(&s, "**tab %s** on %s, from %s to %s, middle at %s\n\n", t.Name.Text, t.Edge.Name, mm(t.From()), mm(t.To()), board.Coordinates(t.Edge.Point(t.Position)))
	s.WriteString(figureLines(report.TabItem(b, t, checks.BitsOf(b))))
	s.WriteString(openedLines(b, func(g *board.Gap) bool { return g.Tab == t }))
	if b.Rooted(t) {
		s.WriteString("- premetallised: its root is bare once it is cut\n")
		s.WriteString(leak(b, func(o figures.Opening) bool { return o.Tab == t }))
	}
	s.WriteString("\nBounds for glass-epoxy sheet, not measurements.\n")
	return s.String()
}

// figureLines lists an item's figures, a line each.
func figureLines(i report.Item) string {
	var s strings.Builder
	for _, f := range i.Figures {
		fmt.Fprintf(&s, "- %s\n", f.Line())
	}
	return s.String()
}

func castellationCard(b *board.Board, c *board.Castellation) string {
	word := "half holes"
	if len(c.Centres) == 1 {
		word = "half hole"
	}
	s := fmt.Sprintf("**castellation %s** on %s: %d %s of %s, land %s by %s", c.Name.Text, c.Edge.Name, len(c.Centres), word, c.Hole.Quantity, c.LandWidth.Quantity, c.LandLength.Quantity)
	if c.Pitch.Given() || len(c.Centres) == 1 {
		s += fmt.Sprintf("\n\n- from %s to %s\n", mm(c.From), mm(c.To))
	} else {
		var at []string
		for _, p := range c.Centres {
			at = append(at, mm(p))
		}
		s += fmt.Sprintf("\n\n- at %s\n", strings.Join(at, ", "))
	}
	if d := c.Short(); d > 0 {
		s += fmt.Sprintf("- the row ends %s short of %s\n", mm(d), mm(c.Row[2]))
	}
	if c.Left > 0 {
		s += fmt.Sprintf("- left out: %d\n", c.Left)
	}
	if len(c.Layers) > 0 {
		s += "- lands on: " + strings.Join(c.LandLayers(), " ") + "\n"
	}
	i := report.CastellationItem(b, c)
	i.Figures = slices.DeleteFunc(i.Figures, func(f report.Figure) bool { return f.Name == "half holes" }) // told above
	return s + figureLines(i)
}

func fabricatorCard(b *board.Board, f *board.Fabricator) string {
	var s strings.Builder
	use := "not in use: the last one stated is"
	if b.Fabricator() == f {
		use = "in use"
	}
	fmt.Fprintf(&s, "**fabricator %s**, %s; sets %d limits, the others are common practice\n", f.Name.Text, use, len(f.Limits))
	for _, x := range []struct {
		says string
		name board.Name
	}{{"version", f.Version}, {"checked", f.Checked}, {"holds until", f.Until}} {
		if x.name.Given() {
			fmt.Fprintf(&s, "\n- %s %s\n", x.says, x.name.Text)
		}
	}
	if len(f.Offers) > 0 {
		var words []string
		for _, o := range f.Offers {
			words = append(words, o.Text)
		}
		fmt.Fprintf(&s, "\n- offers %s\n", strings.Join(words, ", "))
	}
	return s.String()
}

func boardCard(b *board.Board, name string, kept *Shown) string {
	if b.Info() == nil || b.Info().Name.Text != name {
		return ""
	}
	var s strings.Builder
	fmt.Fprintf(&s, "**board %s**\n\n", b.Info().Name.Text)
	if t, ok := b.Thickness(); ok {
		fmt.Fprintf(&s, "- thickness %s\n", t.Quantity)
	}
	if r, ok := b.Region(); ok {
		fmt.Fprintf(&s, "- outline %s, area %s, centre of mass %s\n", mm(r.Outer.Perimeter()), area(r.Area()), board.Coordinates(r.Centroid()))
	}
	if i := b.Info(); i.Voltage.Given() {
		fmt.Fprintf(&s, "- at most %s between the wall and other copper\n", i.Voltage.Quantity)
	}
	if i := b.Info(); i.Hazard.Given() {
		fmt.Fprintf(&s, "- %s\n", i.HazardText())
	}
	if made := madeOf(b.Info()); len(made) > 0 {
		fmt.Fprintf(&s, "- %s\n", strings.Join(made, ", "))
	}
	fmt.Fprintf(&s, "- %s, %s, %s, %s\n", wording.Plural(len(b.Platings()), "plating"), wording.Plural(len(b.Gaps()), "gap"),
		wording.Plural(len(b.Connectors()), "connector"), wording.Plural(len(b.Tabs()), "tab"))
	out := kept.outcome()
	for _, r := range out.Resonances {
		fmt.Fprintf(&s, "- %s\n", report.FirstMode(r).Line())
	}
	if len(out.Waits) > 0 {
		fmt.Fprintf(&s, "- %s\n", waiting)
	}
	return s.String()
}

// waiting is said while modes are not known yet.
const waiting = "modes of the planes: being worked out"

// termsCard lists what is in force of each clause of a statement that may stand
// several times, and in used files.
func termsCard(word string, of func(*board.Board, *syntax.Spec) string) func(*board.Board, string, *Shown) string {
	return func(b *board.Board, name string, _ *Shown) string {
		if name != word || itemNamed(b, word, name) == nil {
			return ""
		}
		out := "**" + word + "** in force\n\n"
		for _, c := range syntax.StatementNamed(word).Clauses {
			if says := of(b, c); says != "" {
				out += "- " + c.Word + " " + says + "\n"
			}
		}
		return out
	}
}

func stated(v board.Value) string {
	if !v.Given() {
		return ""
	}
	return v.Quantity.String()
}

func criterion(c board.Criterion) string {
	if c.Maximum.Given() {
		return "maximum " + c.Maximum.Quantity.String()
	}
	return c.Text
}

// madeOf is what a board says it is made of.
func madeOf(i *board.Info) (list []string) {
	for _, x := range []struct {
		clause string
		said   board.Name
	}{{"material", i.Material}, {"finish", i.Finish}, {"mask", i.Mask}, {"legend", i.Legend}, {"impedance", i.Impedance.Name}} {
		if x.said.Answers() {
			list = append(list, x.clause+" "+x.said.Text)
		}
	}
	return list
}

func layerNamed(b *board.Board, name string) *board.Layer {
	if b.Stack() == nil {
		return nil
	}
	for i := range b.Stack().Layers {
		if l := &b.Stack().Layers[i]; l.Copper && b.SameLayer(l.Name.Text, name) {
			return l
		}
	}
	return nil
}

// planeCard is the card of the layer that a plane goes by, alone or with a number.
func planeCard(b *board.Board, name string, _ *Shown) string {
	for _, p := range b.Planes() {
		if p.Name.Text == name || p.Row.Given() && p.Row.Text == name {
			return layerCard(b, p.Layer.Text)
		}
	}
	return ""
}

func layerCard(b *board.Board, name string) string {
	if name == syntax.All {
		return "`all`: every copper layer."
	}
	var s strings.Builder
	fmt.Fprintf(&s, "**layer %s**", name)
	if l := layerNamed(b, name); l != nil {
		fmt.Fprintf(&s, ": copper, %s", conversions(l.Thickness.Quantity))
		if l.Base.Given() {
			fmt.Fprintf(&s, ", from a foil of %s", l.Base.Quantity)
		}
	}
	s.WriteByte('\n')
	for _, p := range b.Planes() {
		if b.SameLayer(p.Layer.Text, name) {
			name := ""
			if p.Row.Given() {
				name = " " + p.Name.Text
			}
			fmt.Fprintf(&s, "\n- plane%s, %s, %s from the profile%s", name, p.Net.AsNet(), p.Pullback.Quantity, p.Rectangle())
		}
	}
	return s.String()
}

// pieceCard is for a name that a clause gives: a layer, a piece of a path.
func pieceCard(b *board.Board, s *syntax.Spot, name string) string {
	switch s.Clause().Spec.Word {
	case "copper":
		return layerCard(b, name)
	case "dielectric":
		for i := range b.Stack().Layered() {
			if l := &b.Stack().Layers[i]; l.Name.Text == name {
				text := fmt.Sprintf("**layer %s**: dielectric, %s", name, conversions(l.Thickness.Quantity))
				if l.Permittivity.Given() {
					text += fmt.Sprintf(", relative permittivity %s", l.Permittivity.Quantity)
				}
				if l.Material.Given() {
					text += ", " + l.Material.Text
				}
				return text
			}
		}
	case "line", "arc", "close":
		if head := s.Chain[0]; head.Spec.Word == "cutout" && len(head.Values) > 0 {
			cutout, _ := head.Values[0].Word()
			name = cutout + "." + name
		}
		return edgeCard(b, name)
	}
	return ""
}
