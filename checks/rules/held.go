package rules

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/finding"
	"hemline/lang/geom"
)

// short is a pair of pieces that come nearer than they may, the subject first:
// what the finding is on.
type short struct {
	row            *pair
	subject, other *copper.Piece
	d              float64
	need           checks.Limit
	touch          bool // they may not overlap, and do
	keeps          bool // they keep what they are held to; told of as a margin alone
	// by is what of tolerances leaves nothing between two pieces that keep what they
	// are held to as drawn; nil of others. It comes to sum.
	by   []move
	sum  float64
	near copper.Near
}

type surveyKey struct{}

// survey is the map of the board's metal, with what comes nearer to what than
// the table of pairs holds it to.
func survey(p *checks.Pass) *copper.Map {
	return checks.Once(p, surveyKey{}, func() *copper.Map {
		before, _ := p.Kept(surveyKey{}).(*copper.Map)
		m := copper.Since(before, p.Board, lookFor(p, before))
		p.Keep(surveyKey{}, m)
		return m
	})
}

// lookFor is what the map is asked for: the same as the version before, where
// the limits give the same.
func lookFor(p *checks.Pass, before *copper.Map) *copper.Look {
	l := &copper.Look{Margin: p.Limits.MaskMargin(), Needs: needs(p.Limits, movedBy(p))}
	for _, name := range heldTo {
		l.Bounds = append(l.Bounds, p.Limits.Minimum(name).Value)
	}
	moved := movedBy(p)
	l.Bounds = append(l.Bounds, moved[:]...)
	nothing := p.Measures() // the map is made for its pieces alone
	for a := range copper.Kinds {
		for b := range copper.Kinds {
			l.Reach[a][b] = -1
			for _, row := range byKinds[a][b] {
				if row.surveyed() && !nothing {
					l.Reach[a][b] = max(l.Reach[a][b], row.reach(p), row.reachAtWorst(moved, copper.Kind(a), copper.Kind(b)))
				}
			}
		}
	}
	if p.Weighs() {
		farther(l, checks.MarginBeyond)
	}
	for _, k := range []copper.Kind{copper.Feature, copper.Via, copper.PlatedHole, copper.Drilled, copper.Pin, copper.Barrel, copper.Land} {
		l.Inside[k] = true
	}
	outer, inner := p.Limits.Minimum("edge_clearance_outer").Value, p.Limits.Minimum("edge_clearance_inner").Value
	l.Past = [2]float64{outer * math.Sqrt2, inner * math.Sqrt2}
	if before != nil && before.Asked().Same(l) {
		return before.Asked()
	}
	return l
}

// farther asks for pairs that are so much farther apart too.
func farther(l *copper.Look, by float64) {
	for a := range l.Reach {
		for b := range l.Reach[a] {
			if l.Reach[a][b] >= 0 {
				l.Reach[a][b] += by
			}
		}
	}
	needs := l.Needs
	l.Needs = func(m *copper.Map, a, b *copper.Piece) float64 {
		far := needs(m, a, b)
		if far >= 0 {
			far += by
		}
		return far
	}
}

// reach is how near pieces must come for a line to look at them: a limit met
// exactly is met, and one that computing puts a hair under it is let by.
func (r *pair) reach(p *checks.Pass) float64 {
	far := board.Tolerance
	for _, l := range r.limits {
		far = max(far, p.Limits.Minimum(l).Value)
	}
	if r.own {
		for _, c := range p.Board.Connectors() {
			far = max(far, c.Clearance.Value)
		}
	}
	return far
}

// reachAtWorst is how near pieces of two kinds must come for nothing to be left at worst.
func (r *pair) reachAtWorst(moved [copper.Kinds]float64, a, b copper.Kind) float64 {
	if !r.worst {
		return 0
	}
	return moved[a] + moved[b] + board.Tolerance
}

// needs is how near two pieces must come to miss what a line holds them to, or
// for nothing to be left between them at worst.
func needs(l *checks.Limits, moved [copper.Kinds]float64) func(*copper.Map, *copper.Piece, *copper.Piece) float64 {
	return func(m *copper.Map, a, b *copper.Piece) float64 {
		far := -1.0
		for _, row := range byKinds[a.Kind][b.Kind] {
			switch {
			case !row.surveyed() || !row.speaks(m, a, b):
			case row.need == nil:
				far = max(far, board.Tolerance, row.reachAtWorst(moved, a.Kind, b.Kind))
			default:
				far = max(far, board.Tolerance, row.need(l, m, a, b).Value, row.reachAtWorst(moved, a.Kind, b.Kind))
			}
		}
		return far
	}
}

type shortsKey struct{}

// shorts lists what is too near, by rule: of each two items the pair of pieces
// that misses its limit by most, in the order of the text.
func shorts(p *checks.Pass) map[string][]short {
	return checks.Once(p, shortsKey{}, func() map[string][]short {
		if p.Measures() {
			return nil // leastOf tells of them
		}
		m := survey(p)
		type parties struct {
			rule         string
			one, another *board.Item
		}
		worst := map[parties]short{}
		for _, n := range m.Near() {
			for _, row := range byKinds[n.A.Kind][n.B.Kind] {
				if !row.surveyed() {
					continue
				}
				s, ok := row.judge(p, m, n)
				if !ok {
					s, ok = s.atWorst(p)
				}
				if s.keeps = !ok && p.Weighs() && s.told(); !ok && !s.keeps {
					continue
				}
				k := parties{row.rule.Name, s.subject.Of(), s.other.Of()}
				if known, had := worst[k]; !had || s.worse(known) {
					worst[k] = s
				}
			}
		}
		list := map[string][]short{}
		for k, s := range worst {
			list[k.rule] = append(list[k.rule], s)
		}
		for _, of := range list {
			slices.SortFunc(of, func(a, b short) int {
				return cmp.Or(copper.Order(a.subject, b.subject), copper.Order(a.other, b.other))
			})
		}
		return list
	})
}

// judge tells whether two pieces that are near each other miss what a line
// holds them to.
func (r *pair) judge(p *checks.Pass, m *copper.Map, n copper.Near) (short, bool) {
	if !r.speaks(m, n.A, n.B) || r.unless != nil && r.unless(p, m, n) {
		return short{}, false
	}
	if r.besides != nil {
		n = m.Besides(n, r.besides)
	}
	if r.finished != nil {
		n = r.finished(p, n)
	}
	s := short{row: r, d: n.D, near: n}
	s.subject, s.other = parts(n.A, n.B)
	if r.need == nil {
		s.touch = n.D <= board.Tolerance && (r.meets || copper.Overlap(n.A, n.B))
		return s, s.touch
	}
	if r.apart && n.D <= board.Tolerance {
		return short{}, false
	}
	s.need = r.need(p.Limits, m, n.A, n.B)
	if below(n.D, s.need.Value) {
		return s, true
	}
	// Whoever asks for nothing does not ask for a short, nor for two things in one place.
	s.touch = n.D <= board.Tolerance && (r.nets == twoNets || copper.Overlap(n.A, n.B))
	return s, s.touch
}

// told tells whether a pair that keeps its limit is worth telling of: it is nearly as near,
// and no bare edge that goes on from the copper's own, of which only what is farther off than
// Look.Past counts: how near that is says nothing.
func (s short) told() bool {
	if s.need.Parameter == nil || s.d > s.need.Value+checks.MarginBeyond {
		return false
	}
	return s.row.rule.Name != "edge_pullback" || s.subject.Stretch().Profile == nil || s.subject.Stretch().Profile != s.other.Stretch().Profile
}

// weigh notes how nearly a pair keeps its limit, or misses it.
func (s short) weigh(p *checks.Pass) {
	if s.need.Parameter == nil {
		return
	}
	a, b, where := s.names(p)
	at, _ := s.place(p)
	held(p, s.touch || below(s.d, s.need.Value), func() checks.Margin {
		m := checks.Margin{At: at, What: fmt.Sprintf("distance from %s to %s at %s", a, b, where), Value: length(s.d), Limit: s.need, Against: s.need.Quantity}
		if s.row.worst {
			m = atWorstOf(p, m, append(movesOf(p.Board, s.near.A, s.near.PA), movesOf(p.Board, s.near.B, s.near.PB)...)...)
		}
		return m
	})
}

// worse orders the pairs of pieces of two items: what misses its limit by most
// first, and then by what they are, so that one text always gives one finding.
func (s short) worse(than short) bool {
	c := cmp.Or(
		cmp.Compare(s.d-s.need.Value, than.d-than.need.Value),
		cmp.Compare(s.subject.Kind, than.subject.Kind), cmp.Compare(s.other.Kind, than.other.Kind),
		cmp.Compare(s.subject.Member, than.subject.Member), cmp.Compare(s.other.Member, than.other.Member),
		cmp.Compare(s.subject.Layers&s.other.Layers, than.subject.Layers&than.other.Layers),
		cmp.Compare(s.near.PA.X, than.near.PA.X), cmp.Compare(s.near.PA.Y, than.near.PA.Y))
	return c < 0
}

// at is where the subject is nearest to the other.
func (s short) at() geom.Point {
	if s.subject == s.near.A {
		return s.near.PA
	}
	return s.near.PB
}

// rank is which of two pieces a finding is on: what is moved more easily.
var rank = [copper.Kinds]int{copper.Feature: 1, copper.PlatedHole: 2, copper.Drilled: 2, copper.Ring: 2, copper.Via: 3, copper.Pad: 3,
	copper.Tab: 4, copper.Perforation: 4, copper.Pin: 5, copper.Body: 5, copper.Barrel: 6, copper.Land: 6, copper.Opening: 7,
	copper.Plane: 8, copper.Run: 9, copper.Strip: 9, copper.Wrap: 9, copper.Wall: 9, copper.Cutout: 10, copper.Edge: 11}

// parts says which of two pieces is the subject of a finding: by rank, of equal
// ones the one that stands later in the text.
func parts(a, b *copper.Piece) (subject, other *copper.Piece) {
	if c := cmp.Or(cmp.Compare(rank[a.Kind], rank[b.Kind]), -copper.Order(a, b)); c > 0 {
		return b, a
	}
	return a, b
}

// runPairs is the run of a rule that reports what its lines of the table of pairs
// find; more, which may be nil, adds to each finding.
func runPairs(rule string, more func(*checks.Pass, short, *finding.Finding)) func(*checks.Pass) {
	return func(p *checks.Pass) {
		for _, s := range shorts(p)[rule] {
			if p.Weighs() {
				s.weigh(p)
				continue
			}
			f := s.report(p)
			if more != nil && s.by == nil {
				more(p, s, f)
			}
		}
	}
}

// leastOf gives how near the pairs come that a limit holds, for Rule.Least of
// one whose lines of the table name it.
func leastOf(rule *checks.Rule) func(*checks.Pass, string) float64 {
	return func(p *checks.Pass, limit string) float64 {
		m, least := survey(p), math.Inf(1)
		at := p.Limits.Minimum(limit).Value
		for _, n := range m.Near() {
			for _, row := range byKinds[n.A.Kind][n.B.Kind] {
				if row.rule != rule || !row.surveyed() || !slices.Contains(row.limits, limit) {
					continue
				}
				s, ok := row.judge(p, m, n)
				switch {
				case !ok || s.need.Parameter == nil || s.need.Parameter.Name != limit:
				case s.need.Value > at:
					return -1 // a connector asks for more
				default:
					least = min(least, math.Round(s.d))
				}
			}
		}
		return least
	}
}
