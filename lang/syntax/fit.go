package syntax

import (
	"fmt"
	"slices"
	"strings"

	"hemline/lang/source"
)

// values fits the written values to what the spec takes.
func (x *reader) values(c *Clause, n *Node, exprs []*Expr) {
	c.end = c.Keyword.End
	for _, e := range exprs {
		c.Values = append(c.Values, Value{Node: n, Expr: e})
		c.end = max(c.end, n.tokens[e.Last].End)
	}
	args, word := c.Spec.Args, c.Spec.Word
	i := 0 // the value that is next
	for k, a := range args {
		if i >= len(c.Values) {
			if !a.Optional && !c.Broken {
				at := c.Keyword
				at.End = c.end
				x.problem(RuleWrongValue, at, "expected %s after %s", a.Describe(), word)
				c.Broken = true
			}
			return
		}
		last := c.endOf(k, i)
		for n, v := range c.Values[i:last] {
			if n > 0 && x.apart(c, a, v) {
				return
			}
			x.fits(c, a, v)
		}
		i = last
	}
	if len(c.Values) > i {
		x.surplus(c, c.Values[i])
		c.Values = c.Values[:i]
	}
}

// endOf is where the values of Arg number k end that start with value i. A list
// of names before other values ends where no name stands, or only as many values
// are left as come after it; a face is never one of those.
func (c *Clause) endOf(k, i int) int {
	after := len(c.Spec.Args) - 1 - k
	switch {
	case !c.Spec.Args[k].Many:
		return i + 1
	case after == 0:
		return len(c.Values)
	}
	end := i + 1
	for end < len(c.Values) {
		word, name := c.Values[end].Word()
		face := c.Spec.Args[k].Kind == VFace && (word == Top || word == Bottom)
		if !name || !face && end >= len(c.Values)-after {
			break
		}
		end++
	}
	return end
}

// apart reports a value of a list that no comma stands before: a word right after
// a number was likely meant as its unit. Names need no comma.
func (x *reader) apart(c *Clause, a Arg, v Value) bool {
	switch a.Kind {
	case VQuantity, VExpr, VPosition, VPoint:
	default:
		return false
	}
	before := v.Node.tokens[v.Expr.First-1]
	switch {
	case before.Kind == Comma:
		return false
	case v.Expr.Op == OpName && (before.Kind == Number || x.isClause(v)):
		x.surplus(c, v)
	default:
		c.Broken = true
		x.problem(RuleSyntax, v.Place(), "expected a comma before %s: values in a list are separated by commas", v.Source())
	}
	return true
}

// isClause tells whether a word was likely meant as a clause of the statement.
func (x *reader) isClause(v Value) bool {
	word, _ := v.Word()
	_, ok := likelyWord(x.r.Spec.Word, word, clauseWords(x.r.Spec))
	return ok
}

// surplus reports a value too many; a word right after a number was likely
// meant as its unit.
func (x *reader) surplus(c *Clause, v Value) {
	c.Broken = true
	if word, ok := v.Word(); ok && v.Expr.Op == OpName && v.Expr.First > 0 && v.Node.tokens[v.Expr.First-1].Kind == Number {
		x.problem(RuleWrongValue, v.Place(), "%s is not a unit%s", word, meant(word, unitNames()))
		return
	}
	if x.r.Spec.Word == typical && c == &x.r.Clause {
		x.noKind(v)
		return
	}
	if word, ok := v.Word(); ok && v.Expr.Op == OpName {
		if now := renamed[word]; slices.Contains(clauseWords(x.r.Spec), now) {
			x.renamed(v.Place(), word, now)
			return
		}
		if near, ok := likelyWord(x.r.Spec.Word, word, clauseWords(x.r.Spec)); ok {
			x.old = true
			x.r.Problems = append(x.r.Problems, Problem{
				Rule: RuleUnknownKeyword, Place: v.Place(), Replace: near,
				Message: fmt.Sprintf("%s is not a clause of %s; did you mean %s?", word, x.r.Spec.Word, near),
			})
			return
		}
	}
	if len(c.Spec.Args) == 0 {
		x.problem(RuleWrongValue, v.Place(), "%s takes no value, found %s", c.Spec.Word, v.Source())
		return
	}
	x.problem(RuleWrongValue, v.Place(), "%s takes %s, found one more: %s", c.Spec.Word, count(len(c.Spec.Args)), v.Source())
}

// renamed answers a word of earlier texts by the one that took its place.
func (x *reader) renamed(at source.Place, word, now string) {
	x.old = true
	x.r.Problems = append(x.r.Problems, Problem{Rule: RuleUnknownKeyword, Place: at, Replace: now, Message: fmt.Sprintf("%s is now written %s", word, now)})
}

// clauseWords lists every clause that may stand in a statement, at any depth.
func clauseWords(s *Spec) []string {
	var list []string
	for _, c := range s.Clauses {
		list = append(append(list, c.Word), clauseWords(c)...)
	}
	return list
}

func count(n int) string {
	if n == 1 {
		return "one value"
	}
	return fmt.Sprintf("%d values", n)
}

func meant(word string, known []string) string {
	if near, ok := Nearest(word, known); ok {
		return "; did you mean " + near + "?"
	}
	return ""
}

// fits checks the form of a value; names are resolved and expressions
// evaluated later, by the model.
func (x *reader) fits(c *Clause, a Arg, v Value) {
	word, isWord := v.Word()
	ok := true
	switch a.Kind {
	case VNew, VName, VItem, VRef, VRule, VParameter, VLayer, VFace, VEdge:
		ok = isWord
		if ok && a.Kind == VNew && v.Expr.Op == OpName && strings.Contains(word, ".") {
			x.problem(RuleWrongValue, v.Place(), "a name has no dots; %s reaches into something else", word)
			c.Broken = true
			return
		}
		if len(word) > MaxNameLength {
			x.problem(RuleWrongValue, v.Place(), "the name is %d bytes long, longer than %d, the most that a name may be", len(word), MaxNameLength)
			c.Broken, c.Values = true, nil
			return
		}
	case VWord:
		ok = isWord
		for _, known := range a.Words {
			if word == known {
				return
			}
		}
		if ok {
			x.notAmong(a, v, word)
			c.Broken = true
			return
		}
	case VText, VDate:
		if _, ok = v.Text(); !ok {
			ok = isWord && slices.Contains(a.Words, word)
		}
	case VPoint:
		ok = v.Expr.Op == OpPoint
	case VQuantity, VExpr, VPosition:
		ok = v.Expr.Op != OpText && v.Expr.Op != OpPoint
	}
	if !ok {
		x.problem(RuleWrongValue, v.Place(), "expected %s after %s, found %s", a.Describe(), c.Spec.Word, v.Source())
		c.Broken = true
	}
}

// notAmong reports a word that is none of an Arg's.
func (x *reader) notAmong(a Arg, v Value, word string) {
	among := "one of " + strings.Join(a.Words, ", ")
	if len(a.Words) > fewWords {
		among = a.Describe()
	}
	p := Problem{Rule: RuleWrongValue, Place: v.Place(), Message: fmt.Sprintf("%s is not %s%s", word, among, meant(word, a.Words))}
	x.r.Problems = append(x.r.Problems, p)
}

// reasons are what a `because` that is missing is written as, until its author says more.
var reasons = map[string]string{"accept": "say why this is accepted", "leave": "say why this is left to the shop"}

// AsksWhy is what stands for the reason of a statement that has none yet.
func AsksWhy(word string) string { return reasons[word] }

// IsAskedWhy tells whether a text is what stands for a reason.
func IsAskedWhy(text string) bool {
	for _, asked := range reasons {
		if text == asked {
			return true
		}
	}
	return false
}

// complete reports what the spec requires and the clause lacks.
func (x *reader) complete(c *Clause) {
	name := c.Spec.Word
	partial := c.Spec.Partial || c.Stands(likeClause) && !x.composed
	if c.Spec.Clause(likeClause) != nil {
		x.checkLike(c)
	}
	for _, k := range c.Spec.Clauses {
		if k.Required && !partial && !c.Stands(k.Word) {
			x.problem(RuleMissingClause, c.Keyword, "%s needs %s: %s", name, k.Usage(), lowerFirst(k.Sum))
			c.Broken = true
			if k.Word == "because" && !x.r.Statement.Head.Braced {
				x.r.Problems[len(x.r.Problems)-1].Append = ` because "` + reasons[name] + `"`
			}
		}
	}
	for _, group := range c.Spec.OneOf {
		switch n := c.countOf(group); {
		case n == 0 && partial:
		case n == 0:
			x.problem(RuleMissingClause, c.Keyword, "%s needs one of %s", name, strings.Join(group, ", "))
		case n > 1:
			x.problem(RuleRepeated, c.Keyword, "%s takes only one of %s", name, strings.Join(group, ", "))
		}
	}
	for _, k := range c.Clauses {
		x.complete(k)
	}
}
