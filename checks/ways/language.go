package ways

import (
	"cmp"
	"fmt"
	"math"
	"path"
	"regexp"
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
	s.slips()
	switch s.f.Rule {
	case board.RuleUnknownName:
		s.names(math.MaxInt)
	case board.RuleWrongValue:
		s.units()
		s.unquoted()
		s.between("by", "to")
		s.names(mostUnlike)
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

// mostUnlike is how many edits a word may be from one that stands for something else there.
const mostUnlike = 2

// meant is what a sentence asks whether it is meant.
var meant = regexp.MustCompile(`did you mean (\S+)\?`)

// Slips of writing that are known by their signs, each with what is meant.
var slips = []struct {
	found *regexp.Regexp
	meant string
	title string
}{
	{regexp.MustCompile(`(^|[\s(,])(\.[0-9]+)`), "${1}0$2", "write %s"},      // .5 mm
	{regexp.MustCompile(`\b([0-9]+),([0-9]+ ?[a-z]+)`), "$1.$2", "write %s"}, // 1,5 mm
	{regexp.MustCompile(`(^|\s)#`), "$1//", "make it a comment"},             // # for a comment
	{regexp.MustCompile(`(\s)([+\-][A-Za-z0-9_]+)`), `$1"$2"`, "write %s"},   // +3V3
	{regexp.MustCompile(`"([^";{}]*[^\s";{}])(\s*[;{}]|\s*$)`), `"$1"$2`, "close the quotes: %s"},
}

// slips looks for what is likely meant by the line that the finding stands on, and by what
// its sentence asks.
func (s *seeker) slips() {
	if m := meant.FindStringSubmatch(s.f.Message); m != nil && s.f.Fix == nil && !strings.ContainsAny(s.root.Slice(s.f.Span), " \t\n") {
		s.try("write "+m[1], s.f.Span, m[1], costWord)
	}
	if s.f.Rule != syntax.RuleSyntax && s.f.Rule != board.RuleWrongValue {
		return
	}
	at := s.root.Line(s.root.LineOf(s.f.Span.Start))
	line := s.root.Slice(at)
	for _, slip := range slips {
		for _, m := range slip.found.FindAllStringSubmatchIndex(line, -1) {
			from, to := at.Start+m[0], at.Start+m[1]
			text := string(slip.found.ExpandString(nil, slip.meant, line, m))
			title := slip.title
			if strings.Contains(title, "%s") {
				title = fmt.Sprintf(title, strings.TrimRight(strings.TrimSpace(text), ";{} "))
			}
			s.try(title, source.Span{Start: from, End: to}, text, costWord/2)
		}
	}
}

// names looks for the names and words that there are in the place of one that there is not, the
// likest first, and none that is more than so many edits from it.
func (s *seeker) names(unlike int) {
	now := s.root.Slice(s.f.Span)
	if strings.ContainsAny(now, " \t\n0123456789(") && unlike < math.MaxInt || now == "" {
		return
	}
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
	for _, word := range []string{syntax.Middle, syntax.Top, syntax.Bottom, syntax.All} {
		if syntax.Unlikeness(now, word) <= mostUnlike {
			add(word)
		}
	}
	list = slices.DeleteFunc(list, func(name string) bool { return syntax.Unlikeness(now, name) > unlike })
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
	units := []string{"mm", "mil", "deg", "GHz", "MHz", "dB", "%", "ohm", "A", "V", "K", "g"}
	for _, m := range ofLength.FindAllStringSubmatch(s.root.Text(), -1) { // and what the author has elsewhere
		if !slices.Contains(units, m[2]) {
			units = append(units, m[2])
		}
	}
	for i, name := range units {
		if u, ok := quantity.UnitNamed(name); ok {
			s.try("write "+now+" "+u.Name, s.f.Span, now+" "+u.Name, costWord+float64(i)/1000)
		}
	}
}

// between puts one of some words between two values that stand beside each other.
func (s *seeker) between(words ...string) {
	for _, word := range words {
		s.try("insert "+word, source.Span{Start: s.f.Span.Start, End: s.f.Span.Start}, word+" ", costWord)
	}
}

// unquoted takes the quotes from what is no text.
func (s *seeker) unquoted() {
	now := s.root.Slice(s.f.Span)
	if inner := strings.Trim(now, `"`); len(inner) == len(now)-2 && inner != "" {
		s.try("write "+inner+", without quotes", s.f.Span, inner, costWord)
	}
}

// missing looks for the clause that a statement needs, where it is a word, or a net that the board
// has. A size or a place is its author's to state.
func (s *seeker) missing() {
	if x, _ := s.a.Document().At(s.f.Span.Start); !s.enter(x) {
		return
	}
	for _, spec := range s.reading.Spec.Clauses {
		if s.reading.Stands(spec.Word) || !strings.Contains(s.f.Message, spec.Word) {
			continue
		}
		texts := slices.DeleteFunc(s.stated(spec), func(text string) bool { return strings.ContainsAny(text, "0123456789") })
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
	if x, _ := s.a.Document().At(s.f.Span.Start); !s.enter(x) {
		return
	}
	var each func(c *syntax.Clause)
	each = func(c *syntax.Clause) {
		for _, k := range c.Clauses {
			if at, ok := s.a.Document().Locate(k.Place()); ok && strings.Contains(s.f.Message, k.Spec.Word) {
				said, cut := s.without(at)
				s.try("leave out "+said, cut, "", costDrop)
			}
			each(k)
		}
	}
	each(&s.reading.Clause)
}

// mostLines is how many lines below an open brace are tried for the one that closes it.
const mostLines = 40

// beside are two values with nothing between them.
var beside = regexp.MustCompile(`([0-9] ?[a-z]+|\))[ \t]+([0-9(])`)

// form looks for a comma, a bracket or a brace, or for a value that is too many.
func (s *seeker) form() {
	before := strings.TrimRight(s.root.Text()[:s.f.Span.Start], " \t")
	for _, sign := range []struct{ text, name string }{{",", "a comma"}, {")", "a closing bracket"}} {
		s.try("insert "+sign.name, source.Span{Start: len(before), End: len(before)}, sign.text, costWord)
	}
	at := s.root.Line(s.root.LineOf(s.f.Span.Start))
	if line := s.root.Slice(at); beside.MatchString(line) {
		s.try("insert commas", at, beside.ReplaceAllString(line, "$1, $2"), 2*costWord)
	}
	now := s.root.Slice(s.f.Span)
	alone := func(r byte) bool { return strings.IndexByte(" \t\r\n;{}", r) >= 0 }
	if text := s.root.Text(); now != "" && now != "{" && !strings.Contains(now, `"`) && (s.f.Span.Start == 0 || alone(text[s.f.Span.Start-1])) && (s.f.Span.End == len(text) || alone(text[s.f.Span.End])) {
		s.try("leave out "+strings.Join(strings.Fields(now), " "), s.f.Span, "", costDrop)
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
	if s.o.Near == nil || now == "" || !strings.Contains(s.f.Message, "cannot read") {
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
