package ways

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

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
		if !ok || s.root.Slice(at) != spot.Value.Source() {
			return true // taken over by `like`: it stands elsewhere
		}
		var n number
		switch {
		case spot.Value.Expr.Op == syntax.OpNumber:
			n, ok = numberOf(s, &spot, at)
		case spot.Arg != nil && spot.Arg.Kind == syntax.VPosition && spot.Text == syntax.Middle && spot.Whole.Expr.Op == syntax.OpName:
			n = number{s: s, spot: &spot, at: at, unit: s.unit().Name, grid: 0.1, most: 10, from: syntax.Middle}
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

// seek goes from the value in one direction, by steps that double, until the finding is
// gone, and back to the nearest step of the grid.
func (n number) seek(way float64) {
	base := math.Round(n.value/n.grid) * n.grid
	near, far := 0.0, math.NaN()
	for step := n.grid; step <= n.most; step *= 2 {
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

func (n number) gone(v float64) bool { return n.s.gone(n.at, n.text(v)) }

func (n number) offer(v float64) bool {
	text, old := n.text(v), n.s.root.Slice(n.at)
	word := n.spot.Clause().Spec.Word
	if n.spot.Given {
		_, word, _ = n.s.statement.NamePlace()
	}
	if e := n.spot.Whole; e != nil && e.Expr.Op == syntax.OpPoint {
		axis := " y"
		if first, ok := n.s.a.Document().Locate(e.Of(e.Expr.Args[0]).Place()); ok && first.Contains(n.at.Start) {
			axis = " x"
		}
		word += axis
	}
	sign := "" // of its own, which stands before it; a difference's is none
	if before, minus := strings.CutSuffix(strings.TrimRight(n.s.root.Text()[:n.at.Start], " "), "-"); minus && strings.HasSuffix(strings.TrimRight(before, " "), "(") ||
		minus && strings.HasSuffix(strings.TrimRight(before, " "), ",") {
		sign = "-"
	}
	return n.s.offer(Way{
		Title: fmt.Sprintf("%s %s%s instead of %s%s%s", word, sign, text, sign, old, n.s.of()),
		Span:  n.at, Text: text, cost: math.Abs(v-n.value) / math.Max(math.Abs(n.value), 100*n.grid),
	})
}
