package ways

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/quantity"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// values looks, for each number of the statement, for the nearest above it and below it
// with which the finding is gone.
func (s *seeker) values() {
	s.reading.Spots(func(spot syntax.Spot) bool {
		if spot.Value == nil {
			return s.ctx.Err() == nil
		}
		at, ok := s.a.Document().Locate(spot.Place)
		if !ok || s.root.Slice(at) != spot.Value.Source() || doubtful(s.doubts, change(at, "")) || !s.nearly(&spot) {
			return true // taken over by `like`: it stands elsewhere
		}
		var n number
		switch {
		case spot.Value.Expr.Op == syntax.OpNumber:
			n, ok = numberOf(s, &spot, at)
		case spot.Arg != nil && spot.Arg.Kind == syntax.VPosition && spot.Text == syntax.Middle && spot.Whole.Expr.Op == syntax.OpName:
			n = number{s: s, spot: &spot, at: at, unit: unitOf(s.reading).Name, grid: 0.1, most: 10, from: syntax.Middle}
			if n.unit != quantity.Millimetre.Name {
				n.grid, n.most = 5, 400
			}
		default:
			ok = false
		}
		if ok {
			for _, way := range []float64{1, -1} {
				n.seek(way)
			}
		}
		return s.ctx.Err() == nil
	})
	s.shift(&s.reading.Clause)
}

// nearly tells whether the nearest number that would do may be what is meant: of what is wrong
// with the text itself only of a place past the end of its edge, and of rounds that have no room.
func (s *seeker) nearly(spot *syntax.Spot) bool {
	return s.f.Category != finding.Language || s.f.Rule == board.RuleOffEdge || s.f.Rule == board.RuleWrongValue && spot.Clause().Spec.Word == "corner"
}

// shift moves a stretch that is stated by its two ends, whole.
func (s *seeker) shift(c *syntax.Clause) {
	from := c.Get("from")
	to := from.Get("to")
	if from != nil && to != nil && len(from.Values) == 1 && len(to.Values) == 1 {
		a, okA := s.numberAt(from)
		b, okB := s.numberAt(to)
		if okA && okB && a.unit == b.unit {
			a.other = &b
			for _, way := range []float64{1, -1} {
				a.seek(way)
			}
		}
	}
	for _, k := range c.Clauses {
		s.shift(k)
	}
}

// numberAt is the number that a clause's only value is.
func (s *seeker) numberAt(c *syntax.Clause) (n number, ok bool) {
	want := c.Values[0].Place()
	s.reading.Spots(func(spot syntax.Spot) bool {
		at, located := s.a.Document().Locate(spot.Place)
		if spot.Value != nil && spot.Place == want && located && spot.Value.Expr.Op == syntax.OpNumber && s.root.Slice(at) == spot.Value.Source() {
			n, ok = numberOf(s, &spot, at)
		}
		return !ok
	})
	return n, ok
}

// number is one that stands in the text, in its author's unit.
type number struct {
	s     *seeker
	spot  *syntax.Spot
	at    source.Span
	value float64
	unit  string
	grid  float64 // what it is changed by at least
	most  float64 // and at most
	from  string  // what it is counted from, where that is no number
	other *number // that goes with it, by as much
}

func numberOf(s *seeker, spot *syntax.Spot, at source.Span) (n number, ok bool) {
	text := strings.TrimSpace(s.root.Slice(at))
	unit := spot.Value.Unit()
	digits := strings.TrimSpace(strings.TrimSuffix(text, unit))
	v, err := strconv.ParseFloat(digits, 64)
	if err != nil {
		return n, false
	}
	n = number{s: s, spot: spot, at: at, value: v, unit: unit}
	word := spot.Clause().Spec.Word
	u, known := quantity.UnitNamed(unit)
	switch {
	case s.statement.Word() == "board" && word != "thickness" || s.statement.Word() == "outline" && word != "corner":
		return n, false // what the board is for
	case slices.Contains(own[s.statement.Word()], word) || s.f.Rule == "unit_unlikely":
		return n, false
	case slices.ContainsFunc(spot.Chain, func(c *syntax.Clause) bool { return slices.Contains(ofParts, c.Spec.Word) }):
		return n, false
	case unit == "" && spot.Arg != nil && spot.Arg.Dim == quantity.None:
		n.grid, n.most = 1, 16
	case known && u.Dim == quantity.Length:
		mm := quantity.Millimetre
		one, _ := quantity.Parse("1", u)
		inUnit := func(length float64) float64 { return length / one.In(mm) }
		n.grid = math.Pow(10, math.Round(math.Log10(inUnit(0.01))))
		switch unit {
		case "mil", "in":
			n.grid = inUnit(0.0127)
		case "um":
			n.grid = 1
		}
		// Not so far that it is another thing: a place by ten millimetres, a size threefold.
		if n.most = math.Max(2*math.Abs(v), inUnit(0.5)); spot.Arg != nil && (spot.Arg.Kind == syntax.VPosition || spot.Arg.Kind == syntax.VPoint) {
			n.most = inUnit(10)
			n.grid *= 10 // of a tenth of a millimetre: nobody places by less to be rid of a finding
			if unit == "um" {
				n.grid = 100
			}
		}
	case known && u.Dim == quantity.Angle:
		n.grid, n.most = 1, 15
	default:
		n.grid = math.Pow(10, math.Floor(math.Log10(math.Max(math.Abs(v), 1e-3)))-1)
		n.most = 2 * math.Max(math.Abs(v), n.grid)
	}
	return n, true
}

// own are the clauses that say how something is that the board has to take as it is: what is
// bolted or soldered on, a laminate.
var own = map[string][]string{"hole": {"diameter", "land"}, "feature": {"rectangle", "by", "circle"}, "stack": {"copper"}}

// ofParts are clauses that say how a part is made, which a board does not choose.
var ofParts = []string{"body", "pin", "legs", "mass"}

// steps are those that double from the least, and the most.
func steps(least, most float64) (list []float64) {
	for step := least; step < most-least/2; step *= 2 {
		list = append(list, step)
	}
	return append(list, math.Round(most/least)*least)
}

// seek goes from the value in one direction, by steps that double, until the finding is
// gone, and back to the nearest step of the grid.
func (n number) seek(way float64) {
	base := math.Round(n.value/n.grid) * n.grid
	near, far := 0.0, math.NaN()
	for _, step := range steps(n.grid, n.most) {
		if n.s.ctx.Err() != nil {
			return
		}
		if way < 0 && base-step < 0 && n.value >= 0 && n.from == "" {
			break // no length of the language is under nothing, and few positions are
		}
		if n.gone(base + way*step) {
			far = step
			break
		}
		near = step
	}
	if math.IsNaN(far) {
		return
	}
	for far-near > 1.5*n.grid {
		middle := near + math.Round((far-near)/2/n.grid)*n.grid
		if n.gone(base + way*middle) {
			far = middle
		} else {
			near = middle
		}
	}
	// A round number near it reads better.
	for _, round := range []float64{100, 50, 10, 5} {
		g := round * n.grid
		v := base + way*far
		if v = way * math.Ceil(way*v/g-1e-6) * g; math.Abs(v-base) <= 1.05*far+n.grid/2 && n.gone(v) && n.offer(v) {
			return
		}
	}
	n.offer(base + way*far)
}

func (n number) text(v float64) string {
	decimals := max(0, int(math.Ceil(-math.Log10(n.grid)-1e-9)))
	if n.unit == "mil" || n.unit == "in" {
		decimals++
	}
	shown := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(shown, ".") {
		shown = strings.TrimRight(strings.TrimRight(shown, "0"), ".")
	}
	if shown == "-0" {
		shown = "0"
	}
	if n.from != "" {
		if v < 0 {
			return n.from + " - " + strings.TrimPrefix(shown, "-") + " " + n.unit
		}
		return n.from + " + " + shown + " " + n.unit
	}
	if n.unit == "" {
		return shown
	}
	old := n.s.root.Slice(n.at)
	if strings.HasSuffix(old, " "+n.unit) || !strings.HasSuffix(old, n.unit) {
		return shown + " " + n.unit
	}
	return shown + n.unit
}

func (n number) edits(v float64) []source.Edit {
	e := change(n.at, n.text(v))
	if n.other != nil {
		e = append(e, source.Edit{Span: n.other.at, Text: n.other.text(n.other.value + v - n.value)})
	}
	return e
}

func (n number) gone(v float64) bool { return n.s.gone(n.edits(v)) }

func (n number) offer(v float64) bool {
	return n.s.offer(Way{Title: n.title(v), Edits: n.edits(v), cost: math.Abs(v-n.value) / math.Max(math.Abs(n.value), 100*n.grid)})
}

// title says what the number would be, and what it is: of a place, that the item moves. A number
// that is part of an expression is shown with all of it.
func (n number) title(v float64) string {
	what := n.s.what()
	if n.other != nil {
		return fmt.Sprintf("move %s: from %s to %s", what, n.text(v), n.other.text(n.other.value+v-n.value))
	}
	clause := n.spot.Clause()
	word := clause.Spec.Word
	if n.spot.Given {
		_, word, _ = n.s.statement.NamePlace()
	}
	whole, axis := n.whole()
	old := n.s.root.Slice(whole)
	text := old[:n.at.Start-whole.Start] + n.text(v) + old[n.at.End-whole.Start:]
	if word == "at" && !n.spot.Given {
		if _, name, ok := n.s.statement.NamePlace(); ok && len(clause.Values) > 1 {
			what = fmt.Sprintf("%s %s.%d", n.s.statement.Word(), syntax.Quote(name), n.spot.Index+1)
		}
		return fmt.Sprintf("move %s to %s%s, from %s", what, axis, text, old)
	}
	if len(clause.Spec.Args) > 0 && clause.Spec.Args[0].Kind == syntax.VNew && len(clause.Values) > 0 && n.spot.Index > 0 {
		word += " " + clause.Values[0].Source() // which of several
	}
	if word == "by" {
		word = "height" // along y: it says so in the reference
	}
	return fmt.Sprintf("%s %s%s instead of %s%s%s", word, axis, text, old, n.s.of(), n.whose(text))
}

// whole is the expression that the number is part of, of a point that of its axis, which is then
// named too.
func (n number) whole() (at source.Span, axis string) {
	v := n.spot.Whole
	if v == nil {
		return n.at, ""
	}
	if v.Expr.Op == syntax.OpPoint {
		for i, e := range v.Expr.Args {
			if p, ok := n.s.a.Document().Locate(v.Of(e).Place()); ok && p.Start <= n.at.Start && n.at.End <= p.End {
				return p, []string{"x ", "y "}[min(i, 1)]
			}
		}
		return n.at, ""
	}
	if p, ok := n.s.a.Document().Locate(v.Place()); ok && p.Start <= n.at.Start && n.at.End <= p.End {
		return p, ""
	}
	return n.at, ""
}

// whose says that a value is just a limit's of the finding's rule; empty where it is none's.
func (n number) whose(text string) string {
	unit, ok := quantity.UnitNamed(n.unit)
	r := n.s.catalogue.Named(n.s.f.Rule)
	if !ok || r == nil {
		return ""
	}
	q, err := quantity.Parse(strings.TrimSpace(strings.TrimSuffix(text, n.unit)), unit)
	if err != nil {
		return ""
	}
	limits := n.s.limits
	for _, name := range r.Limits {
		switch p, ok := checks.ParameterNamed(name); {
		case !ok || p.Dim != q.Dim:
		case p.Minimum != "" && limits.Minimum(name).Value == q.Value:
			return ": " + limits.Minimum(name).Least()
		case p.Maximum != "" && limits.Maximum(name).Value == q.Value:
			return ": " + limits.Maximum(name).Most()
		}
	}
	return ""
}
