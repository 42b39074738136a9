package ways

import (
	"cmp"
	"fmt"
	"iter"
	"math"
	"slices"
	"strconv"
	"strings"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// costFurther is that of a further tab: more than a word, less than leaving anything out.
const costFurther = 1.5

// places is into how many parts an edge is cut by the places that a further tab is tried at.
const places = 12

// further looks for a place where a further tab like this one ends a finding on tabs: on
// its own edge, where its position joins those of the statement, or on another.
func (s *seeker) further() {
	_, name, ok := s.statement.NamePlace()
	at, on := s.reading.Get("at"), s.reading.Get("on")
	if rule := s.catalogue.Named(s.f.Rule); s.statement.Word() != "tab" || !ok || rule == nil || rule.Group != checks.GroupTabs ||
		at == nil || on == nil || len(at.Values) == 0 || len(on.Values) != 1 {
		return
	}
	first, known := s.a.Document().Locate(at.Values[0].Place())
	last, also := s.a.Document().Locate(at.Values[len(at.Values)-1].Place())
	edge, there := s.a.Document().Locate(on.Values[0].Place())
	i := slices.IndexFunc(s.a.Board().Tabs(), func(t *board.Tab) bool { return t.Name.Text == name || t.Row.Text == name })
	outline := s.a.Board().Outline()
	if !known || !also || !there || i < 0 || outline == nil || s.root.Slice(edge) != on.Values[0].Source() {
		return
	}
	own := s.a.Board().Tabs()[i].Edge
	if strings.Contains(s.root.Slice(source.Span{Start: first.Start, End: last.End}), "deg") {
		s.round(at.Values, last.End)
		return
	}
	for _, e := range outline.Edges {
		if s.ctx.Err() != nil {
			return
		}
		if e == own {
			s.best(e, func(p string) Way {
				return Way{Title: "a further tab at " + p + s.of(), Edits: change(source.Span{Start: last.End, End: last.End}, ", "+p), cost: costFurther + 0.2}
			})
			continue
		}
		plain := s.best(e, func(p string) Way {
			return s.another(name, e, source.Span{Start: first.Start, End: last.End}, edge, p, "")
		})
		if !plain && s.reading.Get("opens") == nil && !strings.HasSuffix(s.root.Slice(s.span), "}") {
			for _, margin := range s.lengths() {
				if s.best(e, func(p string) Way {
					return s.another(name, e, source.Span{Start: first.Start, End: last.End}, edge, p, " opens margin "+margin)
				}) {
					break
				}
			}
		}
	}
}

// mostRound is how many tabs are added round a rim at once.
const mostRound = 3

// round looks for further tabs round a rim, as far from each other as the first and the next.
func (s *seeker) round(at []syntax.Value, end int) {
	if len(at) != 1 {
		return
	}
	first, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(at[0].Source(), "deg")), 64)
	if err != nil {
		return
	}
	for n := 1; n <= mostRound; n++ {
		var places []string
		for k := 1; k <= n; k++ {
			angle := math.Mod(math.Round(first+float64(k)*360/float64(n+1)), 360)
			places = append(places, decimal(angle)+" deg")
		}
		text := strings.Join(places, ", ")
		e := change(source.Span{Start: end, End: end}, ", "+text)
		what := "a further tab at "
		if n > 1 {
			what = "further tabs at "
		}
		if s.gone(e) && s.offer(Way{Title: what + text + s.of(), Edits: e, cost: costFurther + float64(n)/10}) && len(s.list[len(s.list)-1].Brings) == 0 {
			return
		}
	}
}

// another is the way of a tab statement like this one on another edge.
func (s *seeker) another(name string, e *board.Edge, at, on source.Span, p, more string) Way {
	text, free := s.root.Slice(s.span), s.unused(name)
	given, _, _ := s.statement.NamePlace()
	called, _ := s.a.Document().Locate(given)
	edits := []source.Edit{{Span: at, Text: p}, {Span: on, Text: syntax.Refer(e.Name)}, {Span: called, Text: syntax.Quote(free)}}
	for _, x := range slices.Backward(source.Ordered(edits)) {
		text = text[:x.Span.Start-s.span.Start] + x.Text + text[x.Span.End-s.span.Start:]
	}
	line := s.root.Line(s.root.LineOf(s.span.End))
	return Way{
		Title: fmt.Sprintf("a further tab: tab %s on %s at %s%s, like tab %s", syntax.Quote(free), e.Name, p, more, syntax.Quote(name)),
		Edits: change(source.Span{Start: line.End, End: line.End}, "\n"+text+more), cost: costFurther + 0.1,
	}
}

// unused is a name like another that no statement has: that name itself where none has it.
func (s *seeker) unused(name string) string {
	for n := 1; ; n++ {
		free := fmt.Sprintf("%s_%d", name, n)
		if n == 1 {
			free = name
		}
		if !slices.ContainsFunc(s.a.Document().Statements(), func(x *syntax.Statement) bool {
			_, other, ok := x.NamePlace()
			return ok && other == free
		}) {
			return free
		}
	}
}

// apart are the parts of an edge, those first that lie farthest from its tabs and its ends.
func (s *seeker) apart(e *board.Edge) []int {
	room := func(k int) float64 {
		at := e.Length * float64(k) / places
		least := math.Min(at, e.Length-at)
		for _, t := range s.a.Board().Tabs() {
			if t.Edge == e {
				least = math.Min(least, math.Abs(t.Position-at))
			}
		}
		return least
	}
	list := make([]int, 0, places)
	for k := 1; k < places; k++ {
		list = append(list, k)
	}
	slices.SortStableFunc(list, func(x, y int) int { return cmp.Compare(math.Round(room(y)), math.Round(room(x))) })
	return list
}

// best keeps the first of the ways at places along an edge that brings nothing, or else
// that brings least; it tells whether there is one.
func (s *seeker) best(e *board.Edge, way func(position string) Way) bool {
	unit := unitOf(s.reading)
	return s.least(func(yield func(Way) bool) {
		for _, k := range s.apart(e) {
			if !yield(way(placeAt(e.Length*float64(k)/places, unit))) {
				return
			}
		}
	})
}

// least keeps the first of some ways that brings nothing, or else that brings least; it tells
// whether there is one.
func (s *seeker) least(tries iter.Seq[Way]) bool {
	var best *Way
	for w := range tries {
		if !s.gone(w.Edits) {
			continue
		}
		if w, ok := s.tried(w); ok && (best == nil || len(w.Brings) < len(best.Brings)) {
			best = &w
		}
		if best != nil && len(best.Brings) == 0 {
			break
		}
	}
	if best != nil {
		s.keep(*best)
	}
	return best != nil
}
