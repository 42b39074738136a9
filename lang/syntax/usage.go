package syntax

import (
	"slices"
	"strings"

	"hemline/lang/quantity"
)

func unitNames() []string {
	units := quantity.Units()
	names := make([]string, len(units))
	for i, u := range units {
		names[i] = u.Name
	}
	return names
}

func functionNames() string {
	var names []string
	for _, f := range quantity.Functions() {
		names = append(names, f.Name)
	}
	return strings.Join(names, ", ")
}

// fewWords is how many words a message lists.
const fewWords = 10

// Describe says what a value must be, for a message: "a length such as 1.5 mm".
func (a Arg) Describe() string {
	switch a.Kind {
	case VQuantity:
		if ex := a.Dim.Example(); ex != "" {
			return a.Dim.String() + " such as " + ex
		}
		return a.Dim.String()
	case VExpr:
		return "a value"
	case VNew:
		return "a name"
	case VName, VItem:
		return "a name"
	case VWord:
		if len(a.Words) > fewWords {
			return "the name of a " + strings.ToLower(a.Name)
		}
		return "one of " + strings.Join(a.Words, ", ")
	case VText:
		if len(a.Words) > 0 {
			return "a text in quotes or " + strings.Join(a.Words, " or ")
		}
		return "a text in quotes"
	case VDate:
		return `a date such as "2027-06-30"`
	case VRef:
		return "the name of a " + strings.Join(a.Words, " or ")
	case VEdge:
		return "an edge such as south"
	case VPosition:
		return "a position such as 15 mm or middle"
	case VPoint:
		return "a point such as (5 mm, 3 mm)"
	case VFace:
		return "top or bottom"
	case VLayer:
		return "a copper layer's name"
	case VRule:
		return "a rule's name"
	default:
		return "a limit's name"
	}
}

// Usage is the clause as the references write it: `wrap FACE W`, with the
// clauses that belong to it, those that may be left out in brackets.
func (s *Spec) Usage() string {
	if s.Word == noClause {
		return s.Word + " CLAUSE"
	}
	var b strings.Builder
	b.WriteString(s.Word)
	for _, a := range s.Args {
		b.WriteByte(' ')
		if a.Optional {
			b.WriteByte('[')
		}
		b.WriteString(a.Name)
		if a.Many {
			b.WriteString("…")
		}
		if a.Optional {
			b.WriteByte(']')
		}
	}
	if s.Assign {
		b.WriteString(" = EXPRESSION")
	}
	if statements[s.Word] == s {
		return b.String()
	}
	for _, c := range s.Clauses {
		if c.Required {
			b.WriteString(" " + c.Usage())
		} else {
			b.WriteString(" [" + c.Usage() + "]")
		}
	}
	return b.String()
}

// Alternative tells whether a clause is one of a group of which one must stand.
func (s *Spec) Alternative(word string) bool {
	for _, group := range s.OneOf {
		if slices.Contains(group, word) {
			return true
		}
	}
	return false
}
