package rules

import (
	"fmt"
	"slices"
	"strings"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/quantity"
)

var platingConflict = &checks.Rule{
	Name: "plating_conflict", Group: checks.GroupPlating, Category: finding.Unbuildable,
	Finds:  "Two platings of one net run on one stretch and say different things of it: copper, wraps, extension, finish or the layers that it joins.",
	Why:    "There is one wall there. The notes and the artwork ask for both, and the shop must guess which holds. Platings of two nets on one stretch are `net_conflict`'s.",
	Source: "common practice, no source",
	Bad:    platedWith(secondWall("10 mm", "35 um")),
	Good:   platedWith(secondWall("10 mm", "35 um"), "gap apart of wall on east from 0 mm to 12 mm"),
	Run: func(p *checks.Pass) {
		eachTwice(p, func(t twice) {
			if len(t.differ) == 0 {
				return
			}
			t.report(p, " and say different "+joined(t.differ)+": "+strings.Join(t.said, ", "))
		})
	},
}

// twice is a stretch that two platings of one net run on.
type twice struct {
	a, b   board.Stretch // of the plating stated first, and of the other
	on     board.Stretch // what both cover
	differ []string      // the clauses that say different things, and
	said   []string      // what each says
}

// report reports the two platings where they both run, and what of it.
func (t twice) report(p *checks.Pass, what string) {
	a, b := t.a.Plating.Name.Text, t.b.Plating.Name.Text
	at, other := later(alongAt(t.a.Plating, t.a.Profile, t.on.From).At, alongAt(t.b.Plating, t.b.Profile, t.on.From).At)
	r := p.Report(at, []string{a, b}, "platings %s and %s both run %s%s", a, b, t.on.Where(), what)
	related(r, other, "the other plating")
}

// eachTwice visits every two platings of one net that run on one stretch once
// for each profile, with the first such stretch along it.
func eachTwice(p *checks.Pass, visit func(twice)) {
	if len(p.Board.Platings()) < 2 {
		return
	}
	type pair struct{ a, b *board.Plating }
	for _, profile := range p.Board.Profiles() {
		list := p.Board.Wall(profile).Plated
		seen := map[pair]bool{}
		for i, s := range list {
			meetsFrom(list, i, func(x, on board.Stretch) bool {
				t := twice{a: s, b: x, on: on}
				if last, _ := later(s.Plating.Name.At, x.Plating.Name.At); last == s.Plating.Name.At {
					t.a, t.b = x, s
				}
				k := pair{t.a.Plating, t.b.Plating}
				if k.a != k.b && k.a.Net.Text == k.b.Net.Text && !seen[k] {
					seen[k] = true
					t.differ, t.said = differing(p.Board, k.a, k.b)
					visit(t)
				}
				return len(seen) <= checks.MaxFindings
			})
		}
	}
}

// meetsFrom visits the stretches of a list, in order of their starts, that start
// on stretch number i, with what both cover, until it returns false.
func meetsFrom(list []board.Stretch, i int, visit func(x, on board.Stretch) bool) {
	s := list[i]
	l := s.Profile.Path.Perimeter()
	for k := 1; k < len(list); k++ {
		x := list[(i+k)%len(list)]
		if i+k >= len(list) {
			x.From, x.To = x.From+l, x.To+l
		}
		if s.To-x.From <= board.Tolerance {
			return
		}
		on := board.Stretch{Profile: s.Profile, From: x.From, To: min(s.To, x.To)}
		if on.From >= l {
			on.From, on.To = on.From-l, on.To-l
		}
		if !visit(list[(i+k)%len(list)], on) {
			return
		}
	}
}

// differing lists the clauses in which two platings say different things, and
// what each says there. What one of them leaves open the other settles.
func differing(b *board.Board, x, y *board.Plating) (clauses, said []string) {
	add := func(clause, a, b string) {
		clauses = append(clauses, clause)
		said = append(said, fmt.Sprintf("%s and %s", a, b))
	}
	value := func(clause string, a, b board.Value) {
		if a.Given() && b.Given() && a.Value != b.Value {
			v, w := quantity.Pair(a.Quantity, b.Quantity)
			add(clause, v, w)
		}
	}
	value("copper", x.Copper, y.Copper)
	for _, f := range board.Faces {
		value("wrap "+f.String(), x.Wrap[f], y.Wrap[f])
	}
	value("extend", x.Extend, y.Extend)
	if x.Finish.Given() && y.Finish.Given() && x.Finish.Text != y.Finish.Text {
		add("finish", x.Finish.Text, y.Finish.Text)
	}
	if x.LayersAt.Anchor != nil || y.LayersAt.Anchor != nil {
		if v, w := b.Joined(x), b.Joined(y); !slices.Equal(v, w) {
			add("layers", enumerated(v), enumerated(w))
		}
	}
	return clauses, said
}

func enumerated(words []string) string {
	if len(words) == 0 {
		return "none"
	}
	return strings.Join(words, " ")
}
