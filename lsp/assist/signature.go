package assist

import (
	"strings"

	"hemline/lang"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Signature is what a statement takes, as a line, and how far it has been typed.
type Signature struct {
	Label      string
	Doc        string
	Parameters []Parameter
	Active     int // the parameter that is being typed or is due; -1 for none
}

// Parameter is one value or clause of a signature.
type Parameter struct {
	Span source.Span // in the label, bytes
	Doc  string
}

// SignatureAt shows the clauses of the statement that is being typed at an
// offset of the root text; ok is false outside of statements and in comments.
func SignatureAt(a *lang.Analysis, offset int) (Signature, bool) {
	here := typingAt(a, offset)
	ctx := here.ctx
	if ctx.Comment || ctx.Statement == nil {
		return Signature{}, false
	}
	s := signatureOf(ctx.Statement)
	s.Active = activeParameter(&ctx, here.given)
	return s, true
}

// signatureOf writes a statement with a parameter for each value of its own and
// each clause; clauses that may be left out stand in brackets.
func signatureOf(spec *syntax.Spec) Signature {
	s := Signature{Doc: spec.Sum}
	var b strings.Builder
	b.WriteString(spec.Word)
	add := func(text, doc string, optional bool) {
		b.WriteByte(' ')
		if optional {
			b.WriteByte('[')
		}
		s.Parameters = append(s.Parameters, Parameter{source.Span{Start: b.Len(), End: b.Len() + len(text)}, doc})
		b.WriteString(text)
		if optional {
			b.WriteByte(']')
		}
	}
	for i := range spec.Args {
		add(spec.Args[i].Name, spec.Args[i].Describe(), false)
	}
	if spec.Assign {
		add("= EXPRESSION", syntax.Arg{Kind: syntax.VExpr}.Describe(), false)
	}
	for _, c := range spec.Clauses {
		add(c.Usage(), c.Sum, !c.Required)
	}
	s.Label = b.String()
	return s
}

// activeParameter is the clause that the point is in; where it is complete,
// the first that the statement lacks.
func activeParameter(ctx *syntax.Context, given map[string]bool) int {
	spec := ctx.Statement
	first := len(spec.Args)
	if spec.Assign {
		first++
	}
	due := ctx.Arg != nil && !(ctx.Keyword && ctx.Partial == "")
	if len(ctx.Open) > 1 && (due || ctx.AfterNumber || ctx.InExpression) {
		for i, c := range spec.Clauses {
			if c == ctx.Open[1] {
				return first + i
			}
		}
	}
	if spec.Assign && (ctx.Arg == nil || ctx.Arg.Kind == syntax.VExpr) {
		return first - 1
	}
	if len(ctx.Open) == 1 && ctx.Arg != nil {
		return min(ctx.Index, first-1)
	}
	for i, c := range spec.Clauses {
		if c.Required && !given[c.Word] {
			return first + i
		}
	}
	return -1
}
