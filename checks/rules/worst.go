package rules

import (
	"fmt"
	"math"
	"strings"

	"hemline/checks"
	"hemline/checks/figures"
	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/finding"
	"hemline/lang/geom"
	"hemline/lang/quantity"
	"hemline/lang/source"
)

// move is how far a piece's border may be off where it is drawn: a share of the
// tolerance of a clause.
type move struct {
	clause string
	share  float64
}

// movesOf says which tolerances move a piece's border where another comes near
// it. Copper that is printed, and that lies in one image with the other, stays.
func movesOf(b *board.Board, x *copper.Piece, at geom.Point) []move {
	switch x.Kind {
	case copper.Wall:
		if endsAt(x.Stretch(), at) {
			return []move{{"gaps", 1}}
		}
		return ofProfile(b, x.Stretch().Profile)
	case copper.Wrap, copper.Strip, copper.Run:
		if endsAt(x.Stretch(), at) {
			return []move{{"gaps", 1}}
		}
	case copper.Barrel:
		return []move{{"position", 1}, {"half_holes", 0.5}}
	case copper.Via, copper.PlatedHole:
		return []move{{"position", 1}, {"holes", 0.5}}
	}
	return nil
}

// ofProfile is what moves a profile.
func ofProfile(b *board.Board, p *board.Profile) []move {
	if p == b.Outline() {
		return []move{{"outline", 1}}
	}
	return []move{{"cutouts", 1}}
}

// endsAt tells whether a place on a stretch's copper is at an end of it.
func endsAt(s board.Stretch, at geom.Point) bool {
	segs := s.Segments()
	if len(segs) == 0 || s.Round() {
		return false
	}
	const nanometre = 1
	first, last := segs[0], segs[len(segs)-1]
	return math.Abs(at.Sub(first.A).Dot(first.Tangent(0))) <= nanometre ||
		math.Abs(at.Sub(last.B).Dot(last.Tangent(last.Length()))) <= nanometre
}

type boundsKey struct{}

// movedBy is the most that each kind's border may be off, whatever is near.
func movedBy(p *checks.Pass) [copper.Kinds]float64 {
	return checks.Once(p, boundsKey{}, func() (most [copper.Kinds]float64) {
		of := p.Limits.Tolerances(p.Board)
		by := func(clause string) float64 { return of(clause).Value }
		profile := max(by("outline"), by("cutouts"))
		hole := by("position") + by("holes")/2
		for _, k := range []copper.Kind{copper.Wrap, copper.Strip, copper.Run} {
			most[k] = by("gaps")
		}
		for _, k := range []copper.Kind{copper.Via, copper.PlatedHole} {
			most[k] = hole
		}
		most[copper.Wall] = max(by("gaps"), profile)
		most[copper.Barrel] = by("position") + by("half_holes")/2
		return most
	})
}

// atWorst tells of two pieces that keep what a line holds them to whether nothing
// may be left between them, and by which tolerances.
func (s short) atWorst(p *checks.Pass) (short, bool) {
	if s.row == nil || !s.row.worst {
		return s, false
	}
	most := movedBy(p)
	if n := s.near; n.D > most[n.A.Kind]+most[n.B.Kind] {
		return s, false
	}
	var none bool
	s.by, s.sum, none = leavesNothing(p, s.d, append(movesOf(p.Board, s.near.A, s.near.PA), movesOf(p.Board, s.near.B, s.near.PB)...))
	return s, none
}

// leavesNothing tells whether moves come to as much as a distance, how far they go,
// and the moves themselves, those of one clause together.
func leavesNothing(p *checks.Pass, d float64, moves []move) (by []move, sum float64, none bool) {
	of := p.Limits.Tolerances(p.Board)
	for _, x := range moves {
		sum += x.share * of(x.clause).Value
		by = added(by, x)
	}
	return by, sum, sum > 0 && d <= sum+board.Tolerance
}

// reportNothingLeft reports what holds its limit as drawn, and of which moves may
// leave nothing; nil where they do not.
func reportNothingLeft(p *checks.Pass, at source.Place, on []string, what string, d float64, moves ...move) *finding.Finding {
	by, sum, none := leavesNothing(p, d, moves)
	if !none {
		return nil
	}
	of := p.Limits.Tolerances(p.Board)
	f := p.Report(at, on, "%s is %s, %s", what, length(d), atWorstSays(by, sum, of))
	for _, x := range by {
		relatedTolerance(f, of(x.clause))
	}
	return f
}

// atWorstOf is a margin with what the moves leave of its value.
func atWorstOf(p *checks.Pass, m checks.Margin, moves ...move) checks.Margin {
	by, sum, _ := leavesNothing(p, m.Value.Value, moves)
	if sum > 0 {
		m.Worst = m.Value
		m.Worst.Value = max(0, m.Value.Value-sum)
		m.Because = strings.Join(movesSay(by, p.Limits.Tolerances(p.Board)), " and ")
	}
	return m
}

// added adds a move to others, those of one clause together.
func added(list []move, x move) []move {
	for i := range list {
		if list[i].clause == x.clause {
			list[i].share += x.share
			return list
		}
	}
	return append(list, x)
}

// atWorstSays is that nothing is left at worst, and by which tolerances.
func atWorstSays(by []move, sum float64, of figures.Tolerances) string {
	words := movesSay(by, of)
	if len(by) == 1 && by[0].share == 1 {
		return "at worst nothing is left with " + words[0]
	}
	for i, w := range words {
		if strings.Contains(w, ",") {
			words[i] += ","
		}
	}
	says := words[0]
	if last := len(words) - 1; last > 0 {
		says = strings.Join(words[:last], " ") + " and " + words[last]
	}
	return fmt.Sprintf("at worst nothing is left: %s come to %s", says, quantity.Nanometres(sum))
}

// movesSay names moves, each by its tolerance.
func movesSay(by []move, of figures.Tolerances) (words []string) {
	for _, x := range by {
		says := of(x.clause).Says("")
		switch x.share {
		case 0.5:
			says = "half of " + says
		case 2:
			says = "twice " + says
		}
		words = append(words, says)
	}
	return words
}
