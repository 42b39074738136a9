package assist

import (
	"fmt"
	"slices"
	"strings"

	"hemline/checks"
	"hemline/checks/rules"
	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/emit/queries"
	"hemline/lang/quantity"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Candidate is one thing that may stand at a point.
type Candidate struct {
	Label   string
	Kind    string // keyword, clause, unit, function, word, value, edge, layer, net, file, rule, limit, or an item's keyword
	Detail  string
	Doc     string // Markdown
	Insert  string // what to write, a snippet with ${1:NAME} stops if Snippet
	Snippet bool
	Span    source.Span // what it takes the place of
}

// Files lists the .hem files and folders (with a slash at the end) in a folder
// that is given as `use` would give it; nil lists none.
type Files func(folder string) []string

// typing is a place in a statement that is being typed.
type typing struct {
	start int // where the text that tells what may stand begins
	ctx   syntax.Context
	given map[string]bool // the clauses that the statement has, before or behind
	own   string          // the name that it gives
	edge  string          // the edge that it is on
}

func typingAt(a *lang.Analysis, offset int) typing {
	p := typing{start: offset, given: map[string]bool{}}
	if s, rel := a.Document().At(offset); s != nil && rel >= 0 {
		p.start = offset - rel
		if r := syntax.Read(s); r != nil {
			for _, c := range r.Clauses {
				p.given[c.Spec.Word] = true
			}
			if _, name, ok := s.NamePlace(); ok {
				p.own = name
			}
			if on := r.Get("on"); on != nil && len(on.Values) > 0 {
				p.edge, _ = on.Values[0].Word()
			}
		}
	} else if s == nil || rel < 0 {
		p.start = lineStart(a.Root(), offset)
	}
	p.ctx = syntax.ContextAt(a.Root().Slice(source.Span{Start: p.start, End: offset}))
	return p
}

// Complete lists what may stand at an offset of the root text, in the order
// in which it is likely meant. The options say what the board is held to.
func Complete(a *lang.Analysis, offset int, files Files, o checks.Options) []Candidate {
	p := typingAt(a, offset)
	if p.ctx.Comment {
		return nil
	}
	c := completion{a: a, b: a.Board(), offset: offset, o: o, own: p.own, edge: a.Board().Edge(p.edge), author: quantity.Millimetre, ctx: p.ctx, given: p.given, files: files,
		span: source.Span{Start: p.start + p.ctx.From, End: wordEnd(a.Root(), offset)}}
	c.list()
	if dot := strings.LastIndexByte(p.ctx.Partial, '.'); dot >= 0 && !p.ctx.InText {
		// Of what stands before the dot, and nothing else.
		c.out = slices.DeleteFunc(c.out, func(x Candidate) bool { return !strings.HasPrefix(x.Label, p.ctx.Partial[:dot+1]) })
	}
	for i := range c.out {
		c.out[i].Span = c.span
		if c.out[i].Insert == "" {
			c.out[i].Insert = c.out[i].Label
		}
	}
	return c.out
}

func lineStart(f *source.File, offset int) int { return f.Line(f.LineOf(offset)).Start }

// wordEnd is where the word that the offset stands in ends.
func wordEnd(f *source.File, offset int) int {
	line := f.Line(f.LineOf(offset))
	end := offset
	for end < line.End {
		c := f.Text()[end]
		if c != '_' && c != '.' && (c < '0' || c > '9') && (c|0x20 < 'a' || c|0x20 > 'z') && c < 0x80 {
			break
		}
		end++
	}
	return end
}

type completion struct {
	a     *lang.Analysis
	b     *board.Board
	ctx   syntax.Context
	given map[string]bool
	files Files
	span  source.Span
	out   []Candidate

	o      checks.Options
	offset int
	own    string         // the name that the statement gives
	edge   *board.Edge    // that it is on; nil for none
	author *quantity.Unit // in which lengths are offered
}

func (c *completion) add(x Candidate) { c.out = append(c.out, x) }

func (c *completion) list() {
	switch {
	case c.ctx.InText:
		c.texts()
		return
	case c.ctx.AfterNumber:
		c.units()
	}
	if c.ctx.Statement == nil {
		if c.ctx.Keyword {
			c.statements()
		}
		return
	}
	if c.ctx.More != nil {
		c.values(c.ctx.More)
	}
	if c.ctx.Arg != nil && !c.ctx.AfterNumber {
		c.values(c.ctx.Arg)
	}
	if c.ctx.Keyword {
		c.clauses()
	}
}

func (c *completion) statements() {
	for _, s := range syntax.Vocabulary() {
		if !s.Repeat && c.stated(s.Word) {
			continue
		}
		c.add(Candidate{Label: s.Word, Kind: "keyword", Detail: s.Usage(), Doc: checks.StatementCard(s), Insert: snippet(s), Snippet: true})
	}
}

func (c *completion) stated(word string) bool {
	for _, s := range c.a.Document().Statements() {
		if s.Word() == word {
			return true
		}
	}
	return false
}

// snippet writes a statement with the clauses that it needs and a stop at each value.
func snippet(s *syntax.Spec) string {
	n := 0
	stop := func(a syntax.Arg) string {
		n++
		return fmt.Sprintf(" ${%d:%s}", n, a.Name)
	}
	var write func(s *syntax.Spec) string
	write = func(s *syntax.Spec) string {
		out := s.Word
		for _, a := range s.Args {
			if a.Kind == syntax.VText {
				n++
				out += fmt.Sprintf(" \"${%d:%s}\"", n, a.Name)
				continue
			}
			if a.Kind == syntax.VPoint {
				n += 2
				out += fmt.Sprintf(" (${%d:x}, ${%d:y})", n-1, n)
				continue
			}
			out += stop(a)
		}
		if s.Assign {
			n++
			out += fmt.Sprintf(" = ${%d:value}", n)
		}
		if len(s.Clauses) > 0 && s.Word == "stack" {
			return out + " {\n  $0\n}"
		}
		for _, k := range s.Clauses {
			first := false
			for _, group := range s.OneOf {
				first = first || group[0] == k.Word
			}
			// A place in the middle of the edge needs its width.
			with := k.Word == "width" && s.Alternative("at")
			if k.Required || first || with {
				out += " " + write(k)
			}
		}
		return out
	}
	return write(s)
}

// clauses lists the keywords that may stand, the innermost clause's own first;
// those that are stated and may not be again are left out.
func (c *completion) clauses() {
	for i, holder := range slices.Backward(c.ctx.Open) {
		for _, k := range holder.Clauses {
			if i == 0 && (c.given[k.Word] && !k.Repeat || c.excluded(holder, k.Word)) || slices.ContainsFunc(c.out, func(x Candidate) bool { return x.Label == k.Word }) {
				continue
			}
			c.add(Candidate{Label: k.Word, Kind: "clause", Detail: k.Usage(), Doc: k.Sum})
		}
	}
}

// excluded tells whether another clause of a group of which one may stand is
// there already.
func (c *completion) excluded(s *syntax.Spec, word string) bool {
	for _, group := range s.OneOf {
		if slices.Contains(group, word) && slices.ContainsFunc(group, func(w string) bool { return w != word && c.given[w] }) {
			return true
		}
	}
	return false
}

// typicals lists what is typical of a kind.
func (c *completion) typicals(kind string, name func(label, kind, detail string)) {
	for _, t := range c.b.Typicals() {
		if t.Kind == kind {
			name(t.Name.Text, "typical", strings.Join(t.Says, "; "))
		}
	}
}

// values lists what a value may be.
func (c *completion) values(arg *syntax.Arg) {
	name := func(label, kind, detail string) {
		if !slices.Contains(c.ctx.Names, label) {
			c.add(Candidate{Label: label, Kind: kind, Detail: detail, Insert: syntax.Quote(label)})
		}
	}
	first := len(c.out)
	switch arg.Kind {
	case syntax.VRef:
		defer func() { c.nearestFirst(first) }()
		for _, word := range arg.Words {
			if word == "typical" {
				c.typicals(arg.Words[1], name)
				continue
			}
			for _, i := range board.KindNamed(word).Items(c.b) {
				name(i.Name.Text, word, word)
			}
		}
	case syntax.VEdge:
		for _, e := range c.b.Edges() {
			if !slices.Contains(c.ctx.Names, e.Name) {
				c.add(Candidate{Label: e.Name, Kind: "edge", Detail: mm(e.Length) + " long"})
			}
		}
		c.words(arg.Words, "every edge of the outline")
	case syntax.VFace:
		for _, f := range board.Faces {
			name(f.String(), "word", "a face")
		}
	case syntax.VLayer:
		layers := c.b.CopperLayers()
		if len(layers) == 0 {
			layers = []string{syntax.Top, syntax.Bottom}
		}
		for _, l := range layers {
			name(l, "layer", "a copper layer")
		}
		c.words(arg.Words, "every copper layer")
	case syntax.VWord:
		if arg.Name == "QUERY" {
			c.queries()
			return
		}
		c.words(arg.Words, "")
	case syntax.VRule:
		for _, r := range rules.All() {
			c.add(Candidate{Label: r.Name, Kind: "rule", Detail: r.Category.String(), Doc: r.Finds})
		}
	case syntax.VParameter:
		for _, p := range checks.Parameters() {
			c.add(Candidate{Label: p.Name, Kind: "limit", Detail: p.BuiltIn(), Doc: p.Means})
		}
	case syntax.VName:
		c.outsideNames(name)
		c.nearestFirst(first)
	case syntax.VItem:
		c.items()
	case syntax.VText, syntax.VDate:
		c.add(Candidate{Label: `""`, Kind: "word", Detail: lower(c.ctx.Open[len(c.ctx.Open)-1].Sum), Insert: `"$1"`, Snippet: true})
		c.words(arg.Words, "")
	case syntax.VPosition:
		c.positions()
		if !c.ctx.InExpression {
			c.words([]string{syntax.Middle}, "half way along the edge")
		}
		c.expressions(quantity.Length, false)
	case syntax.VQuantity:
		if !c.ctx.InExpression {
			c.words(arg.Words, "")
		}
		c.expressions(arg.Dim, c.ctx.InExpression)
	case syntax.VPoint:
		c.expressions(quantity.Length, c.ctx.InExpression)
	case syntax.VExpr:
		c.expressions(quantity.None, true)
	}
}

// queries offers what a shop would ask of this board, what is open first.
func (c *completion) queries() {
	asked := queries.Ask(c.b)
	for _, open := range []bool{true, false} {
		for _, q := range asked {
			if (q.State == queries.Open) == open && !slices.Contains(c.ctx.Names, q.Name) {
				c.add(Candidate{Label: q.Name, Kind: "word", Detail: string(q.State), Doc: q.Question})
			}
		}
	}
}

// offered tells whether a label is among the candidates.
func (c *completion) offered(label string) bool {
	return slices.ContainsFunc(c.out, func(x Candidate) bool { return x.Label == label })
}

func (c *completion) words(list []string, detail string) {
	for _, w := range list {
		if !slices.Contains(c.ctx.Names, w) && !c.offered(w) {
			c.add(Candidate{Label: w, Kind: "word", Detail: detail})
		}
	}
}

// items lists what a finding may be on, so that an acceptance may name it.
func (c *completion) items() {
	add := func(name, kind string) {
		if !slices.Contains(c.ctx.Names, name) {
			c.add(Candidate{Label: name, Kind: kind, Detail: kind, Insert: syntax.ReferItem(c.ctx.Statement, name)})
		}
	}
	for _, k := range acceptable() {
		row := ""
		for _, i := range k.Items(c.b) {
			if i.Row.Given() && i.Row.Text != row {
				row = i.Row.Text
				add(row, k.Word)
			}
			add(i.Name.Text, k.Word)
		}
	}
	for _, r := range c.b.Requests() {
		add(r.Item(), "board")
	}
	if c.b.OutlineItem() != nil {
		add(outlineName, "outline")
	}
}

// outsideNames lists nets and finishes.
func (c *completion) outsideNames(name func(label, kind, detail string)) {
	switch c.ctx.Open[len(c.ctx.Open)-1].Word {
	case "net":
		for _, n := range c.b.Nets() {
			name(n, "net", "a net of this board")
		}
	case "finish":
		if shop := c.b.Fabricator(); shop != nil {
			for _, f := range shop.Finishes {
				name(f.Text, "word", "offered by "+shop.Name.Text)
			}
		}
	}
}

// expressions lists what an expression may name: lets of the dimension, or of
// any where an operator stands before, then shapes' values and functions.
func (c *completion) expressions(dim quantity.Dimension, anyDim bool) {
	first := len(c.out)
	for _, l := range c.b.Lets() {
		if l.OK && (anyDim || l.Value.Dim == dim) {
			c.add(Candidate{Label: l.Name.Text, Kind: "value", Detail: l.Value.String()})
		}
	}
	c.nearestFirst(first)
	if anyDim || dim == quantity.Length {
		for _, e := range c.b.Edges() {
			c.add(Candidate{Label: e.Name + ".length", Kind: "value", Detail: mm(e.Length)})
		}
		for _, n := range []string{"board.thickness", "board.width", "board.height"} {
			if q, ok := c.b.Value(n); ok {
				c.add(Candidate{Label: n, Kind: "value", Detail: q.String()})
			}
		}
	}
	for _, f := range quantity.Functions() {
		c.add(Candidate{Label: f.Name, Kind: "function", Detail: f.Doc, Insert: f.Name + "($1)", Snippet: true})
	}
}

// texts completes a text in quotes: a path after `use`.
func (c *completion) texts() {
	if c.ctx.Statement == nil || c.ctx.Statement.Word != "use" || c.files == nil {
		return
	}
	folder := ""
	if i := strings.LastIndexByte(c.ctx.Partial, '/'); i >= 0 {
		folder = c.ctx.Partial[:i+1]
	}
	c.span.Start += len(folder)
	for _, f := range c.files(folder) {
		c.add(Candidate{Label: f, Kind: "file"})
	}
}
