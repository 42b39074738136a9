package ways

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/source"
)

// Bounds of what is looked at where no single change is a way: how many first changes are
// followed, and how many trials each may take.
const (
	mostFirsts  = 4
	secondTrial = 100
)

// partly is a change after which the finding is gone, and that brings others.
type partly struct {
	Way
	after  outcome
	brings []finding.Located // one for each key
}

// pairs looks, where each change that ends the finding brings others, for a second one
// that ends those.
func (s *seeker) pairs() {
	slices.SortStableFunc(s.part, func(x, y partly) int {
		return cmp.Or(cmp.Compare(len(x.brings), len(y.brings)), cmp.Compare(x.cost, y.cost))
	})
	followed := 0
	for i := range s.part {
		first := &s.part[i]
		if len(first.brings) > 2 || first.cost >= costRemove {
			continue
		}
		if followed++; followed > mostFirsts || s.ctx.Err() != nil {
			return
		}
		if s.second(first) {
			return
		}
	}
}

// second looks for the change that ends what the first one brings, and keeps the two as one way.
func (s *seeker) second(first *partly) bool {
	t := text(first.after.a, s.catalogue, s.o, first.after.found)
	t.o.Most, t.o.most = 3, secondTrial
	for _, brought := range first.brings {
		out := t.Out(s.ctx, brought)
		if out.Fix != nil {
			out.Ways = append([]Way{*out.Fix}, out.Ways...)
		}
		for _, w := range out.Ways {
			both, ok := source.Then(first.Edits, w.Edits)
			if !ok || w.cost >= costRemove {
				continue
			}
			way, ok := s.tried(Way{Title: fmt.Sprintf("%s, and %s", first.Title, w.Title), Edits: both, cost: first.cost + w.cost + costState})
			if ok && len(way.Brings) == 0 {
				s.keep(way)
				return true
			}
		}
	}
	return false
}

// why says why no change is known to be sure.
func (s *seeker) why() string {
	if r := s.catalogue.Named(s.f.Rule); r != nil && r.NoWay != "" {
		return r.NoWay
	}
	switch {
	case s.f.Fix != nil:
		return meantOtherwise
	case s.f.Rule == board.RuleMissing:
		return "what it lacks is for its author to state"
	case s.f.Category == finding.Language:
		return "none of the words and signs that were tried is what is meant"
	}
	if len(s.part) > 0 {
		var rules []string
		for _, f := range s.part[0].brings {
			if !slices.Contains(rules, f.Rule) {
				rules = append(rules, f.Rule)
			}
		}
		slices.Sort(rules)
		return fmt.Sprintf("%s would end it, and bring or worsen %s, for which no second change was found", s.part[0].Title, strings.Join(rules, ", "))
	}
	return "none of the changes that were tried ends it"
}
