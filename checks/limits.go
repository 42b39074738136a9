package checks

import (
	"fmt"
	"sync"

	"hemline/checks/figures"
	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/emit/coupon"
	"hemline/lang/emit/layers"
	"hemline/lang/finding"
	"hemline/lang/quantity"
	"hemline/lang/rout"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Limit is a value that a board is held to, and who asks for it.
type Limit struct {
	Parameter *Parameter
	quantity.Quantity
	Who   string       // the fabricator's name, or "common practice"
	Where string       // "shops/standard.hem:7", "" for a built-in value
	At    source.Place // of the fabricator's limit; nowhere for a built-in value
	Note  string       // why it is more than the limit alone says, or ""
}

// Least says whose a value is that keeps to a limit and no more: "the least that standard asks
// for".
func (l Limit) Least() string { return "the least that " + l.Who + " asks for" }

// Most is that of a maximum: "the most that standard allows".
func (l Limit) Most() string { return "the most that " + l.Who + " allows" }

// From says where a limit comes from, in brackets.
func (l Limit) From() string {
	s := "limit " + l.Parameter.Name
	if l.Where != "" {
		s += ", " + l.Where
	}
	if l.Note != "" {
		s = l.Note + "; " + s
	}
	return "(" + s + ")"
}

// Limits are the limits that hold for one board: those that its fabricator
// states, and the built-in ones where it is silent.
type Limits struct {
	shop   *board.Fabricator
	stated bounds
}

// bounds are limits by the names of their parameters.
type bounds struct{ minimum, maximum map[string]Limit }

// common are the built-in limits.
var common = sync.OnceValue(func() bounds {
	b := bounds{map[string]Limit{}, map[string]Limit{}}
	for i := range parameters {
		p := &parameters[i]
		if p.Minimum != "" {
			b.minimum[p.Name] = Limit{Parameter: p, Quantity: builtIn(p.Minimum), Who: "common practice"}
		}
		if p.Maximum != "" {
			b.maximum[p.Name] = Limit{Parameter: p, Quantity: builtIn(p.Maximum), Who: "common practice"}
		}
	}
	return b
})

// LimitsFor gathers the limits of the fabricator in use, and the built-in
// ones where it is silent.
func LimitsFor(a *lang.Analysis) *Limits {
	return limitsOf(a.Board(), func(at source.Place) string { return where(a, at) })
}

// BitsOf are the bits that a board is cut by in the shop in use.
func BitsOf(b *board.Board) *rout.Bits {
	return limitsOf(b, func(source.Place) string { return "" }).Bits(b)
}

// TolerancesOf are the tolerances that count for a board by the shop in use.
func TolerancesOf(b *board.Board) figures.Tolerances {
	return limitsOf(b, func(source.Place) string { return "" }).Tolerances(b)
}

func limitsOf(b *board.Board, where func(source.Place) string) *Limits {
	l := &Limits{shop: b.Fabricator()}
	if l.shop == nil {
		return l
	}
	l.stated = bounds{map[string]Limit{}, map[string]Limit{}}
	for _, stated := range l.shop.Limits {
		p, ok := ParameterNamed(stated.Parameter.Text)
		if !ok {
			continue
		}
		set := func(into map[string]Limit, builtIn string, v board.Value) {
			if v.Given() && builtIn != "" && v.Dim == p.Dim {
				into[p.Name] = Limit{Parameter: p, Quantity: v.Quantity, Who: l.shop.Name.Text, Where: where(v.At), At: v.At}
			}
		}
		set(l.stated.minimum, p.Minimum, stated.Minimum)
		set(l.stated.maximum, p.Maximum, stated.Maximum)
	}
	return l
}

func where(a *lang.Analysis, at source.Place) string {
	f, span, ok := a.Locate(at)
	if !ok {
		return ""
	}
	return fmt.Sprintf("%s:%d", f.Path(), f.LineOf(span.Start)+1)
}

// Minimum and Maximum are the limits in force for a parameter. A name that
// is not in the table, or has no such side, is a fault of the program.
func (l *Limits) Minimum(parameter string) Limit {
	return inForce(l.stated.minimum, common().minimum, parameter)
}

// Maximum is the greatest value in force for a parameter.
func (l *Limits) Maximum(parameter string) Limit {
	return inForce(l.stated.maximum, common().maximum, parameter)
}

// ForLayers is what layer files are made by.
func (l *Limits) ForLayers() layers.Options {
	return layers.Options{
		Room:       l.Room(),
		MaskMargin: l.MaskMargin(),
		TabGap:     l.Minimum("tab_gap").Value,
		RouterBit:  l.Minimum("router_bit").Value,
	}
}

// ForCoupon is what the coupon of a board's wall is laid out by.
func (l *Limits) ForCoupon(b *board.Board) coupon.Limits {
	thickness, _ := b.Thickness()
	return coupon.Limits{
		TabWidth:   [2]float64{l.Minimum("tab_width_solid").Value, l.Maximum("tab_width_solid").Value},
		SnapWidth:  [2]float64{l.Minimum("tab_width_perforated").Value, l.Maximum("tab_width_perforated").Value},
		TabGap:     l.Minimum("tab_gap").Value,
		TabCorner:  l.Minimum("tab_corner").Value,
		TabSpacing: l.TabSpacing(thickness, true).Value,
		TabCount:   l.Minimum("tab_count").Value,
		GapWidth:   l.Minimum("gap_width").Value,
		Stretch:    l.Minimum("span_length").Value,
		HoleCorner: l.Minimum("castellation_corner").Value,
	}
}

// MaskMargin is how far mask openings go past the copper whose reliefs do not say, nm.
func (l *Limits) MaskMargin() float64 { return l.Minimum("mask_margin").Value }

// Bits are the bits that a board is cut by.
func (l *Limits) Bits(b *board.Board) *rout.Bits {
	return rout.BitsOf(b, l.Minimum("router_bit").Value)
}

// Tolerances are the tolerances that count for a board: what its text states,
// else the finest that the shop holds.
func (l *Limits) Tolerances(b *board.Board) figures.Tolerances {
	return func(clause string) figures.Tolerance {
		if v := b.ToleranceOf(clause); v.Given() {
			return figures.Tolerance{Clause: clause, Quantity: v.Quantity, At: v.At}
		}
		x := l.Minimum("tolerance_" + clause)
		return figures.Tolerance{Clause: clause, Quantity: x.Quantity, Who: x.Who, At: x.At}
	}
}

// Room is how far copper keeps from what it gives way to, and who asks for it.
func (l *Limits) Room() copper.Room {
	of := func(parameter string) copper.Distance {
		x := l.Minimum(parameter)
		return copper.Distance{By: x.Value, Who: x.Who}
	}
	return copper.Room{
		Copper:    of("copper_clearance"),
		EdgeOuter: of("edge_clearance_outer"), EdgeInner: of("edge_clearance_inner"),
		Wrap: of("wrap_clearance"), WallInner: of("inner_clearance"),
	}
}

func inForce(stated, common map[string]Limit, parameter string) Limit {
	x, ok := stated[parameter]
	if !ok {
		x, ok = common[parameter]
	}
	if !ok {
		panic("no such limit: " + parameter)
	}
	return x
}

// Shop is the fabricator in use, or nil.
func (l *Limits) Shop() *board.Fabricator { return l.shop }

// Offers tells whether the fabricator in use offers a service; one that does
// not state what it offers, or no fabricator at all, leaves it open and counts as yes.
func (l *Limits) Offers(service string) bool {
	if l.shop == nil || len(l.shop.Offers) == 0 {
		return true
	}
	for _, o := range l.shop.Offers {
		if o.Text == service {
			return true
		}
	}
	return false
}

// checkLimits holds the limits that fabricators state to the table: it knows
// the names and dimensions that the language itself does not.
func (p *Pass) checkLimits() {
	for _, shop := range p.Board.Fabricators() {
		for _, l := range shop.Limits {
			name := l.Parameter.Text
			known, ok := ParameterNamed(name)
			if !ok {
				p.language(unknownName(l.Parameter.At, "limit", name, parameterNames()))
				continue
			}
			side := func(word, other, builtIn string, v board.Value) {
				switch {
				case !v.Given():
				case builtIn == "":
					p.language(finding.Finding{Rule: board.RuleWrongValue, Place: v.At, Message: fmt.Sprintf("%s is a %s; expected %s before the value", name, other, other)})
				case v.Dim != known.Dim:
					p.language(finding.Finding{Rule: board.RuleWrongValue, Place: v.At, Message: fmt.Sprintf("%s is %s, found %s (%s)", name, known.Dim, v.Dim, v.Quantity)})
				case v.Value < 0:
					p.language(finding.Finding{Rule: board.RuleWrongValue, Place: v.At, Message: fmt.Sprintf("%s must not be negative, found %s", name, v.Quantity)})
				}
			}
			side("minimum", "maximum", known.Minimum, l.Minimum)
			side("maximum", "minimum", known.Maximum, l.Maximum)
			if l.Minimum.Given() && l.Maximum.Given() && l.Minimum.Dim == l.Maximum.Dim && l.Minimum.Value > l.Maximum.Value {
				least, most := quantity.Pair(l.Minimum.Quantity, l.Maximum.Quantity)
				p.language(finding.Finding{Rule: board.RuleWrongValue, Place: l.Minimum.At, Message: fmt.Sprintf("the minimum, %s, is more than the maximum, %s", least, most)})
			}
		}
	}
	for _, a := range p.Board.Acceptances() {
		if !p.Knows(a.Name.Text) {
			p.language(unknownName(a.Name.At, "rule", a.Name.Text, p.catalogue.Names()))
		}
	}
}

func unknownName(at source.Place, what, name string, known []string) finding.Finding {
	f := finding.Finding{Rule: board.RuleUnknownName, Place: at, Message: fmt.Sprintf("there is no %s named %s", what, syntax.Quote(name))}
	if now := renamed[name]; what == "limit" && now != "" {
		f.Message = fmt.Sprintf("the limit %s is now written %s", name, now)
		f.Fix = &finding.Fix{Title: "write " + now, Edits: []finding.Edit{{Place: at, Text: now}}}
	} else if near, ok := syntax.Nearest(name, known); ok {
		f.Message += "; did you mean " + near + "?"
		f.Fix = &finding.Fix{Title: "write " + near, Edits: []finding.Edit{{Place: at, Text: near}}}
	} else if what == "rule" {
		f.Message += "; `hemline explain` lists them"
	}
	return f
}
