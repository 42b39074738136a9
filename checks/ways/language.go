package ways

import (
	"cmp"
	"path"
	"slices"
	"strings"

	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/quantity"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// mostNames is how many names are tried in the place of one that there is not.
const mostNames = 40

// language looks for ways out of what is wrong with the text itself.
func (s *seeker) language() {
	if s.f.Category != finding.Language || s.f.File != s.root {
		return
	}
	switch s.f.Rule {
	case board.RuleUnknownName:
		s.names()
	case board.RuleWrongValue:
		s.units()
		s.unquoted()
	case board.RuleMissing:
		s.missing()
	case board.RuleDuplicate:
		s.renamed()
	case syntax.RuleRepeated:
		s.twice()
	case syntax.RuleSyntax:
		s.form()
	case lang.RuleUse:
		s.files()
	}
}

// try keeps a change if the finding is gone with it.
func (s *seeker) try(title string, at source.Span, text string, cost float64) bool {
	e := change(at, text)
	return s.gone(e) && s.offer(Way{Title: title, Edits: e, cost: cost})
}

// names looks for the names that there are in the place of one that there is not, the
// likest first.
func (s *seeker) names() {
	now := s.root.Slice(s.f.Span)
	var list []string
	add := func(name string) {
		if name = syntax.Refer(name); name != "" && name != now && !slices.Contains(list, name) {
			list = append(list, name)
		}
	}
	for _, x := range s.a.Document().Statements() {
		if _, name, ok := x.NamePlace(); ok {
			add(name)
		}
	}
	for _, p := range s.a.Board().Profiles() {
		for _, e := range p.Edges {
			add(e.Name)
		}
	}
	for _, k := range board.Kinds() {
		for _, i := range k.Items(s.a.Board()) {
			add(i.Name.Text)
			if i.Row.Given() {
				add(i.Row.Text)
			}
		}
	}
	slices.SortStableFunc(list, func(x, y string) int { return cmp.Compare(syntax.Unlikeness(now, x), syntax.Unlikeness(now, y)) })
	for i, name := range list[:min(len(list), mostNames)] {
		if s.ctx.Err() != nil {
			return
		}
		s.try("write "+name+" instead of "+now, s.f.Span, name, costWord+float64(i)/1000)
	}
}

// units looks for the unit that a bare number lacks; where several may be meant, for each.
func (s *seeker) units() {
	now := strings.TrimSpace(s.root.Slice(s.f.Span))
	if now == "" || strings.Trim(now, "0123456789.-") != "" {
		return
	}
	for i, name := range []string{"mm", "mil", "um", "in", "deg", "GHz", "MHz", "dB", "%"} {
		if u, ok := quantity.UnitNamed(name); ok {
			s.try("write "+now+" "+u.Name, s.f.Span, now+" "+u.Name, costWord+float64(i)/1000)
		}
	}
}

// unquoted takes the quotes from what is no text.
func (s *seeker) unquoted() {
	now := s.root.Slice(s.f.Span)
	if inner := strings.Trim(now, `"`); len(inner) == len(now)-2 && inner != "" {
		s.try("write "+inner+", without quotes", s.f.Span, inner, costWord)
	}
}

// missing looks for the clause that a statement needs: of a net, those that the board has;
// of a size, the sizes that are common. A place is its author's to state.
func (s *seeker) missing() {
	x, _ := s.a.Document().At(s.f.Span.Start)
	if x == nil {
		return
	}
	s.statement, s.reading = x, syntax.Read(x)
	s.span, _ = s.a.Document().Locate(x.Whole())
	if s.reading == nil {
		return
	}
	for _, spec := range s.reading.Spec.Clauses {
		if s.reading.Stands(spec.Word) || !strings.Contains(s.f.Message, spec.Word) {
			continue
		}
		texts := s.stated(spec)
		if spec.Word == "net" {
			texts = nil
			for _, n := range s.a.Board().Nets() {
				texts = append(texts, "net "+syntax.Quote(n))
			}
		}
		for i, text := range texts {
			at, insert := s.insertion([]*syntax.Clause{&s.reading.Clause}, text)
			s.try("insert "+text, at, insert, costState+float64(i)/1000)
		}
	}
}

// renamed gives the name that is taken already another.
func (s *seeker) renamed() {
	now := s.root.Slice(s.f.Span)
	free := syntax.Quote(s.unused(strings.Trim(now, `"`)))
	s.try("call this one "+free, s.f.Span, free, costWord)
}

// twice leaves a clause out that stands already.
func (s *seeker) twice() {
	x, _ := s.a.Document().At(s.f.Span.Start)
	if x == nil {
		return
	}
	s.statement, s.reading = x, syntax.Read(x)
	s.span, _ = s.a.Document().Locate(x.Whole())
	if s.reading == nil {
		return
	}
	var each func(c *syntax.Clause)
	each = func(c *syntax.Clause) {
		for _, k := range c.Clauses {
			if at, ok := s.a.Document().Locate(k.Place()); ok && strings.Contains(s.f.Message, k.Spec.Word) {
				said := strings.Join(strings.Fields(s.root.Slice(at)), " ")
				for at.Start > s.span.Start && strings.ContainsRune(" \t", rune(s.root.Text()[at.Start-1])) {
					at.Start--
				}
				s.try("leave out "+said, at, "", costDrop)
			}
			each(k)
		}
	}
	each(&s.reading.Clause)
}

// mostLines is how many lines below an open brace are tried for the one that closes it.
const mostLines = 40

// form looks for a comma, a brace or a value that is too many.
func (s *seeker) form() {
	before := strings.TrimRight(s.root.Text()[:s.f.Span.Start], " \t")
	s.try("insert a comma", source.Span{Start: len(before), End: len(before)}, ",", costWord)
	if s.f.Span.Len() > 0 && s.root.Slice(s.f.Span) != "{" {
		s.try("leave out "+strings.Join(strings.Fields(s.root.Slice(s.f.Span)), " "), s.f.Span, "", costDrop)
	}
	if !strings.Contains(s.f.Message, "}") {
		return
	}
	line := s.root.LineOf(s.f.Span.Start)
	for n := line; n < min(line+mostLines, s.root.Lines()); n++ {
		at := s.root.Line(n)
		text, _, _ := strings.Cut(s.root.Slice(at), "//")
		at.End = at.Start + len(strings.TrimRight(text, " \t"))
		title, brace := "close the brace at the end of this line", " }"
		if n > line {
			title, brace = "close the brace after \""+strings.TrimSpace(text)+"\"", "\n}"
		}
		if strings.TrimSpace(text) != "" && s.try(title, source.Span{Start: at.End, End: at.End}, brace, costWord+float64(n-line)/1000) {
			return
		}
	}
}

// files looks for the file that is meant by one which is not there.
func (s *seeker) files() {
	quoted := s.root.Slice(s.f.Span)
	now := strings.Trim(quoted, `"`)
	if s.o.Near == nil || now == "" {
		return
	}
	list, last := s.o.Near(s.root.Path()), path.Base(now)
	slices.SortStableFunc(list, func(x, y string) int {
		return cmp.Compare(syntax.Unlikeness(last, path.Base(x)), syntax.Unlikeness(last, path.Base(y)))
	})
	for i, p := range list[:min(len(list), mostNames)] {
		if p != now && s.ctx.Err() == nil {
			s.try("use "+p+" instead of "+now, s.f.Span, `"`+p+`"`, costWord+float64(i)/1000)
		}
	}
}
