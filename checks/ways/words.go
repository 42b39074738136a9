package ways

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"hemline/checks"
	"hemline/lang/finding"
	"hemline/lang/quantity"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Costs of changes that are no value's: a word is changed sooner than a clause is stated,
// and a clause sooner left out than a statement.
const (
	costWord   = 0.5
	costState  = 0.7
	costDrop   = 2
	costRemove = 5
)

// words looks for another word in the place of each face and each word that the vocabulary
// or the shop lists.
func (s *seeker) words() {
	s.reading.Spots(func(spot syntax.Spot) bool {
		if spot.Value == nil || spot.Arg == nil || spot.Value.Plain() == "" {
			return s.ctx.Err() == nil
		}
		at, ok := s.a.Document().Locate(spot.Place)
		if !ok || s.root.Slice(at) != spot.Text {
			return true
		}
		for _, word := range s.others(&spot) {
			if word != spot.Text {
				s.try(fmt.Sprintf("%s %s instead of %s%s", spot.Clause().Spec.Word, word, spot.Text, s.of()), at, word, costWord)
			}
		}
		return s.ctx.Err() == nil
	})
}

// others are the words that may stand where one does. A face is joined by the other, never
// left for it.
func (s *seeker) others(spot *syntax.Spot) []string {
	word := s.statement.Word()
	switch {
	case spot.Arg.Kind == syntax.VFace && spot.Arg.Many && len(spot.Clause().Values) <= 2 && !strings.Contains(faces(spot), " "):
		return []string{syntax.Top + " " + syntax.Bottom}
	case spot.Arg.Kind == syntax.VWord && word != "leave" && word != "board":
		return spot.Arg.Words
	case spot.Clause().Spec.Word == "finish":
		return s.finishes()
	}
	return nil
}

// faces are those that a spot's clause names.
func faces(spot *syntax.Spot) string {
	var list []string
	for _, v := range spot.Clause().Values {
		if w := v.Plain(); w == syntax.Top || w == syntax.Bottom {
			list = append(list, w)
		}
	}
	return strings.Join(list, " ")
}

func (s *seeker) finishes() (list []string) {
	if shop := s.a.Board().Fabricator(); shop != nil {
		for _, w := range shop.Finishes {
			list = append(list, syntax.Quote(w.Text))
		}
	}
	return list
}

// clauses looks for a clause that the statement, or a clause of it, may have and has not.
func (s *seeker) clauses() { s.lacking([]*syntax.Clause{&s.reading.Clause}) }

// inset are the texts of a stretch that keeps from both ends of the one edge that a clause
// names.
func (s *seeker) inset(c *syntax.Clause) (texts []string) {
	if c.Spec.Word != "along" || len(c.Values) != 1 || c.Values[0].Plain() == "" || c.Values[0].Plain() == syntax.All {
		return nil
	}
	edge := c.Values[0].Plain() + ".length"
	for _, by := range s.lengths() { // from the one end that is meant, if that does
		texts = append(texts, fmt.Sprintf("from %s to %s", by, edge), fmt.Sprintf("from 0 %s to %s - %s", unitOf(s.reading).Name, edge, by), fmt.Sprintf("from %s to %s - %s", by, edge, by))
	}
	return texts
}

func (s *seeker) lacking(chain []*syntax.Clause) {
	c := chain[len(chain)-1]
	if s.ctx.Err() != nil || c.Broken {
		return
	}
	var like *syntax.Clause // what is stated there may be stated otherwise here
	if r := syntax.Read(cmp.Or(s.typical(s.statement), s.statement)); r != nil && r.Statement != s.statement {
		like = r.Body()
	}
	if s.reading.Stands("like") && (like == nil || len(chain) > 1) {
		return
	}
	for _, spec := range c.Spec.Clauses {
		if c.Stands(spec.Word) || slices.Contains(unlikely, spec.Word) || !s.room(c, spec) || like != nil && like.Get(spec.Word) == nil {
			continue
		}
		var first *Way
		texts := s.stated(spec)
		switch {
		case spec.Word == "from":
			texts = s.inset(c)
		case like != nil:
			texts = s.otherwise(like.Get(spec.Word))
		}
		for _, text := range texts {
			at, insert := s.insertion(chain, text)
			if !s.gone(change(at, insert)) {
				continue
			}
			of := s.of()
			if len(chain) > 1 && len(c.Spec.Args) > 0 && c.Spec.Args[0].Kind == syntax.VNew && len(c.Values) > 0 {
				of = fmt.Sprintf(", of %s %s%s", c.Spec.Word, c.Values[0].Source(), of)
			}
			w, ok := s.tried(Way{Title: fmt.Sprintf("state %s%s", text, of), Edits: change(at, insert), cost: costState})
			if ok && (first == nil || len(w.Brings) == 0) {
				first = &w
			}
			if ok && len(w.Brings) == 0 {
				break
			}
		}
		if first != nil {
			s.keep(*first)
		}
	}
	for _, k := range c.Clauses {
		s.lacking(append(chain[:len(chain):len(chain)], k))
	}
}

// otherwise are the texts of a clause with one of its lengths another: the rest of what it says stays.
func (s *seeker) otherwise(c *syntax.Clause) (texts []string) {
	whole := strings.Join(strings.Fields(s.textOf(c.Place())), " ")
	for _, at := range ofLength.FindAllStringSubmatchIndex(whole, -1) {
		unit, ok := quantity.UnitNamed(whole[at[4]:at[5]])
		if !ok {
			continue
		}
		for _, nm := range s.sizes() {
			texts = append(texts, whole[:at[0]]+statedIn(unit, nm)+whole[at[1]:])
		}
	}
	return texts[:min(len(texts), 24)]
}

// ofLength is a length as it is written.
var ofLength = regexp.MustCompile(`[0-9]+(\.[0-9]+)? ?(mm|mil|um|in)\b`)

// textOf is what stands at a place, in whatever file.
func (s *seeker) textOf(p source.Place) string {
	if file, at, ok := s.a.Locate(p); ok {
		return file.Slice(at)
	}
	return ""
}

// unlikely are clauses that turn an item into another one, or say what only its author
// knows.
var unlikely = []string{"perforated", "solid", "turned", "clockwise", "least", "mass", "material", "reach", "overhang", "net", "along", "like"}

// room tells whether a clause may stand beside those that do.
func (s *seeker) room(c *syntax.Clause, spec *syntax.Spec) bool {
	for _, group := range c.Spec.OneOf {
		if slices.Contains(group, spec.Word) && slices.ContainsFunc(group, c.Stands) {
			return false
		}
	}
	return true
}

// stated are the texts of a clause that are tried, the likeliest first.
func (s *seeker) stated(spec *syntax.Spec) []string {
	texts := []string{spec.Word}
	for _, arg := range spec.Args {
		if arg.Optional {
			break
		}
		var next []string
		for _, t := range texts {
			for _, v := range s.likely(&arg) {
				next = append(next, t+" "+v)
			}
		}
		texts = next
	}
	if spec.Word == "finish" {
		texts = nil
		for _, w := range s.finishes() {
			texts = append(texts, "finish "+w)
		}
	}
	// What it must have itself: one of a group's, and what is required.
	var needed []*syntax.Spec
	for _, k := range spec.Clauses {
		if k.Required || slices.ContainsFunc(spec.OneOf, func(g []string) bool { return g[0] == k.Word }) {
			needed = append(needed, k)
		}
	}
	for _, k := range needed {
		var next []string
		for _, t := range texts {
			for _, v := range s.stated(k) {
				next = append(next, t+" "+v)
			}
		}
		texts = next
	}
	return texts[:min(len(texts), 16)]
}

// likely are the values that are tried for a clause's argument.
func (s *seeker) likely(arg *syntax.Arg) []string {
	switch {
	case arg.Kind == syntax.VQuantity && arg.Dim == quantity.Length:
		return s.lengths()
	case arg.Kind == syntax.VQuantity && arg.Dim == quantity.None:
		return []string{"1", "2", "3"}
	case arg.Kind == syntax.VFace:
		return []string{syntax.Top + " " + syntax.Bottom, syntax.Top, syntax.Bottom}
	case arg.Kind == syntax.VWord:
		return arg.Words
	}
	return nil
}

// sizes are the limits that the finding's rule reads, and common lengths, nm, the least first.
func (s *seeker) sizes() (list []float64) {
	list = []float64{0.05e6, 0.1e6, 0.2e6, 0.4e6, 0.8e6, 1.6e6}
	list = append(list, s.limitsOfRule()...)
	slices.Sort(list)
	return slices.Compact(list)
}

func (s *seeker) limitsOfRule() (list []float64) {
	if r := s.catalogue.Named(s.f.Rule); r != nil {
		for _, name := range r.Limits {
			if p, ok := checks.ParameterNamed(name); ok && p.Minimum != "" && p.Dim == quantity.Length {
				if nm := s.limits.Minimum(name).Value; nm > 0 {
					list = append(list, nm)
				}
			}
		}
	}
	return list
}

// statedIn is a length in a unit, rounded up to what is readily stated in it.
func statedIn(unit *quantity.Unit, nm float64) string {
	text, _ := quantity.Nanometres(nm).Readily(unit, 2).Exact(unit, 4)
	return text
}

// lengths are the limits that the finding's rule reads, and then common ones, in the unit that
// the statement has its lengths in.
func (s *seeker) lengths() (list []string) {
	for _, nm := range append(s.limitsOfRule(), 0.05e6, 0.1e6, 0.2e6, 0.4e6, 0.8e6, 1.6e6) {
		if text := statedIn(unitOf(s.reading), nm); !slices.Contains(list, text) {
			list = append(list, text)
		}
	}
	return list
}

// decimal is a number as it is written, without what is left of binary fractions.
func decimal(v float64) string { return strconv.FormatFloat(math.Round(v*1e6)/1e6, 'f', -1, 64) }

// unitOf is that of a statement's first length; millimetres where it has none.
func unitOf(r *syntax.Reading) *quantity.Unit {
	unit := quantity.Millimetre
	r.Spots(func(spot syntax.Spot) bool {
		if spot.Value == nil || spot.Value.Expr.Op != syntax.OpNumber {
			return true
		}
		u, ok := quantity.UnitNamed(spot.Value.Unit())
		if ok = ok && u.Dim == quantity.Length; ok && (u.Name == "mil" || u.Name == "in") {
			unit = u
		}
		return !ok
	})
	return unit
}

// insertion is where a clause is put so that it belongs to the last of a chain, and how.
func (s *seeker) insertion(chain []*syntax.Clause, text string) (source.Span, string) {
	if len(chain) > 1 {
		p := chain[len(chain)-1].Place()
		at, _ := s.a.Document().Locate(p)
		return source.Span{Start: at.End, End: at.End}, " " + text
	}
	whole := s.root.Slice(s.span)
	if !strings.HasSuffix(whole, "}") {
		return source.Span{Start: s.span.End, End: s.span.End}, " " + text
	}
	brace := s.span.End - 1
	inner := strings.TrimRight(s.root.Text()[s.span.Start:brace], " \t\r\n")
	at := s.span.Start + len(inner)
	if strings.HasSuffix(inner, "{") {
		return source.Span{Start: at, End: at}, " " + text
	}
	if line := s.root.Line(s.root.LineOf(at)); strings.Contains(s.root.Text()[at:brace], "\n") {
		// After a comment that ends the line, on one of its own.
		indent := s.root.Slice(line)
		indent = indent[:len(indent)-len(strings.TrimLeft(indent, " \t"))]
		ending := "\n"
		if strings.Contains(s.root.Text()[at:brace], "\r\n") {
			ending = "\r\n"
		}
		return source.Span{Start: line.End, End: line.End}, ending + indent + text
	}
	return source.Span{Start: at, End: at}, "; " + text
}

// loose are the statements that say nothing of the board where a finding says that they
// have no effect.
var loose = []string{"gap", "let", "typical", "accept", "leave"}

// leaveOut looks whether the finding is gone without a clause, or without the statement.
func (s *seeker) leaveOut() {
	s.dropped([]*syntax.Clause{&s.reading.Clause})
	own := s.f.File == s.root && s.span.Start <= s.f.Span.Start && s.f.Span.End <= s.span.End
	if s.statement.Word() == "gap" {
		own = true
	}
	if !own || !slices.Contains(loose, s.statement.Word()) {
		return
	}
	// A gap may go where it brings nothing; the rest only where it has no effect.
	if r := s.catalogue.Named(s.f.Rule); r == nil || r.Category != finding.Tidy && s.statement.Word() != "gap" {
		return
	}
	if s.statement.Word() == "leave" && len(s.reading.Values) > 1 {
		for _, v := range s.reading.Values {
			if at, ok := s.a.Document().Locate(v.Place()); ok && at.Start <= s.f.Span.Start && s.f.Span.End <= at.End {
				s.offer(Way{Title: "leave out " + v.Source() + s.of(), Edits: change(source.Span{Start: at.Start - 1, End: at.End}, ""), cost: costDrop})
			}
		}
		return
	}
	at := s.span
	line := s.root.Line(s.root.LineOf(at.Start))
	last := s.root.Line(s.root.LineOf(at.End))
	if strings.TrimSpace(s.root.Slice(source.Span{Start: line.Start, End: at.Start})) == "" && strings.TrimSpace(s.root.Slice(source.Span{Start: at.End, End: last.End})) == "" {
		at = source.Span{Start: line.Start, End: last.End}
		if rest := s.root.Text()[at.End:]; strings.HasPrefix(rest, "\r\n") {
			at.End += 2
		} else if rest != "" {
			at.End++
		}
	}
	s.try(strings.Replace("leave out "+s.what(), "leave out leave", "leave out this leave", 1), at, "", costRemove)
}

// spare are clauses without which something else holds that is known: what others tell of
// the board, and what it says of itself, is not left unsaid to be rid of a finding.
var spare = []string{"reach", "margin", "opens", "inset", "no", "for", "corner"}

// without is a part of a statement on one line, and what is cut where it is left out: the space before
// it too.
func (s *seeker) without(at source.Span) (said string, cut source.Span) {
	said, cut = strings.Join(strings.Fields(s.root.Slice(at)), " "), at
	for cut.Start > 0 && strings.ContainsRune(" \t", rune(s.root.Text()[cut.Start-1])) {
		cut.Start--
	}
	return said, cut
}

func (s *seeker) dropped(chain []*syntax.Clause) {
	c := chain[len(chain)-1]
	for _, k := range c.Clauses {
		if s.ctx.Err() != nil {
			return
		}
		at, ok := s.a.Document().Locate(k.Place())
		grouped := slices.ContainsFunc(c.Spec.OneOf, func(g []string) bool { return slices.Contains(g, k.Spec.Word) })
		if !ok || k.Spec.Required || slices.ContainsFunc(chain, func(c *syntax.Clause) bool { return slices.Contains(ofParts, c.Spec.Word) }) || grouped || !slices.Contains(spare, k.Spec.Word) || !strings.HasPrefix(s.root.Slice(at), k.Spec.Word) {
			s.dropped(append(chain[:len(chain):len(chain)], k))
			continue
		}
		said, cut := s.without(at)
		s.try("leave out "+said+s.of(), cut, "", costDrop)
		s.dropped(append(chain[:len(chain):len(chain)], k))
	}
}
