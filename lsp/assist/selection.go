package assist

import (
	"strings"

	"hemline/lang"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Selections are the spans round an offset of the root text, from the word
// outward: values, clauses, the body, the statement, the text. Each holds the
// one before it and more.
func Selections(a *lang.Analysis, offset int) []source.Span {
	var list []source.Span
	add := func(s source.Span) {
		if len(list) == 0 || s.Start <= list[len(list)-1].Start && s.End >= list[len(list)-1].End && s != list[len(list)-1] {
			list = append(list, s)
		}
	}
	if word, ok := tokenAt(a.Root(), offset); ok {
		add(word)
	}
	if s, rel := a.Document().At(offset); s != nil && rel >= 0 && rel <= len(s.Text()) {
		base := offset - rel
		shift := func(p source.Place) { add(source.Span{Start: base + int(p.Start), End: base + int(p.End)}) }
		if r := syntax.Read(s); r != nil {
			inner := clausesAround(&r.Clause, int32(rel), shift)
			for i := len(inner) - 1; i >= 0; i-- {
				shift(inner[i])
			}
		}
		shift(s.Whole())
	}
	add(source.Span{End: a.Root().Len()})
	return list
}

// clausesAround visits the values round an offset, innermost first, and returns
// the places of the clauses round them, outermost first.
func clausesAround(c *syntax.Clause, offset int32, value func(source.Place)) []source.Place {
	var around []source.Place
	for _, k := range c.Clauses {
		if p := k.Place(); p.Start <= offset && offset <= p.End {
			around = append([]source.Place{p}, clausesAround(k, offset, value)...)
			break
		}
	}
	if len(around) == 0 {
		values := c.Values
		if c.Assign != nil {
			values = append(values[:len(values):len(values)], *c.Assign)
		}
		for _, v := range values {
			valuesAround(v, offset, value)
		}
	}
	return around
}

func valuesAround(v syntax.Value, offset int32, visit func(source.Place)) {
	p := v.Place()
	if offset < p.Start || p.End < offset {
		return
	}
	for _, e := range v.Expr.Args {
		valuesAround(v.Of(e), offset, visit)
	}
	visit(p)
}

// tokenAt is the word, number or comment at an offset; a word that ends there
// counts where nothing begins.
func tokenAt(f *source.File, offset int) (source.Span, bool) {
	line := f.Line(f.LineOf(offset))
	var before source.Span
	found := false
	for _, t := range syntax.Lex(f.Slice(line)) {
		span := source.Span{Start: line.Start + int(t.Start), End: line.Start + int(t.End)}
		if t.Kind == syntax.Space || t.Kind == syntax.Newline || strings.TrimSpace(f.Slice(span)) == "" {
			continue
		}
		switch {
		case span.Start <= offset && offset < span.End:
			return span, true
		case span.End == offset:
			before, found = span, true
		}
	}
	return before, found
}
