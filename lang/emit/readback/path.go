package readback

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// near is how far a stated figure may lie from the model's, nm: it is rounded to
// the micrometre, in each coordinate.
const near = 1100

// paths holds the tables of drawn profiles to the profiles' paths.
func paths(b *board.Board, drawn map[string]Table) (wrong []string) {
	for _, p := range b.Profiles() {
		if p.Kind != "start" {
			continue
		}
		title := "Outline, drawn"
		if p.Cutout {
			title = "Cutout " + p.Name + ", drawn"
		}
		if what := path(p, drawn[title].Rows); what != "" {
			wrong = append(wrong, title+": "+what)
		}
		delete(drawn, title)
	}
	for title := range drawn {
		wrong = append(wrong, title+": there is no such path")
	}
	return wrong
}

var figures = regexp.MustCompile(`-?\d+(\.\d+)?`)

// numbers are the figures of a cell, nm.
func numbers(cell string) (list []float64) {
	for _, s := range figures.FindAllString(cell, -1) {
		v, _ := strconv.ParseFloat(s, 64)
		list = append(list, v*1e6)
	}
	return list
}

// path holds one table to its profile: each piece ends on its sharp point, which
// lies on the lines of both pieces that meet there, and is rounded as it says.
func path(p *board.Profile, rows [][]string) string {
	if len(rows) != len(p.Edges)+1 {
		return fmt.Sprintf("%d rows for %d pieces", len(rows), len(p.Edges))
	}
	loop, reversed := p.Path, p.Edges[0].Reversed
	if reversed {
		loop = loop.Reverse()
	}
	// as is where along the path as it is drawn a place along the profile's lies.
	as := func(e *board.Edge) (from, to float64) {
		if reversed {
			return loop.Perimeter() - e.To, loop.Perimeter() - e.From
		}
		return e.From, e.To
	}
	start := numbers(rows[0][1])
	if len(start) != 2 {
		return fmt.Sprintf("it starts at %q", rows[0][1])
	}
	begin := geom.Point{X: start[0], Y: start[1]}
	for i, e := range p.Edges {
		row, next := rows[i+1], p.Edges[(i+1)%len(p.Edges)]
		if row[0] != tight(e.Name) {
			return fmt.Sprintf("row %d is of %q, not of %q", i+1, row[0], e.Name)
		}
		to := numbers(row[1])
		if i == len(p.Edges)-1 {
			if to != nil {
				return "the last piece ends at the start, which is stated already"
			}
			to = start
		}
		if len(to) != 2 {
			return fmt.Sprintf("%s ends at %q", e.Name, row[1])
		}
		end := geom.Point{X: to[0], Y: to[1]}
		from, until := as(e)
		after, _ := as(next)
		round := math.Mod(after-until+loop.Perimeter(), loop.Perimeter())
		if round > loop.Perimeter()/2 && len(p.Edges) > 1 || round < 10*board.Tolerance {
			round = 0
		}
		if s := piece(loop, from, until, row, begin, end); s != "" {
			return e.Name + ": " + s
		}
		begin = end
		radius := numbers(row[4])
		switch {
		case round == 0 && radius != nil:
			return e.Name + " has no round at its end"
		case round == 0:
			if d := loop.At(until).Dist(end); d > near {
				return fmt.Sprintf("%s ends %.0f nm from where it says", e.Name, d)
			}
			continue
		}
		k, _ := loop.SegmentAt(until + round/2)
		g := loop.Segments()[k]
		if len(radius) != 1 || math.Abs(g.A.Dist(g.C)-radius[0]) > near {
			return fmt.Sprintf("%s has R%s at its end, found %q", e.Name, length(g.A.Dist(g.C)), row[4])
		}
	}
	return ""
}

// piece holds a row to the piece of the path between two places.
func piece(loop *geom.Loop, from, until float64, row []string, begin, end geom.Point) string {
	if until-from < 10*board.Tolerance {
		return "" // nothing is left of it between its rounds
	}
	k, _ := loop.SegmentAt((from + until) / 2)
	g := loop.Segments()[k]
	about := numbers(row[2])
	if !g.Arc {
		t := g.Tangent(0)
		if about != nil || math.Abs(end.Sub(g.A).Cross(t)) > 2*near || math.Abs(begin.Sub(g.A).Cross(t)) > 2*near {
			return fmt.Sprintf("its line does not run from %s to %s", place(begin), row[1])
		}
		return ""
	}
	if len(about) != 2 || g.C.Dist(geom.Point{X: about[0], Y: about[1]}) > near {
		return fmt.Sprintf("it is about %s, found %q", place(g.C), row[2])
	}
	if strings.HasSuffix(row[2], ",clockwise") != g.Clockwise || math.Abs(end.Dist(g.C)-g.A.Dist(g.C)) > 2*near || math.Abs(begin.Dist(g.C)-g.A.Dist(g.C)) > 2*near {
		return fmt.Sprintf("it is no such arc: %q to %q", row[2], row[1])
	}
	return ""
}
