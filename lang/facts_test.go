package lang_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"hemline/lang/board"
	"hemline/lang/geom"
	"hemline/lang/syntax"
)

// The facts of a model that a text may state, by kind. Lengths are in
// millimetres to 0.1 µm, areas in mm², and a point of a profile is named by its
// edge and the position on it, or by its coordinates on a rounded corner.
var factKinds = map[string]func(*board.Board) []string{
	"profile":      profileFacts,
	"edge":         edgeFacts,
	"plated":       platedFacts,
	"bare":         bareFacts,
	"runs":         runsFacts,
	"share":        shareFacts,
	"let":          letFacts,
	"board":        boardFacts,
	"layer":        layerFacts,
	"plating":      platingFacts,
	"gap":          gapFacts,
	"connector":    connectorFacts,
	"relief":       reliefFacts,
	"tab":          tabFacts,
	"drilled":      drilledFacts,
	"castellation": castellationFacts,
	"plane":        planeFacts,
	"feature":      featureFacts,
	"hole":         holeFacts,
	"fence":        fenceFacts,
	"part":         partFacts,
	"typical":      typicalFacts,
	"tolerance":    toleranceFacts,
	"criterion":    criterionFacts,
	"delivery":     deliveryFacts,
	"marking":      markingFacts,
	"leave":        leaveFacts,
	"fabricator":   fabricatorFacts,
	"accept":       acceptFacts,
	"note":         noteFacts,
	"open":         openFacts,
	"net":          (*board.Board).Nets,
}

// short writes a number with at most four decimals.
func short(v float64) string {
	s := strings.TrimRight(strconv.FormatFloat(v, 'f', 4, 64), "0")
	if s = strings.TrimSuffix(s, "."); s == "-0" {
		return "0"
	}
	return s
}

func mm(nm float64) string { return short(nm / 1e6) }

func at(p geom.Point) string { return "(" + mm(p.X) + ", " + mm(p.Y) + ")" }

// each writes a fact for each of a list.
func each[T any](list []T, format func(T) string) []string {
	out := make([]string, 0, len(list))
	for _, x := range list {
		out = append(out, format(x))
	}
	return out
}

// given writes a value in its author's unit, with a word before it; nothing for an absent one.
func given(word string, v board.Value) string {
	if !v.Given() {
		return ""
	}
	return " " + word + " " + v.Quantity.String()
}

func named(word string, n board.Name) string {
	if !n.Given() {
		return ""
	}
	return " " + word + " " + n.Text
}

func when(is bool, word string) string {
	if is {
		return " " + word
	}
	return ""
}

func profileFacts(b *board.Board) []string {
	return each(b.Profiles(), func(p *board.Profile) string {
		return fmt.Sprintf("%s %s, %s round, %s inside", p.Name, p.Kind, mm(p.Path.Perimeter()), short(p.Path.SignedArea()/1e12))
	})
}

func edgeFacts(b *board.Board) []string {
	return each(b.Edges(), func(e *board.Edge) string {
		return fmt.Sprintf("%s %s from %s to %s", e.Name, mm(e.Length), at(e.Point(0)), at(e.Point(e.Length)))
	})
}

// spot names a point of a profile, of two edges that meet there the one that
// starts there along the path or the one that ends there.
func spot(p *board.Profile, along float64, starts bool) string {
	l := p.Path.Perimeter()
	if along = math.Mod(along, l); along < board.Tolerance && !starts {
		along = l
	}
	inside := along + 1
	if !starts {
		inside = along - 1
	}
	for _, e := range p.Edges {
		if e.From <= inside && inside <= e.To {
			return e.Name + " " + mm(e.Position(along))
		}
	}
	return at(p.Path.At(along))
}

func stretch(s board.Stretch) string {
	if l := s.Profile.Path.Perimeter(); s.Length() >= l-board.Tolerance {
		return "all round " + s.Profile.Name
	}
	return fmt.Sprintf("%s to %s, %s long", spot(s.Profile, s.From, true), spot(s.Profile, s.To, false), mm(s.Length()))
}

func platedFacts(b *board.Board) []string {
	var out []string
	for _, p := range b.Profiles() {
		out = append(out, each(b.Wall(p).Plated, func(s board.Stretch) string { return s.Plating.Name.Text + " " + stretch(s) })...)
	}
	return out
}

func runsFacts(b *board.Board) []string {
	var out []string
	for _, p := range b.Profiles() {
		out = append(out, each(b.Wall(p).Plated, func(s board.Stretch) string {
			return s.Plating.Name.Text + " on " + strings.Join(s.Edges(), " ")
		})...)
	}
	return out
}

func bareFacts(b *board.Board) []string {
	var out []string
	for _, p := range b.Profiles() {
		out = append(out, each(b.Wall(p).Bare, stretch)...)
	}
	return out
}

func shareFacts(b *board.Board) []string {
	return each(b.Profiles(), func(p *board.Profile) string { return p.Name + " " + short(100*b.Wall(p).Share) + " %" })
}

func letFacts(b *board.Board) []string {
	return each(b.Lets(), func(l *board.Let) string {
		if !l.OK {
			return l.Name.Text + " has no value"
		}
		return l.Name.Text + " = " + l.Value.String()
	})
}

func boardFacts(b *board.Board) []string {
	var out []string
	if i := b.Info(); i != nil {
		out = append(out, i.Name.Text+named("title", i.Title)+named("revision", i.Revision)+given("from", i.FrequencyLow)+given("to", i.Frequency)+
			given("shielding", i.Shielding)+given("class", i.Class)+given("current", i.Current)+given("rise", i.Rise)+given("voltage", i.Voltage)+named("hazard", i.Hazard)+
			named("number", i.Number)+named("owner", i.Owner)+named("author", i.Author)+named("approver", i.Approver)+named("date", i.Date)+named("status", i.Status)+
			named("material", i.Material)+named("finish", i.Finish)+named("mask", i.Mask)+named("legend", i.Legend)+named("impedance", i.Impedance.Name)+when(i.Impedance.Plain, "in a word"))
	}
	if t, ok := b.Thickness(); ok {
		out = append(out, "thickness "+t.Quantity.String())
	}
	return out
}

// toleranceFacts are what is in force, clause by clause.
func toleranceFacts(b *board.Board) (list []string) {
	for _, c := range syntax.StatementNamed("tolerance").Clauses {
		if v := b.ToleranceOf(c.Word); v.Given() {
			list = append(list, c.Word+" "+v.Quantity.String())
		}
	}
	return list
}

func criterionFacts(b *board.Board) (list []string) {
	for _, c := range syntax.StatementNamed("criteria").Clauses {
		if v := b.CriterionOf(c.Word); v.Given() {
			list = append(list, c.Word+named("says", v.Name)+when(v.Plain, "in a word")+given("maximum", v.Maximum))
		}
	}
	return list
}

func deliveryFacts(b *board.Board) []string {
	d := b.Delivery()
	if d == nil {
		return nil
	}
	return []string{strings.Join(append([]string{strings.TrimSpace(when(d.Single, "single"))}, each(d.Panels, func(n board.Name) string { return n.Text })...), " ")}
}

func markingFacts(b *board.Board) []string {
	return each(b.Markings(), func(x *board.Marking) string {
		s := x.Text.Text + when(x.Text.Plain, "in a word")
		if x.Placed() {
			s += " on " + x.Face.String() + " at " + at(x.Centre)
		}
		return s
	})
}

func typicalFacts(b *board.Board) []string {
	return each(b.Typicals(), func(t *board.Typical) string {
		return fmt.Sprintf("%s: %s: %s", t.Name.Text, t.Kind, strings.Join(t.Says, "; ")) + named("like", t.Likes) +
			when(len(b.Followers(t.Name.Text)) > 0, "followed by "+strings.Join(each(b.Followers(t.Name.Text), func(n board.Name) string { return n.Text }), " "))
	})
}

func leaveFacts(b *board.Board) []string {
	return each(b.Leaves(), func(l *board.Leave) string {
		return strings.Join(each(l.Queries, func(n board.Name) string { return n.Text }), " ") + when(len(l.Along) > 0, "along "+strings.Join(l.Edges(), " ")) + named("because", l.Because)
	})
}

func layerFacts(b *board.Board) []string {
	if b.Stack() == nil {
		return nil
	}
	return each(b.Stack().Layers, func(l board.Layer) string {
		kind := "dielectric"
		if l.Copper {
			kind = "copper"
		}
		return kind + " " + l.Name.Text + " " + l.Thickness.Quantity.String() + given("permittivity", l.Permittivity) + given("loss", l.Loss) + given("base", l.Base) + named("material", l.Material)
	})
}

func platingFacts(b *board.Board) []string {
	return each(b.Platings(), func(p *board.Plating) string {
		s := p.Name.Text + named("net", p.Net) + given("top", p.Wrap[board.Top]) + given("bottom", p.Wrap[board.Bottom]) +
			given("copper", p.Copper) + given("least", p.Least) + given("extend", p.Extend) + named("finish", b.FinishOf(p))
		for _, v := range p.FinishLayers {
			s += " " + v.Quantity.String()
		}
		for _, layer := range b.CopperLayers() {
			s += when(b.Joins(p, layer), "joins "+layer)
		}
		return s
	})
}

func gapFacts(b *board.Board) []string {
	return each(b.Gaps(), func(g *board.Gap) string {
		return fmt.Sprintf("%s of %s on %s from %s to %s", g.Name.Text, g.Of.Text, g.Edge.Name, mm(g.From), mm(g.To)) + when(g.Opened(), "opened") + named("for", g.For) + when(g.ForTab(b) != nil, "a tab") + when(g.Bridged, "bridged")
	})
}

func connectorFacts(b *board.Board) []string {
	return each(b.Connectors(), func(c *board.Connector) string {
		in := c.Edge.Inward(c.Position)
		s := fmt.Sprintf("%s on %s at %s %s, inward (%s, %s)", c.Name.Text, c.Edge.Name, mm(c.Position), at(c.Edge.Point(c.Position)), short(in.X), short(in.Y))
		s += given("body", c.Body) + given("reach", c.BodyReach) + given("overhang", c.Overhang) + given("clearance", c.Clearance) + named("net", c.Net)
		if c.Mass.Given() {
			s += " mass " + short(c.Mass.Value*1000) + " g"
		}
		for _, p := range c.Pins {
			s += fmt.Sprintf(" pin %s %s by %s", p.Face, mm(p.Width.Value), mm(p.Length.Value))
		}
		if l := c.Legs; l != nil {
			s += fmt.Sprintf(" legs %s %s by %s at %s", strings.Join(each(l.Faces, board.Face.String), " "), mm(l.Width.Value), mm(l.Length.Value), strings.Join(each([]float64{c.LegsAt()[0], c.LegsAt()[1]}, mm), " "))
		}
		return s
	})
}

func reliefFacts(b *board.Board) []string {
	return each(b.Reliefs(), func(r *board.Relief) string {
		return r.Name.Text + " over " + r.OverNames() + r.Where() + " on " + strings.Join(each(r.Faces, board.Face.String), " ") + given("reach", r.Reach) + given("margin", r.Margin)
	})
}

func tabFacts(b *board.Board) []string {
	return each(b.Tabs(), func(t *board.Tab) string {
		return fmt.Sprintf("%s on %s from %s to %s", t.Name.Text, t.Edge.Name, mm(t.From()), mm(t.To())) + when(t.Solid, "solid") +
			when(t.Perforated, "perforated") + given("hole", t.Hole) + given("pitch", t.Pitch) + given("inset", t.Inset) +
			when(t.Premetallised, "premetallised") + given("length", t.Length) + named("removal", t.Removal.How) + named("by", t.Removal.By) + given("within", t.Removal.Within)
	})
}

func drilledFacts(b *board.Board) []string {
	var out []string
	for _, t := range b.Tabs() {
		if t.Perforated {
			out = append(out, t.Name.Text+" "+strings.Join(each(t.Holes(), at), " "))
		}
	}
	return out
}

func castellationFacts(b *board.Board) []string {
	return each(b.Castellations(), func(c *board.Castellation) string {
		s := fmt.Sprintf("%s on %s at %s", c.Name.Text, c.Edge.Name, strings.Join(each(c.Centres, mm), " "))
		if n := len(c.Centres); n > 12 {
			s = fmt.Sprintf("%s on %s %d from %s to %s", c.Name.Text, c.Edge.Name, n, mm(c.Centres[0]), mm(c.Centres[n-1]))
		}
		for _, n := range c.Nets {
			s += " " + n.Text
		}
		for _, l := range c.Layers {
			s += " on " + l.Text
		}
		s += named("finish", c.Finish) + named("burrs", c.Burrs)
		if c.Left > 0 {
			s += fmt.Sprintf(" %d left out", c.Left)
		}
		if c.Short() > 0 {
			s += " short by " + mm(c.Short())
		}
		return s + given("hole", c.Hole) + fmt.Sprintf(" land %s by %s", mm(c.LandWidth.Value), mm(c.LandLength.Value))
	})
}

func planeFacts(b *board.Board) []string {
	return each(b.Planes(), func(p *board.Plane) string {
		return p.Name.Text + named("net", p.Net) + given("pullback", p.Pullback) + p.Rectangle()
	})
}

func featureFacts(b *board.Board) []string {
	return each(b.Features(), func(f *board.Feature) string {
		box := f.Shape.Box()
		return fmt.Sprintf("%s on %s %s to %s", f.Name.Text, f.Layer.Text, at(box.Min), at(box.Max)) + named("net", f.Net)
	})
}

func holeFacts(b *board.Board) []string {
	return each(b.Holes(), func(h *board.Hole) string {
		return fmt.Sprintf("%s %s at %s", h.Name.Text, mm(h.Diameter.Value), at(h.Centre)) + when(h.Plated, "plated") + named("net", h.Net) + given("land", h.Land)
	})
}

func fenceFacts(b *board.Board) []string {
	return each(b.Fences(), func(f *board.Fence) string {
		if n := len(f.Vias); n > 4 {
			return fmt.Sprintf("%s %d from %s to %s", f.Name.Text, n, at(f.Vias[0]), at(f.Vias[n-1])) + leftOut(f)
		}
		if len(f.Vias) == 0 {
			return f.Name.Text + " nowhere"
		}
		return f.Name.Text + " " + strings.Join(each(f.Vias, at), " ") + given("land", f.Land) + leftOut(f) + when(f.Added, "added") + named("net", f.Net)
	})
}

func partFacts(b *board.Board) []string {
	return each(b.Parts(), func(p *board.Part) string {
		return fmt.Sprintf("%s %s g at %s", p.Name.Text, short(p.Mass.Value*1000), at(p.Centre))
	})
}

func leftOut(f *board.Fence) string {
	s := ""
	if f.LeftOut > 0 {
		s = fmt.Sprintf(" without %d", f.LeftOut)
	}
	if f.Wide > 0 {
		s += " wide " + mm(f.Wide)
	}
	return s
}

func fabricatorFacts(b *board.Board) []string {
	return each(b.Fabricators(), func(f *board.Fabricator) string {
		s := f.Name.Text + when(f == b.Fabricator(), "in use") + named("version", f.Version) + named("checked", f.Checked) + named("until", f.Until)
		for _, o := range f.Offers {
			s += " offers " + o.Text
		}
		for _, o := range f.Finishes {
			s += " finishes " + o.Text
		}
		for _, l := range f.Limits {
			s += " " + l.Parameter.Text + given("minimum", l.Minimum) + given("maximum", l.Maximum) + named("because", l.Because) + named("source", l.Source)
		}
		return s
	})
}

func acceptFacts(b *board.Board) []string {
	return each(b.Acceptances(), func(a *board.Acceptance) string {
		return a.Name.Text + " on " + strings.Join(each(a.On, func(n board.Name) string { return n.Text }), " ") + named("with", a.With) + named("because", a.Because) + named("until", a.Until)
	})
}

func noteFacts(b *board.Board) []string {
	return each(b.Notes(), func(n *board.Note) string { return n.Text.Text })
}

func openFacts(b *board.Board) []string {
	return each(b.Open(), func(o *board.OpenPath) string { return fmt.Sprintf("%s from %s to %s", o.Name, at(o.Start), at(o.End)) })
}
