package assist

import (
	"cmp"
	"slices"

	"hemline/lang/board"
	"hemline/lang/quantity"
	"hemline/lang/syntax"
)

// usualUnits are those that most write of each kind, in the order in which they are offered
// where the author has written none.
var usualUnits = []string{"mm", "mil", "um", "in", "cm", "oz", "m", "nm", "GHz", "MHz", "kHz", "Hz", "dB", "A", "mA", "V", "kV", "K", "degC", "mohm", "uohm", "ohm", "Nmm", "Nm", "N", "g", "W", "deg", "%"}

// units lists the units that may follow a number: the author's first, those that the same
// clause has nearby before those of others, then the usual ones. Of spellings that look alike
// only one is offered, the author's.
func (c *completion) units() {
	dim := quantity.Dimension{}
	any, share := true, false
	if arg := c.ctx.Arg; arg != nil && arg.Kind == syntax.VQuantity {
		dim, any = arg.Dim, false
		share = arg.Share
	} else if arg != nil && (arg.Kind == syntax.VPosition || arg.Kind == syntax.VPoint) {
		dim, any = quantity.Length, false
	}
	own := c.ownUnits()
	if share {
		own[quantity.Percent.Name] += ofClause / 2 // mostly a share
	}
	var list []quantity.Unit
	for _, u := range quantity.Units() {
		if any || u.Dim == dim || share && u.Dim == quantity.None {
			list = append(list, u)
		}
	}
	slices.SortStableFunc(list, func(x, y quantity.Unit) int {
		rank := func(u quantity.Unit) int {
			if i := slices.Index(usualUnits, u.Name); i >= 0 {
				return i
			}
			return len(usualUnits)
		}
		return cmp.Or(cmp.Compare(own[y.Name], own[x.Name]), cmp.Compare(rank(x), rank(y)))
	})
	micro := false
	for _, u := range list {
		if alike := u.Dim == quantity.Length && u.Mantissa == 1 && u.Exponent == 3; alike {
			if micro {
				continue
			}
			micro = true
		}
		c.add(Candidate{Label: u.Name, Kind: "unit", Detail: u.Doc})
	}
	if arg := c.ctx.Arg; arg != nil && arg.Kind == syntax.VPosition && slices.ContainsFunc(c.b.Profiles(), func(p *board.Profile) bool { return p.Kind == "circle" }) {
		c.add(Candidate{Label: quantity.Degree.Name, Kind: "unit", Detail: "angle on a circle's rim, from its east point"})
	}
}

// ofClause is what a unit of the same clause counts as much as.
const ofClause = 1000

// ownUnits counts the units that the author has written round the cursor; one that the same
// clause takes, much.
func (c *completion) ownUnits() map[string]int {
	clause := c.clause()
	count := map[string]int{}
	c.around(func(s *syntax.Statement, _ int) {
		text, word := s.Text(), ""
		whole, _ := c.a.Document().Locate(s.Whole())
		for _, t := range syntax.Lex(text) {
			switch {
			case t.Kind == syntax.Keyword:
				word = text[t.Start:t.End]
			case t.Kind != syntax.Unit || whole.Start+int(t.Start) <= c.offset && c.offset <= whole.Start+int(t.End):
			case word == clause:
				count[text[t.Start:t.End]] += ofClause
			default:
				count[text[t.Start:t.End]]++
			}
		}
	})
	return count
}

// clause is the keyword that the value at hand belongs to.
func (c *completion) clause() string {
	if n := len(c.ctx.Open); n > 0 {
		return c.ctx.Open[n-1].Word
	}
	return ""
}
